"""Remedies for a neck of which something was measured: what is cut stays as it is; what is probably cut is named."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.fixed import changes_measured, only_if, puts_back, replacing
from neckmodel.checks.remedies.remedy import any_of, as_set, either, size_of
from neckmodel.design import changed
from neckmodel.errors import DesignError
from neckmodel.findings import FAIL, ways_of
from neckmodel.layout import lay_out
from neckmodel.layout.measured.operations import done

if TYPE_CHECKING:
    from collections.abc import Iterable

    from neckmodel.findings import Finding, Findings, Remedy
    from neckmodel.layout import Layout

ANOTHER = ", in place of the one that was measured"
NONE_LEFT = "no remedy was found in what is still to be cut"
CLOSED = "what lies under the fretboard can no longer be changed, and "
UNDER_IT = ("wall", "fit", "overlap", "access", "place")  # families of checks whose parts may lie under the fretboard


def offered(layout: Layout, ways: Iterable[Remedy]) -> Remedy | None:
    """One remedy of all these ways, without those that would need wood put back; None where no way is left.

    First come ways that need nothing undone and nothing else bought, then the smallest change.
    """
    unlike: dict[tuple[tuple[str, float | str], ...], Remedy] = {}
    for way in ways:
        kept = [one for each in (way, *way.finer) if (one := _kept(layout, replace(each, finer=()))) is not None]
        if kept:
            first, *finer = kept
            unlike.setdefault(tuple(sorted(first.set.items())), replace(first, finer=tuple(finer)))
    found = sorted(unlike.values(), key=lambda way: _rank(layout, way))
    return any_of(*found)


def _rank(layout: Layout, way: Remedy) -> tuple[bool, bool, float]:
    return way.only_if != "", way.says.endswith(ANOTHER), size_of(layout.design, way.set)


def _kept(layout: Layout, way: Remedy) -> Remedy | None:
    """The way, with the work that must not be done yet for it; None where it changes what is cut already."""
    way = bare(way)
    settings = replacing(layout, way.set)
    if settings != way.set:
        way = replace(way, says=way.says + ANOTHER, set=settings)
    if changes_measured(layout.design, settings):
        return None
    try:
        after = lay_out(changed(layout.design, as_set(layout.design, settings)))
    except DesignError:  # together with another change it may be possible; the whole is tried before it is printed
        return way
    if puts_back(layout, after):
        return None
    needs = only_if(layout, after)
    return replace(way, says=f"if {needs}: {way.says}", only_if=needs) if needs else way


def bare(way: Remedy) -> Remedy:
    """A remedy, without its other ways, and without the words on work that must not be done yet."""
    if way.finer:
        way = replace(way, finer=tuple(bare(each) for each in way.finer))
    return replace(way, says=way.says.removeprefix(f"if {way.only_if}: "), only_if="") if way.only_if else way


def all_bare(findings: Findings) -> Findings:
    """The findings with such remedies, which can be joined with others."""
    found = (
        f if f.remedy is None else replace(f, remedy=either(*[bare(way) for way in ways_of(f.remedy)]))
        for f in findings.findings
    )
    return replace(findings, findings=tuple(found))


def all_offered(layout: Layout, findings: Findings) -> Findings:
    """The findings with their remedies as printed. A failing finding without one says so."""
    return replace(findings, findings=tuple(_printed(layout, finding) for finding in findings.findings))


def _printed(layout: Layout, finding: Finding) -> Finding:
    remedy = offered(layout, ways_of(finding.remedy))
    if remedy is None and finding.verdict == FAIL and "; tried: " not in finding.says:
        closed = done(layout).closed and finding.check.partition("/")[0] in UNDER_IT
        return replace(finding, remedy=None, says=f"{finding.says}; {CLOSED if closed else ''}{NONE_LEFT}")
    return replace(finding, remedy=remedy)
