"""Every kind of sheet. A new kind is one file and one line here; the command, the files and the tests find it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.errors import ExportError
from neckmodel.sheets.kinds.board import draw_board
from neckmodel.sheets.kinds.contours import Contours, for_machines, on_paper, table
from neckmodel.sheets.kinds.faces import fretboard, head
from neckmodel.sheets.kinds.inspection import draw_inspection
from neckmodel.sheets.kinds.machine import pockets, templates
from neckmodel.sheets.kinds.marking import draw_marking, draw_marking_pages
from neckmodel.sheets.kinds.routing import draw_routing
from neckmodel.sheets.kinds.sections import draw_cross_sections
from neckmodel.sheets.marks.display import Drawing, Sheet
from neckmodel.sheets.pages.joining import joined
from neckmodel.sheets.pages.sizes import LONG, PAPERS, Paper
from neckmodel.sheets.pages.tiles import tile
from neckmodel.sheets.pages.titles import Titles, titles_of
from neckmodel.units import USUAL_PAPER

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout


@dataclass(frozen=True)
class Kind:
    """One kind of sheet. says: a line about it. formats: the usual one first. Either `whole` draws it 1:1 and `tiled`
    on pages, or `contours` are what machines follow, or `paged` draws its pages for a paper. unless: why a layout has
    no such sheet; "" where it has."""

    name: str
    says: str
    formats: tuple[str, ...]
    whole: Callable[[Layout, Titles], Drawing] | None = None
    tiled: Callable[[Layout, Titles, Paper], tuple[Drawing, ...]] | None = None
    paged: Callable[[Layout, Findings | None, Titles, Paper], tuple[Drawing, ...]] | None = None
    contours: Callable[[Layout, Titles], Contours] | None = None
    unless: Callable[[Layout], str] = lambda layout: ""  # noqa: ARG005


def _no_channel(layout: Layout) -> str:
    return "" if layout.steps else "the neck has no channel; its order of work is the sheet order-of-work"


def _channel(layout: Layout) -> str:
    return "the order of work stands on the sheet routing, with the cuts of the channel" if layout.steps else ""


def _no_head(layout: Layout) -> str:
    return (
        "the neck has no head; its nut end and the clamp stand on the sheet marking-out" if layout.head.is_none else ""
    )


MACHINE = ("dxf", "svg", "pdf")
KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind(
            "marking-out",
            "plan and side view 1:1, every station from the nut",
            ("pdf", "svg", "dxf"),
            draw_marking,
            tiled=draw_marking_pages,
        ),
        Kind(
            "routing",
            "order of work: cutters, fence, stops, passes",
            ("pdf", "svg"),
            paged=lambda layout, _, titles, paper: draw_routing(layout, titles, paper),
            unless=_no_channel,
        ),
        Kind(
            "order-of-work",
            "order of work of a neck without a channel",
            ("pdf", "svg"),
            paged=lambda layout, _, titles, paper: draw_routing(layout, titles, paper),
            unless=_channel,
        ),
        Kind(
            "board",
            "where the blank and its pieces are sawn from the board",
            ("pdf", "svg"),
            paged=lambda layout, _, titles, paper: draw_board(layout, titles, paper),
        ),
        Kind("cross-sections", "the neck cut through, with its walls", ("pdf", "svg"), paged=draw_cross_sections),
        Kind(
            "inspection",
            "what to measure after each operation",
            ("pdf", "svg"),
            paged=lambda layout, _, titles, paper: draw_inspection(layout, titles, paper),
        ),
        Kind(
            "pockets", "a closed contour for every step of the channel", MACHINE, contours=pockets, unless=_no_channel
        ),
        Kind("templates", "openings of router templates", MACHINE, contours=templates, unless=_no_channel),
        Kind("fretboard", "outline and fret slots", MACHINE, contours=fretboard),
        Kind("head", "the head's face and its tuner holes", MACHINE, contours=head, unless=_no_head),
    )
}


JIG = "jig-"
"""Stands before the name of a kind of jig: its drawings, made only on request, for they need its finished solids."""


def kind_named(name: str) -> Kind:
    """The kind of this name. Raises ExportError where there is none."""
    if name not in KINDS:
        raise ExportError(f"sheet {name!r} is not known; it is one of: {', '.join(names())}")
    return KINDS[name]


def names() -> tuple[str, ...]:
    """The names of all sheets, the drawings of jigs last."""
    return (*KINDS, *_of_jigs())


def is_of_jig(name: str) -> bool:
    """Whether a name is that of a jig's drawings."""
    return name in _of_jigs()


