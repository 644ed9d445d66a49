"""One sheet: a kind of drawing, made for one paper, on one page or several."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from neckmodel.sheets.marks.display import Drawing


@dataclass(frozen=True)
class Sheet:
    """kind: as a maker asks for it. paper: "A4", ..., or "long". formats: which files it can become, the usual one
    first. true_size: everything is drawn 1:1. usual: written where no format is named. table: what is cut along its
    lines, in numbers, for a file beside it; None where there is no such thing."""

    kind: str
    paper: str
    title: str
    pages: tuple[Drawing, ...]
    formats: tuple[str, ...]
    true_size: bool
    usual: bool = True
    table: Mapping[str, Any] | None = field(default=None, compare=False)
