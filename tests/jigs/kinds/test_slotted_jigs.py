"""The jigs of a slotted head: refused without what they need; their openings against slots and bores by the kernel."""

from __future__ import annotations

from functools import cache

import pytest
from slot_samples import PLOVER, laid_out, slots_of

from neckmodel.jigs import JigError, inspect, kind_named, make_jig
from neckmodel.jigs.kinds.roller import plans_of
from neckmodel.jigs.kinds.slots import plan_of, reach_needed
from neckmodel.jigs.types import Jig
from neckmodel.layout.hardware.slots import in_frame
from neckmodel.solids.kernel.gate import probe

CUTTERS = "workshop.cutters=[{diameter = 8, flute_length = 30, stick_out = 38}]"
SHOP = (CUTTERS, "workshop.guide_bush=16", "workshop.router_base=45")
NO_SLOTS = "\n".join(row for row in PLOVER.split("tuners = [")[0].splitlines() if not row.startswith("slots"))


@cache
def made(kind: str, *sets: str) -> Jig:
    return make_jig(laid_out(*SHOP, *sets), kind)


@pytest.mark.parametrize(
    ("kind", "sets", "text", "why"),
    [
        ("roller-guide", (), NO_SLOTS, "the head has no slots"),
        ("roller-guide", (), PLOVER.split("tuners = [")[0], "no tuners are stated"),
        ("slot-template", SHOP, NO_SLOTS, "the head has no slots"),
        ("slot-template", (), PLOVER, "no guide bush is stated"),
        ("slot-template", SHOP[:2], PLOVER, "the router's base is not stated"),
        ("slot-template", (*SHOP[1:], CUTTERS.replace("= 8", "= 20")), PLOVER, "no cutter of the rack"),
        ("slot-template", (SHOP[0], "workshop.guide_bush=40", SHOP[2]), PLOVER, "a narrower workshop.guide_bush"),
        ("slot-template", (*SHOP, "workshop.printer.bed=[120, 120, 100]"), PLOVER, "printer's bed has room"),
    ],
)
def test_refused_with_the_reason(kind: str, sets: tuple[str, ...], text: str, why: str) -> None:
    with pytest.raises(JigError, match=why):
        kind_named(kind).refuse(laid_out(*sets, text=text))


@pytest.mark.parametrize("kind", ["roller-guide", "slot-template"])
def test_they_pass_their_own_findings(kind: str) -> None:
    findings = inspect(made(kind, "design.hand=left"))
    assert [f"{f.check} {f.part}: {f.says}" for f in findings.findings if f.verdict == "fail"] == []
    assert {"jig/fit", "jig/overhang"} <= {f.check for f in findings.findings}


def test_the_holes_of_the_guides_lead_to_the_bores() -> None:
    """Open along each bore's axis within the drill's radius, wood of the guide outside it."""
    layout, jig = laid_out(*SHOP), made("roller-guide")
    for plan, piece in zip(plans_of(layout), jig.draft.pieces, strict=True):
        there = probe(piece.solid)
        middle = sum(plan.across) / 2
        for one in plan.rollers:
            assert not there(*in_frame(layout.head, one.along + 4.9, middle, -one.below))
            assert there(*in_frame(layout.head, one.along + 5.5, middle, -one.below))
        assert plan.edge == layout.blank_half_width


def test_the_template_is_open_round_each_slot_by_the_bushs_offset() -> None:
    """(16 - 8)/2 = 4 all round; the plate stops at the head line and clears the blank by the printer's fit."""
    layout, jig = laid_out(*SHOP), made("slot-template")
    pair, there = slots_of(layout), probe(jig.draft.pieces[0].solid)
    for sign in (-1, 1):
        for y in (pair.inner - 3.9, pair.outer + 3.9):
            assert not there(*in_frame(layout.head, -90.0, sign * y, 2.0))
        for y in (pair.inner - 4.1, pair.outer + 4.1):
            assert there(*in_frame(layout.head, -90.0, sign * y, 2.0))
        assert not there(*in_frame(layout.head, -90.0, sign * (layout.blank_half_width + 0.1), -5.0))
        assert there(*in_frame(layout.head, -90.0, sign * (layout.blank_half_width + 0.3), -5.0))
    plan = plan_of(layout)
    assert reach_needed(plan) == plan.thickness + 20.0 + 8.0
    assert (
        plan.thickness > (45.0 - 4.0 - 30.0) * 0.2493
    )  # the base passes the head line, where the shaft rises by 14 deg
