"""Every kind of jig. A new kind is one file and one line here; command, findings and tests find it."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Protocol, cast

from neckmodel.jigs.types import Draft, JigError

if TYPE_CHECKING:
    from neckmodel.layout import Layout


class KindModule(Protocol):
    """What the file of a kind holds."""

    def refuse(self, layout: Layout) -> None:
        """Raises JigError, with the reason, where the design has no use for this kind."""

    def draft(self, layout: Layout) -> Draft:
        """The pieces in place on the neck, right-handed, without labels."""


@dataclass(frozen=True)
class Kind:
    """name: as a maker asks for it. says: a line about it. module: the file with its `refuse` and `draft`."""

    name: str
    says: str
    module: str

    def refuse(self, layout: Layout) -> None:
        """Raises JigError, with the reason, where the design has no use for this kind."""
        self._loaded().refuse(layout)

    def draft(self, layout: Layout) -> Draft:
        """The pieces in place on the neck, right-handed, without labels."""
        return self._loaded().draft(layout)

    def _loaded(self) -> KindModule:
        return cast("KindModule", import_module(f"neckmodel.jigs.kinds.{self.module}"))


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind(
            "routing-template",
            "router templates for the channel's steps, under a guide bush, and a sled where a floor is curved",
            "routing.template",
        ),
        Kind("trial-block", "small blocks with the same pockets and head face, to try rod and key", "trial"),
        Kind("contour-gauge", "gauges for the back at chosen frets, with fret number and thickness", "gauge"),
        Kind("caul", "a clamping caul with the fretboard's crown, grooved for the frets", "caul"),
        Kind("tuner-guide", "a drilling guide that sits on the finished head's outline", "tuner"),
        Kind("screw-guide", "a drilling guide that sits on the finished heel, for its screws", "screw"),
        Kind("bore-guide", "a drilling guide in the body's pocket, for the bore of a key from the soundhole", "bore"),
        Kind(
            "dovetail-template", "templates that show a dovetail on the blank, and its mortise on the body", "dovetail"
        ),
        Kind("slot-template", "a router template for the slots of a slotted head, under a guide bush", "slots"),
        Kind("roller-guide", "drilling guides for the tuners of a slotted head, one for each side", "roller"),
        Kind("cradle", "saddles that hold the finished back on cork, heel and head clear", "cradle"),
    )
}


def kind_named(name: str) -> Kind:
    """The kind of this name. Raises JigError where there is none."""
    if name not in KINDS:
        raise JigError(f"jig {name!r} is not known; it is one of: {', '.join(KINDS)}")
    return KINDS[name]
