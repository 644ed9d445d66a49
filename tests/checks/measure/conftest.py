"""The two necks are prepared once for all tests that measure on them."""

from __future__ import annotations

import pytest
from measure_samples import NECK_OPENINGS, neck

from neckmodel.checks.measure.neck import PreparedNeck, prepare_neck


@pytest.fixture(scope="session", params=[2.6, 1.35], ids=["full back", "sharp back"])
def prepared(request: pytest.FixtureRequest) -> PreparedNeck:
    return prepare_neck(neck(request.param), NECK_OPENINGS)
