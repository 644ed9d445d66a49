"""Every length in a sentence carries its unit, so that none stays in mm in the sentences of a design in inches."""

from __future__ import annotations

import pytest
from inch_words import without_unit
from neck_runs import found_all

from neckmodel import presets


@pytest.mark.parametrize("preset", presets.names())
def test_no_sentence_of_a_finding_has_a_bare_number(preset: str) -> None:
    for finding in found_all(preset).findings:
        assert without_unit(finding.says) == [], finding.check
        assert without_unit(finding.basis) == [], finding.check
        if finding.remedy is not None:
            assert without_unit(finding.remedy.says, to_follow=True) == [], finding.check


@pytest.mark.parametrize(
    ("says", "bare"),
    [
        ("it must move 1.07 mm and can move 0.81", ["0.81"]),
        ("stands out 29.20 mm of 29.30 needed", ["29.30"]),
        ("the rod may start from x 4.00 to 9.02 mm; 3.00 mm are left", []),
        ("bow the neck by 0.25 mm (0.18 to 0.46), after years", ["0.18", "0.46"]),
        ("124.0 x 61.0 x 20.0 mm; a slope of 1 in 11.1, moduli x 1.10, 23.2 MPa", []),
        ("0.19 of a turn (0.07 to 0.74 over wood and years) sets 0.15 mm", []),
        ("3.86 mm² at x 17.00 mm, 3.86 at x 428.00 mm", ["3.86"]),
        ("12.3 mm3, 12.4 to 6.9 % of moisture, 0.89 of the area", []),
    ],
)
def test_what_the_rule_of_these_tests_finds(says: str, bare: list[str]) -> None:
    assert without_unit(says) == bare
