"""What only a heel glued in with a tenon or a dovetail may state, and what only a dovetail."""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.defaults.instruments import GLUED_IN
from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, needs
from neckmodel.design.tables.heel import HeelWidth


@needs("heel")
def glued_only(design: Design) -> Iterator[Broken]:
    """A heel that narrows on its way down, and a cap, need a tenon or a dovetail; flare and taper need a dovetail."""
    heel, other = design.heel, 'or heel.kind = "dovetail" or "tenon"'
    says = f'is stated beside heel.kind = "{heel.kind}"'
    if heel.kind not in GLUED_IN:
        if isinstance(heel.width, HeelWidth):
            why = "lies in the body up to its bottom, its sides upright"
            yield Broken("heel.width", f"{says}, and such a heel {why}", 'a length, or "follow-fretboard"', other)
        if heel.cap is not None:
            yield Broken("heel.cap", f"{says}, and under such a heel lies the body", attempt=f"leave it out, {other}")
    if heel.kind != "dovetail" and heel.tenon is not None:
        for name, lean in (("flare", heel.tenon.flare), ("taper", heel.tenon.taper)):
            if lean is not None:
                why = "has upright cheeks" if heel.kind == "tenon" else "has no tenon"
                attempt = 'leave it out, or heel.kind = "dovetail"'
                yield Broken(f"heel.tenon.{name}", f"{says}, and such a heel {why}", attempt=attempt)
