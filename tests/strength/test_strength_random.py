"""The estimate over random designs: it holds its order, or the design is refused elsewhere."""

from __future__ import annotations

import math

from designs import Tables, design_of, necks
from hypothesis import given, settings
from hypothesis import strategies as st

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.strength import WOODS, estimate
from neckmodel.variants.tolerance.errors import shares

NAMES = [wood.name for wood in WOODS]


@st.composite
def strung(draw: st.DrawFn) -> Tables:
    """A random neck with woods of the table and strings of 30 to 200 N."""
    tables = draw(necks())
    strings = tables["strings"]
    count = strings["courses"] * (2 if strings.get("paired") else 1)
    scale = strings["scale"]
    length = scale if isinstance(scale, float | int) else scale["bass"]
    hertz = 110.0
    pulls = [draw(st.integers(30, 200)) for _ in range(count)]
    masses = [pull / (4 * (length * 1e-3) ** 2 * hertz**2) * 1e3 for pull in pulls]
    strings["each"] = [
        {"note": "A2", "diameter": 0.3, "mass_per_length": round(min(max(m, 0.01), 60.0), 4)} for m in masses
    ]
    tables["neck"]["wood"] = draw(st.sampled_from(NAMES))
    tables["fretboard"]["wood"] = draw(st.sampled_from(NAMES))
    if "bars" in tables:
        tables["bars"]["material"] = draw(st.sampled_from(("carbon", "steel")))
    return tables


@settings(max_examples=60)
@given(strung())
def test_any_neck_has_an_estimate_in_order(tables: Tables) -> None:
    try:
        layout = lay_out(design_of(tables))
    except DesignError:
        return
    found = estimate(layout)
    assert found.gives_way == (found.load.pull >= found.bears_as_column)
    if found.gives_way:
        assert found.rod is None
        return
    for spread in (found.relief, found.relief_years, found.bending):
        assert all(map(math.isfinite, (spread.low, spread.likely, spread.high)))
        assert spread.low <= spread.likely <= spread.high
    assert found.bending.low > 0
    assert found.weakest.stress > 0
    assert found.weakest.spare_low < found.weakest.spare
    if found.rod is not None:
        assert found.rod.most.need >= found.rod.least.need
        assert found.rod.slack or found.rod.likely.reach > 0
        for one in (found.rod.least, found.rod.likely, found.rod.most):
            assert abs(one.force) <= found.rod.rod.greatest_force * (1 + 1e-9)
            assert abs(one.turns) <= one.turns_end * (1 + 1e-9)
    parts = shares(layout, 200)
    assert all(0 <= share.share <= 1 for share in parts.each)
    assert all(share.worst <= share.wall for share in parts.each)
