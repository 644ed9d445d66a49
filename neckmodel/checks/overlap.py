"""overlap/<part>-<part>: parts that claim the same space. One finding where none do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.bench import HARDWARE_LINEAR
from neckmodel.checks.measure.overlap import Fit, overlaps
from neckmodel.checks.verdict import place
from neckmodel.findings import FAIL, PASS, Finding, range_finding
from neckmodel.limits import FLAT

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench

STOCK = ("board", "blank")
CHORDS = 0.05  # mm that the facets of a round part in its round hole may add to a stated fit


def check_overlaps(bench: Bench) -> list[Finding]:
    """A finding for each pair of parts that overlap; one for all where none do."""
    layout = bench.layout
    names = [name for name in bench.parts.names if name not in STOCK]
    wood = bench.wood_names
    fits = [Fit(s.name, name, (s.diameter - s.hole) / 2 + CHORDS) for s in layout.screws for name in wood]
    curved = [frozenset((t.name, name)) for t in layout.tuners for name in wood]
    curved += [frozenset((one.name, name)) for one in layout.rollers for name in wood]
    ends = [rod.suffix for rod in layout.rods]
    curved += [frozenset((f"{part}{end}", f"rod{end}")) for end in ends for part in ("adjusting-key", "cover-strip")]
    if layout.back_strip is not None:  # there the rod bears on the floor, and the strip on the rod
        curved += [frozenset((name, "rod")) for name in wood]
    screws = () if layout.clamp is None else layout.clamp.screws
    curved += [frozenset((s.name, name)) for s in screws for name in wood]
    bad = overlaps({name: bench.mesh(name) for name in names}, linear=HARDWARE_LINEAR, curved=curved, fits=fits)
    keys = {f"adjusting-key{end}" for end in ends}
    bad = [found for found in bad if not {found.first, found.second} <= keys]  # a hand turns one rod at a time
    if not bad:
        return [
            range_finding(
                check="overlap/none",
                part="assembly",
                verdict=PASS,
                says=f"{len(names)} parts, none in another's space",
                measured=0.0,
                error=FLAT,
                limit=FLAT,
                held=(None, FLAT),
                basis="geometry",
            )
        ]
    return [
        range_finding(
            check=f"overlap/{o.first}-{o.second}",
            part=o.first,
            verdict=FAIL,
            says=f"{o.first} and {o.second} share {o.volume:.2f} mm3, about {o.thickness:.3f} mm deep",
            measured=o.thickness,
            error=HARDWARE_LINEAR,
            limit=o.allowed,
            held=(None, o.allowed),
            basis="geometry",
            at=place(layout, o.at),
            more={"volume": round(o.volume, 4)},
        )
        for o in bad
    ]
