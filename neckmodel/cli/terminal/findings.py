"""Findings as a maker reads them at the bench: the verdict first, then worst first, the limit beside each number."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from neckmodel.cli.terminal import lengths
from neckmodel.cli.terminal.out import fancy, say
from neckmodel.cli.terminal.table import Column, plus_minus, show_lines, show_table
from neckmodel.findings import FAIL, NEXT_CUT, PASS, SKIPPED, WARN, Finding, Findings, Place, Verdict, ways_of
from neckmodel.lengths import NONE, in_unit, mm
from neckmodel.report.words import DECIMALS, WORDS, arguments, counted, worst_first
from neckmodel.units import from_mm

if TYPE_CHECKING:
    from neckmodel.design import Design

SIGNS = {FAIL: ("✗", "x"), WARN: ("!", "!"), SKIPPED: ("·", "."), PASS: ("✓", "+")}
STYLES = {FAIL: "bold red", WARN: "yellow", SKIPPED: "dim", PASS: ""}
COLUMNS = (
    Column("verdict"),
    Column("check"),
    Column("measured", number=True),
    Column("error"),
    Column("limit", number=True),
    Column("worst", number=True),
    Column("where"),
)


def show_findings(findings: Findings, design: Design) -> None:
    """Prints the summary and the table, and for each failure and warning the reason and the remedy."""
    unit = design.design.units
    show_lines(summary(findings), hang=8)
    rows = worst_first(findings)
    show_table(
        f"Lengths in {'mm' if unit == 'mm' else 'inches, the nearest 1/64 in brackets'}; x counts from the nut toward "
        "the body. worst: with the workshop's tolerances against it.",
        COLUMNS,
        [_row(found, unit) for found in rows],
        [STYLES[found.verdict] for found in rows],
    )
    for found in rows:
        if found.verdict in (FAIL, WARN) and found.follows is None:
            _explain(found, [other for other in rows if other.follows == found.check], design)
    next_cuts = [found for found in rows if found.verdict == PASS and found.more.keys() & set(NEXT_CUT)]
    if next_cuts:
        show_lines("", "The next cut:")
        for found in next_cuts:
            show_lines(f"{found.check}: {in_unit(found.says, unit)}", indent=2, hang=2)
    skipped = [found for found in rows if found.verdict == SKIPPED]
    if skipped:
        show_lines("", "Not checked:")
        for found in skipped:
            show_lines(f"{found.check}: {in_unit(found.says, unit)}", indent=2, hang=2)


def summary(findings: Findings) -> str:
    """`FAIL  redpoll: 1 check fails, 2 warn, 3 are skipped, 28 pass`."""
    verdict = PASS if findings.passed else FAIL
    return f"{sign(verdict)} {WORDS[verdict]}  {findings.name}: {counted(findings)}"


def sign(verdict: Verdict) -> str:
    """The sign of a verdict."""
    return SIGNS[verdict][0 if fancy(sys.stdout) else 1]


def _row(found: Finding, unit: str) -> tuple[str, ...]:
    own = "" if found.unit == "mm" else f" {found.unit}"
    other = found.unit if found.unit in DECIMALS else "mm"  # shares, times and degrees are the same in every file
    shown = unit if found.unit == "mm" else other
    measured = lengths.measured(found.measured, found.limit, shown)
    return (
        f"{sign(found.verdict)} {WORDS[found.verdict]}",
        found.check if found.follows is None else f"  {found.check}",
        measured + (own if found.measured is not None else ""),
        f"{plus_minus()}{lengths.error(found.error, shown, measured)}" if found.error else "",
        lengths.range_or_limit(found, shown, fancy(sys.stdout)),
        lengths.measured(found.worst_case, found.limit, shown),
        _where(found.at, unit),
    )


def _where(place: Place | None, unit: str) -> str:
    if place is None:
        return NONE
    near = "" if place.fret is None else ", nut" if place.fret == 0 else f", fret {place.fret}"
    return f"x {mm(from_mm(place.x, unit), 1 if unit == 'mm' else 2)}{near}"


def _explain(found: Finding, following: list[Finding], design: Design) -> None:
    """Prints the reason, the remedy, each way with the words to type, and the findings that the same change mends."""
    show_lines("")
    unit = design.design.units
    show_lines(f"{sign(found.verdict)} {WORDS[found.verdict]}  {found.check}: {in_unit(found.says, unit)}", hang=2)
    if found.basis:
        show_lines(f"limit from: {in_unit(found.basis, unit)}", indent=2, hang=2)
    for number, way in enumerate(ways_of(found.remedy)):
        show_lines(f"{'or' if number else 'to do'}: {in_unit(way.says, unit, to_follow=True)}", indent=2, hang=2)
        if way.set:
            say(f"    {arguments(way.set, design)}")
    if following:
        show_lines("the same change mends:", indent=2)
        for other in following:
            show_lines(f"{other.check}: {in_unit(other.says, unit)}", indent=4, hang=2)
