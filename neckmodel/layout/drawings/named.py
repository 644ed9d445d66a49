"""A drawing that the design names by a key. A fault in the drawing becomes an error about that key."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.layout.drawings.drawing import Drawing, read_drawing
from neckmodel.layout.drawings.shape import DrawingError

if TYPE_CHECKING:
    from neckmodel.design import Design, OutlineFile


@contextmanager
def refusing(design: Design, key: str) -> Iterator[None]:
    """Turns a DrawingError raised inside into a DesignError about the key that names the drawing."""
    try:
        yield
    except DrawingError as error:
        raise design.problem(key, str(error)) from None


def drawing_of(design: Design, key: str, outline: OutlineFile) -> Drawing:
    """The drawing that the key names; a relative path starts at the design file's folder."""
    with refusing(design, f"{key}.file"):
        return read_drawing(Path(design.source.file).parent / outline.file)
