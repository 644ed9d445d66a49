"""Results of the variants as plain data for other programs: lengths in mm, keys in a fixed order."""

from __future__ import annotations

from neckmodel.layout import Layout
from neckmodel.variants.ranges import Variant
from neckmodel.variants.rods.fit import Fit
from neckmodel.variants.tolerance.report import Sure, ToleranceReport

RODS, RANGE, TOLERANCE = "neckmodel/rods/1", "neckmodel/vary-range/1", "neckmodel/vary-tolerance/1"
BY_SECTION = "by layout and cross-sections; `check` measures the solids"


def rods_json(name: str, fits: tuple[Fit, ...]) -> dict[str, object]:
    """The rods tried, the best first."""
    rods = [
        {
            "name": fit.name,
            "kind": fit.kind,
            "length": fit.length,
            "fits": fit.fits,
            "x_start": fit.x_start,
            "x_from": fit.x_from,
            "x_to": fit.x_to,
            "margin": fit.margin,
            "says": fit.says,
            "warns": fit.warns or None,
            "margins": [{"what": m.what, "kind": m.kind, "margin": _finite(m.value)} for m in fit.margins],
            "fitting_length_from": fit.length_from,
            "fitting_length_to": fit.length_to,
            "wrong": fit.wrong or None,
        }
        for fit in fits
    ]
    return {"schema": RODS, "name": name, "unit": "mm", "basis": BY_SECTION, "rods": rods}


def range_json(name: str, key: str, unit: str, variants: tuple[Variant, ...]) -> dict[str, object]:
    """The variants of one value. unit: "mm" where the value is a length, else ""."""
    rows = [
        {
            "value": variant.value,
            "keeps": variant.keeps,
            "refused": variant.refused or None,
            "walls": [{"step": wall.step, "wall": wall.wall, "x": wall.x} for wall in variant.walls],
            "rod_margin": variant.rod_margin,
            "first": None
            if variant.first is None
            else {"what": variant.first.what, "margin": _finite(variant.first.value)},
        }
        for variant in variants
    ]
    head = {"schema": RANGE, "name": name, "unit": "mm", "basis": BY_SECTION}
    return {**head, "key": key, "value_unit": unit, "variants": rows}


def tolerance_json(layout: Layout, report: ToleranceReport) -> dict[str, object]:
    """The share of necks that pass, for each check and for all."""
    return {
        "schema": TOLERANCE,
        "name": layout.name,
        "unit": "mm",
        "basis": BY_SECTION,
        "necks": report.necks,
        "seed": report.seed,
        "share_that_pass_all": report.every,
        "error": report.error,
        "checks": [_sure(sure) for sure in report.checks],
        "halving": [{"tolerance": name, "gain": gain} for name, gain in report.gains],
    }


def _sure(sure: Sure) -> dict[str, object]:
    return {
        "check": sure.check,
        "value": sure.value,
        "limit": sure.limit,
        "worst_case": sure.worst,
        "one_in_100_below": sure.low,
        "share_that_pass": sure.share,
        "error": sure.error,
        "largest": sure.largest,
        "sensitivities": dict(sure.takes),
    }


def _finite(value: float) -> float | None:
    return value if abs(value) < float("inf") else None
