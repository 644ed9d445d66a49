"""The two seasons of `[seasons]`: refused, skipped, described."""

from __future__ import annotations

import re

import pytest
from strength_samples import findings, laid_out

from neckmodel.design.schema import json_schema
from neckmodel.errors import DesignError
from neckmodel.findings import Finding
from neckmodel.layout import Layout


def dried(layout: Layout) -> Finding:
    return findings(layout)["strength/moisture"]


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        ("seasons.damp.humidity=30", "seasons.damp.humidity = 30: is not damper than the dry season; allowed is more"),
        ("seasons.dry.humidity=0.35", "seasons.dry.humidity = 0.35: is too small; allowed are 5 to 95 %"),
        ("seasons.dry.temperature=68", "seasons.dry.temperature = 68: is too large; allowed are 0 to 45 °C"),
    ],
)
def test_seasons_that_cannot_be_are_refused(setting: str, says: str) -> None:
    with pytest.raises(DesignError, match=re.escape(says)):
        laid_out("redpoll", setting)


def test_seasons_in_which_wood_gets_no_damper_are_skipped() -> None:
    """The warmer the air, the drier the wood: 7.2 % at 36 % and 0 °C, 6.3 % at 37 % and 45 °C."""
    air = ("seasons.dry={humidity=36, temperature=0}", "seasons.damp={humidity=37, temperature=45}")
    found = dried(laid_out("redpoll", *air))
    assert found.verdict == "skipped"
    assert found.says == "seasons.damp.temperature = 45 °C leaves the wood no damper than in the dry season"


def test_the_schema_names_each_seasons_own_default() -> None:
    """35 % and 65 %, and not one for both."""
    tables = json_schema()["$defs"]
    defaults = [tables[name]["properties"]["humidity"]["description"] for name in ("DrySeason", "DampSeason")]
    assert defaults == ["Relative humidity, %. Default: 35.", "Relative humidity, %. Default: 65."]
