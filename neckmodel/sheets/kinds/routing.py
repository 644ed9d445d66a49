"""The routing sheet: the work in order, with cutter, fence, stops and passes for each cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.workshop.router import RouterSetting, router_settings
from neckmodel.sheets.marks.display import Drawing
from neckmodel.sheets.pages.pages import BODY, Column, Pages
from neckmodel.sheets.pages.sizes import Paper
from neckmodel.sheets.pages.titles import Titles
from neckmodel.sheets.views.corners import corners_height, draw_corners
from neckmodel.work import cautions
from neckmodel.work.order import Work, order_of_work
from neckmodel.work.router import edge_words, router_words
from neckmodel.work.settings import extent, floor, setting_rows
from neckmodel.work.words import datum_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step

CUT_TITLE, MOST = 9.0, 180.0  # mm: of the line over a cut's table; that a cut is kept together on a page
COLUMNS = (Column("what", least=32.0), Column("setting", wide=True))


def draw_routing(layout: Layout, titles: Titles, paper: Paper) -> tuple[Drawing, ...]:
    """The sheet. paper: as it lies."""
    title = "routing sheet, in the order of work" if layout.steps else "order of work"
    pages = Pages(paper, title, titles, cautions.FIRST)
    pages.paragraph(
        f"{router_words(layout)} x = 0 is {datum_words(layout)}, x runs toward the body, y from the centre line toward "
        f"the {layout.side_up} side. {edge_words(layout)}".strip()
    )
    settings = {setting.step.name: setting for setting in router_settings(layout)}
    for number, work in enumerate(order_of_work(layout), 1):
        pages.heading(f"{number}. {work.title}")
        if sum(map(pages.tall, work.says)) + sum(pages.tall(one) for one in work.cautions) > pages.free:
            for caution in work.cautions:  # where the work continues on the next page they stand on both
                pages.caution(caution)
        for line in work.says:
            pages.paragraph(line)
        for caution in work.cautions:
            pages.caution(caution)
        for name in work.cuts:
            _cut(pages, layout, work, layout.step(name), settings.get(name))
        if work.checks:
            pages.paragraph(before_you_go_on(work))
    return pages.finish()


def before_you_go_on(work: Work) -> str:
    """What must be checked before the next piece of work, as one line."""
    return f"Before you go on: {'; '.join(work.checks)}."


def _cut(pages: Pages, layout: Layout, work: Work, step: Step, setting: RouterSetting | None) -> None:
    unit = pages.titles.unit
    rows = [("extent", extent(step, unit, layout.left_handed)), ("floor", floor(step, unit))]
    if setting is None:
        cutting = layout.cutting(step.name)
        says = "no cutters are stated under [workshop]" if cutting is None else cutting.says
        rows.append(("cutter", f"none: {says}"))
    else:
        rows += setting_rows(layout, setting, unit)
    corners = corners_height(setting) if setting is not None and setting.cutting.corners_at else 0.0
    # a cut and the drawing of its corners stay on one page where they fit
    pages.need(min(CUT_TITLE + pages.table_height(COLUMNS, rows, BODY) + corners, MOST))
    for caution in work.cautions:  # on every page with a part of the cut
        pages.caution(caution)
    pages.y -= 2.0
    pages.paragraph(f"Cut: {plain(step.name)}", 2.5)
    pages.table(COLUMNS, rows, BODY)
    if setting is not None and corners:
        pages.figure(corners, lambda sketch, x, y: draw_corners(sketch, setting, unit, (x, y)))
