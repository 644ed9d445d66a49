"""Drawings that are broken, mistaken or meant to do harm: name, file name, content, what the message must say."""

from __future__ import annotations

import base64
from dataclasses import dataclass

from ends_samples import arc, binary_dxf, circle, dxf, line, plain_head, polyline, svg


@dataclass(frozen=True)
class Hostile:
    name: str
    file: str
    data: bytes
    says: str


def _of(name: str, file: str, data: str | bytes, says: str) -> Hostile:
    return Hostile(name, file, data if isinstance(data, bytes) else data.encode(), says)


SVG_HEAD = "M5 -24 L-160 -30 L-160 30 L5 24 Z"
BOW_TIE = [(5.0, 24.0), (-160.0, -30.0), (-160.0, 30.0), (5.0, -24.0)]
LAUGHS = "".join(f'<!ENTITY a{k} "{f"&a{k - 1};" * 10}">' for k in range(1, 10))
BIG_PATH = "M0 0 " + "L-1 1 " * 60_000 + "Z"
SPLINE = (
    "0\nSPLINE\n100\nAcDbEntity\n8\noutline\n100\nAcDbSpline\n70\n8\n71\n3\n72\n8\n73\n4\n"
    + "".join(f"40\n{k}\n" for k in (0, 0, 0, 0, 1, 1, 1, 1))
    + "".join(f"10\n{x}\n20\n{y}\n30\n0\n" for x, y in ((5, 24), (-1e9, 1e9), (-1e9, -1e9), (5, -24)))
)
OUTSIDE = '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>'


def _nested(depth: int) -> str:
    return svg("<g>" * depth + f'<path d="{SVG_HEAD}"/>' + "</g>" * depth)


