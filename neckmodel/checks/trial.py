"""Tries one change on a copy of the design: lays it out, then runs check after check, only as far as needed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from neckmodel.checks.bench import Bench
from neckmodel.checks.registry import groups
from neckmodel.checks.remedies.fixed import changes_measured, puts_back
from neckmodel.checks.run import as_printed
from neckmodel.design import Design, changed
from neckmodel.errors import DesignError, KernelError, MeshError
from neckmodel.findings import FAIL, PASS, WARN, Finding, Findings, Verdict
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.channel.walls import limit_of
from neckmodel.solids.uncut import Uncut

if TYPE_CHECKING:
    from neckmodel.solids.parts import Parts

Settings = dict[str, float | str]

MOST_BUILT = 40  # trials of one design that may carve a neck; a design that needs more has too much wrong with it
SURE = 0.1  # mm by which a wall by section must miss its limit for the solid not to be needed
WORSE = 0.01  # mm (or times, degrees) by which a failing check may get worse and still count as unchanged
MESHES = 0.1  # mm, the most of a measuring error that counts toward that


class Trials:
    """All changes tried on one design; each is tried once. parts, findings: of the design itself."""

    def __init__(self, parts: Parts, findings: Findings, progress: Callable[[str], None] | None = None) -> None:
        self.parts, self.progress = parts, progress
        self.before = {finding.check: finding for finding in findings.findings}
        self.failing = failing_of(findings)
        self.built = 0
        self._known: dict[tuple[tuple[str, float | str], ...], Trial] = {}

    @property
    def design(self) -> Design:
        """The design itself."""
        return self.parts.layout.design

    def is_tried(self, settings: Mapping[str, float | str]) -> bool:
        """Whether this change was tried before."""
        return _as_key(settings) in self._known

    def of(self, settings: Mapping[str, float | str]) -> Trial:
        """The trial of this change, made now or before."""
        key = _as_key(settings)
        if key not in self._known:
            self._known[key] = self._try(settings)
        return self._known[key]

    def mends(self, check: str, settings: Mapping[str, float | str]) -> Verdict | None:
        """The verdict, "pass" or "warn", of a failing check after the change; None where it still fails, or where
        another check starts to fail or fails by more."""
        return self.of(settings).mends(check)

    def _try(self, settings: Mapping[str, float | str]) -> Trial:
        if changes_measured(self.design, settings):
            return Trial(self, settings, refused="what is cut cannot be changed")
        try:
            layout = lay_out(changed(self.design, settings))
        except DesignError as error:
            problem = error.problems[0]
            return Trial(self, settings, refused=f"then {problem.key} {problem.says}")
        if puts_back(self.parts.layout, layout):
            return Trial(self, settings, refused="what is cut cannot be changed")
        return Trial(self, settings, layout)


class Trial:
    """The result of a change. refused: why it is impossible; "" where it is possible."""

    def __init__(
        self, trials: Trials, settings: Mapping[str, float | str], layout: Layout | None = None, refused: str = ""
    ) -> None:
        self.refused = refused
        self._trials, self._settings = trials, settings
        self._found: dict[str, Finding] = {}
        self._sure: dict[str, float] = {} if layout is None else _sure_to_fail(layout)
        self._looks = iter(()) if layout is None else self._run_checks(layout)

    def mends(self, check: str) -> Verdict | None:
        """See `Trials.mends`. Runs no more checks than needed."""
        if check in self._sure or not self._holds():
            return None
        for _ in self._looks:
            if check in self.failing or not self._holds():
                return None
        if self.refused or check in self.failing or not self._holds():
            return None
        return self._found[check].verdict if check in self._found else PASS

    @property
    def failing(self) -> frozenset[str]:
        """The checks that fail, of those run so far."""
        return frozenset(name for name, finding in self._found.items() if finding.verdict == FAIL)

    def all_found(self) -> Mapping[str, Finding]:
        """Every check's finding by its name; empty where the change is refused."""
        for _ in self._looks:
            pass
        return {} if self.refused else self._found

    def cleared(self) -> frozenset[str]:
        """The checks that failed before and no longer do."""
        return frozenset() if not self.all_found() else self._trials.failing - self.failing

    def warns_anew(self) -> tuple[str, ...]:
        """The checks that warn and passed before."""
        before = self._trials.before
        found = (name for name, finding in self.all_found().items() if finding.verdict == WARN)
        return tuple(sorted(name for name in found if name not in before or before[name].verdict == PASS))

    def broken(self) -> tuple[str, ...]:
        """The checks, of those run so far, that start to fail or fail by more."""
        before, failed = self._trials.before, self._trials.failing
        sure = [name for name, lack in self._sure.items() if name not in failed or lack > _lack(before[name]) + SURE]
        new = [name for name in self.failing if name not in failed]
        more = [name for name in self.failing & failed if worse(before[name], self._found[name])]
        return tuple(sorted({*sure, *new, *more}))

    def _holds(self) -> bool:
        return not self.broken()

    def _run_checks(self, layout: Layout) -> Iterator[None]:
        """Runs one check function after the other, as far as asked for."""
        bench = Bench(Uncut(layout, self._trials.parts.measured))
        plain, carved = groups()
        for function in (*plain, *carved):
            if function in carved and not self._may_build():
                return
            try:
                found = as_printed(function(bench), bench)
            except (KernelError, MeshError):
                self.refused = "then it cannot be built"
                return
            except DesignError as error:  # the changed neck cannot have given that reading
                self.refused = f"then {error.problems[0].key} {error.problems[0].says}"
                return
            self._found |= {finding.check: finding for finding in found}
            yield

    def _may_build(self) -> bool:
        """Whether a carved neck may still be made; each trial is counted once."""
        trials = self._trials
        if not self._counted:
            if trials.built >= MOST_BUILT:
                self.refused = "too much else was tried already"
                return False
            trials.built += 1
            self._counted = True
            if trials.progress is not None:
                said = ", ".join(f"{key} = {value}" for key, value in self._settings.items())
                trials.progress(f"trying a remedy: {said}")
        return True

    _counted = False


def _sure_to_fail(layout: Layout) -> dict[str, float]:
    """The walls that surely fail by the layout's sections alone, and how much they lack, mm: no solid is needed for
    them."""
    swell = layout.heel.x_swell  # beyond this the heel adds wood that the section leaves out
    lacks = {f"wall/{w.step}": limit_of(layout.design.limits, w.step) - w.wall for w in layout.walls if w.x <= swell}
    return {name: lack for name, lack in lacks.items() if lack > SURE}


def worse(before: Finding, after: Finding) -> bool:
    """Whether a check that failed and still fails lacks more than before, by more than measuring may be wrong."""
    errors = (f.error or 0.0 for f in (before, after)) if after.unit == "mm" else (0.0,)
    return _lack(after) > _lack(before) + WORSE + min(sum(errors), MESHES)


def _lack(finding: Finding) -> float:
    """How far a failing check's number lies on the wrong side of its limit; 0 where it has no number."""
    if finding.measured is None or finding.limit is None:
        return 0.0
    return abs(finding.measured - finding.limit)


def failing_of(findings: Findings) -> frozenset[str]:
    """Names of the checks that fail."""
    return frozenset(finding.check for finding in findings.findings if finding.verdict == FAIL)


def _as_key(settings: Mapping[str, float | str]) -> tuple[tuple[str, float | str], ...]:
    return tuple(sorted(settings.items()))