def _of_jigs() -> tuple[str, ...]:
    from neckmodel.jigs import KINDS as JIGS

    return tuple(f"{JIG}{name}" for name in JIGS)


def papers_named(names: Sequence[str], unit: str) -> tuple[str, ...]:
    """Papers as asked for; none asked: the long page, and the usual paper of the unit. Raises ExportError."""
    for name in names:
        if name != LONG and name not in PAPERS:
            raise ExportError(f"paper {name!r} is not known; it is one of: {', '.join([*PAPERS, LONG])}")
    return tuple(dict.fromkeys(names)) or (LONG, USUAL_PAPER[unit])


def draw(kind: str, layout: Layout, findings: Findings | None = None, papers: Sequence[str] = ()) -> tuple[Sheet, ...]:
    """One kind of sheet, once for each paper: "A4", "A3", "Letter", "Tabloid" or "long".

    findings: of the checks on this very design; without them every sheet says that nothing was checked. Sheets of words
    and tables have no long page: they are drawn on the usual paper of the design's unit. Raises ExportError for a kind
    or paper that does not exist, or a kind that the design has no use for. A jig's drawings ("jig-caul", ...) are drawn
    from its solids, which are made and measured for them; raises JigError where the design has no use for that jig.
    """
    if is_of_jig(kind):
        from neckmodel.sheets.jigs.sheet import draw_kind

        return draw_kind(layout, kind.removeprefix(JIG), papers_named(papers, "mm") if papers else ())
    chosen, titles = kind_named(kind), titles_of(layout, findings)
    if why := chosen.unless(layout):
        raise ExportError(f"sheet {kind!r} is not drawn: {why}")
    names = papers_named(papers, titles.unit)
    title = f"{titles.name} {kind}"
    if chosen.contours is not None:
        return _for_machines(chosen, chosen.contours(layout, titles), layout, titles, papers)
    if chosen.whole is not None and chosen.tiled is not None:
        sheets = []
        for name in names:
            long = name == LONG
            pages = (chosen.whole(layout, titles),) if long else chosen.tiled(layout, titles, PAPERS[name])
            # formats without pages take the whole drawing only
            formats = chosen.formats if name == LONG else ("pdf",)
            sheets.append(Sheet(kind, name, title, pages, formats, true_size=True))
        return tuple(sheets)
    assert chosen.paged is not None
    papers_of_words = tuple(name for name in names if name != LONG) or (USUAL_PAPER[titles.unit],)
    paged = chosen.paged

    def on(paper: Paper) -> tuple[Drawing, ...]:
        return paged(layout, findings, titles, paper)

    return tuple(
        Sheet(kind, name, title, joined(on, PAPERS[name]), chosen.formats, true_size=False) for name in papers_of_words
    )


def _for_machines(
    kind: Kind, contours: Contours, layout: Layout, titles: Titles, papers: Sequence[str]
) -> tuple[Sheet, ...]:
    """The drawing for programs, with its table; the same drawing for people, and on paper if asked for."""
    title, drawing = f"{titles.name} {kind.name}", on_paper(contours, titles.unit)
    sheets = [
        Sheet(
            kind.name,
            LONG,
            title,
            (for_machines(contours),),
            ("dxf",),
            True,
            table=table(kind.name, layout, titles, contours),
        ),
        Sheet(kind.name, LONG, title, (on_paper(contours, titles.unit, bar=True),), ("svg", "pdf"), True, usual=False),
    ]
    for name in dict.fromkeys(papers):
        if name != LONG:
            sheets.append(Sheet(kind.name, name, title, tile(drawing, PAPERS[name], titles), ("pdf",), True))
    return tuple(sheets)


def draw_all(
    layout: Layout, findings: Findings | None = None, papers: Sequence[str] = (), kinds: Sequence[str] = ()
) -> tuple[Sheet, ...]:
    """Every kind of sheet that the design has a use for, or those asked for, on every paper."""
    wanted = tuple(dict.fromkeys(kinds)) or tuple(name for name, kind in KINDS.items() if not kind.unless(layout))
    return tuple(sheet for kind in wanted for sheet in draw(kind, layout, findings, papers))
