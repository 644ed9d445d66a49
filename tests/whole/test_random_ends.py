"""Heads and heels of every kind crossed at random: refused by a key, or built into sound parts of one whole."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from ends_samples import design, dxf, polyline, with_drawing
from ends_solids import assert_sound, box, share, wooden

from neckmodel.design import Design
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out

FAR = (-300.0, 300.0)


def any_head(pick: random.Random) -> str:
    kind = pick.choice(["stepped", "angled", "scarfed", "scarfed"])
    text = (
        f'[head]\nkind = "{kind}"\nthickness = {pick.choice([13, 14.5, 16])}\nlength = {pick.choice([120, 150, 190])}\n'
    )
    text += f"starts_at = {-pick.choice([6, 7.5, 9])}\n"
    text += f"drop = {pick.uniform(6, 11):.2f}\n" if kind == "stepped" else f"angle = {pick.uniform(5, 17):.2f}\n"
    if kind == "scarfed":
        text += f'scarf = "{pick.choice(["under", "on-ramp"])}"\n'
    if pick.random() < 0.5:
        text += f"volute = {{length = {pick.uniform(15, 45):.1f}, height = {pick.uniform(0.6, 7):.1f}}}\n"
    if pick.random() < 0.3:
        text += "outline = {near = 50, far = 90}\n"
        text += 'wings = [{side = "bass", width = 20}, {side = "treble", width = 20}]\n'
    return text


def any_heel(pick: random.Random) -> str:
    kind, depth = pick.choice(["tenon", "tenon", "bolted", "through"]), pick.choice([19, 25, 45, 60, 80])
    text = f'[heel]\nkind = "{kind}"\ndepth = {depth}\nswell_from = {pick.uniform(20, 45):.1f}\n'
    if kind == "tenon":
        sizes = (pick.uniform(8, 40), pick.uniform(15, 50), pick.uniform(10, depth))
        text += "tenon = {{length = {:.1f}, width = {:.1f}, depth = {:.1f}}}\n".format(*sizes)
    thick = pick.choice([None, 18, 20, 24, 45])
    return text + (f"[board]\nlength = 900\nwidth = 100\nthickness = {thick}\n" if thick else "")


def laid_out(wanted: Design) -> Layout | None:
    try:
        return lay_out(wanted)
    except DesignError as error:
        refused = error.problems[0].key
    assert refused.split(".")[0] in ("head", "heel")
    return None


@pytest.mark.parametrize("seed", range(16))
def test_any_head_with_any_heel(seed: int) -> None:
    """Volume: the glued parts add up to the whole within 1e-5, as closed forms and the section's law do elsewhere."""
    pick = random.Random(seed)
    layout = laid_out(design(any_head(pick), any_heel(pick)))
    if layout is not None:
        assert_sound(wooden(layout))


@pytest.mark.parametrize("seed", range(12))
def test_any_outline(seed: int, tmp_path: Path) -> None:
    """Random corners and arcs, unlike on both sides: beyond the swell the wood is the outline's area times 14."""
    pick = random.Random(seed)
    length = pick.uniform(110, 220)
    sides: list[list[tuple[float, float, float]]] = []
    for sign in (1, -1):
        xs = [5.0, *(-pick.uniform(35, length) for _ in range(pick.randint(1, 5))), -length + pick.uniform(0, 8)]
        sides.append(
            [
                (
                    x,
                    sign * (pick.uniform(20, 26) if x > -34 else pick.uniform(12, 60)),
                    pick.choice([0, 0, pick.uniform(-0.3, 0.3)]),
                )
                for x in sorted(xs, reverse=True)
            ]
        )
    corners = sides[0] + [(x, y, 0.0) for x, y, _ in sides[1][::-1]]
    layout = laid_out(with_drawing(tmp_path, dxf(polyline(corners)), "head.dxf"))
    if layout is not None:
        parts = wooden(layout)
        assert_sound(parts)
        assert layout.head.contour is not None
        area = layout.head.contour.area
        assert share(parts.carved, box((-400, -30), FAR, FAR)) == pytest.approx(14 * area, rel=1e-5)
