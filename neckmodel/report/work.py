"""A part of the page: the order of work with the settings of each cut, and the cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.workshop.router import router_settings
from neckmodel.report.drawings import corners_figure
from neckmodel.report.html import Html, el, fold, list_of, section, table
from neckmodel.sheets.kinds.routing import before_you_go_on
from neckmodel.work import cautions
from neckmodel.work.order import Work, order_of_work
from neckmodel.work.router import edge_words, router_words
from neckmodel.work.settings import extent, floor, setting_rows

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.workshop.router import RouterSetting


def work_section(layout: Layout) -> Html:
    """The section with the order of work."""
    unit = layout.design.design.units
    says = f"{router_words(layout)} {edge_words(layout)} Common practice, no source.".strip()
    settings = {setting.step.name: setting for setting in router_settings(layout)}
    steps = [_piece(layout, number, work, settings, unit) for number, work in enumerate(order_of_work(layout), 1)]
    return section(
        "work", "Order of work", el("p", cautions.FIRST, class_="caution"), el("p", says, class_="small"), *steps
    )


def cautions_section(layout: Layout) -> Html:
    """All cautions of the work once more, together."""
    said = dict.fromkeys(caution for work in order_of_work(layout) for caution in work.cautions)
    return section("cautions", "Cautions", list_of((cautions.FIRST, *said)))


def _piece(layout: Layout, number: int, work: Work, settings: dict[str, RouterSetting], unit: str) -> Html:
    cuts = [_cut(layout, name, settings.get(name), unit) for name in work.cuts]
    return fold(
        el("h3", f"{number}. {work.title}"),
        *(el("p", line) for line in work.says),
        *cuts,
        *([el("p", before_you_go_on(work))] if work.checks else []),
        *(el("p", caution, class_="caution") for caution in work.cautions),
        class_="piece",
        opened=True,
    )


def _cut(layout: Layout, name: str, setting: RouterSetting | None, unit: str) -> Html:
    step = layout.step(name)
    rows = [("extent", extent(step, unit, layout.left_handed)), ("floor", floor(step, unit))]
    if setting is None:
        cutting = layout.cutting(name)
        why = "no cutters are stated under [workshop]" if cutting is None else cutting.says
        rows.append(("cutter", f"none: {why}"))
    else:
        rows += setting_rows(layout, setting, unit)
    shown = table(f"Cut: {plain(name)}", ("what", "setting"), rows, text=2)
    if setting is None or not setting.cutting.corners_at:
        return shown
    return el("div", shown, corners_figure(setting, unit))
