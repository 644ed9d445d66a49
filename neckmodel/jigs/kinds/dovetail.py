"""Templates for a dovetail: one that sits on the square blank and shows the dovetail's outline on the glue plane and on
the end, and one that lies on the body and shows the mortise."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.findings import Finding, Place, yes_no_finding
from neckmodel.jigs.regions import level_section
from neckmodel.jigs.shaping import across, box, prism
from neckmodel.jigs.types import AS_IT_STANDS, UPSIDE_DOWN, Bare, Draft, JigError, Label
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.limits import DOVETAIL_OFF
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import cut, fuse
from neckmodel.work.dovetail import DEEPER

if TYPE_CHECKING:
    import cadquery as cq

    from neckmodel.geometry.types import Point
    from neckmodel.layout import Layout

# mm; common practice, no source
PLATE = 4.0  # thickness of the plates
BAR = 44.0  # of the bar on the head side of the joint
LIP, LIP_DEPTH = 5.0, 12.0  # beside the blank: thickness, and how far down it goes
AROUND = 30.0  # of the mortise's template, beside and beyond its opening
SIGHT = 1.5  # half width of the notches at the centre line
SLICE = 0.01  # from a face at which it is measured


@dataclass(frozen=True)
class Plan:
    """tenon: the dovetail. half: half width of the blank. fit: gap at each side of the blank, and to its end. low: how
    far below the glue plane the body's top lies, where the mortise is marked."""

    tenon: Dovetail
    half: float
    fit: float
    low: float


def refuse(layout: Layout) -> None:
    """Raises JigError where the heel has no dovetail."""
    plan(layout)


def plan(layout: Layout) -> Plan:
    """The sizes of both templates. Raises JigError where the heel has no dovetail."""
    tenon = layout.heel.tenon
    if not isinstance(tenon, Dovetail):
        raise JigError('dovetail-template: the heel has no dovetail; state heel.kind = "dovetail" if it is to have one')
    low = min(max(-layout.design.body.top, 0.0), tenon.depth)
    return Plan(tenon, layout.blank_half_width, layout.design.workshop.printer.fit_per_side, low)


def draft(layout: Layout) -> Draft:
    """Both templates; that of the mortise marks the dovetail's own outline."""
    sizes = plan(layout)
    tenon = sizes.tenon
    neck, body = neck_template(sizes), mortise_template(sizes)
    wide = 2 * (sizes.half + sizes.fit + LIP)
    pieces = (
        Bare(
            "neck",
            "on the blank's glue plane, its lips at both edges, its edge on the joint",
            neck,
            UPSIDE_DOWN,
            Label(
                ("body side", "up"),
                (tenon.x_root - BAR / 2, 0.0, PLATE),
                (0.0, -1.0, 0.0),
                (1.0, 0.0, 0.0),
                wide - 8.0,
                BAR - 8.0,
            ),
        ),
        Bare(
            "mortise",
            "on the body's top, its edge over the rim at the joint",
            body,
            AS_IT_STANDS,
            Label(
                (f"{tenon.depth + DEEPER:.1f} deep", "up"),
                (tenon.x_end + AROUND / 2 - SIGHT / 2, 0.0, PLATE - sizes.low),
                (0.0, 1.0, 0.0),
                (-1.0, 0.0, 0.0),
                2 * (tenon.half_width + AROUND) - 8.0,
                AROUND - 3 * SIGHT,
            ),
        ),
    )
    return Draft(pieces, (), (lambda: findings(sizes, neck, body),), remarks(sizes))


def remarks(sizes: Plan) -> tuple[str, ...]:
    """How both are used."""
    tenon = sizes.tenon
    bottom = 2 * tenon.half_at(tenon.x_root, tenon.depth)
    return (
        "Saw the blank's body end off square first. Lay the template for the neck on the glue plane while the blank's "
        "sides are still parallel, its lips at both edges, its upright plate against the end. Draw a knife round both "
        f"plates and along the bar's edge, x {tenon.x_root:.2f} mm: that edge is the shoulders' line.",
        f"Both cheeks go straight from the lines on the glue plane to those on the end; at the joint the dovetail is "
        f"{bottom:.2f} mm wide at its bottom.",
        "Clamp the template for the mortise on the body's top, its notches on the centre line, its open edge over the "
        "rim at the joint. Mark it with a knife, and cut inside the line; the mortise leans and narrows as the "
        "dovetail does.",
        "They show lines for saw and chisel. They are too thin to lead a router.",
    )


def _tongue(tenon: Dovetail, x_to: float) -> list[Point]:
    """The dovetail's outline on the glue plane, in plan."""
    root, end = tenon.half_at(tenon.x_root), tenon.half_at(x_to)
    return [(tenon.x_root, -root), (x_to, -end), (x_to, end), (tenon.x_root, root)]


