"""`rods` and `vary`: what they print, their JSON, their exit codes, and calls that cannot be right."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_runs import Invoke
from neck_runs import design, found_all

from neckmodel.cli.terminal.findings import show_findings

RODS = """
[[rod]]
name = "rush 420"
kind = "two-way"
adjuster_at = "head"
length = {length}
width = 6.0
height = 9.2
block = {{length = 12.0, width = 6.0, height = 9.2}}
adjuster = {{diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {{kind = "hex", size = 4.0, depth = 5.0}}}}
"""


def listed(folder: Path, length: float = 420.0) -> str:
    file = folder / "my-rods.toml"
    file.write_text(RODS.format(length=length))
    return str(file)


def test_rods_prints_a_table_and_says_what_it_does_not_know(invoke: Invoke, tmp_path: Path) -> None:
    result = invoke("rods", "redpoll", listed(tmp_path), "--quiet")
    assert result.exit_code == 0
    assert result.stdout.startswith("redpoll: 1 of 1 rod fits\n")
    assert "rush 420  420.00     8.96            4.00  41.41          1.9" in result.stdout
    assert "without solids" in result.stdout
    assert "Trial-fit the rod" in result.stdout


def test_rods_json_and_out(invoke: Invoke, tmp_path: Path) -> None:
    result = invoke("rods", "redpoll", listed(tmp_path), "--json", "--out", str(tmp_path))
    data = json.loads(result.stdout)
    assert data == json.loads((tmp_path / "rods.json").read_text())
    assert (data["schema"], data["name"], data["unit"]) == ("neckmodel/rods/1", "redpoll", "mm")
    (rod,) = data["rods"]
    assert (rod["name"], rod["fits"], rod["x_from"], rod["x_to"]) == ("rush 420", True, 4.0, 41.41)
    assert rod["margins"][0].keys() == {"what", "kind", "margin"}


def test_exit_1_if_no_rod_fits_2_if_the_list_is_wrong(invoke: Invoke, tmp_path: Path) -> None:
    assert invoke("rods", "redpoll", listed(tmp_path, 470.0)).exit_code == 1
    wrong = invoke("rods", "redpoll", listed(tmp_path, 4.0))
    assert wrong.exit_code == 2
    assert "my-rods.toml:6: rod[0].length = " in wrong.stderr
    assert wrong.stdout == ""
    missing = invoke("rods", "redpoll", "none.toml")
    assert (missing.exit_code, missing.stdout) == (2, "")
    assert "none.toml: the file: there is no such file" in missing.stderr


def test_vary_tolerance(invoke: Invoke) -> None:
    thin = ("--set", "neck.thickness.fret_1=18.9", "--set", "neck.thickness.fret_12=20.9")
    result = invoke("vary", "redpoll", "tolerance", *thin, "--quiet")
    assert result.exit_code == 0
    assert "of 100,000 necks drawn with the workshop's tolerances (seed 20), 92." in result.stdout
    assert "What to improve first" in result.stdout
    data = json.loads(invoke("vary", "redpoll", "tolerance", *thin, "--json", "--seed", "7").stdout)
    assert (data["schema"], data["seed"], data["necks"]) == ("neckmodel/vary-tolerance/1", 7, 100_000)
    assert data["checks"][0]["check"] == "wall/run"
    assert data["checks"][0]["largest"] == "carve"
    assert data["share_that_pass_all"] == pytest.approx(0.92, abs=0.01)
    assert data["halving"][0]["tolerance"] == "carve"


def test_vary_range(invoke: Invoke, tmp_path: Path) -> None:
    call = ("vary", "redpoll", "range", "neck.thickness.fret_12", "21.5", "22.5", "0.5")
    result = invoke(*call, "--out", str(tmp_path))
    assert result.exit_code == 0
    assert "redpoll: 3 of 3 variants keep every limit below" in result.stdout
    data = json.loads((tmp_path / "vary-range.json").read_text())
    assert (data["schema"], data["key"], data["value_unit"]) == (
        "neckmodel/vary-range/1",
        "neck.thickness.fret_12",
        "mm",
    )
    assert [variant["value"] for variant in data["variants"]] == [21.5, 22.0, 22.5]
    assert data["variants"][2]["walls"][0] == {"step": "run", "wall": pytest.approx(4.8955, abs=1e-3), "x": 17.0}


def test_values_may_be_negative_and_in_inches(invoke: Invoke) -> None:
    moved = invoke("vary", "redpoll", "range", "heel.screws.0.y", "-18", "-17", "0.5", "--json")
    assert [variant["value"] for variant in json.loads(moved.stdout)["variants"]] == [-18.0, -17.5, -17.0]
    inches = invoke("vary", "redpoll", "range", "rod.length", "16 in", "16 1/2 in", "1/4 in", "--json")
    assert [variant["value"] for variant in json.loads(inches.stdout)["variants"]] == [406.4, 412.75, 419.1]


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (("sideways",), "'sideways' is no way to vary a design; write tolerance; or range KEY FROM TO STEP"),
        (("range", "rod.length"), "range takes KEY FROM TO STEP"),
        (("tolerance", "rod.length"), "tolerance takes nothing more"),
        (("range", "rod.length", "a", "2", "3"), "FROM = 'a' is not a length"),
        (("range", "fretboard.frets", "20", "x", "1"), "TO = 'x' is not a number"),
        (("range", "rod.length", "3", "2", "1"), "TO must not be less than FROM"),
        (("range", "rod.length", "1", "2", "0"), "STEP must be more than 0"),
        (("range", "rod.length", "1", "2", "0.0001"), "at most 500"),
        (("range", "rod.lenght", "1", "2", "1"), "rod.lenght: is no key of a design"),
        (("tolerance", "--seed", "-1"), "--seed is a whole number from 0"),
        (("range", "rod.length", "1", "2", "1", "--seed", "3"), "only tolerance draws by chance"),
    ],
)
def test_calls_that_cannot_be_right(invoke: Invoke, call: tuple[str, ...], says: str) -> None:
    result = invoke("vary", "redpoll", *call)
    assert (result.exit_code, result.stdout) == (2, "")
    assert says in result.stderr
    assert "Traceback" not in result.stderr


def test_layout_shows_what_was_measured_and_the_next_cut(invoke: Invoke) -> None:
    printed = invoke("layout", "redpoll", "--set", "measured.channel.run.depth=9.6", "--quiet").stdout
    assert "As built: measured values stand in every table above" in printed
    assert "channel.run.depth     9.30      9.60  0.30" in printed
    assert (
        "by cross-sections, carve no thinner than 18.88 mm at fret 1 and 20.88 mm at fret 12: the run then" in printed
    )
    assert "As built" not in invoke("layout", "redpoll", "--quiet").stdout
    data = json.loads(invoke("layout", "redpoll", "--set", "measured.channel.run.depth=9.6", "--json").stdout)
    assert [number for number in data["numbers"] if number["type"] == "measured"] == [
        {"key": "channel.run.depth", "value": 9.6, "type": "measured", "as_built": True, "planned": 9.3}
    ]
    assert data["channel"][0]["as_built"] == ["depth"]


def test_check_tells_the_next_cut_of_a_wall_that_passes(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings(found_all("redpoll", "measured.channel.run.depth=9.6"), design("redpoll"))
    printed = " ".join(capsys.readouterr().out.partition("The next cut:\n")[2].split())
    assert printed.startswith("wall/run: enough wood in every direction; as built: channel.run.depth = 9.60 mm")
    assert "carve no thinner than 18.88 mm at fret 1 and 20.88 mm at" in printed
    show_findings(found_all("redpoll"), design("redpoll"))
    assert "The next cut" not in capsys.readouterr().out
