"""How large a step must be for what lies in it: by hand, from the sizes of the parts alone."""

from __future__ import annotations

import pytest
from layout_samples import preset

from neckmodel.layout import lay_out
from neckmodel.layout.measured.next import least_depth, needed_cuts, short_of_plan


def test_what_lies_in_a_step_needs_its_depth_less_what_is_free_under_it() -> None:
    """Redpoll: a rod 9.2 high; an adjuster 7.0 across on an axis 4.2 + 0.1 deep; a 4 mm key 4.53 across its corners on
    the same axis. Garganey: bars 9 high."""
    redpoll = lay_out(preset("redpoll"))
    needed = {"run": 9.2, "adjuster": 4.3 + 3.5, "access-slot": 4.3 + 4.53 / 2}
    for name, depth in needed.items():
        assert least_depth(redpoll, redpoll.step(name)) == pytest.approx(depth, abs=6e-3), name
    garganey = lay_out(preset("garganey"))
    assert least_depth(garganey, garganey.step("bar-1")) == pytest.approx(9.0, abs=1e-6)


@pytest.mark.parametrize(
    ("name", "size", "least"),
    [
        ("redpoll", "run.width", 6.0),  # the rod's
        ("redpoll", "run.depth", 9.2),
        ("redpoll", "run.x_end", 427.0),  # where its anchor ends
        ("redpoll", "adjuster.width", 7.0),  # the adjuster's diameter
        ("redpoll", "adjuster.depth", 7.8),  # its axis and its radius
        ("redpoll", "adjuster.x_start", 7.0),  # where the rod starts
        ("redpoll", "access-slot.width", 4.53),  # a 4 mm key across its corners
        ("redpoll", "access-slot.depth", 4.3 + 4.53 / 2),
        ("garganey", "bar-1.width", 4.0),
        ("garganey", "bar-1.depth", 9.0),
        ("garganey", "bar-1.x_start", 16.0),
    ],
)
def test_a_step_is_cut_again_at_need_where_its_part_does_not_go_in(name: str, size: str, least: float) -> None:
    """Short of the plan on both sides of the part's own size: with 0.02 to spare another cut is only told."""
    spare = -0.02 if size.endswith("x_start") else 0.02
    for to, needed in ((least + spare, False), (least - spare, True)):
        layout = lay_out(preset(name, f"measured.channel.{size}={to}"))
        (cut,) = short_of_plan(layout)
        assert f"{cut.step}.{cut.what}" == size
        assert cut.needed is needed
        assert needed_cuts(layout) == ((cut,) if needed else ())


def test_it_is_cut_to_the_plan_rounded_to_the_side_that_has_room() -> None:
    """Redpoll's access slot is planned 4.3 + 2.265 + 0.5 = 7.065 deep; an adjuster's pocket from x 6.126 on begins a
    hundredth earlier."""
    (deeper,) = short_of_plan(lay_out(preset("redpoll", "measured.channel.access-slot.depth=7.0")))
    assert (deeper.to, deeper.says) == (7.07, "cut the access slot to 7.07 mm deep")
    moved = ("rod_place.from_nut=7.126", "measured.channel.adjuster.x_start=6.5")
    (longer,) = short_of_plan(lay_out(preset("redpoll", *moved)))
    assert (longer.to, longer.needed) == (6.12, False)
