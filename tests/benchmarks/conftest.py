"""The designs that are timed: every preset."""

from __future__ import annotations

from pathlib import Path

import pytest

from neckmodel import presets
from neckmodel.design import Design, read


@pytest.fixture(params=presets.names())
def preset(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def design(preset: str) -> Design:
    return read(Path(presets.folder()) / f"{preset}.toml")
