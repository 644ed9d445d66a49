"""From the design to every derived number. numpy only: nothing here loads the CAD kernel."""

from __future__ import annotations

from neckmodel.layout.lay_out import lay_out
from neckmodel.layout.layout import Layout

__all__ = ["Layout", "lay_out"]
