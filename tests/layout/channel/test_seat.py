"""How high a rod sits in a channel that came out too shallow: each limit on it by itself, on plain stand-ins."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from neckmodel.layout.channel.seat import lift_of
from neckmodel.layout.rod.compression import LEAST_STRIP

CLEARANCE = 0.15


def step(depth: float, name: str = "run") -> SimpleNamespace:
    return SimpleNamespace(name=name, kind=name, depth=depth, depth_at=lambda _: depth, behind=False)


def bent(highest: float, strip: bool = False, tops: tuple[float, ...] = ()) -> SimpleNamespace:
    """A rod 5.0 across whose axis lies `highest` below its top where it lies highest, and boxes under that top."""
    boxes = tuple(SimpleNamespace(x_start=0.0, x_end=10.0, top=top, height=4.0, name="anchor") for top in tops)
    return SimpleNamespace(
        curve=SimpleNamespace(extremes=lambda: (highest, highest + 4.0)),
        diameter=5.0,
        strip=object() if strip else None,
        segments=boxes,
        below=0.2,
        x_start=10.0,
        x_end=400.0,
    )


@pytest.mark.parametrize(
    ("rod", "cut", "lift"),
    [
        (bent(6.0), 11.9, 0.0),  # 0.1 too shallow: within the clearance under it
        (bent(6.0), 11.0, 1.0 - CLEARANCE),
        (bent(6.0), 4.0, 6.0 - 2.5),  # 8.0 too shallow: it stops where its upper side comes to the glue plane
        (bent(6.0, strip=True), 4.0, 6.0 - 2.5 - LEAST_STRIP),
        (bent(6.0, tops=(1.0, 0.4)), 4.0, 0.2 + 0.4),  # the higher box, 0.4 under a top that lies 0.2 down
        (bent(6.0, tops=(5.0,)), 4.0, 6.0 - 2.5),  # the boxes lie deeper than the rod needs
        (bent(2.0), 4.0, 0.0),  # it stands out as planned: it is not lowered either
    ],
)
def test_a_bent_rod(rod: SimpleNamespace, cut: float, lift: float) -> None:
    assert lift_of(rod, (step(12.0),), (step(cut),), CLEARANCE) == pytest.approx(lift, abs=1e-12)


def test_only_the_run_lifts_a_bent_rod_and_only_where_it_is_shallower() -> None:
    pocket = step(7.0, "anchor")
    assert lift_of(bent(6.0), (step(12.0), step(9.0, "anchor")), (step(12.0), pocket), CLEARANCE) == 0.0
    assert lift_of(bent(6.0), (step(12.0),), (step(14.0),), CLEARANCE) == 0.0


@pytest.mark.parametrize(("cut", "lift"), [(9.3, 0.0), (9.25, 0.05), (9.0, 0.3), (9.6, 0.0)])
def test_a_rod_of_boxes_rests_on_the_shallowest_floor_under_it(cut: float, lift: float) -> None:
    """9.2 high with 0.1 planned over it: what the floor is short of 9.3, it sits higher; a short pocket's floor too."""
    box = SimpleNamespace(x_start=0.0, x_end=400.0, top=0.0, height=9.2, name="span")
    block = SimpleNamespace(x_start=0.0, x_end=12.0, top=0.0, height=8.0, name="block")
    rod = SimpleNamespace(curve=None, segments=(box, block), below=0.1)
    planned = (step(9.3), step(8.1, "block"))
    assert lift_of(rod, planned, (step(cut), step(8.1, "block")), CLEARANCE) == pytest.approx(lift, abs=1e-12)
    assert lift_of(rod, planned, (step(9.3), step(8.1 - lift, "block")), CLEARANCE) == pytest.approx(lift, abs=1e-12)
