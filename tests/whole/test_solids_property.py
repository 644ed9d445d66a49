"""Random designs over the stated range, with solids: refused by a key, or built valid, closed, symmetric and checked.

3 to 12 strings, scales of 300 to 900 mm, widths of 25 to 95, thicknesses of 12 to 30, every family of back. An ordinary
run takes a sample; the marker `sweep` takes the long one.
"""

from __future__ import annotations

import numpy as np
import pytest
from designs import Tables, design_of, designs
from hypothesis import Phase, given, settings

from neckmodel.checks import check
from neckmodel.errors import DesignError
from neckmodel.findings import VERDICTS, Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.meshes import mesh_of
from neckmodel.solids import build
from neckmodel.solids.parts import Parts

SYMMETRIC = 1e-4  # of the neck's volume times its half width: what the centre of a symmetric neck may be off
NO_SHRINKING = (Phase.explicit, Phase.generate)  # a solid is dear; the design that fails is shown as drawn


def laid_out(tables: Tables) -> Layout | None:
    """The layout, or None where the design is refused by name."""
    try:
        return lay_out(design_of(tables))
    except DesignError as error:
        refusal = error
    assert refusal.problems
    assert all(problem.key and problem.says for problem in refusal.problems)
    return None


def is_symmetric(layout: Layout) -> bool:
    """Whether back and holes are the same on both sides."""
    back = layout.back
    screws = {(s.x, s.y, s.hole) for s in layout.screws}
    tuners = {(t.on_face[0], t.on_face[1], t.hole) for t in layout.tuners}
    mirrored = all((x, -y, hole) in holes for holes in (screws, tuners) for x, y, hole in holes)
    steps = {(s.x_start, s.y) for s in layout.steps}
    return back.apex_1 == back.apex_12 == 0 and mirrored and all((x, -y) in steps for x, y in steps)


def hold_parts(parts: Parts) -> None:
    layout = parts.layout
    for part in parts.parts:
        assert len(part.solid.Solids()) == 1, part.name
        assert part.solid.isValid(), part.name
    neck = parts["neck"].solid
    box = neck.BoundingBox()
    assert box.zmax <= 1e-6
    assert box.xmin == pytest.approx(layout.head.x_far, abs=1e-3)
    assert box.xmax == pytest.approx(layout.heel.x_end, abs=1e-3)
    assert mesh_of(neck, 0.2).is_watertight
    if is_symmetric(layout):
        assert abs(neck.Center().y) < SYMMETRIC * layout.blank_half_width
        assert box.ymin == pytest.approx(-box.ymax, abs=1e-4)
    fretboard = parts["fretboard"].solid.BoundingBox()
    assert fretboard.ymin == pytest.approx(-fretboard.ymax, abs=1e-4)


def hold_findings(findings: Findings, parts: Parts) -> None:
    names = [finding.check for finding in findings.findings]
    assert len(names) == len(set(names))
    for finding in findings.findings:
        assert finding.verdict in VERDICTS
        assert finding.says
        if finding.verdict != "skipped":
            assert finding.measured is not None, finding.check
            assert np.isfinite(finding.measured), finding.check
            assert finding.error is not None, finding.check
            assert finding.error >= 0
        if finding.remedy is not None:
            assert finding.remedy.says
            assert finding.remedy.set
    assert findings.passed == all(finding.verdict != "fail" for finding in findings.findings)
    assert [fact.name for fact in findings.parts] == [part.name for part in parts.parts]
    assert all(fact.valid and fact.watertight and fact.solids == 1 for fact in findings.parts)
    # along the shaft the solid holds what its sections say, but for taper, mesh and what lies between two sections
    for wall in parts.layout.walls:
        for found in (each for each in findings.findings if each.check == f"wall/{wall.step}"):
            if found.at is not None and 0 < found.at.x < parts.layout.heel.x_swell:
                assert found.measured >= wall.wall - 0.15, wall.step


def hold(tables: Tables) -> bool:
    """Whether the design was built; then its parts and findings hold."""
    layout = laid_out(tables)
    if layout is None:
        return False
    parts = build(layout)
    hold_parts(parts)
    hold_findings(check(parts), parts)
    return True


def built_of(count: int) -> int:
    """How many of so many random designs are built and checked; the others are refused by name."""
    built = 0

    @settings(max_examples=count, phases=NO_SHRINKING)
    @given(designs())
    def every_design(tables: Tables) -> None:
        nonlocal built
        built += hold(tables)

    every_design()
    return built


def test_a_design_is_refused_or_built_and_checked() -> None:
    """About half of all such designs are built (`test_layout_random.py` counts 400). The same six are drawn each time:
    were fewer than two of them built, a sample that looks at solids would have become one that looks at refusals."""
    assert built_of(6) >= 2


@pytest.mark.sweep
def test_sixty_designs_are_refused_or_built_and_checked() -> None:
    """Half of 60 is 30, give or take 3.9 by the binomial law; four times that below it is 15."""
    assert built_of(60) >= 15
