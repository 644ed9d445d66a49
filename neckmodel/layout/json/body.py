"""What the body bounds, and what it needs, as plain data for other programs: lengths in mm."""

from __future__ import annotations

from dataclasses import asdict

from neckmodel.layout.layout import Layout


def body_json(layout: Layout) -> dict[str, object]:
    """Outline and holes are points (x, y) in the neck's frame, null and empty where no drawing is stated."""
    body = layout.body
    return {
        "x_back": body.x_back,
        "cut_outs": [{"from": c.x_from, "to": c.x_to, "source": c.source} for c in body.cut_outs],
        "outline": None if body.outline is None else body.outline.tolist(),
        "holes": [hole.tolist() for hole in body.holes],
        "skew": body.skew,
        "off_at_bridge": body.off_at_bridge,
        "drawing_sha256": body.sha256,
    }


def wings_json(layout: Layout) -> list[dict[str, object]]:
    """The body's sides that are glued to a neck which runs through."""
    return [
        {
            "name": w.name,
            "x_start": w.x_start,
            "y": w.seam,
            "length": w.stock[0],
            "width": w.stock[1],
            "thickness": w.stock[2],
            "glued": w.glued,
        }
        for w in layout.body_wings
    ]


def recesses_json(layout: Layout) -> list[dict[str, object]]:
    """The pockets that the body needs for an adjuster at the heel and its key, as data; y only of two rods'."""
    off_centre = layout.paired
    return [{k: v for k, v in asdict(recess).items() if off_centre or k != "y"} for recess in layout.recesses]
