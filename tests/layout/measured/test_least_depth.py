"""How deep a step must be for what lies in it: by hand, from the sizes of the parts alone."""

from __future__ import annotations

import pytest
from layout_samples import preset

from neckmodel.layout import lay_out
from neckmodel.layout.measured.next import least_depth


def test_what_lies_in_a_step_needs_its_depth_less_what_is_free_under_it() -> None:
    """Redpoll: a rod 9.2 high; an adjuster 7.0 across on an axis 4.2 + 0.1 deep; a 4 mm key 4.53 across its corners on
    the same axis. Garganey: bars 9 high."""
    redpoll = lay_out(preset("redpoll"))
    needed = {"run": 9.2, "adjuster": 4.3 + 3.5, "access-slot": 4.3 + 4.53 / 2}
    for name, depth in needed.items():
        assert least_depth(redpoll, redpoll.step(name)) == pytest.approx(depth, abs=6e-3), name
    garganey = lay_out(preset("garganey"))
    assert least_depth(garganey, garganey.step("bar-1")) == pytest.approx(9.0, abs=1e-6)
