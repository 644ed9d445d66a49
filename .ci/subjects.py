"""Tells of commits whose subject is longer than a list of commits shows whole: `python .ci/subjects.py [FOLDER]`.

Only commits written since the rule was made are looked at, by their author's date, which a rebase keeps. In a shallow
clone these are the commits it has; a copy without any history has none, and the answer says so. Exits with 1 where a
subject is too long.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

MOST = 72  # signs: git's own lists indent a subject by 4 on a line of 80 and leave 4 free; common practice, no source
SINCE = 1796093100  # 2026-12-01 02:45 UTC, in seconds since 1970


def history(folder: Path) -> list[tuple[str, str]] | None:
    """(hash, subject) of the commits since the rule was made, the newest first; None where there is no history."""
    top = _git(folder, "rev-parse", "--show-toplevel")
    told = _git(folder, "log", "--format=%at %h %s", "HEAD")
    if top is None or told is None or Path(top.strip()).resolve() != folder.resolve():
        return None
    rows = (line.split(" ", 2) for line in told.splitlines())
    return [(name, subject) for written, name, subject in rows if int(written) >= SINCE]


def _git(folder: Path, *words: str) -> str | None:
    """What git answers, in a folder; None where it cannot."""
    try:
        told = subprocess.run(["git", "-C", str(folder), *words], capture_output=True, encoding="utf-8", check=False)
    except FileNotFoundError:
        return None
    return None if told.returncode else told.stdout


def report(folder: Path) -> tuple[str, int]:
    """(what is found, exit code)."""
    found = history(folder)
    if found is None:
        return f"{folder} has no history, so no commit to look at", 0
    long = [
        f"{name} has {len(subject)} signs of at most {MOST}: {subject}"
        for name, subject in found
        if len(subject) > MOST
    ]
    return "\n".join([*long, f"{len(found)} commits looked at, {len(long)} with too long a subject"]), 1 if long else 0


if __name__ == "__main__":
    says, code = report(Path(sys.argv[1] if len(sys.argv) > 1 else "."))
    sys.stdout.write(f"{says}\n")
    sys.exit(code)
