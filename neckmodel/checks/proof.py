"""Remedies that prove themselves: each is applied to a copy, built and checked, before a maker is told of it.

Only for failing findings: a design that passes costs nothing here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

from neckmodel.checks.measured_ways import all_bare, all_offered
from neckmodel.checks.remedies import either, settings_say, ways_of
from neckmodel.checks.trial import Settings, Trial, Trials, size_of
from neckmodel.findings import Findings, Remedy

if TYPE_CHECKING:
    from neckmodel.findings import Finding
    from neckmodel.solids.parts import Parts

ROUNDS = 6  # in which a remedy may be joined by what it needs; a larger washer needs more wood, and so bears more
MOST_PAIRS = 6  # of those that the layout allows, built and checked for one finding
TOGETHER = ", together with "


def prove(parts: Parts, findings: Findings, progress: Callable[[str], None] | None = None) -> Findings:
    """The findings with only such remedies as were seen to work: the finding then passes and no other check fails anew.

    What passes only with something else is offered together with it. findings: of `check(parts)`. progress: called
    with a short text before each trial. Returns the same findings if none fails.
    """
    if findings.passed:
        return findings
    layout = parts.layout
    findings = all_bare(findings) if layout.design.measured else findings
    proof = Proof(Trials(parts, findings, progress))
    proved = {id(f): proof.alone(f) for f in findings.findings if f.verdict == "fail"}
    pool = [way for finding in proved.values() for way in ways_of(finding.remedy)]
    for finding in findings.findings:
        if id(finding) in proved and proved[id(finding)].remedy is None:
            proved[id(finding)] = proof.by_others(finding, pool)
    found = replace(findings, findings=tuple(proved.get(id(f), f) for f in findings.findings))
    return all_offered(layout, found) if layout.design.measured else found


class Proof:
    """What is found out about the remedies of one design."""

    def __init__(self, trials: Trials) -> None:
        self.trials = trials

    def alone(self, finding: Finding) -> Finding:
        """The finding with those of its own remedies that pass, or the least change that goes on from one of them."""
        ways = ways_of(finding.remedy)
        good = [way for way in ways if self.trials.mends(finding.check, way.set)]
        if good:
            return replace(finding, remedy=either(*good))
        return replace(finding, remedy=self._first(finding.check, self._onward(finding.check, ways)))

    def by_others(self, finding: Finding, pool: list[Remedy]) -> Finding:
        """The finding with a remedy that mends another finding too, or the smallest pair of remedies that mends it."""
        singles = self._first(finding.check, self._smallest(pool))
        if singles is not None:
            return replace(finding, remedy=singles)
        own = list(ways_of(finding.remedy))
        pairs = (self._both(one, two) for one, two in combinations([*own, *pool], 2))
        found = self._first(finding.check, self._smallest(p for p in pairs if p is not None))
        return replace(finding, remedy=found, says=finding.says if found else finding.says + self._why(finding))

    def _first(self, check: str, remedies: Iterator[Remedy]) -> Remedy | None:
        """The first that passes, of at most so many that have to be built."""
        tried = 0
        for remedy in remedies:
            if tried >= MOST_PAIRS:
                break
            tried += not self.trials.known(remedy.set)
            if self.trials.mends(check, remedy.set):
                return remedy
        return None

    def _smallest(self, remedies: Iterator[Remedy] | list[Remedy]) -> Iterator[Remedy]:
        unlike = {tuple(sorted(remedy.set.items(), key=str)): remedy for remedy in remedies}
        return iter(sorted(unlike.values(), key=lambda remedy: size_of(self.trials.design, remedy.set)))

    def _onward(self, check: str, ways: tuple[Remedy, ...]) -> Iterator[Remedy]:
        """Each remedy together with what the design then needs, and then needs again, the smallest change first."""
        found = [self._followed(check, way) for way in ways]
        return self._smallest([remedy for remedy in found if remedy is not None])

    def _followed(self, check: str, way: Remedy) -> Remedy | None:
        """A remedy with all that it turns out to need; None where something has no remedy, or there is no end to it."""
        joined = way
        for _ in range(ROUNDS):
            trial = self.trials.of(joined.set, built=True)
            if trial.findings is None:
                return None
            needs = sorted(self.trials.new_failures(trial) | ({check} & trial.failing))
            if not needs:
                return joined
            following = [ways_of(trial.findings[name].remedy) for name in needs]
            if not all(following):
                return None
            more = self._both(joined, self._all_of([some[0] for some in following]), over=True)
            if more is None:
                return None
            joined = more
        return None

    def _all_of(self, remedies: list[Remedy]) -> Remedy:
        """Several remedies of one design as one: of two values for one key the one farther from what is stated."""
        settings: Settings = {}
        for remedy in remedies:
            for key, value in remedy.set.items():
                there = {key: settings[key]} if key in settings else {}
                if not there or size_of(self.trials.design, {key: value}) > size_of(self.trials.design, there):
                    settings[key] = value
        told = [remedy.says for remedy in remedies if any(settings[key] == value for key, value in remedy.set.items())]
        return Remedy(TOGETHER.join(told), settings)

    def _both(self, one: Remedy, two: Remedy, over: bool = False) -> Remedy | None:
        """Two remedies as one. over: the second goes on from the first, and may set the same key farther; otherwise
        they must not set one key to two values."""
        shared = {key for key in one.set.keys() & two.set.keys() if one.set[key] != two.set[key]}
        if shared and not over:
            return None
        both: Settings = {**one.set, **two.set}
        if both == one.set or both == two.set:
            return Remedy(two.says, both) if over else None
        says = settings_say(self.trials.design, both) if shared else f"{one.says}{TOGETHER}{two.says}"
        return Remedy(says, both)

    def _why(self, finding: Finding) -> str:
        """Why no remedy is offered."""
        said = []
        for way in ways_of(finding.remedy):
            said.append(f"{way.says}, but {self._wrong_with(finding.check, self.trials.of(way.set))}")
        return f"; tried: {'; '.join(said)}" if said else ""

    def _wrong_with(self, check: str, trial: Trial) -> str:
        if trial.findings is None:
            return trial.refused
        broken = self.trials.new_failures(trial)
        if broken:
            return f"then {', '.join(sorted(broken))} {'fails' if len(broken) == 1 else 'fail'}"
        return f"{check} still fails"
