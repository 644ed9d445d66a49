"""A nut in a groove: what is cut, what stands in it, what of the fretboard goes on behind it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from measured_runs import found_on, measured_parts
from scale_samples import laid_out, two

from neckmodel.checks.bench import Bench
from neckmodel.errors import DesignError
from neckmodel.layout import Layout
from neckmodel.layout.json.layout import layout_json
from neckmodel.solids import build
from neckmodel.solids.kernel.gate import volume
from neckmodel.solids.neck.neck import carved_neck
from neckmodel.solids.parts import Parts

GROOVE = (
    "nut.seat=groove",
    "nut.seat_depth=2.5",
    "nut.thickness=5",
    "nut.height=11",
    "bars.from_nut=8",
    "head.swell_length=40",
)
SLANTED = (*two(680, 648, 9), "fretboard.ends_at=490", "heel.wood_ends_at=490", *GROOVE, "head.swell_length=60")
CASES = {"square": GROOVE, "slanted": SLANTED, "zero fret": (*SLANTED, "fretboard.zero_fret=true")}


@pytest.fixture(scope="module", params=CASES.values(), ids=CASES.keys())
def made(request: pytest.FixtureRequest) -> tuple[Layout, Parts]:
    layout = laid_out(*request.param)
    return layout, build(layout)


def test_the_groove_is_as_long_as_the_neck_is_wide_as_thick_as_the_nut_and_as_deep_as_stated(
    made: tuple[Layout, Parts],
) -> None:
    """Its volume: the section's area above z = -2.5, whose sides are upright there to 0.2 mm, times the thickness."""
    layout, parts = made
    taken = volume(carved_neck(layout)) - volume(parts.carved)
    wide = layout.back.half_width((layout.nut.x_start + layout.nut.x_end) / 2) * 2
    along = (layout.nut.x_end - layout.nut.x_start) * wide * 2.5  # a strip between parallels: its width along x
    assert taken == pytest.approx(along, rel=0.02)
    thick = (layout.nut.x_end - layout.nut.x_start) / math.hypot(1, layout.nut.slope)
    assert thick == pytest.approx(5.0)


def test_the_nut_stands_on_its_floor_between_its_walls(made: tuple[Layout, Parts]) -> None:
    _, parts = made
    nut = parts["nut"].solid
    box = nut.BoundingBox()
    assert (box.zmin, box.zmax) == pytest.approx((-2.5, 8.5))
    for name in ("neck", "fretboard", "nut-strip"):
        assert nut.distance(parts[name].solid) == pytest.approx(0.0, abs=1e-6)
        assert nut.intersect(parts[name].solid).Volume() == pytest.approx(0.0, abs=1e-6)


def test_fretboard_wood_goes_on_behind_the_nut(made: tuple[Layout, Parts]) -> None:
    """1.5 times the nut's thickness, square to it; as wide and as high as the fretboard is at the nut."""
    layout, parts = made
    strip = layout.nut_strip
    assert strip is not None
    deep = (strip.x_end - strip.x_start) / math.hypot(1, strip.slope_start)
    assert deep == pytest.approx(7.5)
    assert strip.x_end == layout.nut.x_start
    box = parts["nut-strip"].solid.BoundingBox()
    assert (box.zmin, box.zmax) == pytest.approx((0.0, 6.0), abs=1e-6)
    assert layout.head.x_line <= box.xmin + 1e-6
    assert "nut-strip" in [part.name for part in parts.parts if part.kind == "wood"]


def test_floor_and_walls_are_open_not_skin(made: tuple[Layout, Parts]) -> None:
    """Nothing of the groove is left among the skin's triangles, and nothing else is taken from it."""
    layout, parts = made
    neck = Bench(parts).neck
    nut = layout.nut
    skin = neck.skin_triangles
    middle = skin.mean(axis=1)
    across = middle[:, 0] - nut.slope * middle[:, 1]
    inside = (across > nut.x_start - 1e-3) & (across < nut.x_end + 1e-3) & (middle[:, 2] > -2.6)
    normals = np.cross(skin[:, 1] - skin[:, 0], skin[:, 2] - skin[:, 0])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    level = inside & (normals[:, 2] > 0.9)
    upright = inside & (np.abs(normals[:, 0]) > 0.9)
    assert not level.any()
    assert not upright.any()
    assert len(parts.openings) == 3 + 3  # glue plane, head face, step; floor and both walls


def test_the_channel_under_it_is_measured_as_without_it() -> None:
    """The bar's channel begins behind the nut: its least wall is the same with a groove and with a ledge."""
    with_groove, ledge = (
        found_on(Bench(measured_parts(laid_out(*o))))
        for o in (GROOVE, (*GROOVE, "nut.seat=ledge", "head.starts_at=-13.5"))
    )
    one, other = with_groove["wall/bar-1"], ledge["wall/bar-1"]
    assert one.measured == pytest.approx(other.measured, abs=0.02)
    assert with_groove["overlap/none"].verdict == "pass"


def test_it_is_told_where_it_lies() -> None:
    layout = laid_out(*SLANTED)
    data = layout_json(layout)["nut"]
    assert data["z_seat"] == -2.5
    assert data["strip"]["end"] == [
        [pytest.approx(x, abs=1e-5), pytest.approx(y, abs=1e-5)] for x, y in layout.nut_strip.end
    ]  # type: ignore[union-attr]
    stations = {station.name: station.x for station in layout.stations}
    assert stations["fretboard wood behind the nut"] == pytest.approx(layout.nut_strip.x_start)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("overrides", "says"),
    [
        (
            (*GROOVE, "head.starts_at=-12"),
            "--set: head.starts_at = -12: lies under the nut; at most -12.50 mm, the far side of the fretboard wood "
            "behind the nut",
        ),
        (
            (*GROOVE, "nut.seat_depth=9.5", "nut.height=20"),
            "--set: nut.seat_depth = 9.5: leaves 5.21 mm of wood under the nut's groove; at most 8.71 mm",
        ),
    ],
)
def test_refused_in_these_words(overrides: tuple[str, ...], says: str) -> None:
    with pytest.raises(DesignError) as caught:
        laid_out(*overrides)
    assert str(caught.value) == says
