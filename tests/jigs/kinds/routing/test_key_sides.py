"""Where the keys of a split router template lie beside its opening."""

from __future__ import annotations

from dataclasses import replace

import pytest
from neck_runs import laid_out

from neckmodel.jigs.kinds.routing.opening import FENCE, templates
from neckmodel.jigs.kinds.routing.template import key_sides
from neckmodel.jigs.split import WIDEST

THIN = 0.8  # mm, two widths of a nozzle of 0.4: what prints


@pytest.mark.parametrize("y", [k / 4 for k in range(-60, 61)])
def test_no_key_reaches_into_the_fence_by_less_than_prints(y: float) -> None:
    """godwit's, whose openings lie at y -11 and 11: there a key at the strip's middle stood 0.05 mm into the fence."""
    (first, *_) = templates(laid_out("godwit"))
    plan = replace(first, opening=replace(first.opening, y=y))
    low, high = key_sides(plan)
    for at, edge in ((-low, plan.opening.width / 2 - y), (high, plan.opening.width / 2 + y)):
        into = at + WIDEST / 2 - plan.half
        assert into <= -THIN or into >= 2 * THIN
        assert 0 <= (plan.half + FENCE + edge) / 2 - at < 6.0  # of the strip's middle, and only away from the fence
