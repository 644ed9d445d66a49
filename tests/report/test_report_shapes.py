"""The meshes inside a report: read back as a browser reads them, and held against the solids."""

from __future__ import annotations

import base64
import json
import re
from typing import Any

import numpy as np
import pytest
from neck_runs import laid_out
from report_cases import case

from neckmodel.meshes.weld import open_edges
from neckmodel.report.tables import layout_tables
from neckmodel.report.view import family, sides
from neckmodel.solids.kernel.gate import volume
from neckmodel.writers.base import VIEWING


def data_of(name: str) -> dict[str, Any]:
    found = re.search(r'<script type="application/json" id="view-data">(.*?)</script>', case(name).text, re.DOTALL)
    assert found is not None
    data: dict[str, Any] = json.loads(found[1])
    return data


def arrays(part: dict[str, Any]) -> tuple[np.ndarray, np.ndarray]:
    whole = np.frombuffer(base64.b64decode(part["corners"]), "<u2").reshape(-1, 3)
    corners = np.array(part["low"]) + np.array(part["step"]) * whole
    kind = "<u4" if part["wide"] else "<u2"
    return corners, np.frombuffer(base64.b64decode(part["triangles"]), kind).reshape(-1, 3).astype(np.int64)


@pytest.mark.parametrize("name", ["redpoll", "wren"])
def test_every_part_is_there_closed_and_as_large_as_its_solid(name: str) -> None:
    """Volume by the divergence theorem over the triangles against the kernel's, within what the deflection may take
    off over the whole skin; boxes within the deflection and a step of the numbers."""
    found, data = case(name), data_of(name)
    assert [part["name"] for part in data["parts"]] == [part.name for part in found.parts.parts]
    facts = {fact.name: fact for fact in found.findings.parts}
    for part in data["parts"]:
        corners, triangles = arrays(part)
        assert open_edges(triangles) == 0, part["name"]
        a, b, c = (corners[triangles[:, k]] for k in range(3))
        normals = np.cross(b - a, c - a)
        inside = float(np.einsum("ij,ij->", a, normals)) / 6
        area = float(np.linalg.norm(normals, axis=1).sum()) / 2
        assert inside == pytest.approx(volume(found.parts[part["name"]].solid), abs=VIEWING.linear * area)
        assert inside > 0
        box = (*corners.min(axis=0), *corners.max(axis=0))
        assert box == pytest.approx(facts[part["name"]].bounds, abs=VIEWING.linear + 0.01), part["name"]


def test_places_are_the_findings_places() -> None:
    found, places = case("redpoll").findings, data_of("redpoll")["places"]
    placed = [finding.at for finding in found.findings if finding.at is not None]
    given = np.array(sorted((place["x"], place["y"], place["z"]) for place in places))
    assert given == pytest.approx(np.array(sorted((at.x, at.y, at.z) for at in placed)), abs=1e-4)
    links = [int(number) for number in re.findall(r'data-place="(\d+)"', case("redpoll").text)]
    assert sorted(links) == list(range(len(places)))


@pytest.mark.parametrize(
    ("part", "of"), [("screw-12", "screw"), ("neck", "neck"), ("adjusting-key", "adjusting-key"), ("bar-1", "bar")]
)
def test_numbered_parts_are_switched_together(part: str, of: str) -> None:
    assert family(part) == of


@pytest.mark.parametrize(
    ("hand", "there"), [("right", ("treble side", "bass side")), ("left", ("bass side", "treble side"))]
)
def test_sides_follow_the_hand(hand: str, there: tuple[str, str]) -> None:
    """In a left-handed neck, the mirror image, the bass side lies at y > 0: redpoll's only bass-side tuner nearest to
    the nut, stated at y = -15, then stands at +15."""
    layout = laid_out("redpoll", f'design.hand="{hand}"')
    assert sides(layout) == there
    tuners = next(table for table in layout_tables(layout) if table.title.startswith("Tuners"))
    assert tuners.rows[0][2] == ("-15.00 mm" if hand == "right" else "15.00 mm")
