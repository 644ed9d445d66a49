"""A dovetail crossed with what is measured, drawn and tried: the neck is dunlin, whose rod goes through the dovetail
and is turned through the soundhole. No CAD kernel."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from sheet_cases import layout_of

from neckmodel.design.rods import read_rods
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.json.layout import layout_json
from neckmodel.strength import estimate
from neckmodel.variants import fit_rods, vary_tolerance

STRIPS = "board.strips=[{width=30, wood='mahogany'}, {width=4, wood='maple'}, {width=30, wood='mahogany'}]"


def tenon(*over: str) -> Dovetail:
    found = layout_of("dunlin", *over).heel.tenon
    assert isinstance(found, Dovetail)
    return found


def test_a_measured_dovetail_is_the_one_that_counts() -> None:
    """38 wide as planned, 37.6 as cut: its root is narrower by as much, and so is the wood beside the channel there."""
    cut = "measured.heel.tenon.width=37.6"
    assert tenon().half_at(tenon().x_root) - tenon(cut).half_at(tenon(cut).x_root) == pytest.approx(0.2)
    planned, found = (layout_json(layout_of("dunlin", *over))["heel"] for over in ((), (cut,)))
    assert planned["tenon"]["width"] - found["tenon"]["width"] == pytest.approx(0.4)


def test_necks_drawn_with_the_workshop_s_tolerances_have_walls_in_the_dovetail() -> None:
    drawn = vary_tolerance(layout_of("dunlin"), 300)
    walls = {found.check: found for found in drawn.checks if found.check.startswith("wall/")}
    assert {"wall/run", "wall/block"} <= walls.keys()
    assert all(found.share == 1.0 for found in walls.values())


def test_rods_are_tried_in_it(tmp_path: Path) -> None:
    """The place of a rod turned from inside the body ends where its block would leave the wood."""
    text = Path(__file__).parents[2].joinpath("presets", "dunlin.toml").read_text()
    rod = text[text.index("[rod]") : text.index("[rod_place]")].partition("\n")[2]
    own, key = rod.partition("[adjusting_key]")[::2]
    file = tmp_path / "rods.toml"
    table = "{" + ", ".join(line for line in key.strip().splitlines() if "=" in line) + "}"
    long = own.replace("length = 382.0", "length = 420.0")
    file.write_text(
        f'[[rod]]\nname = "own"\n{own}adjusting_key = {table}\n[[rod]]\nname = "long"\n{long}adjusting_key = {table}\n'
    )
    first, second = fit_rods(layout_of("dunlin").design, read_rods(str(file)))
    assert (first.fits, second.fits) == (True, False)


def test_strips_run_through_it_and_stiffness_stays_near() -> None:
    """Two strips of the neck's own wood and a narrow one of maple: stiffer by less than the maple's share."""
    plain, strips = estimate(layout_of("dunlin")), estimate(layout_of("dunlin", STRIPS))
    assert len(layout_of("dunlin", STRIPS).strips) == 3
    assert 0.9 < strips.relief.likely / plain.relief.likely < 1.0


def test_a_tapered_heel_bends_as_an_upright_one_does_up_to_the_joint() -> None:
    """Only the swell's last few mm know how the heel narrows."""
    upright = ("heel.width=follow-fretboard", "heel.cap.thickness=3")
    tapered, other = estimate(layout_of("dunlin")), estimate(layout_of("dunlin", *upright))
    assert tapered.relief.likely == pytest.approx(other.relief.likely, rel=5e-3)
    assert math.isfinite(tapered.relief.high)
