"""The view in three dimensions: its switches as HTML, and the data for its script."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.report import words
from neckmodel.report.geometry import Packed
from neckmodel.report.html import Html, el, joined, section
from neckmodel.units import MM_PER_INCH

if TYPE_CHECKING:
    from neckmodel.findings import Finding, Findings
    from neckmodel.layout import Layout

SHOWN = ("wood", "hardware")  # shown at first; the stock would hide the parts cut from it
FAMILIES = {"wood": "finished wood", "hardware": "hardware, as envelopes", "stock": "stock"}
SWATCH = '<svg class="swatch" viewBox="0 0 1 1" aria-hidden="true"><path fill="{colour}" d="M0 0H1V1H0z"/></svg>'
WITHOUT = (
    "The view in three dimensions needs scripts and WebGL, which this browser does not offer here. "
    "The drawings below show the same neck, and every number stands in the tables."
)
HELP = (
    "Mouse: drag to turn, right button to move, wheel to zoom once the view is clicked. Touch: one finger turns, two "
    "move and zoom. Keyboard, with the view in focus: arrows turn, Shift and arrows move, + and - zoom, Home shows the "
    "whole neck, Escape clears the mark."
)


def view(packed: Sequence[Packed], layout: Layout) -> Html:
    """The section. The script brings hidden parts of it to life."""
    plus, minus = sides(layout)
    looks = (
        ("oblique", "oblique"),
        ("top", "from above"),
        ("minus", f"from the {minus}"),
        ("plus", f"from the {plus}"),
        ("below", "from below"),
        ("head", f"from the {layout.head.named}"),
    )
    canvas = el(
        "canvas",
        id="scene",
        tabindex="0",
        role="application",
        aria_label="The neck in three dimensions",
        aria_describedby="view-help",
    )
    live = el(
        "div",
        el("p", HELP, id="view-help", class_="small"),
        el("div", canvas, el("div", id="mark", class_="mark", hidden=True), id="stage"),
        el("p", id="marked", role="status"),
        el(
            "div",
            _group("Look", *(_button(says, data_look=name) for name, says in looks)),
            _group("Zoom", _button("nearer", data_zoom="in"), _button("farther", data_zoom="out")),
            _switches(packed),
            _cut(plus),
            class_="controls",
        ),
        id="view-live",
        hidden=True,
    )
    return section("view", "Three dimensions", el("p", WITHOUT, id="view-none", class_="remark"), live)


def sides(layout: Layout) -> tuple[str, str]:
    """The names of the sides at y > 0 and at y < 0. A left-handed neck is the mirror image."""
    names = ("treble side", "bass side")
    return names[::-1] if layout.left_handed else names


def view_data(packed: Sequence[Packed], findings: Findings, layout: Layout) -> dict[str, object]:
    """The data for the script: parts, places of the findings, and the frets, which tell where a section lies. mm."""
    unit = layout.design.design.units
    return {
        "unit": unit,
        "mm_per_inch": MM_PER_INCH,
        "frets": [round(fret.x, 4) for fret in layout.frets.frets],
        "places": [
            {
                "x": round(found.at.x, 4),
                "y": round(found.at.y, 4),
                "z": round(found.at.z, 4),
                "says": _marked(found, unit),
                "where": f"{words.along(found.at, unit)}; {words.across(found.at, unit)}",
            }
            for found in placed(findings)
            if found.at is not None
        ],
        "parts": [
            {
                "name": part.name,
                "family": group_of(part),
                "colour": part.colour,
                "stock": part.kind == "stock",
                "low": part.low,
                "step": part.step,
                "corners": part.corners,
                "triangles": part.triangles,
                "wide": part.wide,
            }
            for part in packed
        ],
    }


def placed(findings: Findings) -> list[Finding]:
    """The findings that have a place, worst first. Their order gives the numbers of the marks."""
    return [found for found in words.worst_first(findings) if found.at is not None]


def family(part: str) -> str:
    """A part's name without its number, so that all screws are switched together."""
    start, dash, number = part.rpartition("-")
    return start if dash and number.isdigit() else part


def group_of(part: Packed) -> str:
    """What a part is switched with: its stated group, or its family."""
    return part.group or family(part.name)


def _marked(found: Finding, unit: str) -> str:
    value = words.measured(found, unit)
    number = "" if found.measured is None else f" {value}"
    return f"{words.WORDS[found.verdict]} {found.check}{number}"


def _switches(packed: Sequence[Packed]) -> Html:
    groups = []
    for kind, title in FAMILIES.items():
        names = [group_of(part) for part in packed if part.kind == kind]
        switches = []
        for name in dict.fromkeys(names):
            many = names.count(name)
            colour = next(part.colour for part in packed if group_of(part) == name)
            says = plain(name) if many == 1 else f"{plain(name)}s ({many})"
            box = el("input", type="checkbox", data_family=name, checked=kind in SHOWN)
            swatch = Html(SWATCH.format(colour=colour))
            switches.append(el("label", box, swatch, says))
        if switches:
            groups.append(el("div", el("span", title, class_="kind"), *switches))
    return _group("Parts", *groups)


def _cut(plus: str) -> Html:
    axes = (
        ("none", "no section", True),
        ("x", "across, at x", False),
        ("y", "along, at y", False),
        ("z", "level, at z", False),
    )
    choices = [
        el("label", el("input", type="radio", name="cut", value=value, checked=chosen), says)
        for value, says, chosen in axes
    ]
    slider = el("input", type="range", id="cut-slider", step="0.1", aria_label="place of the section, mm")
    number = el("input", type="number", id="cut-number", step="0.1")
    place = el(
        "div",
        el("label", "place ", slider),
        el("label", number, " mm"),
        el("output", id="cut-says", for_="cut-slider cut-number"),
        el("label", el("input", type="checkbox", id="cut-flip"), "keep the other side"),
        id="cut-place",
        hidden=True,
    )
    frame = f"x counts from the nut toward the body, y toward the {plus}, z from the glue plane toward the strings."
    return _group("Section", el("div", *choices), place, el("p", frame, class_="small"))


def _group(title: str, *children: str) -> Html:
    return el("fieldset", el("legend", title), *children)


def _button(says: str, **data: str) -> Html:
    return joined([el("button", says, type="button", **data)])
