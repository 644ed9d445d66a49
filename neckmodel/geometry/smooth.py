"""The rise from 0 to 1 by which one shape changes into another."""

from __future__ import annotations


def smoothstep(u: float) -> float:
    """`u u (3 - 2u)` with u held between 0 and 1: rises from 0 to 1, level at both ends."""
    v = min(max(u, 0.0), 1.0)
    return v * v * (3.0 - 2.0 * v)
