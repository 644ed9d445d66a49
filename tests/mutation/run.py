"""Whether the tests notice an edit: `python tests/mutation/run.py --rooms layout --wanted 100 --log edits.jsonl`.

Edits of the rooms' files are drawn by a seed, each made by itself in a copy of the tree, never in the tree itself, and
tried by the tests that stand nearest first: those that import the file, those of its room, of the room above, then all
that need no CAD kernel, last those that do (not with `--quick`). The first test that fails has caught it. One line of
JSON an edit; what the log holds already is not tried again, and `--again` tries those again that lived.
"""

from __future__ import annotations

import argparse
import importlib
import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

from edits import Edit, edits

ROOT = Path(__file__).resolve().parents[2]
KERNEL_FREE = ("design", "geometry", "layout", "strength", "work", "variants", "sheets")
# what else is tried last, by the first room of the file: where the kernel is needed
LAST = {
    "design": (),
    "layout": (
        "tests/layout",
        "tests/checks/wood",
        "tests/checks/rod",
        "tests/checks/remedies",
        "tests/work",
    ),
    "strength": ("tests/strength",),
    "solids": (
        "tests/solids",
        "tests/layout/heel",
        "tests/layout/head",
        "tests/layout/wood",
        "tests/whole",
    ),
    "checks": ("tests/checks", "tests/layout/measured", "tests/whole/test_main_job.py"),
    "writers": ("tests/writers", "tests/sheets/jigs"),
}
TOO_LONG = 8.0  # times as long as it ever took: it would never end
LIBRARIES = (
    "pytest",
    "hypothesis",
    "numpy",
    "scipy.integrate",
    "scipy.spatial",
    "scipy.optimize",
    "scipy.stats",
    "shapely",
    "ezdxf",
    "pydantic",
    "tomlkit",
    "svgelements",
    "jsonschema",
)
KERNEL = ("cadquery", "trimesh", "manifold3d")
LEAST, UNKNOWN = 120, 1800  # s of processor time that a stage is given whatever it took; and before that is known
ASLEEP = 40  # times as long by the clock, for a test that only waits: other work on the machine may slow it as much


class Copy:
    """A copy of the tree as it is committed, in which edits are made."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        archive = subprocess.run(["git", "archive", "HEAD"], cwd=ROOT, check=True, capture_output=True).stdout
        subprocess.run(["tar", "-x", "-C", str(folder)], input=archive, check=True)
        self.free = [
            f"tests/{line}"
            for line in (folder / ".ci" / "no-kernel.txt").read_text(encoding="utf-8").splitlines()
            if "/" in line and not line.startswith("#")
        ]
        self.took: dict[tuple[str, ...], float] = {}  # s of processor time, of each stage that has passed

    def write(self, file: str, text: str) -> None:
        path = self.folder / file
        path.write_text(text, encoding="utf-8")
        for stale in (path.parent / "__pycache__").glob(f"{path.stem}.*"):
            stale.unlink()  # two edits in one second, equally long, would share it

    def stages(self, file: str, quick: bool) -> Iterator[tuple[str, ...]]:
        """Test files and folders in the order in which they are tried; each stage holds none of those before."""
        rooms, seen = file.split("/")[1:-1], set()
        free = rooms[0] in KERNEL_FREE
        yield from self._stage([name for name in self._naming(file) if not free or name in self.free], seen)
        for depth in range(len(rooms), 0, -1):
            near = "/".join(["tests", *rooms[:depth]]) + "/"
            here = (str(p.relative_to(self.folder)) for p in sorted((self.folder / near).rglob("test_*.py")))
            yield from self._stage([name for name in here if not free or name in self.free], seen)
        if free:
            yield from self._stage(self.free, seen)
        last = [] if quick and free else [p for name in LAST.get(rooms[0], ()) for p in self._files(name)]
        yield from self._stage(last, seen)

    def _naming(self, file: str) -> list[str]:
        """The tests that import the edited file by its name."""
        module = file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        paths = sorted((self.folder / "tests").rglob("test_*.py"))
        return [
            str(path.relative_to(self.folder))
            for path in paths
            if "benchmarks" not in path.parts and f"{module} import" in path.read_text(encoding="utf-8")
        ]

    def _files(self, name: str) -> list[str]:
        path = self.folder / name
        return [name] if path.is_file() else [str(p.relative_to(self.folder)) for p in sorted(path.rglob("test_*.py"))]

    @staticmethod
    def _stage(names: list[str], seen: set[str]) -> Iterator[tuple[str, ...]]:
        new = tuple(name for name in names if name not in seen)
        seen.update(new)
        if new:
            yield new

    def tried(self, stage: tuple[str, ...]) -> str:
        """ "" if every test of the stage passes, or the first that does not. In a process of its own, which has the
        libraries of this one loaded."""
        limit = int(max(TOO_LONG * self.took[stage], LEAST)) if stage in self.took else UNKNOWN
        start = time.monotonic()
        with tempfile.TemporaryFile("w+") as said:
            child = os.fork()
            if child == 0:
                os.dup2(said.fileno(), 1)
                os.dup2(said.fileno(), 2)
                resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
                os._exit(_tests(self.folder, stage))
            ended, status, used = 0, 0, None
            while not ended:
                time.sleep(0.05)
                ended, status, used = os.wait4(child, os.WNOHANG)
                if not ended and time.monotonic() - start > ASLEEP * limit:
                    os.kill(child, signal.SIGKILL)
            if os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGKILL, signal.SIGXCPU):
                return "it never ends"
            said.seek(0)
            lines = said.read().splitlines()
        if status == 0:
            self.took[stage] = max(used.ru_utime + used.ru_stime, self.took.get(stage, 0.0))
            return ""
        failed = [line for line in lines if line.startswith(("FAILED", "ERROR"))]
        return failed[0] if failed else (lines or ["?"])[-1]


def _tests(folder: Path, stage: tuple[str, ...]) -> int:
    """Run tests with the copy's package; the exit code."""
    import pytest

    os.chdir(folder)
    os.environ |= {"PYTHONPATH": str(folder), "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    sys.path[:] = [
        str(folder),
        *(path for path in sys.path if path not in (str(ROOT), str(Path(__file__).parent))),
    ]
    options = [
        "-q",
        "-x",
        "-o",
        "addopts=",
        "-m",
        "not sweep",
        "-p",
        "no:cacheprovider",
        "--tb=no",
    ]
    try:
        return int(pytest.main([*options, *stage]))
    except BaseException:  # noqa: BLE001 - the fork must never come back into the run
        return 1
    finally:
        sys.stdout.flush()


