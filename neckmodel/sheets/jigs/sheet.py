"""A jig's sheets: its pieces, its use and the cautions in words; then every piece 1:1 with its sizes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from neckmodel.lengths import in_unit, with_unit
from neckmodel.sheets.jigs.packing import Room, pack
from neckmodel.sheets.jigs.piece import PieceViews, size_of_sketch, views_of
from neckmodel.sheets.marks.display import Drawing, Sheet
from neckmodel.sheets.marks.sketch import Sketch, moved
from neckmodel.sheets.pages.pages import FOOT, MARGIN, Column, Pages
from neckmodel.sheets.pages.sizes import LONG, PAPERS, Paper
from neckmodel.sheets.pages.tiles import tile
from neckmodel.sheets.pages.titles import BAR, Titles
from neckmodel.sheets.pages.verdict import Verdict
from neckmodel.units import USUAL_PAPER
from neckmodel.work import cautions

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.jigs.types import Jig
    from neckmodel.layout import Layout

BETWEEN = 5.0  # mm between two pieces
HEAD = 40.0  # mm that titles may take on a page
EDGE = 5.0  # mm round a piece that is cut into pages
OWN = {
    "routing-template": (cautions.ROUTER, cautions.CHISEL, cautions.DUST),
    "trial-block": (),
    "contour-gauge": (cautions.CHISEL,),
    "caul": (cautions.GLUE,),
    "tuner-guide": (cautions.DRILL, cautions.DUST),
    "screw-guide": (cautions.DRILL, cautions.DUST),
    "bore-guide": (cautions.DRILL, cautions.DUST),
    "dovetail-template": (cautions.SAW, cautions.CHISEL, cautions.DUST),
    "slot-template": (cautions.ROUTER, cautions.DRILL, cautions.DUST),
    "roller-guide": (cautions.DRILL, cautions.DUST),
    "cradle": (cautions.CHISEL,),
}
FITS = {
    "dovetail-template": "the lips and the upright plate already. The opening for the mortise has none: it shows the "
    "dovetail's own outline, and the mortise is pared to the dovetail.",
}
MILLED = (
    "For those who mill or saw it: the outlines are those of the finished piece, fit included; a cutter rounds inner "
    "corners, so square them by hand where another part goes in."
)
READING = (
    "Full lines are edges that are seen, dashed grey ones lie behind; every size runs from one datum: across the neck "
    "from the centre line, else from the piece's left or lower end. Words on a piece are those of its label, on the "
    "face that carries it."
)
"""Sentences on how to read the drawings."""


def draw_kind(layout: Layout, kind: str, papers: Sequence[str] = ()) -> tuple[Sheet, ...]:
    """The sheets of one kind of jig, which is made and measured for them. Raises JigError where the design has no use
    for it."""
    from neckmodel.jigs import inspect, make_jig
    from neckmodel.solids.kernel.load import load_cadquery

    load_cadquery()
    jig = make_jig(layout, kind)
    return draw_jig(jig, inspect(jig), papers)


def draw_jig(jig: Jig, findings: Findings, papers: Sequence[str] = ()) -> tuple[Sheet, ...]:
    """The sheet of a finished jig, once for each paper (none named: the usual one of the design's unit), then every
    piece as a drawing of its own.

    findings: of the jig itself.
    """
    titles, kind = titles_of_jig(jig, findings), f"jig-{jig.kind}"
    pieces = tuple(views_of(jig, piece) for piece in jig.draft.pieces)
    singles = tuple(_single(jig, one, titles) for one in pieces)
    sheets = []
    for name in tuple(dict.fromkeys(papers)) or (USUAL_PAPER[titles.unit],):
        alone = name == LONG
        pages = (*_words_alone(jig, titles), *singles) if alone else _on_paper(jig, pieces, titles, PAPERS[name])
        sheets.append(Sheet(kind, name, f"{titles.name} {kind}", pages, ("pdf",), true_size=True))
    for one, page in zip(pieces, singles, strict=True):
        sheets.append(Sheet(f"{kind}-{one.piece.name}", "", page.title, (page,), ("svg",), true_size=True))
    return tuple(sheets)


def titles_of_jig(jig: Jig, findings: Findings) -> Titles:
    """The titles of the neck's sheets, with the verdict on the jig."""
    from neckmodel.sheets.pages.titles import titles_of

    found = titles_of(jig.layout, None)
    failed = findings.failed
    if failed:
        verdict = Verdict("FAIL", f"THIS JIG FAILS: {', '.join(failed)}. DO NOT USE IT AS IT IS.", ())
    else:
        verdict = Verdict("PASS", "This jig was measured and passes; the neck's own checks are not part of it.", ())
    return Titles(found.name, found.remark, found.mark, verdict, found.unit)


def _on_paper(jig: Jig, pieces: Sequence[PieceViews], titles: Titles, paper: Paper) -> tuple[Drawing, ...]:
    """The pages on paper laid flat or upright, whichever has more of the views whole on one page, then fewer pages."""
    ways = [_pages(jig, pieces, titles, way) for way in (paper, paper.landscape)]
    pages, large = min(ways, key=lambda way: (len(way[1]), len(way[0])))
    return (*pages, *large)


def _pages(
    jig: Jig, pieces: Sequence[PieceViews], titles: Titles, paper: Paper
) -> tuple[tuple[Drawing, ...], tuple[Drawing, ...]]:
    """The words, then the views in rows; and the views larger than a page, each cut into pages that are joined."""
    pages = Pages(paper, f"jig {jig.kind}", titles)
    room, most = pages.room, pages.free - BETWEEN
    _words(pages, jig, titles)
    first, words = pages.free, len(pages.done)
    views = [(one.piece.name, view) for one in pieces for view in one.views]
    sizes = [size_of_sketch(view) for _, view in views]
    fits = [k for k, (wide, high) in enumerate(sizes) if wide <= room and high <= most]
    chief = {id(one.views[0]) for one in pieces}
    chief_first = sorted(fits, key=lambda k: id(views[k][1]) not in chief)
    packed = pack(sizes, (chief_first, fits), Room(room, first, most + BETWEEN, BETWEEN))
    for number, rows in enumerate(packed):
        if number:
            pages.turn()
        for row in rows:
            sketches = [views[k][1] for k in row]
            pages.figure(max(sizes[k][1] for k in row) + BETWEEN, _beside(sketches))
    assert len(pages.done) == words + len(packed) - 1
    large: list[Drawing] = []
    for k, (name, view) in enumerate(views):
        if k not in fits:
            x0, y0, x1, y1 = view.bounds()
            box = (x0 - EDGE, y0 - EDGE, x1 + EDGE, y1 + EDGE)
            large += tile(view.drawing(f"{titles.name} jig-{jig.kind}-{name}", box), paper, titles)
    return pages.finish(), tuple(large)


def _rows(views: Sequence[Sketch], room: float) -> list[list[Sketch]]:
    """Views beside each other as far as the width allows; a wider one stands alone."""
    rows: list[list[Sketch]] = []
    for view in views:
        taken = sum(size_of_sketch(one)[0] + BETWEEN for one in rows[-1]) if rows else room
        if taken + size_of_sketch(view)[0] > room:
            rows.append([])
        rows[-1].append(view)
    return rows


def _words_alone(jig: Jig, titles: Titles) -> tuple[Drawing, ...]:
    pages = Pages(PAPERS[USUAL_PAPER[titles.unit]], f"jig {jig.kind}", titles)
    _words(pages, jig, titles)
    return pages.finish()


def _single(jig: Jig, one: PieceViews, titles: Titles) -> Drawing:
    """A piece on one page as large as the piece needs."""
    rows = _rows(one.views, PAPERS["A4"].landscape.width - 2 * MARGIN)
    wide = max(sum(size_of_sketch(view)[0] + BETWEEN for view in row) for row in rows)
    high = [max(size_of_sketch(view)[1] for view in row) + BETWEEN for row in rows]
    paper = Paper(LONG, max(wide, BAR + 60.0) + 2 * MARGIN, sum(high) + HEAD + FOOT + 2 * MARGIN)
    pages = Pages(paper, f"jig {jig.kind}, piece {one.piece.name}", titles)
    for row, size in zip(rows, high, strict=True):
        pages.figure(size, _beside(row))
    (page,) = pages.finish()
    return page


def _beside(row: Sequence[Sketch]) -> Callable[[Sketch, float, float], None]:
    def draw(sketch: Sketch, x: float, y: float) -> None:
        for one in row:
            x0, _, x1, y1 = one.bounds()
            sketch.add(*moved(one.marks, (x - x0, y - BETWEEN - y1)))
            x += x1 - x0 + BETWEEN

    return draw


def _words(pages: Pages, jig: Jig, titles: Titles) -> None:
    from neckmodel.jigs.registry import KINDS

    unit, printer = titles.unit, jig.layout.design.workshop.printer
    pages.paragraph(f"{KINDS[jig.kind].says.capitalize()}.")
    pages.heading("How it is used")
    for remark in jig.remarks:
        pages.paragraph(in_unit(remark, unit))
    fit = f"A fit of {with_unit(printer.fit_per_side, unit)} a side is in"
    pages.paragraph(f"{fit} {FITS.get(jig.kind, 'every opening, hole and joint already.')}")
    pages.heading("Pieces")
    columns = [Column("piece"), Column("what it is", wide=True), Column("bed", number=True)]
    rows = [(piece.part.name, in_unit(piece.says, unit), str(piece.bed)) for piece in jig.printed]
    pages.table(columns, rows)
    pages.paragraph(READING)
    pages.paragraph(MILLED)
    pages.heading("Cautions")
    for caution in (cautions.JIG, *OWN.get(jig.kind, ())):
        pages.paragraph(caution)
