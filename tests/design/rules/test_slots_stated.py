"""Slotted heads as stated: what is refused, with which key and why, and what is only remarked on."""

from __future__ import annotations

import pytest
from slot_samples import PLOVER, RAMP, design, with_strings

from neckmodel.design import remarks
from neckmodel.errors import DesignError

POST = "{x = -45.0, y = -20.0, hole = 10.0, housing = {length = 24.0, width = 16.0}}"
FIRST = '{x = -45.0, side = "bass", below_face = 10.0, hole = 10.0}'


def refused(*sets: str, text: str = PLOVER) -> dict[str, str]:
    with pytest.raises(DesignError) as error:
        design(*sets, text=text)
    return {problem.key: str(problem) for problem in error.value.problems}


@pytest.mark.parametrize(
    ("sets", "key", "says"),
    [
        (("head.kind=stepped",), "head.slots", "does not fall away from the strings"),
        (("head.slots.to=-20",), "head.slots.to", "does not lie beyond from"),
        (("head.slots.width=21", "head.slots.edge=4", "head.slots.from=-130"), "head.slots.to", "shorter than its two"),
        (("head.slots.to=-195",), "head.slots.to", "lies beyond the head, 190 mm long"),
        (("head.slots.ramp.length=31",), "head.slots.ramp.length", "reaches beyond the head line"),
        (("head.tuners.0.x=-28",), "head.tuners[0].x", "does not lie between the ends of the slots"),
        (("head.tuners.0.below_face=20",), "head.tuners[0].below_face", "lies under the head, 20 mm thick"),
        (("head.tuners.0.string=7",), "head.tuners[0].string", "is more than the 6 strings"),
        (("head.tuners.0.side=left",), "head.tuners[0].side", "is not one of the choices"),
    ],
)
def test_refused_with_its_key_and_the_reason(sets: tuple[str, ...], key: str, says: str) -> None:
    found = refused(*sets)
    assert set(found) - {f"head.tuners[{k}].x" for k in range(6)} == {key} - {"head.tuners[0].x"}
    assert says in found[key]


def test_two_tuners_of_one_string() -> None:
    found = refused(text=with_strings([1, 2, 2, 4, 5, 6]))
    assert list(found) == ["head.tuners[2].string"]
    assert "is on tuner-2 already" in found["head.tuners[2].string"]


def test_a_post_in_a_slotted_head_is_refused_by_its_own_keys_alone() -> None:
    found = refused(text=PLOVER.replace(FIRST, POST))
    assert set(found) == {"head.tuners[0].y", "head.tuners[0].housing"}
    assert "stated beside head.slots" in found["head.tuners[0].y"]
    mixed = refused(text=PLOVER.replace(FIRST, FIRST.replace("hole", "y = 3.0, hole")))
    assert set(mixed) == {"head.tuners[0].y"}


def test_a_roller_in_a_head_without_slots() -> None:
    slots = next(row for row in PLOVER.splitlines() if row.startswith("slots"))
    found = refused(text=PLOVER.replace(slots + "\n", ""))
    assert {key.rpartition(".")[2] for key in found} == {"side", "below_face"}
    assert all("of a head without slots" in says for says in found.values())


def test_a_misspelt_key_of_a_roller_is_told_with_the_right_one() -> None:
    found = refused(text=PLOVER.replace(FIRST, FIRST.replace("side", "sides")))
    assert 'did you mean "side"?' in found["head.tuners[0].sides"]


def test_inches_and_numbers_in_the_wrong_unit() -> None:
    inches = design("design.units=in", text=_in_inches(PLOVER))
    assert inches.head.slots is not None
    assert inches.head.slots.from_ == pytest.approx(-30.0, abs=0.02)
    found = refused(text=PLOVER.replace("from = -30.0, to = -150.0", "from = -1.2, to = -5.9"))
    assert "makes sense only in inches" in found["head.slots.from"]


def _in_inches(text: str) -> str:
    """The same neck, its lengths in mm written as such in a file in inches."""
    from neckmodel.design.reading.units import convert

    return convert(design(text=text), "in").text


def test_remarks_on_unusual_sizes_and_limits_without_effect() -> None:
    assert not any("head.thickness" in remark for remark in remarks(design("head.thickness=21")))
    assert any("outside the usual 18 to 22" in remark for remark in remarks(design("head.thickness=15")))
    slots = next(row for row in PLOVER.splitlines() if row.startswith("slots"))
    bare = PLOVER.replace(slots + "\n", "").split("tuners = [")[0]
    assert "limits.head_core has no effect: the head has no slots" in remarks(design("limits.head_core=20", text=bare))


def test_designs_without_slots_keep_their_hash() -> None:
    """The limits of slotted heads, left at their defaults, are no part of a design's content."""
    assert design("limits.head_cheek=8.0").sha256 == design().sha256
    assert design("limits.head_cheek=9.0").sha256 != design().sha256
    assert design(text=PLOVER.replace(RAMP, "")).sha256 != design().sha256
