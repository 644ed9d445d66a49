"""What the tests of the sheets need beside their cases."""

from __future__ import annotations

import shutil

import pytest


@pytest.fixture
def poppler() -> None:
    """For tests that look at a PDF through a reader that is not this project's."""
    if shutil.which("pdftoppm") is None or shutil.which("pdffonts") is None:
        pytest.skip("poppler-utils is not installed")