def preload(names: Iterable[str]) -> None:
    """Load libraries once for all processes to come; never the package itself, which every edit changes."""
    for name in names:
        importlib.import_module(name)


def one(copy: Copy, edit: Edit, quick: bool) -> dict[str, Any]:
    """What became of an edit."""
    text = (copy.folder / edit.file).read_text(encoding="utf-8")
    told = {
        "edit": str(edit),
        "kind": edit.kind,
        "room": edit.file.split("/")[1],
        "what": "lived",
        "by": "",
        "stage": 0,
    }
    for number, stage in enumerate(copy.stages(edit.file, quick), 1):
        copy.write(edit.file, edit.applied(text))
        try:
            by = copy.tried(stage)
        finally:
            copy.write(edit.file, text)
        if by:
            if stage not in copy.took and (wrong := copy.tried(stage)):
                raise SystemExit(f"without any edit: {wrong}")
            return {**told, "what": "caught", "by": by[:160], "stage": number}
    return told


def drawn(folder: Path, rooms: list[str], seed: int) -> list[Edit]:
    """Every edit of the rooms in an order drawn by the seed."""
    found = []
    for room in rooms:
        for path in sorted((folder / "neckmodel" / room).rglob("*.py")):
            found += edits(path.read_text(encoding="utf-8"), path.relative_to(folder).as_posix())
    random.Random(seed).shuffle(found)
    return found


def logged(log: Path) -> dict[str, dict[str, Any]]:
    """What the log holds, by the edit: the last line about each."""
    lines = log.read_text(encoding="utf-8").splitlines() if log.exists() else []
    return {told["edit"]: told for told in map(json.loads, lines)}


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--rooms", default="layout,strength,checks,solids,writers")
    asked.add_argument("--wanted", type=int, default=300, help="so many edits in the log")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--log", type=Path, default=Path("edits.jsonl"))
    asked.add_argument("--again", action="store_true", help="try those again that lived")
    asked.add_argument(
        "--quick",
        action="store_true",
        help="without the tests that need the CAD kernel, where others do",
    )
    given = asked.parse_args()
    known = logged(given.log)
    rooms = given.rooms.split(",")
    preload(LIBRARIES if given.quick and set(rooms) <= set(KERNEL_FREE) else (*LIBRARIES, *KERNEL))
    folder = Path(tempfile.mkdtemp(prefix="edits-"))
    try:
        copy, count = Copy(folder), 0
        for edit in drawn(folder, rooms, given.seed)[: given.wanted]:
            before = known.get(str(edit))
            if before is None or (given.again and before["what"] == "lived"):
                told = one(copy, edit, given.quick)
                known[str(edit)] = told
                with given.log.open("a", encoding="utf-8") as log:
                    log.write(json.dumps(told, ensure_ascii=False) + "\n")
                count += 1
                sys.stdout.write(f"{count} {told['what']} {told['edit']} {told['by']}\n")
                sys.stdout.flush()
    finally:
        shutil.rmtree(folder)
    table = Counter((told["room"], told["what"]) for told in known.values())
    for (room, what), number in sorted(table.items()):
        sys.stdout.write(f"{room:10} {what:8} {number}\n")


if __name__ == "__main__":
    main()
