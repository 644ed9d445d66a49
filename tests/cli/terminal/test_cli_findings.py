"""The findings table: verdict first, worst first, the limit beside the number, remedies ready to type."""

from __future__ import annotations

import io
import shlex

import pytest

from neckmodel import presets
from neckmodel.cli.terminal.findings import show_findings, summary
from neckmodel.design import Design, read, read_text
from neckmodel.findings import Finding, Findings, Place, Remedy
from neckmodel.report.words import arguments

LONG = "the channel's corner comes within 2.44 mm of the finished back on the bass side, where 3.00 mm must stay of it"
FAIL = Finding(
    "wall/run",
    "neck",
    "fail",
    LONG,
    measured=2.4393,
    error=0.015,
    limit=3.0,
    worst_case=1.69,
    basis="common practice, no source",
    at=Place(17.0, -3.05, -9.3, 1),
    remedy=Remedy("make the neck 0.57 mm thicker", {"neck.thickness.fret_1": 18.57, "neck.thickness.fret_12": 20.57}),
)
WARN = Finding("glue/nut", "fretboard", "warn", "only the worst case misses", measured=4.2, limit=4.0, worst_case=3.9)
SKIP = Finding("stock/grain", "board", "skipped", "board.grain_slope is not stated")
PASS = Finding(
    "cover/run", "fretboard", "pass", "covered", measured=7.0, error=0.0, limit=2.0, at=Place(-6.0, 0.0, 0.0, 0)
)


@pytest.fixture
def design() -> Design:
    path = presets.path_of("redpoll")
    assert path is not None
    return read(path)


class Out(io.TextIOWrapper):
    """A stdout of some encoding that is no terminal."""

    def __init__(self, encoding: str) -> None:
        super().__init__(io.BytesIO(), encoding=encoding)

    def text(self) -> str:
        self.flush()
        return self.buffer.getvalue().decode(self.encoding)  # type: ignore[attr-defined]


def shown(monkeypatch: pytest.MonkeyPatch, design: Design, encoding: str = "utf-8", columns: str = "80") -> list[str]:
    out = Out(encoding)
    monkeypatch.setattr("sys.stdout", out)
    monkeypatch.setenv("COLUMNS", columns)
    show_findings(Findings("redpoll", (PASS, FAIL, SKIP, WARN), ()), design)
    return out.text().splitlines()


def test_the_verdict_comes_first_and_the_worst_first(monkeypatch: pytest.MonkeyPatch, design: Design) -> None:
    lines = shown(monkeypatch, design)
    assert lines[0] == "✗ FAIL  redpoll: 1 check fails, 1 warns, 1 is skipped, 1 passes"
    head = next(at for at, line in enumerate(lines) if line.startswith("verdict"))
    table = [line.split() for line in lines[head + 1 : head + 5]]
    assert [row[1] for row in table] == ["FAIL", "WARN", "SKIP", "PASS"]
    assert table[0] == ["✗", "FAIL", "wall/run", "2.44", "±0.02", "3.00", "1.69", "x", "17.0,", "fret", "1"]
    assert table[1] == ["!", "WARN", "glue/nut", "4.20", "4.00", "3.90", "-"]
    assert table[2] == ["·", "SKIP", "stock/grain", "-", "-", "-", "-"]
    assert table[3] == ["✓", "PASS", "cover/run", "7.00", "2.00", "-", "x", "-6.0,", "nut"]


def test_why_and_what_to_change_follow_for_failures_and_warnings_only(
    monkeypatch: pytest.MonkeyPatch, design: Design
) -> None:
    text = "\n".join(shown(monkeypatch, design))
    assert " ".join(text.split()).count(LONG) == 1
    assert "to do: make the neck 0.57 mm thicker" in text
    assert "only the worst case misses" in text
    assert "stock/grain: board.grain_slope is not stated" in text
    assert "covered" not in text


def test_the_remedy_is_a_line_to_type_that_does_what_it_says(monkeypatch: pytest.MonkeyPatch, design: Design) -> None:
    (line,) = [line for line in shown(monkeypatch, design) if line.startswith("    --set")]
    words = shlex.split(line)
    assert words == ["--set", "neck.thickness.fret_1=18.57", "--set", "neck.thickness.fret_12=20.57"]
    changed = read(presets.folder() / "redpoll.toml", words[1::2])
    assert (changed.neck.thickness.fret_1, changed.neck.thickness.fret_12) == (18.57, 20.57)


def test_a_remedy_for_a_file_in_inches_says_mm(design: Design) -> None:
    text = presets.folder().joinpath("redpoll.toml").read_text().replace('units = "mm"', 'units = "in"')
    metric = read_text(text.replace('units = "in"', 'units = "mm"'))
    inch = metric.model_copy(update={"design": metric.design.model_copy(update={"units": "in"})})
    assert arguments({"rod.length": 556.24, "channel.key_swing": 60.0}, inch) == (
        "--set 'rod.length=556.24 mm' --set channel.key_swing=60.00"
    )
    assert arguments({"rod.length": 556.24, "rod_place.from_nut": "auto"}, design) == (
        "--set rod.length=556.24 --set rod_place.from_nut=auto"
    )


def test_plain_ascii_where_the_terminal_has_no_more(monkeypatch: pytest.MonkeyPatch, design: Design) -> None:
    lines = shown(monkeypatch, design, encoding="ascii")
    text = "\n".join(lines)
    assert lines[0].startswith("x FAIL")
    assert "2.44  +-0.02   3.00" in text
    assert "?" not in text


@pytest.mark.parametrize("columns", ["60", "80", "120"])
def test_no_line_is_wider_than_the_terminal(monkeypatch: pytest.MonkeyPatch, design: Design, columns: str) -> None:
    lines = shown(monkeypatch, design, columns=columns)
    typed = [line for line in lines if line.startswith("    --set")]  # stays whole, to be copied
    assert max(len(line) for line in lines if line not in typed) <= int(columns)


def test_no_colour_is_written_to_a_pipe(monkeypatch: pytest.MonkeyPatch, design: Design) -> None:
    assert "\x1b" not in "\n".join(shown(monkeypatch, design))


def test_a_pass_is_said_as_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout", Out("utf-8"))
    assert summary(Findings("wren", (PASS, PASS), ())) == "✓ PASS  wren: 0 checks fail, 0 warn, 0 are skipped, 2 pass"


def test_an_error_bound_is_never_rounded_down_to_nothing(monkeypatch: pytest.MonkeyPatch, design: Design) -> None:
    out = Out("utf-8")
    monkeypatch.setattr("sys.stdout", out)
    tiny = Finding("wall/run", "neck", "pass", "enough", measured=4.9, error=0.0001, limit=3.0)
    show_findings(Findings("redpoll", (tiny,), ()), design)
    assert "4.90  ±0.01" in out.text()