CASES: tuple[Hostile, ...] = (
    # no drawing at all
    _of("another kind of file", "head.png", b"\x89PNG\r\n", "neither a .dxf nor an .svg"),
    _of("empty DXF", "head.dxf", "", "is empty"),
    _of("blank SVG", "head.svg", " \n\n", "is empty"),
    _of(
        "noise named DXF",
        "head.dxf",
        base64.b85encode(bytes(range(256)) * 20),
        "is not a whole, sound DXF file: damaged, cut off, or of another kind; save it again",
    ),
    _of(
        "zeros named DXF",
        "head.dxf",
        b"\0" * 5000,
        "is not a whole, sound DXF file: damaged, cut off, or of another kind; save it again",
    ),
    _of("binary DXF", "head.dxf", binary_dxf(), "is a binary DXF file; save it as a DXF in text"),
    _of("noise named SVG", "head.svg", bytes(range(1, 256)) * 20, "is not a whole, sound SVG file"),
    _of("HTML named SVG", "head.svg", "<html><body/></html>", "not an SVG drawing"),
    _of("cut-off DXF", "head.dxf", dxf(polyline(plain_head()))[:150], "is not a whole, sound DXF file"),
    _of("cut-off SVG", "head.svg", svg(f'<path d="{SVG_HEAD}"/>')[:-20], "is not a whole, sound SVG file"),
    _of("larger than allowed", "head.svg", svg(f'<path d="{SVG_HEAD}"/>' + " " * (1 << 20)), "larger than 1 MiB"),
    # units
    _of(
        "DXF without a unit",
        "head.dxf",
        dxf(polyline(plain_head()), None),
        r"does not say what its unit is.*save it again: 165 units long, it is likely in mill",
    ),
    _of("DXF in light years", "head.dxf", dxf(polyline(plain_head()), 19), "in a unit that no neck is drawn in"),
    _of("metres for millimetres", "head.dxf", dxf(polyline(plain_head()), 6), "more than 5000 mm"),
    _of(
        "inches for millimetres",
        "head.dxf",
        dxf(polyline(plain_head()), 1),
        r"4064.00 mm from the head line.*looks like a drawing in mm that is read as inches \(it would be 160.00 mm",
    ),
    _of(
        "SVG in ells", "head.svg", svg(f'<path d="{SVG_HEAD}"/>', 'width="3ell" height="2ell" viewBox="0 0 3 2"'), "ell"
    ),
    _of("viewBox of words", "head.svg", svg(f'<path d="{SVG_HEAD}"/>', 'viewBox="a b c d"'), "viewBox"),
    _of("viewBox of nothing", "head.svg", svg(f'<path d="{SVG_HEAD}"/>', 'viewBox="0 0 0 0"'), "viewBox"),
    _of("viewBox that is not finite", "head.svg", svg("", 'viewBox="0 0 inf nan"'), "viewBox"),
    _of(
        "inches read as millimetres",
        "head.dxf",
        dxf(polyline(plain_head(25.4))),
        r"6.30 mm from the head line.*looks like a drawing in inches that is read as mm \(it would be 160.00 mm\)",
    ),
    _of(
        "DXF without a header",
        "head.dxf",
        dxf(polyline(plain_head())).partition("ENDSEC\n")[2],
        "does not say what its",
    ),
    _of("inches without a unit", "head.dxf", dxf(polyline(plain_head(25.4)), None), "6.496 units long.* in inches"),
    # layers
    _of(
        "wrong layer, DXF", "head.dxf", dxf(polyline(plain_head(), "notes")), 'no line on the layer "outline".*"notes"'
    ),
    _of("wrong layer, SVG", "head.svg", svg(f'<path d="{SVG_HEAD}"/>').replace("outline", "notes"), "no line on the"),
    _of("in definitions only", "head.svg", svg(f'<defs><path d="{SVG_HEAD}"/></defs>'), "no line on the layer"),
    _of("text only", "head.dxf", dxf("0\nTEXT\n8\noutline\n10\n0\n20\n0\n40\n3\n1\nhead\n"), "no line on the layer"),
    # open, crossing, touching
    _of(
        "open",
        "head.dxf",
        dxf(polyline(plain_head(), closed=False)),
        "ends of a line are 47.6[0-9] mm apart; draw it as one closed line",
    ),
    _of("open, SVG", "head.svg", svg(f'<path d="{SVG_HEAD[:-2]}"/>'), "ends of a line are 48.00 mm apart"),
    _of("one line", "head.dxf", dxf(line((5, 24), (-160, 30))), "no closed outline"),
    _of(
        "lines that miss by a millimetre",
        "head.dxf",
        dxf(
            line((5, 24), (-160, 30))
            + line((-160, 30), (-160, -30))
            + line((-160, -30), (5, -24))
            + line((5, -23), (5, 23))
        ),
        "no closed outline",
    ),
    _of(
        "bow tie",
        "head.dxf",
        dxf(polyline(BOW_TIE)),
        "crosses itself at x -68.33 mm, y 0.00 mm, like a bow tie; are two of its corners in the wrong order",
    ),
    _of(
        "bow tie, SVG",
        "head.svg",
        svg('<path d="M5 -24 L-160 30 L-160 -30 L5 24 Z"/>'),
        "crosses itself at x -68.33 mm",
    ),
    _of(
        "touches itself",
        "head.dxf",
        dxf(polyline([(5, 24), (-160, 30), (-80, 0), (-160, -30), (5, -24), (-80, 0)])),
        "touches itself at x -80.00 mm",
    ),
    # sizes
    _of("tiny", "head.dxf", dxf(polyline(plain_head(1000.0))), "encloses nothing"),
    _of("small", "head.dxf", dxf(polyline(plain_head(10.0))), "16.00 mm from the head line"),
    _of("wide", "head.dxf", dxf(polyline([(5, 300), (-160, 300), (-160, -300), (5, -300)])), "600.00 mm wide"),
    _of("a point", "head.dxf", dxf(polyline([(-50.0, 3.0)] * 4)), "encloses nothing"),
    _of("flat", "head.dxf", dxf(polyline([(0.0, 0.0), (-50.0, 0.0), (-100.0, 0.0)])), "encloses nothing"),
    _of("circle of no radius", "head.dxf", dxf(circle((-50, 0), 0.0)), "encloses nothing"),
    _of(
        "beside the centre line",
        "head.dxf",
        dxf(polyline([(x, y + 60, b) for x, y, b in plain_head()])),
        "on one side of the centre line",
    ),
    _of(
        "beyond the head line",
        "head.dxf",
        dxf(polyline([(x + 200, y, b) for x, y, b in plain_head()])),
        "wrong side of the head line",
    ),
    _of(
        "does not reach the neck",
        "head.dxf",
        dxf(polyline([(x - 60, y, b) for x, y, b in plain_head()])),
        "does not fit the neck: at x -30.00 mm.*the outline does not reach there",
    ),
    _of(
        "horns toward the neck",
        "head.dxf",
        dxf(polyline([(5, 30), (5, 20), (-60, 20), (-60, -20), (5, -20), (5, -30), (-160, -30), (-160, 30)])),
        "the outline has 4 lines",
    ),
    _of(
        "a spike",
        "head.dxf",
        dxf(polyline([(5, 2), (-160, 30), (-160, -30), (5, -2)])),
        "from the centre line where the head begins, at x -30.00 mm; at least 8 mm",
    ),
    # numbers
    _of(
        "not a number",
        "head.dxf",
        dxf(polyline([(float("nan"), 24), (-160, 30), (-160, -30), (5, -24)])),
        "holds an infinite number",
    ),
    _of(
        "endless",
        "head.dxf",
        dxf(polyline([(float("inf"), 24), (-160, 30), (-160, -30), (5, -24)])),
        "holds an infinite number",
    ),
    _of("1e300", "head.dxf", dxf(polyline([(-1e300, 24), (-160, 30), (-160, -30), (5, -24)])), "more than 5000 mm"),
    _of(
        "1e300 bulge",
        "head.dxf",
        dxf(polyline([(5, 24, 1e300), (-160, 30), (-160, -30), (5, -24)])),
        "more than 5000 mm",
    ),
    _of(
        "words for numbers",
        "head.dxf",
        dxf(polyline(plain_head())).replace("5.0", "five", 1),
        "is not a whole, sound DXF file: damaged, cut off, or of another kind; save it again",
    ),
    _of("SVG numbers of 1e300", "head.svg", svg('<path d="M5 -24 C1e300 0 -1e300 0 -160 30 L5 24 Z"/>'), "5000 mm"),
    _of("SVG path of words", "head.svg", svg('<path d="go left then right"/>'), "cannot be read|no line"),
    _of("SVG transform of words", "head.svg", svg(f'<path transform="rotate(a b)" d="{SVG_HEAD}"/>'), "cannot be read"),
    _of("SVG turned to nothing", "head.svg", svg(f'<path transform="scale(0)" d="{SVG_HEAD}"/>'), "encloses nothing"),
    # meant to do harm
    _of("a spline of kilometres", "head.dxf", dxf(SPLINE), "more than 5000 mm"),
    _of("an ellipse of kilometres", "head.svg", svg('<ellipse cx="0" cy="0" rx="1e9" ry="5"/>'), "5000 mm"),
    _of(
        "billion laughs",
        "head.svg",
        f'<!DOCTYPE svg [<!ENTITY a0 "ha">{LAUGHS}]>' + svg("<text>&a9;</text>"),
        "calls for things from outside",
    ),
    _of("reads another file", "head.svg", OUTSIDE + svg("<text>&x;</text>"), "calls for things from outside"),
    _of("nested 1,000 deep", "head.svg", _nested(1000), "nested too deep"),
    _of("nested 60,000 deep", "head.svg", _nested(60_000), "nested too deep|sound SVG file"),
    _of("60,000 points", "head.svg", svg(f'<path d="{BIG_PATH}"/>'), "too many points"),
    _of("60,000 elements", "head.svg", svg("<g/>" * 60_000), "too many elements"),
    _of(
        "12,000 points",
        "head.dxf",
        dxf(polyline([(-k / 100, 24.0) for k in range(12_000)] + [(-120, -24), (5, -24)])),
        "points; at most 4000",
    ),
    _of("8,000 lines", "head.dxf", dxf("".join(line((-k, 0), (-k - 0.5, 1)) for k in range(8_000))), "5000 mm"),
    _of("2,000 loose lines", "head.dxf", dxf("".join(line((-k, 0), (-k - 0.5, 1)) for k in range(2_000))), "no closed"),
    _of("names that climb", "head.dxf", dxf(polyline(plain_head(), "../../x")), "no line on the layer"),
    _of("arcs that do not meet", "head.dxf", dxf(arc((0, 0), 30, 0, 90) + arc((-90, 0), 30, 90, 180)), "no closed"),
)
