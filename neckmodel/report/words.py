"""Findings in words: verdicts with their signs, numbers beside their limits, and the words to type for a remedy."""

from __future__ import annotations

import math
import shlex
from typing import TYPE_CHECKING

from neckmodel.findings import FAIL, PASS, SKIPPED, VERDICTS, WARN, Finding, Findings, Place
from neckmodel.lengths import NONE, decimal, fraction_beside, mm, to_thousandths
from neckmodel.units import from_mm

if TYPE_CHECKING:
    from neckmodel.design import Design

WORDS = {FAIL: "FAIL", WARN: "WARN", SKIPPED: "SKIP", PASS: "PASS"}
DECIMALS = {"mm": 2, "in": 3, "tuners": 0}
TIE = 1e-6  # mm, the slack of every verdict
SMALL = 0.01  # mm, share, times: a smaller limit would be printed as 0.00
SIGNS = {FAIL: "✗", WARN: "!", SKIPPED: "·", PASS: "✓"}


def counted(findings: Findings) -> str:
    """`1 check fails, 2 warn, 3 are skipped, 28 pass`."""
    count = {verdict: sum(found.verdict == verdict for found in findings.findings) for verdict in VERDICTS}
    said = [
        f"{count[FAIL]} {'check fails' if count[FAIL] == 1 else 'checks fail'}",
        f"{count[WARN]} {'warns' if count[WARN] == 1 else 'warn'}",
        f"{count[SKIPPED]} {'is' if count[SKIPPED] == 1 else 'are'} skipped",
        f"{count[PASS]} {'passes' if count[PASS] == 1 else 'pass'}",
    ]
    return ", ".join(said)


def worst_first(findings: Findings) -> list[Finding]:
    """The findings by verdict, worst first; those of one verdict keep their order."""
    return sorted(findings.findings, key=lambda found: VERDICTS.index(found.verdict))


def measured(found: Finding, unit: str) -> str:
    """The measured value with its unit, in as many decimals as show that it differs from the limit. unit: "mm" or "in",
    of the design; inches with the nearest 1/64."""
    return _beside(found.measured, found, unit)


def worst_case(found: Finding, unit: str) -> str:
    """The value in the worst case, with its unit; empty where there is none."""
    return _beside(found.worst_case, found, unit)


def error(found: Finding, unit: str) -> str:
    """The bound of the measuring error, rounded up; empty where there is none."""
    if not found.error:
        return ""
    own = _unit(found, unit)
    shown, _, _ = measured(found, unit).partition(" ")
    return f"± {bound_in(_in(found.error, own), decimals_of(shown, DECIMALS.get(own, 2)))} {own}"


def bound_in(bound: float, decimals: int) -> str:
    """An error's bound in as many decimals as the number that it belongs to, rounded up, never down to nothing."""
    return f"{math.ceil(bound * 10**decimals - 1e-6) / 10**decimals:.{decimals}f}"


def decimals_of(shown: str, least: int) -> int:
    """How many decimals a number has as it is shown, or the least that its unit has, if that is more."""
    return max(len(shown.partition(".")[2]), least)


def limit(found: Finding, unit: str) -> str:
    """What the value is compared with: the limit, in as many decimals as it needs; or its range: `0.00 mm to 0.20 mm`,
    `at most 0.30 mm`."""
    least, most = (found.limit, None) if found.held is None else found.held
    own = _unit(found, unit)
    if most is None or least == most:
        return NONE if least is None else _limit(least, own)
    return f"at most {_limit(most, own)}" if least is None else f"{_limit(least, own)} to {_limit(most, own)}"


def _limit(stated: float, own: str) -> str:
    value = _in(stated, own)
    if own == "in":
        return _named(value, mm(value, 3 if round(value, 3) or not value else 6), own)
    least = DECIMALS.get(own, 2)
    enough = (n for n in (least, 3) if abs(value - round(value, n)) < 1e-9)
    return _named(value, mm(value, next(enough, 2 if abs(value) >= SMALL else 4)), own)


def near(place: Place) -> str:
    """The nearest fret; empty far from all."""
    if place.fret == 0 and place.x < -1.0:
        return "behind the nut"
    return "" if place.fret is None else "nut" if place.fret == 0 else f"fret {place.fret}"


def along(place: Place, unit: str) -> str:
    """`x 17.00 mm, nut`."""
    return ", ".join(part for part in (f"x {decimal(place.x, unit)}", near(place)) if part)


def across(place: Place, unit: str) -> str:
    """The place across the neck: `y 3.00 mm`."""
    return f"y {decimal(place.y, unit)}, z {decimal(place.z, unit)}"


def arguments(settings: dict[str, float | str], design: Design) -> str:
    """The `--set` arguments that make these settings over the design's file, ready for a shell."""
    return " ".join(f"--set {shlex.quote(f'{key}={_value(key, value, design)}')}" for key, value in settings.items())


def written_apart(value: float, other: float, decimals: int = 2) -> str:
    """`value` with as many decimals, up to 3 more than asked, as show that it differs from `other`. Values that a
    verdict takes for equal are printed alike."""
    if abs(value - other) > TIE:
        for more in range(3):
            shown = mm(value, decimals + more)
            if shown != mm(other, decimals + more):
                return shown
        return mm(value, decimals + 3)
    return mm(value, decimals)


def _beside(value: float | None, found: Finding, unit: str) -> str:
    if value is None or not math.isfinite(value):
        return NONE
    own = _unit(found, unit)
    shown, decimals = _in(value, own), DECIMALS.get(own, 2)
    if found.limit is None:
        return _named(shown, to_thousandths(shown, decimals) if own == "in" else mm(shown, decimals), own)
    decimals = decimals_of(_limit(found.limit, own).partition(" ")[0], decimals)
    return _named(shown, written_apart(shown, _in(found.limit, own), decimals), own)


def _unit(found: Finding, unit: str) -> str:
    """The unit to print: lengths in the design's unit; shares, times and degrees are the same in every design."""
    return unit if found.unit == "mm" else found.unit


def _in(value: float, unit: str) -> float:
    return from_mm(value, unit) if unit == "in" else value


def _named(value: float, shown: str, unit: str) -> str:
    return f"{shown} {unit}".rstrip() + (fraction_beside(value) if unit == "in" else "")


def _value(key: str, value: float | str, design: Design) -> str:
    """A remedy's value to type. Its lengths are in mm; in a file in inches they carry that unit, for a bare number is
    in the file's unit."""
    if isinstance(value, str):
        return value
    from neckmodel.design.values import fields
    from neckmodel.design.values.keys import split

    field = fields.field_at(type(design), split(key))
    unit = " mm" if design.design.units != "mm" and field is not None and fields.is_length(field) else ""
    return f"{value}{unit}" if isinstance(value, int) else f"{value:.2f}{unit}"
