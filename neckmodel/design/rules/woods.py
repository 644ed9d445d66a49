"""Rules of `[woods]`, where makers choose the names, and of `[seasons]`."""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, needs

LONGEST_NAME = 60  # signs, as of neck.wood
MOST_WOODS = 60


@needs("woods")
def names_of_woods(design: Design) -> Iterator[Broken]:
    """`[woods]` must hold at most 60 woods, each under a printable name of its own."""
    own = {} if design.woods is None else design.woods.own
    if len(own) > MOST_WOODS:
        yield Broken("woods", f"has {len(own)} woods", f"allowed are {MOST_WOODS}")
    seen: dict[str, str] = {}
    for name in own:
        if not name.strip() or len(name) > LONGEST_NAME or not name.isprintable():
            yield Broken("woods", "holds a wood whose name cannot be used", f"allowed are 1 to {LONGEST_NAME} signs")
        same = seen.setdefault(" ".join(name.lower().split()), name)
        if same != name:
            yield Broken(f"woods.{name}", f'is the same wood as "{same}"', "capitals and spaces make no difference")


@needs("seasons")
def damper_air(design: Design) -> Iterator[Broken]:
    """The damp season must be damper than the dry one."""
    dry, damp = design.seasons.dry.humidity, design.seasons.damp.humidity
    if damp <= dry:
        yield Broken("seasons.damp.humidity", "is not damper than the dry season", f"allowed is more than {dry:g} %")


WOOD_RULES = (names_of_woods, damper_air)