def neck_template(sizes: Plan) -> cq.Solid:
    """A bar with lips, a tongue of the dovetail's outline, and down from the tongue's end an upright plate of the
    dovetail's end face."""
    tenon, name = sizes.tenon, "dovetail template"
    near, inner = tenon.x_root - BAR, sizes.half + sizes.fit
    outer, x_end = inner + LIP, tenon.x_end + sizes.fit
    lips = [box((near, tenon.x_root), sorted_pair(side * inner, side * outer), (-LIP_DEPTH, 1.0)) for side in (-1, 1)]
    root = tenon.half_at(tenon.x_root)
    joined = [(x_end + 1.0, -tenon.half_width), (x_end + 1.0, tenon.half_width)]
    outline = _tongue(tenon, tenon.x_end)
    tongue = [(tenon.x_root - 1.0, -root), *outline[:2], *joined, *outline[2:], (tenon.x_root - 1.0, root)]
    parts = [*lips, prism(tongue, 0.0, PLATE, name)]
    bar = box((near, tenon.x_root), (-outer, outer), (0.0, PLATE), name)
    upright = across(_end_face(tenon), x_end, x_end + PLATE, name)
    whole = fuse(bar, [*parts, upright], name)
    notch = [(near - 1.0, -SIGHT - 1.0), (near + SIGHT, 0.0), (near - 1.0, SIGHT + 1.0)]
    return cut(whole, [prism(notch, -1.0, PLATE + 1.0, "notch at the centre line")], name)


def _end_face(tenon: Dovetail) -> list[Point]:
    """(y, z) of the end face, upright from the glue plane to the plate's top."""
    top, bottom = tenon.half_width, tenon.half_at(tenon.x_end, tenon.depth)
    return [(-top, PLATE), (-top, 0.0), (-bottom, -tenon.depth), (bottom, -tenon.depth), (top, 0.0), (top, PLATE)]


def sorted_pair(a: float, b: float) -> Point:
    """The two values, the smaller first."""
    return (a, b) if a < b else (b, a)


def mortise_template(sizes: Plan) -> cq.Solid:
    """A plate on the body's top with the dovetail's outline there as an opening, open toward the head."""
    tenon, name = sizes.tenon, "mortise template"
    wide, x_to = tenon.half_width + AROUND, tenon.x_end + AROUND
    root, end = tenon.half_at(tenon.x_root, sizes.low), tenon.half_at(tenon.x_end, sizes.low)
    slope = (end - root) / (tenon.x_end - tenon.x_root)
    start = tenon.x_root - 1.0
    opening = [(start, slope - root), (tenon.x_end, -end), (tenon.x_end, end), (start, root - slope)]
    z0, z1 = -sizes.low, PLATE - sizes.low
    notch = [(x_to + 1.0, -SIGHT - 1.0), (x_to - SIGHT, 0.0), (x_to + 1.0, SIGHT + 1.0)]
    tools = [prism(points, z0 - 1.0, z1 + 1.0, name) for points in (opening, notch)]
    return cut(box((tenon.x_root, x_to), (-wide, wide), (z0, z1), name), tools, name)


def findings(sizes: Plan, neck: cq.Solid, body: cq.Solid) -> list[Finding]:
    """Where the edges of both lie against the dovetail's own lines, and the fit of the lips, on sections of their
    meshes."""
    from shapely.geometry import Polygon
    from shapely.geometry import box as rectangle

    tenon, far = sizes.tenon, 1e3
    mesh = to_manifold(mesh_of(neck, 0.005), "dovetail template")
    beyond = rectangle(tenon.x_root + SLICE, -far, tenon.x_end - SLICE, far)
    tongue = level_section(mesh, SLICE).intersection(beyond)
    off = tongue.hausdorff_distance(Polygon(_tongue(tenon, tenon.x_end)).intersection(beyond))
    widths = []
    for share in (0.1, 0.5, 0.9):
        depth = share * tenon.depth
        low, high = level_section(mesh, -depth).intersection(rectangle(tenon.x_end, -far, far, far)).bounds[1::2]
        widths.append(max(abs(high - tenon.half_at(tenon.x_end, depth)), abs(low + tenon.half_at(tenon.x_end, depth))))
    lips = level_section(mesh, -LIP_DEPTH / 2).intersection(rectangle(-far, -far, tenon.x_root, far))
    gap = lips.distance(rectangle(-far, -sizes.half, tenon.x_root, sizes.half))
    plate = to_manifold(mesh_of(body, 0.005), "mortise template")
    open_at = beyond.difference(level_section(plate, PLATE / 2 - sizes.low))
    open_at = open_at.intersection(rectangle(0.0, -tenon.half_width - 1.0, far, tenon.half_width + 1.0))
    wanted = [(x, side * tenon.half_at(x, sizes.low)) for side in (-1, 1) for x in (tenon.x_root, tenon.x_end)[::side]]
    off_body = open_at.hausdorff_distance(Polygon(wanted).intersection(beyond))
    at = Place(tenon.x_end, 0.0, 0.0, None)
    edges = max(off, *widths)
    return [
        _edges("jig-dovetail-template-neck", edges, "both plates follow the dovetail's lines", at),
        _edges("jig-dovetail-template-mortise", off_body, "its opening follows the dovetail's outline there", at),
        yes_no_finding(
            check="jig/fit",
            part="jig-dovetail-template-neck",
            good=abs(gap - sizes.fit) < DOVETAIL_OFF,
            says=f"its lips stand {gap:.2f} mm off the blank at each side",
            measured=gap,
            limit=sizes.fit,
            held=(sizes.fit - DOVETAIL_OFF, sizes.fit + DOVETAIL_OFF),
            basis="workshop.printer.fit_per_side",
        ),
    ]


def _edges(part: str, off: float, says: str, at: Place) -> Finding:
    return yes_no_finding(
        check="jig/dovetail",
        part=part,
        good=off <= DOVETAIL_OFF,
        says=f"{says} to {off:.4f} mm",
        measured=off,
        limit=DOVETAIL_OFF,
        held=(None, DOVETAIL_OFF),
        basis="the law of the dovetail's cheeks",
        at=at,
    )
