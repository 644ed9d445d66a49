"""One change tried on a copy of the design: laid out, built, checked. Each is tried once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

from neckmodel.checks.bench import Bench
from neckmodel.checks.frozen import frozen, puts_back
from neckmodel.checks.remedies import size_of as size_of
from neckmodel.checks.run import find
from neckmodel.checks.verdict import SLACK
from neckmodel.design import Design, changed
from neckmodel.errors import DesignError, KernelError, MeshError
from neckmodel.findings import Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.walls import limit_of
from neckmodel.solids import build

if TYPE_CHECKING:
    from neckmodel.solids.parts import Parts

Settings = dict[str, float | str]

MOST_BUILT = 24  # trials of one design: about as many seconds, and by then too much is wrong with it to be mended
SURE = 0.1  # mm by which a wall by section must miss its limit before the solid need not be looked at
SHAPELESS = ("design", "cuttings", "planned_steps", "stations", "remarks", "body", "recesses")


@dataclass(frozen=True)
class Trial:
    """What came of a change. findings: None where it could not be laid out or built, or is out of the question by the
    layout alone (by_layout); `refused` then says why. failing: names of the checks that then fail."""

    findings: Findings | None
    failing: frozenset[str] = frozenset()
    refused: str = ""
    by_layout: bool = False


class Trials:
    """All changes tried on one design, remembered."""

    def __init__(self, parts: Parts, findings: Findings, progress: Callable[[str], None] | None = None) -> None:
        self.parts, self.progress = parts, progress
        self.before = failing_of(findings)
        self.built = 0
        self._known: dict[tuple[tuple[str, float | str], ...], Trial] = {}

    @property
    def design(self) -> Design:
        return self.parts.layout.design

    def known(self, settings: Mapping[str, float | str]) -> bool:
        return _as_key(settings) in self._known

    def of(self, settings: Mapping[str, float | str], built: bool = False) -> Trial:
        """The change tried, or as it came out before. built: even where the layout alone tells that it will fail."""
        key = _as_key(settings)
        if key not in self._known or (built and self._known[key].by_layout):
            self._known[key] = self._try(settings, built)
        return self._known[key]

    def new_failures(self, trial: Trial) -> frozenset[str]:
        """The checks that fail after the change and did not before."""
        return trial.failing - self.before

    def mends(self, check: str, settings: Mapping[str, float | str]) -> bool:
        """Whether the finding then passes and nothing fails that did not fail before."""
        trial = self.of(settings)
        return trial.findings is not None and check not in trial.failing and not self.new_failures(trial)

    def _try(self, settings: Mapping[str, float | str], built: bool) -> Trial:
        if frozen(self.design, settings):
            return Trial(None, refused="what is cut cannot be changed")
        try:
            layout = lay_out(changed(self.design, settings))
        except DesignError as error:
            problem = error.problems[0]
            return Trial(None, refused=f"then {problem.key} {problem.says}")
        if puts_back(self.parts.layout, layout):
            return Trial(None, refused="what is cut cannot be changed")
        lost = None if built else self._lost(layout)
        if lost is not None:
            return Trial(None, refused=f"then {lost} fails", by_layout=True)
        if self.built >= MOST_BUILT:
            return Trial(None, refused="too much else was tried already")
        self.built += 1
        if self.progress is not None:
            self.progress("trying a remedy: " + ", ".join(f"{key} = {value}" for key, value in settings.items()))
        try:
            findings = Findings(layout.name, find(Bench(self._built(layout).measured)), ())
        except (KernelError, MeshError):
            return Trial(None, refused="then it cannot be built")
        except DesignError as error:  # a reading that the changed neck cannot have given
            return Trial(None, refused=f"then {error.problems[0].key} {error.problems[0].says}")
        return Trial(findings, failing_of(findings))

    def _lost(self, layout: Layout) -> str | None:
        """A check that passes now and is sure to fail then, by the layout alone: that spares the solids."""
        swell = layout.heel.x_swell  # beyond it the heel gives more wood than the section tells
        for wall in layout.walls:
            name = f"wall/{wall.step}"
            if wall.x <= swell and wall.wall < limit_of(layout, wall.step) - SURE and name not in self.before:
                return name
        rod = layout.rod
        if rod is not None and "place/adjuster" not in self.before and rod.x_start < rod.x_min - SLACK:
            return "place/adjuster"
        cut = (f"cutter/{cutting.step}" for cutting in layout.cuttings if cutting.diameter is None)
        return next((name for name in cut if name not in self.before), None)

    def _built(self, layout: Layout) -> Parts:
        """The solids; the same ones where the change leaves every shape as it is."""
        if not _same_shape(self.parts.layout, layout):
            return build(layout)
        inner = self.parts.laid_out
        return replace(self.parts, layout=layout, laid_out=None if inner is None else replace(inner, layout=layout))


def failing_of(findings: Findings) -> frozenset[str]:
    """Names of the checks that fail."""
    return frozenset(finding.check for finding in findings.findings if finding.verdict == "fail")


def _as_key(settings: Mapping[str, float | str]) -> tuple[tuple[str, float | str], ...]:
    return tuple(sorted(settings.items()))


def _same_shape(one: Layout, two: Layout) -> bool:
    shaping = (field.name for field in fields(Layout) if field.name not in SHAPELESS)
    try:
        return all(getattr(one, name) == getattr(two, name) for name in shaping)
    except ValueError:  # arrays do not say whether they are the same
        return False
