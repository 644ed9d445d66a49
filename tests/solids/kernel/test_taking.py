"""What is taken out of the wood is gone, whichever way the kernel takes it; where it is not, that is said."""

from __future__ import annotations

import cadquery as cq
import pytest

from neckmodel.errors import KernelError
from neckmodel.solids.kernel import subtraction
from neckmodel.solids.kernel.gate import volume


def box(x: float, y: float, z: float, wide: float, deep: float, high: float) -> cq.Solid:
    return cq.Solid.makeBox(wide, deep, high, cq.Vector(x, y, z))


WOOD = box(0, -20, -20, 200, 40, 20)
RUN, POCKET = box(20, -3, -9, 160, 6, 11), box(20, -5, -7, 20, 10, 9)
LEFT = 200 * 40 * 20 - 160 * 6 * 9 - 20 * 4 * 7


@pytest.mark.parametrize("way", [subtraction._at_once, subtraction._united, subtraction._one_by_one])
def test_each_way_takes_all(way: object) -> None:
    assert volume(way(WOOD, [RUN, POCKET], "cut")) == pytest.approx(LEFT, rel=1e-9)  # type: ignore[operator]
    assert volume(subtraction.take(WOOD, [RUN, POCKET], "cut")) == pytest.approx(LEFT, rel=1e-9)
    assert subtraction.take(WOOD, [], "cut") is WOOD


def test_a_tool_left_in_the_wood_is_found_and_another_way_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(subtraction, "_at_once", lambda wood, *_: wood.cut(RUN).Solids()[0])
    assert volume(subtraction.take(WOOD, [RUN, POCKET], "cut")) == pytest.approx(LEFT, rel=1e-9)


def test_a_tool_that_no_way_takes_is_an_error_that_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("_at_once", "_united", "_one_by_one"):
        monkeypatch.setattr(subtraction, name, lambda wood, *_: wood.cut(RUN).Solids()[0])
    with pytest.raises(KernelError, match="cutting it: tool 2 of 2 is still in the wood"):
        subtraction.take(WOOD, [RUN, POCKET], "cutting it")
