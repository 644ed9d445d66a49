"""Necks of the kinds, the whole way: built, measured, exported and read back; jigs made, or refused with the reason."""

from __future__ import annotations

from pathlib import Path

import pytest
from kind_samples import KNOT, LINED, PLAIN, built, checked, found_all, laid_out, uncut

from neckmodel.checks import prove
from neckmodel.export import write
from neckmodel.jigs import KINDS, JigError, inspect, make_jig
from neckmodel.jigs.kinds.caul import frets
from neckmodel.layout import Layout

OF_A_CHANNEL = ("place", "access", "fit", "cover", "glue", "cutter")
TUNED = (
    KNOT
    + """
[[head.tuners]]
x = -40.0
y = -18.0
hole = 10.0
housing = {length = 20.0, width = 14.0}
"""
)


def test_nothing_of_a_channel_is_checked_where_there_is_none() -> None:
    found = found_all(KNOT)
    families = {finding.check.partition("/")[0] for finding in found}
    assert not families & set(OF_A_CHANNEL)
    assert {"strength", "section", "stock", "overlap", "fret-slots", "head"} <= families
    assert found["section/nut"].measured == 1.0
    assert found["section/nut"].says == "no channel is cut: the section is whole; the strings pull on the back"
    assert found.passed


def test_walls_of_holes_stay() -> None:
    """Of a tuner's hole to the head's outline: by hand half the face there, less the hole's place and half the hole;
    less than 0.3 mm of it is taken by the cove in which the outline begins."""
    found = found_all(TUNED)["head/tuners"]
    head = laid_out(TUNED).head
    half = (head.near + (head.far - head.near) * 40.0 / head.length) / 2
    assert found.measured is not None
    assert half - 18.0 - 5.0 - 0.3 < found.measured < half - 18.0 - 5.0


def test_a_plain_fretboard_has_no_slots_and_a_lined_one_is_judged() -> None:
    plain, lined = checked(PLAIN), checked(LINED)
    assert not [finding.check for finding in plain if finding.check.startswith("fret-slots")]
    assert {"fret-slots/wood", "fret-slots/edge"} <= {finding.check for finding in lined}
    assert plain.passed
    assert lined.passed
    volumes = {
        text: next(fact.volume for fact in found.parts if fact.name == "fretboard")
        for text, found in (("plain", plain), ("lined", lined))
    }
    board = laid_out(LINED).fretboard
    sawn = sum(
        board.slot_width * board.slot_depth * 2 * board.half_width(slot.x) for slot in board.slots
    )  # along the crown, which is hardly longer than its chord
    assert volumes["plain"] - volumes["lined"] == pytest.approx(sawn, rel=0.01)


@pytest.mark.parametrize("text", [KNOT, PLAIN], ids=["knot", "sloe"])
def test_every_format_reads_back(text: str, tmp_path: Path) -> None:
    """The export folder raises where a file reads back differently."""
    parts = built(text)
    write(parts, checked(text), tmp_path / "out", formats=["step", "stl", "3mf", "glb"])
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert {f"{parts.layout.name}-neck.{kind}" for kind in ("step", "stl")} <= names
    assert not any("rod" in name or "pockets" in name for name in names if text is KNOT)


def _says(layout: Layout, kind: str) -> str:
    with pytest.raises(JigError) as refused:
        make_jig(layout, kind)
    return str(refused.value)


def test_jigs_of_a_neck_without_a_channel() -> None:
    layout = laid_out(KNOT)
    for kind in ("routing-template", "trial-block"):
        assert _says(layout, kind) == f"{kind}: the design has no channel: it states neither a rod nor bars"
    assert set(KINDS) >= {"caul", "cradle", "contour-gauge"}


def test_a_caul_for_a_fretless_fretboard_has_no_grooves() -> None:
    assert frets(laid_out(PLAIN)) == frets(laid_out(LINED)) == ()
    jig = make_jig(laid_out(PLAIN), "caul")
    assert "frets" not in " ".join((*jig.remarks, *jig.draft.remarks))
    assert inspect(jig).passed


def test_prove_leaves_a_passing_neck_alone() -> None:
    assert prove(uncut(KNOT), checked(KNOT)) == checked(KNOT)
