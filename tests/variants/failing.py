"""Random failing designs, and what their remedies do: the presets with a maker's slips in them, by number."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import dataclass, field

from measured_runs import found_on, measured_parts
from neck_runs import as_overrides

from neckmodel.checks import prove
from neckmodel.checks.bench import Bench
from neckmodel.checks.trial import failing_of
from neckmodel.design import Design, changed, read
from neckmodel.design.values.keys import look_up, split
from neckmodel.errors import DesignError, KernelError, MeshError
from neckmodel.findings import Finding, Findings, ways_of
from neckmodel.layout import lay_out
from neckmodel.presets import path_of

PRESETS = ("dunnock", "redpoll", "garganey", "whimbrel", "wheatear", "pipit")
# key, and from how much less to how much more than the preset states
SLIPS = (
    ("neck.thickness.fret_1", -4.0, -1.0),
    ("neck.thickness.fret_12", -4.0, -1.0),
    ("rod.length", 10.0, 70.0),
    ("rod.length", -60.0, -20.0),
    ("rod.height", 0.5, 5.0),
    ("rod.adjuster.diameter", 1.0, 5.0),
    ("rod.adjuster.axis_below_top", -2.5, 3.0),
    ("rod_place.from_nut", -5.0, 30.0),
    ("heel.wood_ends_at", -30.0, -2.0),
    ("board.length", -60.0, 5.0),
    ("board.thickness", -6.0, 1.0),
    ("channel.wider_by", -0.3, 0.3),
    ("channel.adjuster_clearance", -0.8, 1.0),
    ("head.tuners.0.y", -14.0, 14.0),
    ("head.tuners.1.x", -12.0, 12.0),
    ("heel.screws.0.y", -4.0, 14.0),
    ("heel.screws.1.length", -16.0, 12.0),
    ("workshop.cutters.0.diameter", 0.5, 5.0),
    ("workshop.cutters.0.stick_out", -22.0, 0.0),
    ("fretboard.fret_slot.depth", 0.5, 3.0),
)


def slipped(number: int) -> Design | None:
    """The design of this number: a preset with one or two slips, or both thicknesses off; None where it is refused."""
    chance = random.Random(number)
    preset = read(path_of(chance.choice(PRESETS)))
    overrides: dict[str, object] = {}
    stated = preset.model_dump(by_alias=True)
    for key, low, high in chance.sample(SLIPS, chance.choice((1, 1, 2))):
        value = look_up(stated, split(key))
        if isinstance(value, float):
            overrides[key] = round(value + chance.uniform(low, high), 2)
    try:
        design = changed(preset, overrides)
        lay_out(design)
    except DesignError:
        return None
    return design


@dataclass
class Tally:
    """What became of the failing findings of many designs. followers: findings that another one's remedy mends; ways:
    changes offered, each applied by itself; bare: of these, the ones told to pass only without the worst case."""

    designs: int = 0
    with_offer: int = 0
    findings: int = 0
    followers: int = 0
    offered: int = 0
    ways: int = 0
    bare: int = 0
    without: Counter[str] = field(default_factory=Counter)

    def __str__(self) -> str:
        rest = ", ".join(f"{why} {count}" for why, count in self.without.most_common())
        return (
            f"{self.designs} failing designs, {self.with_offer} with an offer for every finding; {self.offered} of "
            f"{self.findings} failing findings have one, {self.followers} of them by following another; {self.ways} "
            f"ways applied, {self.bare} of them told as bare; without one: {rest or 'none'}"
        )


def try_offers(design: Design, tally: Tally) -> bool:
    """Checks the design and, if it fails, applies every way that is offered anew. Whether it fails at all."""
    try:
        parts = measured_parts(lay_out(design))
        before = found_on(Bench(parts))
    except (DesignError, KernelError, MeshError):
        return False
    if before.passed:
        return False
    proved = prove(parts, before)
    tally.designs += 1
    seen: dict[tuple[str, ...], Findings] = {}
    mended: dict[str, int] = {}
    failing = [finding for finding in proved.findings if finding.verdict == "fail"]
    for finding in failing:
        tally.findings += 1
        tally.followers += finding.follows is not None
        if finding.remedy is None:
            tally.without[_why(before[finding.check].remedy is None, finding.check)] += 1
            continue
        tally.offered += 1
        if finding.follows is not None:
            assert finding.remedy == proved[finding.follows].remedy
        for number, way in enumerate(ways_of(finding.remedy)):
            settings = as_overrides(way.set)
            if settings not in seen:
                after = measured_parts(lay_out(changed(design, settings)), parts)
                seen[settings] = found_on(Bench(after))
                tally.ways += 1
                tally.bare += way.leaves == "warn"
            assert_mended(before, seen[settings], finding, way.leaves, settings)
            if number == 0:
                mended[finding.check] = len(failing_of(before) - failing_of(seen[settings]))
    tally.with_offer += all(finding.remedy is not None for finding in failing)
    assert not mended or mended.get(failing[0].check) == max(mended.values()), (failing[0].check, mended)
    return True


def assert_mended(before: Findings, after: Findings, finding: Finding, leaves: str, settings: tuple[str, ...]) -> None:
    """The finding passes as it is told to, nothing fails anew, and nothing that fails does so by more."""
    verdicts = {found.check: found.verdict for found in after.findings}
    verdict = verdicts.get(finding.check, "pass")
    allowed = ("pass", "skipped") if leaves == "pass" and finding.follows is None else ("pass", "warn", "skipped")
    assert verdict in allowed, (finding.check, verdict, settings)
    assert failing_of(after) <= failing_of(before), (finding.check, settings, failing_of(after) - failing_of(before))
    for name in failing_of(after):
        lacks = [abs((found[name].measured or 0.0) - (found[name].limit or 0.0)) for found in (before, after)]
        errors = sum(found[name].error or 0.0 for found in (before, after)) if after[name].unit == "mm" else 0.0
        assert lacks[1] <= lacks[0] + SAME + min(errors, MESHES), (finding.check, name, lacks, settings)


SAME, MESHES = 0.02, 0.1  # mm that a failing check may lack more: rounding, and the error of measuring on meshes


def _why(never: bool, check: str) -> str:
    if never:
        return f"{check.partition('/')[0]}: none known"
    return f"{check.partition('/')[0]}: all that were tried break another check or are refused"
