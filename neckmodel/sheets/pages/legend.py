"""The legend of a drawing: a sample of each line, told apart by dashes, weight and tint, with or without colour."""

from __future__ import annotations

from collections.abc import Iterable

from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.display import Layer
from neckmodel.sheets.marks.hatch import hatched
from neckmodel.sheets.marks.sketch import Sketch

PITCH = 3.8  # mm from one sample to the next below
SAMPLE = 20.0  # mm of line: once through the longest dashes and some of them again
LETTERS = 1.6  # mm, capitals
CELL = 47.0  # mm that a sample takes with its words
SILENT = {"text", "frame", "scale check", "register marks", "rules", "sizes", "notes", "walls"}


def entries(used: Iterable[Layer]) -> dict[str, Layer]:
    """What the legend says, each with a layer that is drawn so, in the order of first use."""
    drawn = [layer for layer in used if layer.name not in SILENT]
    names = {layer.name for layer in drawn}
    shown: dict[str, Layer] = {}
    for layer in drawn:
        shown.setdefault(_words(layer, names), layer)
    return shown


def _words(layer: Layer, drawn: set[str]) -> str:
    """A layer's name, or its group's: of a group that lists its members those that are drawn."""
    members = [name for name in layer.group.split(", ") if name in drawn]
    return ", ".join(members) or layer.group or layer.name


def legend_height(used: Iterable[Layer], room: float) -> float:
    """Height of `draw_legend`, mm."""
    return -(-len(entries(used)) // columns(room)) * PITCH


def columns(room: float) -> int:
    """How many columns of samples a room of this width holds."""
    return max(int(room / CELL), 1)


def draw_legend(sketch: Sketch, used: Iterable[Layer], x: float, top: float, room: float) -> float:
    """Draws the legend from (x, top) down, in as many columns as the room holds. Returns the y below it, mm."""
    count, shown = columns(room), entries(used)
    for k, (says, layer) in enumerate(shown.items()):
        here, y = x + room / count * (k % count), top - PITCH * (k // count + 1)
        _sample(sketch, layer, here, y + LETTERS / 2)
        sketch.text(layers.TEXT, (here + SAMPLE + 1.5, y), says, LETTERS)
    return top - legend_height(used, room)


def _sample(sketch: Sketch, layer: Layer, x: float, y: float) -> None:
    if layer.sign == "area":
        sketch.box(layer, (x, y - 1.2, x + SAMPLE, y + 1.2), filled=True)
        if layer.hatch[1] > 0:
            corners = [(x, y - 1.2), (x + SAMPLE, y - 1.2), (x + SAMPLE, y + 1.2), (x, y + 1.2)]
            for line in hatched(corners, *layer.hatch):
                sketch.line(layer, *line)
    elif layer.sign == "hole":
        sketch.circle(layer, (x + SAMPLE / 2, y), 0.9, cross=0.8)
    else:
        sketch.line(layer, (x, y), (x + SAMPLE, y))
