"""Setting or varying what a measured value stands over is refused by name: it would do nothing, and say nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli_runs import Invoke

from neckmodel import presets

CUT = """
[measured]
neck.thickness.fret_1 = 20.0
fretboard.width = {nut = 42.8, end = 55.9}
channel.run.width = 6.15
channel.run.depth = 9.35
"""


@pytest.fixture
def file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> str:
    """redpoll with its neck carved at fret 1, its fretboard wide as measured, and its run cut."""
    monkeypatch.chdir(tmp_path)
    Path("cut.toml").write_text(presets.folder().joinpath("redpoll.toml").read_text(encoding="utf-8") + CUT)
    return "cut.toml"


def test_setting_it_is_refused_by_the_measured_name(invoke: Invoke, file: str) -> None:
    told = invoke("layout", file, "--set", "neck.thickness.fret_1=15")
    assert (told.exit_code, told.stdout) == (2, "")
    assert told.stderr == (
        "--set: neck.thickness.fret_1: is measured, 20.00 mm, which stays: set measured.neck.thickness.fret_1, "
        "or take the measurement out\n"
    )


def test_varying_it_is_refused_by_the_measured_name(invoke: Invoke, file: str) -> None:
    told = invoke("vary", file, "range", "neck.thickness.fret_1", "19", "21", "0.5")
    assert (told.exit_code, told.stdout) == (2, "")
    assert told.stderr.startswith("KEY: neck.thickness.fret_1: is measured, 20.00 mm, which stays: vary measured.neck.")


def test_the_measured_value_itself_can_be_set_and_varied(invoke: Invoke, file: str) -> None:
    assert invoke("layout", file, "--set", "measured.neck.thickness.fret_1=19.5").exit_code == 0
    told = invoke("vary", file, "range", "measured.neck.thickness.fret_1", "19", "21", "1").stdout
    walls = [line.split()[3] for line in told.splitlines() if "✓ yes" in line]
    assert len(set(walls)) == 3
    assert invoke("vary", file, "range", "measured.channel.run.depth", "9.3", "9.5", "0.1").exit_code == 0
    assert invoke("vary", file, "range", "measured.channel.run.girth", "9", "10", "1").exit_code == 2


def test_a_key_of_the_channel_is_refused_once_all_that_follows_from_it_is_measured(invoke: Invoke, file: str) -> None:
    """The run's width is the rod's and `wider_by`; `deeper_by` also says how deep the rod is to lie, which remains."""
    varied = ("vary", file, "range", "channel.wider_by", "0.1", "0.3", "0.1")
    told = invoke(*varied)
    assert (told.exit_code, told.stdout) == (2, "")
    assert told.stderr == (
        "KEY: channel.wider_by: leaves alone what is measured, channel.run.width = 6.15 mm: vary "
        "measured.channel.run.width, or take the measurement out\n"
    )
    assert invoke("vary", file, "range", "channel.deeper_by", "0", "0.2", "0.1").exit_code == 0
    Path(file).write_text(Path(file).read_text(encoding="utf-8").replace("channel.run.width = 6.15\n", ""))
    assert invoke(*varied).exit_code == 0


def test_the_other_way_to_say_what_is_measured_is_refused_too(invoke: Invoke, file: str) -> None:
    """A margin along the edge says the fretboard's width, which is measured."""
    told = invoke("layout", file, "--set", "fretboard.edge_margin=3")
    assert told.exit_code == 2
    assert "fretboard.width.nut = 42.80 mm" in told.stderr


def test_what_is_measured_only_in_part_is_set_with_a_remark(invoke: Invoke, file: str) -> None:
    given = ("layout", file, "--set", "neck.thickness={fret_1=21,fret_12=23}")
    told = invoke(*given)
    assert told.exit_code == 0
    assert "remark: neck.thickness leaves alone what is measured, neck.thickness.fret_1 = 20.00 mm" in told.stderr
    assert "leaves alone" not in invoke(*given, "--quiet").stderr


def test_where_nothing_is_measured_nothing_is_refused(invoke: Invoke) -> None:
    assert invoke("layout", "redpoll", "--quiet", "--set", "neck.thickness.fret_1=21").stderr == ""
