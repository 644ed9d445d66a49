"""Finds the failing finding at the root: the one whose remedy mends most. Those it mends follow it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.findings import FAIL, PASS, WARN, ways_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from neckmodel.checks.trial import Trials
    from neckmodel.findings import Finding, Findings

# families of checks, causes before effects: of two findings whose remedies mend equally much the first is the root
CAUSES = (
    "place",
    "access",
    "fit",
    "cutter",
    "stock",
    "head",
    "heel",
    "body",
    "fret-slots",
    "strength",
    "cover",
    "glue",
    "wall",
    "section",
    "overlap",
)


def by_cause(findings: Iterable[Finding]) -> list[Finding]:
    """The findings with causes first; those of one family keep their order."""
    families = {family: number for number, family in enumerate(CAUSES)}
    return sorted(findings, key=lambda finding: families.get(finding.check.partition("/")[0], len(CAUSES)))


def roots_first(findings: Findings, proved: Mapping[str, Finding], trials: Trials) -> Findings:
    """The findings, the failing ones ordered by how much their remedies mend, each followed by those it mends.

    proved: the failing findings by their check. A finding that warns, and passes with a root's remedy, follows that
    root too.
    """
    left = {finding.check: finding for finding in by_cause(proved.values())}
    failing: list[Finding] = []
    follows: dict[str, Finding] = {}
    while left:
        root = max(left.values(), key=lambda finding: len(_mended(finding, trials) & left.keys()))
        mended = _mended(root, trials)
        after = [left[name] for name in left if name in mended and name != root.check]
        follows |= {name: root for name in _calmed(root, trials) if name not in follows}
        failing += [root, *(replace(finding, remedy=root.remedy, follows=root.check) for finding in after)]
        left = {name: finding for name, finding in left.items() if name != root.check and finding not in after}
    rest = [f for f in findings.findings if f.verdict != FAIL]
    rest = [
        replace(f, remedy=follows[f.check].remedy, follows=follows[f.check].check) if f.check in follows else f
        for f in rest
    ]
    return replace(findings, findings=(*failing, *rest))


def _mended(finding: Finding, trials: Trials) -> frozenset[str]:
    """The failing checks that every way of a finding's remedy mends."""
    sets = [trials.of(way.set).cleared() for way in ways_of(finding.remedy)]
    return frozenset.intersection(*sets) if sets else frozenset()


def _calmed(root: Finding, trials: Trials) -> list[str]:
    """The checks that warned, and pass after any way of a finding's remedy."""
    warned = [name for name, finding in trials.before.items() if finding.verdict == WARN]
    found = [trials.of(way.set).all_found() for way in ways_of(root.remedy)]
    return [name for name in warned if found and all(name not in f or f[name].verdict == PASS for f in found)]
