"""The long run over many designs, by number: `python tests/oracle/sweep.py --from 0 --to 2000 --log sweep.jsonl`.

Each design is read, laid out, built, checked, exported (every STEP and STL file is read again and must be equal) and
held against the oracle in one of two workers that live long; one that takes more than 20 s of processor, or 1.5 GiB,
counts as different. What the log holds already is not done again. `--layout-only` leaves the solids out; `--every N`
builds the solids of one in N.
One line of JSON a design: seed, what (built, refused, crashed, differs), why, seconds, the worker's peak memory.
"""

from __future__ import annotations

import argparse
import collections
import json
import multiprocessing
import resource
import sys
import tempfile
import time
import traceback
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

import generator
from oracle_compare import findings_differ, layout_differs

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out

MOST = {"cpu_seconds": 20.0, "peak_mb": 1536}


def one(
    task: tuple[int, bool], most: Mapping[str, float] = MappingProxyType(MOST), export: bool = True
) -> dict[str, Any]:
    """What became of one design. most: what it may take; of memory that is the process's peak, whatever else it did."""
    seed, solids = task
    start, used = time.perf_counter(), time.process_time()
    told: dict[str, Any] = {"seed": seed, "solids": solids}
    with tempfile.TemporaryDirectory() as folder:
        try:
            told |= _run(seed, solids, Path(folder), export)
        except Exception:  # noqa: BLE001 - whatever it is, it is logged under its seed
            told |= {"what": "crashed", "why": traceback.format_exc(limit=-4)[-1500:]}
    told["seconds"] = round(time.perf_counter() - start, 2)
    told["cpu_seconds"] = round(time.process_time() - used, 2)
    told["peak_mb"] = round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
    over = [name for name, limit in most.items() if told[name] > limit]
    if over and told["what"] == "built":
        told |= {"what": "differs", "why": [f"takes too much: {', '.join(over)}"]}
    return told


def _run(seed: int, solids: bool, folder: Path, export: bool = True) -> dict[str, Any]:
    tables = generator.tables(seed)
    try:
        layout = lay_out(generator.design_of(tables, folder))
    except DesignError as error:
        problem = error.problems[0]
        assert problem.key, "refused without a key"
        return {"what": "refused", "why": problem.key, "says": problem.says}
    differs = layout_differs(tables, layout)
    if solids:
        from neckmodel.checks import check
        from neckmodel.export import write
        from neckmodel.solids import build

        parts = build(layout)
        findings = check(parts)
        if export:  # raises where a file reads back differently
            write(parts, findings, folder / "export", despite_findings=True)
        differs += [f"{fact.name} is not sound" for fact in findings.parts if not (fact.valid and fact.watertight)]
        differs += findings_differ(tables, layout, findings)
    return {"what": "differs", "why": differs} if differs else {"what": "built"}


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--from", dest="first", type=int, default=0)
    asked.add_argument("--to", type=int, default=2000)
    asked.add_argument("--log", type=Path, default=Path("sweep.jsonl"))
    asked.add_argument("--layout-only", action="store_true")
    asked.add_argument("--every", type=int, default=1)
    given = asked.parse_args()
    lines = given.log.read_text().splitlines() if given.log.exists() else []
    done = {json.loads(line)["seed"] for line in lines}
    solids = {n: not given.layout_only and n % given.every == 0 for n in range(given.first, given.to)}
    tasks = [(seed, wanted) for seed, wanted in solids.items() if seed not in done]
    with given.log.open("a") as log, multiprocessing.get_context("spawn").Pool(2) as pool:
        for told in pool.imap_unordered(one, tasks):
            log.write(json.dumps(told) + "\n")
            log.flush()
    summary(given.log)


def summary(log: Path) -> None:
    """Shares, reasons, the slowest and the largest."""
    told = [json.loads(line) for line in log.read_text().splitlines()]
    counts = collections.Counter(line["what"] for line in told)
    why = collections.Counter(line["why"] for line in told if line["what"] == "refused")
    lines = [
        f"{what}: {count} of {len(told)}, {100 * count / max(len(told), 1):.1f} %" for what, count in counts.items()
    ]
    lines += [f"  refused for {key}: {count}" for key, count in why.most_common()]
    lines += [
        f"  seed {line['seed']} {line['what']}: {line['why']}"
        for line in told
        if line["what"] in ("crashed", "differs")
    ]
    most = {key: max(line[key] for line in told) for key in ("seconds", "cpu_seconds", "peak_mb")}
    lines.append(f"at most {most['seconds']} s, {most['cpu_seconds']} s of processor, {most['peak_mb']} MB")
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
