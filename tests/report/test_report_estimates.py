"""What was measured at the bench and what is estimated, as parts of the page: the numbers are the layout's own."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from neck_runs import laid_out

from neckmodel import presets
from neckmodel.design import changed, read
from neckmodel.findings import Findings, PartFact
from neckmodel.layout import Layout, lay_out
from neckmodel.lengths import with_unit
from neckmodel.report.estimates import estimate_tables, estimates_section
from neckmodel.report.tables import built_section
from neckmodel.strength import estimate

NECK = PartFact("neck", 1_000_000.0, (0, 0, 0, 1, 1, 1), 1, True, True)  # a litre of it


def findings_of(layout: Layout) -> Findings:
    return Findings(layout.name, (), (NECK,))


def words(page: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).split())


def cells(layout: Layout, title: str) -> dict[str, tuple[str, ...]]:
    """Rows of the table whose title starts so, by their first cell."""
    table = next(t for t in estimate_tables(layout, findings_of(layout)) if t.title.startswith(title))
    return {row[0]: row[1:] for row in table.rows}


# --- as built --------------------------------------------------------------------------------------------------------
def test_nothing_measured_is_no_part_of_the_page() -> None:
    assert built_section(laid_out("redpoll")) == ""


def test_what_was_measured_stands_beside_the_plan_with_the_next_cut() -> None:
    """A channel 9.6 deep instead of 9.3 asks for a back no thinner than 18.88 and 20.88 mm."""
    said = words(built_section(laid_out("redpoll", "measured.channel.run.depth=9.6")))
    assert "channel.run.depth 9.30 mm 9.60 mm 0.30 mm" in said
    assert "The next cut by cross-sections, carve no thinner than 18.88 mm at fret 1 and 20.88 mm at fret 12" in said


def test_a_shallow_tenon_bounds_the_channel_that_is_still_to_be_cut() -> None:
    said = words(built_section(laid_out("wheatear", "measured.heel.tenon.depth=13.2")))
    assert "heel.tenon.depth 60.00 mm 13.20 mm -46.80 mm" in said
    assert "cut the anchor pocket no deeper than 10.20 mm" in said


def test_a_carved_neck_has_nothing_left_to_cut_under_its_fretboard() -> None:
    over = ("measured.neck.thickness.fret_1=19", "measured.neck.thickness.fret_12=21")
    said = words(built_section(laid_out("redpoll", *over)))
    assert "neck.thickness.fret_1 20.50 mm 19.00 mm -1.50 mm" in said
    assert "cut the" not in said
    assert "carve no thinner" not in said


def test_a_design_in_inches_is_told_in_inches() -> None:
    """wren's run is 9.3 mm deep as planned; 0.3 more is 9.6 mm, 0.378 in."""
    layout = lay_out(read(Path(__file__).parents[1] / "samples" / "wren.toml"))
    depth = layout.step("run").depth + 0.3
    measured = lay_out(changed(layout.design, (f"measured.channel.run.depth={depth} mm",)))
    said = words(built_section(measured))
    assert f"{with_unit(depth, 'in')} {with_unit(0.3, 'in')}" in said
    assert re.search(r"carve no thinner than 0\.\d+ in \(\S+\) at fret 1", said)


# --- estimates -------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", presets.names())
def test_every_preset_has_its_estimates(name: str) -> None:
    layout = laid_out(name)
    strength, said = estimate(layout), words(estimates_section(layout, findings_of(layout)))
    pulls = cells(layout, "Pull of the strings")
    assert len(pulls) >= len(layout.design.strings.each) + 1
    assert pulls["all"] == ("", "", f"{strength.pull.total:.1f} N")
    assert sum(
        float(row[2].removeprefix("about ").split()[0]) for name, row in pulls.items() if name.isdigit()
    ) == pytest.approx(strength.pull.total, abs=0.5)
    bends = cells(layout, "How the neck bends")
    relief = strength.relief
    near = f"relief by the strings, near fret {strength.fret:.0f}"
    assert bends[near] == tuple(with_unit(v, "mm") for v in (relief.low, relief.likely, relief.high))
    wanted = with_unit(layout.design.action.wanted_relief, "mm")
    which = "the rod" if not layout.design.rod or layout.design.rod.count == 1 else "each rod"
    assert (f"turns of {which} that set {wanted} of relief" in bends) == (layout.rod is not None)
    assert "estimates" in said.lower()
    assert "A knock or a fall is not covered" in said


def test_a_compression_rod_tells_what_it_presses_on() -> None:
    bends = cells(laid_out("wheatear"), "How the neck bends")
    assert {"pressure of the washer on end grain", "pressure of the anchor on end grain"} <= set(bends)
    assert bends["force in the rod for it"][2] == "out of reach"  # a weak neck after years asks for more than its proof
    assert bends["pressure of the washer on end grain"][2] == f"{3191.07 / 51.06:.1f} MPa"


def test_seasons_and_weight_by_hand() -> None:
    """A litre of hard maple at 12 % weighs 706 g, 10 % either way (Wood Handbook, table 5-6)."""
    layout = laid_out("redpoll")
    assert cells(layout, "Weight") == {"neck, sugar maple": ("635 g", "706 g", "777 g")}
    seasons = cells(layout, "From a damp season")
    assert seasons["moisture in the wood"] == ("7.0 % dry, 12.0 % damp",)
    assert seasons["fret ends proud a side, quarter-sawn"] == ("0.13 mm",)
    assert seasons["fret ends proud a side, flat-sawn"] == ("0.28 mm",)
    stated = cells(laid_out("redpoll", "fretboard.rings=flat"), "From a damp season")
    assert stated["fret ends proud a side, flat-sawn"] == ("0.28 mm",)
    assert not any("quarter-sawn" in row for row in stated)


def test_what_is_not_stated_is_named_and_the_rest_is_told() -> None:
    layout = laid_out("redpoll", "strings.each=[]")
    said = words(estimates_section(layout, findings_of(layout)))
    assert "No estimate of strength: strings.each is not stated" in said
    assert "How the neck bends" not in said
    assert "From a damp season to a dry one" in said
    odd = laid_out("redpoll", "neck.wood=plum", "woods.plum.density=600")
    said = words(estimates_section(odd, findings_of(odd)))
    assert "No estimate of strength: woods.plum.modulus is not stated" in said
