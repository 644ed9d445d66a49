"""The solids that checks measure, and what is found on them, without all that `build` and `check` do besides.

Checks cut meshes and never look at a cut solid; `check` wants those for its facts about the parts alone, which takes
half its time. `test_a_trial_finds_what_a_whole_build_finds` (tests/checks/test_proof.py) holds both ways to the same
last digit, so a test of what is *found* goes this way, and only a test of parts and files builds them.
"""

from __future__ import annotations

from functools import cache

from neckmodel.checks.bench import Bench
from neckmodel.checks.run import find
from neckmodel.design import read
from neckmodel.findings import Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.solids import build
from neckmodel.solids.parts import Parts
from neckmodel.solids.uncut import Uncut


class Measured(Uncut):
    """Each solid when it is first asked for, uncut. Stands for whole parts where remedies are proven."""

    @property
    def measured(self) -> Measured:
        return self


@cache
def _another() -> Parts:
    """A neck that others have nothing in common with, but for what they really share."""
    return build(lay_out(read("redpoll")))


def measured_parts(layout: Layout, like: Measured | None = None) -> Measured:
    """What the checks measure of a layout. like: of an earlier one, whose solids are taken where the shape is the same
    (the carved neck of a design in which only the rod is another one)."""
    return Measured(layout, like or _another())


def found_on(bench: Bench) -> Findings:
    """All that is found, as `check` gives it, but for facts about the parts."""
    return Findings(bench.layout.name, find(bench), ())
