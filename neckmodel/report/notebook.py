"""How a notebook shows a design, layout, parts and findings: short, the verdict first."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout
    from neckmodel.solids.parts import Parts


def html_of(value: Design | Layout | Parts | Findings) -> str:
    """What a notebook shows of a design, a layout, parts or findings."""
    from neckmodel.design import Design
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

    if isinstance(value, Design):
        return design_html(value)
    if isinstance(value, Layout):
        return layout_html(value)
    return findings_html(value) if isinstance(value, Findings) else parts_html(value)


def design_html(design: Design) -> str:
    """Name, remark and the main stated values, in the design's own unit."""
    from neckmodel.lengths import with_unit
    from neckmodel.report.html import el, table

    info, unit, scale = design.design, design.design.units, design.strings.scale
    lengths = (scale.bass,) if scale.single else (scale.bass, scale.treble)
    back = design.neck.thickness
    rows = [
        ("strings", f"{design.strings.count}, {info.hand}-handed"),
        ("scale length", " / ".join(with_unit(length, unit) for length in lengths)),
        ("frets", f"{design.fretboard.frets}, joint at fret {design.neck.joint_fret}"),
        ("thickness at fret 1, 12", f"{with_unit(back.fret_1, unit)}, {with_unit(back.fret_12, unit)}"),
        ("head, heel", f"{design.head.kind}, {design.heel.kind}"),
    ]
    if design.rod is not None:
        each = "two, each " if design.rod.count > 1 else ""
        rows.append(("rod", f"{each}{design.rod.kind}, {with_unit(design.rod.length, unit)} over all"))
    if design.bars is not None:
        rows.append(("bars", f"{design.bars.count}, {with_unit(design.bars.length, unit)} long"))
    rows.append(("design", design.sha256[:8]))
    return el("div", el("p", info.remark) if info.remark else "", table(design.name, ("stated", "value"), rows, text=2))


def layout_html(layout: Layout) -> str:
    """The neck from above and from the side, and the channel."""
    from neckmodel.report.drawings import inline, plan_drawing, side_drawing
    from neckmodel.report.html import el, table
    from neckmodel.report.tables import layout_tables

    chief = [each for each in layout_tables(layout) if each.title.startswith(("Rod", "Channel"))]
    shown = [table(each.title, each.columns, each.rows, each.text) for each in chief]
    return el("div", el("strong", layout.name), inline(plan_drawing(layout)), inline(side_drawing(layout)), *shown)


def parts_html(parts: Parts) -> str:
    """The neck from above and from the side, and every part with its size and volume."""
    from neckmodel.lengths import with_unit
    from neckmodel.report.drawings import inline, plan_drawing, side_drawing
    from neckmodel.report.html import el, table
    from neckmodel.solids.kernel.box import box
    from neckmodel.solids.kernel.gate import volume

    layout, rows = parts.layout, []
    unit = layout.design.design.units
    for part in parts.parts:
        x0, y0, z0, x1, y1, z1 = box(part.solid)
        size = (with_unit(length, unit) for length in (x1 - x0, y1 - y0, z1 - z0))
        rows.append((part.name, part.kind, *size, f"{volume(part.solid) / 1000:.1f} cm³"))
    columns = ("part", "kind", "length, along x", "width, along y", "height, along z", "volume")
    drawn = inline(plan_drawing(layout)), inline(side_drawing(layout))
    return el("div", el("strong", layout.name), *drawn, table("Parts", columns, rows, text=2))


def findings_html(findings: Findings) -> str:
    """The verdict, and every finding; lengths in mm."""
    from neckmodel.report.findings import findings_table, verdict_box
    from neckmodel.report.html import el

    return el("div", el("strong", findings.name), verdict_box(findings), findings_table(findings, None))
