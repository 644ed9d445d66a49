"""Every kind of jig: it prints, it fits its bed, its pieces fit each other, and its label is cut into it.

What the jig says of itself is measured here by a second route: numpy on the facets of the finished pieces.
"""

from __future__ import annotations

import numpy as np
import pytest
from jig_runs import facets, inspected, made
from neck_runs import laid_out

from neckmodel.jigs import KINDS, JigError, kind_named
from neckmodel.solids.kernel.gate import volume

# one preset a kind in an ordinary run; all that apply in the long one
USUAL = {
    "routing-template": "redpoll",
    "trial-block": "dunnock",
    "contour-gauge": "pipit",  # the one with the fewest
    "caul": "redpoll",
    "tuner-guide": "garganey",
    "screw-guide": "redpoll",
    "cradle": "dunnock",
    "bore-guide": "dunlin",
    "dovetail-template": "dunlin",
}
FOR_ONE = ("bore-guide", "dovetail-template")  # of a neck that no other preset has
PRESETS = ("dunlin", "dunnock", "garganey", "pipit", "redpoll", "wheatear", "whimbrel")
REFUSED = {  # no guide bush; no screws, as the neck runs through or has a tenon
    "dunlin": ("screw-guide",),
    "garganey": ("screw-guide",),
    "pipit": ("routing-template", "screw-guide"),
    "wheatear": ("screw-guide",),
}
OTHERS = [
    (preset, kind)
    for kind in USUAL
    for preset in PRESETS
    if preset != USUAL[kind] and kind not in FOR_ONE and kind not in REFUSED.get(preset, ())
]
CASES = [(preset, kind) for kind, preset in USUAL.items() if kind in KINDS] + [
    pytest.param(*case, marks=pytest.mark.sweep) for case in OTHERS if case[1] in KINDS
]
every_jig = pytest.mark.parametrize(("preset", "kind"), CASES)


@every_jig
def test_a_jig_passes_its_own_findings(preset: str, kind: str) -> None:
    findings = inspected(preset, kind)
    assert [f"{f.check} {f.part}: {f.says}" for f in findings.findings if f.verdict == "fail"] == []
    assert {"jig/solid", "jig/bed", "jig/flat", "jig/overhang", "jig/feature"} <= {f.check for f in findings.findings}
    sized = [f for f in findings.findings if f.check == "jig/feature" and f.verdict == "pass"]
    assert all(f.measured >= f.limit for f in sized)  # none is shown below its limit and passes
    assert {fact.name for fact in findings.parts} == {piece.part.name for piece in made(preset, kind).printed}


@every_jig
def test_pieces_print_without_support(preset: str, kind: str) -> None:
    """Second route: every facet by itself. Allowed are: the bed, 45 degrees, and level ceilings far narrower than a
    bridge, which only a label's grooves leave (two nozzles wide, 0.6 deep) and the tip of a hole across a rail."""
    for name, corners in facets(preset, kind).items():
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        area = np.linalg.norm(normal, axis=1) / 2
        angle = np.degrees(np.arcsin(np.clip(-normal[:, 2] / np.maximum(2 * area, 1e-12), -1, 1)))
        on_bed = corners[:, :, 2].max(axis=1) < 1e-3
        hanging = ~on_bed & (angle > 45 + 0.01) & (area > 1e-6)
        heights = np.unique(np.round(corners[hanging][:, :, 2], 3))
        if "-rail-" in name and set(heights) - {0.6}:
            tip = corners[hanging & (corners[:, :, 2].min(axis=1) > 0.7)]
            assert np.ptp(tip[:, :, 0]) <= 1.0 + 1e-3, f"{name}: something hangs at {heights}"
        else:
            assert set(heights) <= {0.6}, f"{name}: something hangs at {heights}"
        assert area[on_bed].sum() >= 100, name  # mm2
        stated = next(f for f in inspected(preset, kind).findings if f.check == "jig/flat" and f.part == name)
        assert stated.measured == pytest.approx(area[on_bed].sum(), rel=1e-9)


@every_jig
def test_pieces_lie_apart_on_their_beds(preset: str, kind: str) -> None:
    jig, boxes = made(preset, kind), {}
    for piece in jig.printed:
        corners = facets(preset, kind)[piece.part.name].reshape(-1, 3)
        low, high = corners.min(axis=0), corners.max(axis=0)
        assert low[2] == pytest.approx(0, abs=1e-4)
        assert (low[:2] >= 5 - 1e-3).all()
        assert (high <= np.array([215, 215, 200]) + 1e-3).all()
        for bed, other_low, other_high in boxes.values():
            apart = max(*(other_low - high)[:2], *(low - other_high)[:2])
            assert bed != piece.bed or apart >= 5 - 1e-3
        boxes[piece.part.name] = (piece.bed, low, high)


@every_jig
def test_a_label_is_cut_into_every_piece(preset: str, kind: str) -> None:
    """The grooves take what strokes of two nozzles, 0.6 deep, take: 0.48 mm2 a mm of stroke."""
    jig = made(preset, kind)
    for bare, part in zip(jig.draft.pieces, jig.parts, strict=True):
        taken = volume(bare.solid) - volume(part.solid)
        assert 15 < taken < 600, part.name  # mm3: from 30 to 1200 mm of stroke
        labels = [f for f in inspected(preset, kind).findings if f.check == "jig/label" and f.part == part.name]
        assert len(labels) == 1


@pytest.mark.parametrize(
    ("preset", "kind"), [(preset, kind) for preset, kinds in REFUSED.items() for kind in kinds if kind in KINDS]
)
def test_a_kind_that_does_not_apply_is_refused_with_the_reason(preset: str, kind: str) -> None:
    with pytest.raises(JigError, match=r"no guide bush is stated|no screws"):
        kind_named(kind).refuse(laid_out(preset))


def test_an_unknown_kind_is_named() -> None:
    with pytest.raises(JigError, match="'sled' is not known; it is one of: routing-template"):
        made("redpoll", "sled")
