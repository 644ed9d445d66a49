"""Tries every remedy before a maker is told of it: it is applied to a copy, which is built and checked.

Only for failing findings: a design that passes costs no time here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.measured import all_bare, all_offered
from neckmodel.checks.remedies.remedy import either, size_of
from neckmodel.checks.remedies.words import worded
from neckmodel.checks.root import by_cause, roots_first
from neckmodel.checks.trial import Settings, Trial, Trials
from neckmodel.design.defaults.trade import size_words
from neckmodel.findings import FAIL, PASS, WARN, Findings, Remedy, ways_of

if TYPE_CHECKING:
    from neckmodel.findings import Finding
    from neckmodel.solids.parts import Parts

GRADES = (0, 3)  # of remedy.graded: usual sizes; fine ones without the worst case
ROUNDS = (
    6  # most rounds in which a remedy is joined with the change it needs: a larger washer needs more wood, and so on
)
MOST_PAIRS = 6  # pairs that the layout allows, built and checked for one finding
TOGETHER = "; with it, "
MOST_TOLD = 2  # ways that did not work named in a finding


def prove(parts: Parts, findings: Findings, progress: Callable[[str], None] | None = None) -> Findings:
    """The findings, with only those remedies that worked when tried: the finding then passes, no other check starts to
    fail, and none that fails misses its limit by more.

    First comes the finding whose remedy mends most, followed by those it mends. A remedy that works only with another
    change is offered together with it. findings: of `check(parts)`. progress: called with a short text before each
    trial. Returns the same findings if none fails.
    """
    if findings.passed:
        return findings
    layout = parts.layout
    findings = all_bare(findings) if layout.design.measured else findings
    proof = Proof(Trials(parts, findings, progress))
    found = roots_first(findings, proof.proved(findings), proof.trials)
    return all_offered(layout, found) if layout.design.measured else found


class Proof:
    """Finds out which remedies of one design work."""

    def __init__(self, trials: Trials) -> None:
        self.trials = trials

    def proved(self, findings: Findings) -> dict[str, Finding]:
        """Every failing finding, by its check, with the remedies that work. A finding that another one's remedy mends
        may have none of its own, where that remedy mends everything."""
        failing = by_cause(f for f in findings.findings if f.verdict == FAIL)
        found = {finding.check: replace(finding, remedy=None) for finding in failing}
        for finding in failing:
            found[finding.check] = mended = self.alone(finding)
            if self._cleared(mended) == self.trials.failing:
                return found
        pool = [way for finding in found.values() for way in ways_of(finding.remedy)]
        for finding in failing:
            if all(finding.check not in self._cleared(other) for other in found.values()):
                found[finding.check] = self.with_more(finding, pool)
        return found

    def alone(self, finding: Finding) -> Finding:
        """The finding with those of its own remedies that work by themselves; of these, the ones that mend most other
        checks."""
        good = [best for way in ways_of(finding.remedy) if (best := self._best(finding.check, way)) is not None]
        if any(way.leaves == PASS for way in good):
            good = [way for way in good if way.leaves == PASS]
        if not good:
            return replace(finding, remedy=None)
        trials = [self.trials.of(way.set) for way in good]
        order = sorted(range(len(good)), key=lambda k: (-len(trials[k].cleared()), len(trials[k].warns_anew()), k))
        most = trials[order[0]].cleared()
        told = [self._with_warnings(good[k], trials[k]) for k in order if trials[k].cleared() >= most]
        return replace(finding, remedy=either(*told))

    def with_more(self, finding: Finding, pool: list[Remedy]) -> Finding:
        """The finding with the smallest combined change that works: one of its own remedies joined with what the design
        then needs, or with one that mends another finding too, or the smallest pair of remedies that mends it."""
        ways = ways_of(finding.remedy)
        found = self._first(finding.check, self._onward(finding.check, ways))
        if found is None:
            found = self._first(finding.check, self._smallest(pool))
        if found is None:
            pairs = (self._both(one, two) for one, two in combinations([*ways, *pool], 2))
            found = self._first(finding.check, self._smallest(p for p in pairs if p is not None))
        return replace(finding, remedy=found, says=finding.says if found else finding.says + self._why(finding))

    def _cleared(self, finding: Finding) -> frozenset[str]:
        return frozenset() if finding.remedy is None else self.trials.of(finding.remedy.set).cleared()

    def _best(self, check: str, way: Remedy) -> Remedy | None:
        """The first amount of a way with which the check passes, worst case included; else the first with which it
        passes without; None where no amount does."""
        bare = None
        for each in (way, *way.finer):
            verdict = self.trials.mends(check, each.set)
            if verdict == PASS:
                return replace(each, finer=())
            if verdict == WARN and bare is None:
                bare = replace(each, says=each.says + self._still(check, each), leaves=WARN, finer=())
        return bare

    def _still(self, check: str, way: Remedy) -> str:
        """What is still missing after a change of which no amount passes with the worst case included."""
        found = self.trials.of(way.set).all_found().get(check)
        if found is None or found.worst_case is None or found.limit is None or found.worst_case >= found.limit:
            return "; it then still warns"
        if found.unit != "mm":  # an estimate's range is no length to be added
            return "; in the worst case that is still too little"
        return f"; with every tolerance at its worst {size_words(found.limit - found.worst_case)} mm is then missing"

    def _with_warnings(self, way: Remedy, trial: Trial) -> Remedy:
        """A way, with the checks that it makes warn named in it."""
        warns = trial.warns_anew()
        if not warns:
            return way
        return replace(way, says=f"{way.says} ({', '.join(warns)} then {'warns' if len(warns) == 1 else 'warn'})")

    def _first(self, check: str, remedies: Iterable[Remedy]) -> Remedy | None:
        """The first remedy that works, of those few that are built and checked."""
        tried = 0
        for remedy in remedies:
            if tried >= MOST_PAIRS:
                break
            tried += not self.trials.is_tried(remedy.set)
            best = self._best(check, remedy)
            if best is not None:
                return self._with_warnings(best, self.trials.of(best.set))
        return None

    def _smallest(self, remedies: Iterable[Remedy]) -> Iterator[Remedy]:
        unlike = {tuple(sorted(remedy.set.items(), key=str)): remedy for remedy in remedies}
        return iter(sorted(unlike.values(), key=lambda remedy: size_of(self.trials.design, remedy.set)))

    def _onward(self, check: str, ways: tuple[Remedy, ...]) -> Iterator[Remedy]:
        """Each remedy joined with the changes that the design then needs, the smallest first."""
        found = [self._followed(check, way) for way in ways]
        return self._smallest([remedy for remedy in found if remedy is not None])

    def _followed(self, check: str, way: Remedy) -> Remedy | None:
        """A remedy joined with every change that it turns out to need: in the usual sizes where that succeeds, else in
        finer ones. None where one of those needs has no remedy, or where each change keeps needing another."""
        found = (self._followed_in(grade, check, way) for grade in GRADES)
        return next((remedy for remedy in found if remedy is not None), None)

    def _followed_in(self, grade: int, check: str, way: Remedy) -> Remedy | None:
        """The same in sizes of one grade; None where it does not succeed within ROUNDS."""
        joined = replace(way, finer=())
        for _ in range(ROUNDS):
            trial = self.trials.of(joined.set)
            found = trial.all_found()
            if not found:
                return None
            needs = sorted({*trial.broken(), *({check} & trial.failing)})
            if not needs:
                return joined
            following = [ways_of(found[name].remedy) if name in found else () for name in needs]
            if not all(following):
                return None
            more = self._both(joined, self._all_of([_graded(some[0], grade) for some in following]), over=True)
            if more is None:
                return None
            joined = more
        return None

    def _all_of(self, remedies: list[Remedy]) -> Remedy:
        """Several remedies joined into one. Of two values for one key the one farther from the stated value counts."""
        settings: Settings = {}
        for remedy in remedies:
            for key, value in remedy.set.items():
                there = {key: settings[key]} if key in settings else {}
                if not there or size_of(self.trials.design, {key: value}) > size_of(self.trials.design, there):
                    settings[key] = value
        told = [remedy.says for remedy in remedies if any(settings[key] == value for key, value in remedy.set.items())]
        return Remedy(TOGETHER.join(told), settings)

    def _both(self, one: Remedy, two: Remedy, over: bool = False) -> Remedy | None:
        """Two remedies joined into one. over: the second builds on the first, and may move the same key farther;
        otherwise they must not set one key to two values."""
        shared = {key for key in one.set.keys() & two.set.keys() if one.set[key] != two.set[key]}
        if shared and not over:
            return None
        both: Settings = {**one.set, **two.set}
        if both == one.set or both == two.set:
            return Remedy(two.says, both) if over else None
        says = worded(self.trials.design, both) if shared else f"{one.says}{TOGETHER}{two.says}"
        return Remedy(says, both)

    def _why(self, finding: Finding) -> str:
        """Why no remedy is offered: the ways tried, and why each does not work."""
        said_of = []
        for way in ways_of(finding.remedy)[:MOST_TOLD]:
            said_of.append(f"{way.says}, but {self._wrong_with(finding.check, self.trials.of(way.set))}")
        return f"; tried: {'; '.join(said_of)}" if said_of else ""

    def _wrong_with(self, check: str, trial: Trial) -> str:
        if trial.refused:
            return trial.refused
        broken = [name for name in trial.broken() if name != check]
        if broken:
            anew = [name for name in broken if name not in self.trials.failing]
            names, fail = (anew, "fail") if anew else (broken, "lack")
            return f"then {', '.join(names)} {fail}{'s' if len(names) == 1 else ''}{'' if anew else ' more'}"
        return f"{check} still fails"


def _graded(way: Remedy, grade: int) -> Remedy:
    """A way in sizes of this grade, or in the finest that it has."""
    return (way, *way.finer)[min(grade, len(way.finer))]
