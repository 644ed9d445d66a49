"""What the remedies of necks part way through their work do: every way that is offered is applied anew."""

from __future__ import annotations

from bench_wood import wood_put_back
from failing import Tally
from measured_runs import found_on, measured_parts
from neck_runs import as_overrides

from neckmodel.checks import prove
from neckmodel.checks.bench import Bench
from neckmodel.checks.trial import failing_of
from neckmodel.design import Design, changed
from neckmodel.errors import DesignError, KernelError, MeshError
from neckmodel.findings import Findings, ways_of
from neckmodel.layout import lay_out
from neckmodel.layout.json.layout import layout_json

WORSE = 0.05  # mm by which what is measured on meshes may differ


def try_measured(design: Design, tally: Tally) -> bool:
    """Checks a neck and, if it fails, applies each way that is offered. Whether it fails at all."""
    try:
        layout = lay_out(design)
        parts = measured_parts(layout)
        before = found_on(Bench(parts))
    except (DesignError, KernelError, MeshError):
        return False
    if before.passed:
        return False
    tally.designs += 1
    had, plain, has = failing_of(before), layout_json(layout), True
    measured = {key for key, _ in design.measured or ()}
    seen: dict[tuple[str, ...], Findings] = {}
    for finding in prove(parts, before).findings:
        if finding.verdict != "fail":
            continue
        tally.findings += 1
        if finding.remedy is None:
            has = False
            tally.without[finding.check.partition("/")[0]] += 1
            continue
        tally.offered += 1
        for way in ways_of(finding.remedy):
            settings = as_overrides(way.set)
            new = lay_out(changed(design, settings))
            back = list(wood_put_back(plain, layout_json(new), measured, way.says))
            assert not back, (finding.check, way.says, settings, back)
            if settings not in seen:
                seen[settings] = found_on(Bench(measured_parts(new, parts)))
                tally.ways += 1
                tally.bare += way.leaves == "warn"
            after = failing_of(seen[settings])
            assert finding.check not in after, (finding.check, settings)
            assert after <= had, (finding.check, settings, after - had)
            worse = list(_worse(before, seen[settings], finding.check))
            assert not worse, (finding.check, settings, worse)
    tally.with_offer += has
    return True


def _worse(before: Findings, after: Findings, mended: str) -> list[tuple[str, float, float]]:
    """Other failing checks that miss their limit by more than they did: (check, by how much before, after)."""
    missed = [
        {
            f.check: abs(f.measured - f.limit)
            for f in found.findings
            if f.verdict == "fail" and f.measured is not None and f.limit is not None
        }
        for found in (before, after)
    ]
    return [
        (check, missed[0][check], by)
        for check, by in missed[1].items()
        if check != mended and check in missed[0] and by > missed[0][check] + WORSE
    ]
