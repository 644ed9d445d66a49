"""The router templates: what bush and cutter leave, against the blank's channel and against closed forms."""

from __future__ import annotations

import math

import cadquery as cq
import numpy as np
import pytest
from jig_runs import drafted, inspected, key_area
from neck_runs import laid_out

from neckmodel.jigs import JigError, kind_named
from neckmodel.jigs.kinds.routing.opening import templates
from neckmodel.jigs.letters import whole_label
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import volume

KIND = "routing-template"
PRESETS = [
    "redpoll",
    pytest.param("dunnock", marks=pytest.mark.sweep),
    pytest.param("garganey", marks=pytest.mark.sweep),
    pytest.param("wheatear", marks=pytest.mark.sweep),
    pytest.param("whimbrel", marks=pytest.mark.sweep),
]


@pytest.mark.parametrize("preset", PRESETS)
def test_the_swept_pocket_is_the_channel(preset: str) -> None:
    found = inspected(preset, KIND)["jig/pocket"]
    assert found.measured is not None
    assert found.measured < 0.5  # mm3
    assert found.more["depth"] < 0.02


def test_the_chisel_s_corners_by_their_closed_forms() -> None:
    """redpoll, cutter 6 (r 3): a square end leaves 2 r**2 (1 - pi/4) = 3.863 mm2, which a run 6.1 wide keeps whole.

    The run's far end leaves it 9.3 deep. At x = 17 the run, 9.3 deep, meets the adjuster pocket, 8.2 deep: both ends
    are rounded there, the run's beyond its own end by none of it. So the run's near end leaves 3.863 as deep as it is;
    the pocket's two ends leave 3.863 each; of its end at the slot, what the slot (5.53 wide, its cutter running on by
    its radius) takes away is gone as deep as the slot is.
    """
    found = inspected("redpoll", KIND)["jig/pocket"]
    square = 2 * 3.0**2 * (1 - math.pi / 4)
    most = square * (9.3 + 9.3 + 8.2 + 8.2)
    assert 2 * square * 9.3 < found.more["corners"] < most


def test_a_wider_bush_widens_the_opening_by_its_own_radius() -> None:
    """Opening = step + bush - cutter: measured across the finished piece at half its thickness."""
    for bush in ("16.0", "20.0"):
        (piece,) = [p for p in drafted("redpoll", KIND, f"workshop.guide_bush={bush}").pieces if p.name == "adjuster"]
        section = to_manifold(mesh_of(piece.solid, 0.01)).slice(6.0).to_polygons()
        across = [ring for ring in map(np.asarray, section) if abs(ring[:, 1].mean()) < 1 and np.ptp(ring[:, 1]) < 60]
        (opening,) = [ring for ring in across if np.ptp(ring[:, 0]) < 60]
        assert np.ptp(opening[:, 1]) == pytest.approx(7.8 + float(bush) - 6.0, abs=1e-6)
        assert np.ptp(opening[:, 0]) == pytest.approx(11.0 + float(bush) - 6.0, abs=1e-6)


@pytest.mark.parametrize("bed", [180, 256])
def test_pieces_and_their_clearance_make_up_the_whole(bed: int) -> None:
    """By volume to 0.1 %, on beds other than the usual 220; the clearance by the keys' trapezia times the plate."""
    draft = drafted("redpoll", KIND, f"workshop.printer.bed=[{bed}, {bed}, 200]")
    solids = {piece.name: piece.solid for piece in draft.pieces}
    assert draft.wholes
    for whole in draft.wholes:
        total = sum(volume(solids[name]) for name in whole.pieces)
        joints = len({name.removeprefix(f"{whole.name}-").split("-")[0] for name in whole.pieces}) - 1
        keys = 2 * joints * (key_area(0.2) - key_area()) * 12.0  # two keys a joint, none in the fences
        assert whole.clearance == pytest.approx(keys, rel=1e-6)
        assert total + keys == pytest.approx(volume(whole.solid), rel=1e-6)
    for name, solid in solids.items():
        size = np.ptp(mesh_of(solid, 0.05).bounds, axis=0)
        assert (size[:2] <= bed - 10 + 1e-3).all(), name


def test_a_cutter_too_short_makes_the_plate_thinner_then_fails() -> None:
    """redpoll's run is 9.3 deep under 8 of base: 25 of stick-out leave 7.7 for the plate, 20 leave too little."""
    cutter = "workshop.cutters=[{{diameter = 4.0, flute_length = 12.0, stick_out = {0}}}]"
    thin = templates(laid_out("redpoll", cutter.format(25.0)))
    assert [t.thickness for t in thin if t.name == "run"] == [pytest.approx(7.7)]
    short = templates(laid_out("redpoll", cutter.format(20.0)))
    assert [t.thickness for t in short if t.name == "run"] == [6.0]


@pytest.mark.parametrize(
    ("over", "why"),
    [
        ("workshop.guide_bush=5.0", "narrower than the cutter"),
        ("workshop.cutters=[{diameter = 12.0, flute_length = 30.0, stick_out = 50.0}]", "is wider than this step"),
    ],
)
def test_what_cannot_be_made_is_refused_with_its_reason(over: str, why: str) -> None:
    with pytest.raises(JigError, match=why):
        kind_named(KIND).refuse(laid_out("redpoll", over))


@pytest.mark.parametrize(
    ("preset", "bed"),
    [("wheatear", 180), *(pytest.param(*c, marks=pytest.mark.sweep) for c in (("wheatear", 220), ("redpoll", 180)))],
)
def test_every_label_is_whole_and_lies_on_its_own_piece(preset: str, bed: int) -> None:
    """Places all over a label's room, just under the face, are in the piece; just over it they are not."""
    draft = drafted(preset, KIND, f"workshop.printer.bed=[{bed}, {bed}, 200]")
    for piece in draft.pieces:
        label = piece.label
        assert whole_label((preset, KIND, *label.words), label.width, label.height), piece.name
        at, right, up, out = map(np.array, (label.at, label.right, label.up, label.outward))
        for u in np.linspace(-0.5, 0.5, 7) * (label.width - 0.1):
            for v in np.linspace(-0.5, 0.5, 5) * (label.height - 0.1):
                for deep, inside in ((0.3, True), (-0.3, False)):
                    place = at + u * right + v * up - deep * out
                    assert piece.solid.isInside(cq.Vector(*place.tolist())) == inside, piece.name


def test_a_stop_bar_reaches_past_its_plate_but_not_past_its_stop() -> None:
    """Its face toward the router lies at the stop, its other end 8 beyond the plate's."""
    draft, (plan, *_) = drafted("redpoll", KIND), templates(laid_out("redpoll"))
    named = {piece.name: piece.solid.BoundingBox() for piece in draft.pieces}
    head, body = named["stop-head"], named["stop-body"]
    assert (head.xmin, head.xmax) == pytest.approx((plan.x_range[0] - 8.0, plan.stops[0]))
    assert (body.xmin, body.xmax) == pytest.approx((plan.stops[1], plan.x_range[1] + 8.0))
