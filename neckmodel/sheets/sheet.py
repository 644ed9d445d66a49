"""One sheet: a kind of drawing, made for one paper, on one page or several."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.sheets.display import Drawing


@dataclass(frozen=True)
class Sheet:
    """kind: as a maker asks for it. paper: "A4", ..., or "long". formats: which files it can become, the usual one
    first. true_size: everything is drawn 1:1."""

    kind: str
    paper: str
    title: str
    pages: tuple[Drawing, ...]
    formats: tuple[str, ...]
    true_size: bool
