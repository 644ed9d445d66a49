"""A steel-string neck whose rod is turned through the soundhole, laid out, built and checked once for all tests."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.design import Design, read
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.access.soundhole import SoundholeWay
from neckmodel.layout.key.key import KeyPlace

if TYPE_CHECKING:
    from measured_runs import Measured

    from neckmodel.findings import Findings
    from neckmodel.solids.parts import Parts

TURNSTONE = Path(__file__).parent / "turnstone.toml"

# the adjuster within the tenon: the key's slot runs out through the neck's end, and the bore is the key's alone
IN_WOOD = (
    "rod.adjuster.length=12",
    "rod.adjuster.diameter=7.0",
    "rod.length=374",
    "heel.tenon.length=34",
    "body.head_block_ends_at=410",
    "adjusting_key.length=92",
    "adjusting_key.handle.length=17",
)
L_KEY = ("adjusting_key.kind=L-key", "adjusting_key.long_arm=70", "adjusting_key.short_arm=30")
BALL_END = ("adjusting_key.kind=ball-end", "adjusting_key.length=80")


@cache
def design(*overrides: str) -> Design:
    return read(TURNSTONE, overrides)


@cache
def laid_out(*overrides: str) -> Layout:
    return lay_out(design(*overrides))


def way(*overrides: str) -> tuple[SoundholeWay, KeyPlace]:
    layout = laid_out(*overrides)
    assert layout.soundhole_way is not None
    assert layout.key is not None
    return layout.soundhole_way, layout.key


@cache
def built(*overrides: str) -> Parts:
    from neckmodel.solids import build  # kept inside: the tests of the layout need no kernel

    return build(laid_out(*overrides))


@cache
def uncut(*overrides: str) -> Measured:
    """What the checks measure: see `measured_runs`."""
    from measured_runs import measured_parts

    return measured_parts(laid_out(*overrides), uncut(*IN_WOOD) if overrides != IN_WOOD else None)


@cache
def found_all(*overrides: str) -> Findings:
    """What all checks find, without facts about the parts."""
    from measured_runs import found_on

    from neckmodel.checks.bench import Bench

    return found_on(Bench(uncut(*overrides)))
