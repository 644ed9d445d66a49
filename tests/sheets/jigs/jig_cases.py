"""Jigs for the tests of their drawings: drafted without labels cut in, which drawings do not look at."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest
import shapely
from sheet_cases import layout_of

from neckmodel.findings import Findings
from neckmodel.jigs import KINDS, Jig, JigError
from neckmodel.jigs.types import Bare, Printed
from neckmodel.layout import Layout
from neckmodel.meshes import mesh_of
from neckmodel.sheets import Sheet
from neckmodel.sheets.jigs.sheet import draw_jig
from neckmodel.sheets.jigs.sides import View, views_drawn
from neckmodel.solids.parts import Part

LEFT, BUSH = "design.hand='left'", "workshop.guide_bush=0.63"
CASES = (
    ("redpoll",),
    ("redpoll", LEFT),
    ("pipit", "fretboard.radius='flat'"),  # angled head
    ("wheatear",),  # floors that rise: a sled
    ("wren", BUSH),  # in inches
)
SOME = (("whimbrel", "caul"), ("whimbrel", "tuner-guide"), ("garganey", "trial-block"), ("dunnock", "screw-guide"))


@cache
def drafted(kind: str, name: str, *over: str) -> Jig | None:
    """None where the design has no use for the kind."""
    layout = layout_of(name, *over)
    try:
        KINDS[kind].refuse(layout)
        draft = KINDS[kind].draft(layout)
    except JigError:
        return None
    parts = tuple(Part(f"jig-{kind}-{piece.name}", piece.solid, (0.4, 0.5, 0.6), "jig") for piece in draft.pieces)
    printed = tuple(Printed(part, 1, piece.says) for part, piece in zip(parts, draft.pieces, strict=True))
    return Jig(layout, kind, parts, printed, draft, draft.remarks)


@cache
def drawn(kind: str, name: str, *over: str) -> tuple[Sheet, ...]:
    """On every paper, then the pieces alone; nothing where the kind is refused."""
    jig = drafted(kind, name, *over)
    return () if jig is None else draw_jig(jig, Findings(jig.name, (), ()), ("A4", "Letter", "Tabloid", "long"))


# of a case with overrides these kinds; the long run looks at all. The other hand mirrors what is drawn: one piece cut
# over many pages, one with holes in a row, one with screws. wheatear: its sled, its angled head, its tenon.
OF_SOME = {
    ("redpoll", LEFT): ("routing-template", "tuner-guide", "screw-guide"),
    ("wheatear",): ("routing-template", "tuner-guide", "cradle"),
}


def every() -> list[Any]:
    """(kind, design, overrides...) of all that the tests look at."""
    cases: list[Any] = []
    for case in CASES:
        for kind in KINDS:
            usual = kind in OF_SOME.get(case, tuple(KINDS))
            cases.append((kind, *case) if usual else pytest.param((kind, *case), marks=pytest.mark.sweep))
    return cases + [(kind, name) for name, kind in SOME]


def chief(jig: Jig, piece: Bare) -> View:
    return views_drawn(jig.kind, piece)[0]


def shadow(layout: Layout, piece: Bare, look: View) -> shapely.Polygon:
    """What a piece covers: the union of the triangles of a fine mesh, laid flat as a view looks at them; its rim."""
    mesh = mesh_of(piece.solid, 0.003)
    corners = np.asarray(mesh.vertices)[np.asarray(mesh.faces)] * ((1, -1, 1) if layout.left_handed else (1, 1, 1))
    flat = corners @ np.array([look.right, look.up]).T
    (ax, ay), (bx, by) = (flat[:, 1] - flat[:, 0]).T, (flat[:, 2] - flat[:, 0]).T
    covered = shapely.union_all(shapely.polygons(flat[np.abs(ax * by - ay * bx) > 1e-9]), grid_size=1e-5)
    whole = covered.buffer(1e-3, join_style="mitre").buffer(-1e-3, join_style="mitre")  # slivers between triangles
    parts = getattr(whole, "geoms", [whole])
    return shapely.Polygon(max(parts, key=lambda part: part.area).exterior)
