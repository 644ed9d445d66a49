"""For every test: property tests try the same examples each time, and are not held to a time each."""

from __future__ import annotations

import shutil

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "repeatable", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=False
)
settings.load_profile("repeatable")


@pytest.fixture
def poppler() -> None:
    """For tests that look at a PDF through a reader that is not this project's."""
    if shutil.which("pdftoppm") is None or shutil.which("pdffonts") is None:
        pytest.skip("poppler-utils is not installed")
