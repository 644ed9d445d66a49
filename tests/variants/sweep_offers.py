"""The long run over failing designs, by number: `python tests/variants/sweep_offers.py --log offers.jsonl`.

Each design is checked, every way of every remedy that is offered applied anew to a copy, and the copy checked: the
finding passes, worst case included unless the way is told to be bare, no other check fails or lacks more, and the first
finding is the one whose remedy mends most. Workers live long; what the log holds already is not done again. One line of
JSON a failing design; the summary says what share has an offer, and why the rest has none.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import sys
import traceback
from collections import Counter
from itertools import count
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[1] / "samples")]

from as_built_slips import part_way  # noqa: E402
from failing import Tally, slipped, try_offers  # noqa: E402
from measured_offers import try_measured  # noqa: E402


def one(asked: tuple[int, bool]) -> dict[str, Any]:
    """What became of the design of this number, with measured sizes or without."""
    (number, measured), tally = asked, Tally()
    try:
        design = (part_way if measured else slipped)(number)
        failing = design is not None and (try_measured if measured else try_offers)(design, tally)
    except Exception:  # noqa: BLE001 - whatever it is, it is logged under its number
        return {"number": number, "wrong": traceback.format_exc(limit=-3)[-1200:]}
    return {"number": number, **vars(tally)} if failing else {"number": number}


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--from", dest="first", type=int, default=1000)
    asked.add_argument("--wanted", type=int, default=500)
    asked.add_argument("--workers", type=int, default=2)  # each takes some 600 MB
    asked.add_argument("--measured", action="store_true", help="necks part way through their work")
    asked.add_argument("--log", type=Path, default=Path("offers.jsonl"))
    given = asked.parse_args()
    told = [json.loads(line) for line in given.log.read_text().splitlines()] if given.log.exists() else []
    done = {line["number"] for line in told}
    with given.log.open("a") as log, multiprocessing.get_context("spawn").Pool(given.workers) as pool:
        numbers = (number for number in count(given.first) if number not in done)
        failing = sum("designs" in line for line in told)
        while failing < given.wanted:
            batch = [(next(numbers), given.measured) for _ in range(4 * given.workers)]
            for line in pool.imap_unordered(one, batch):
                told.append(line)
                log.write(json.dumps(line) + "\n")
                log.flush()
            failing = sum("designs" in line for line in told)
    summary(told)


def summary(told: list[dict[str, Any]]) -> None:
    whole, wrong = Tally(), [line for line in told if "wrong" in line]
    for line in told:
        if "designs" in line:
            for name in ("designs", "with_offer", "findings", "followers", "offered", "ways", "bare"):
                setattr(whole, name, getattr(whole, name) + line[name])
            whole.without += Counter(line["without"])
    sys.stdout.write(f"{whole}\n")
    for line in wrong:
        sys.stdout.write(f"number {line['number']}: {line['wrong']}\n")


if __name__ == "__main__":
    main()
