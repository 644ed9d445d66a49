"""`.ci/subjects.py` in histories made for it: long and short subjects, before and after the rule, shallow, and none."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

import neckmodel

SCRIPT = Path(neckmodel.__file__).resolve().parents[1] / ".ci" / "subjects.py"
BEFORE, AFTER = "2026-12-01T02:44:59+0000", "2026-12-01T02:45:00+0000"


def git(folder: Path, *words: str, date: str = AFTER) -> None:
    who = {
        f"GIT_{role}_{what}": "someone@example.org" for role in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")
    }
    quiet = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1", "GIT_AUTHOR_DATE": date}
    subprocess.run(["git", "-C", str(folder), *words], check=True, capture_output=True, env=os.environ | who | quiet)


def history(folder: Path, *commits: tuple[str, str]) -> Path:
    """A history with a commit for each (author's date, message)."""
    git(folder, "init", "--quiet")
    for date, message in commits:
        git(folder, "commit", "--quiet", "--allow-empty", "-m", message, date=date)
    return folder


def run(folder: Path) -> tuple[int, str]:
    done = subprocess.run([sys.executable, SCRIPT, folder], capture_output=True, encoding="utf-8", check=False)
    assert not done.stderr
    return done.returncode, done.stdout


@pytest.mark.parametrize(("signs", "code"), [(72, 0), (73, 1)])
def test_a_subject_has_at_most_72_signs(signs: int, code: int, tmp_path: Path) -> None:
    found, says = run(history(tmp_path, (AFTER, "x" * signs)))
    assert found == code
    assert ("73 signs of at most 72" in says) is bool(code)


def test_signs_are_counted_not_bytes_and_a_body_may_be_longer(tmp_path: Path) -> None:
    assert run(history(tmp_path, (AFTER, "ä" * 72 + "\n\n" + "y" * 200)))[0] == 0


def test_commits_from_before_the_rule_are_left_alone(tmp_path: Path) -> None:
    assert run(history(tmp_path, (BEFORE, "x" * 90), (AFTER, "short"))) == (
        0,
        "1 commits looked at, 0 with too long a subject\n",
    )


def test_any_commit_since_the_rule_counts_not_the_last_alone(tmp_path: Path) -> None:
    assert run(history(tmp_path, (AFTER, "x" * 73), (AFTER, "short")))[0] == 1


def test_a_shallow_clone_is_looked_at_as_far_as_it_goes(tmp_path: Path) -> None:
    (tmp_path / "whole").mkdir()
    whole = history(tmp_path / "whole", (AFTER, "short"), (AFTER, "x" * 73))
    git(tmp_path, "clone", "--quiet", "--depth", "1", f"file://{whole}", "shallow")
    code, says = run(tmp_path / "shallow")
    assert (code, says.splitlines()[-1]) == (1, "1 commits looked at, 1 with too long a subject")


def test_a_copy_without_history_says_so_and_is_not_taken_for_the_one_around_it(tmp_path: Path) -> None:
    history(tmp_path, (AFTER, "x" * 73))
    inside = tmp_path / "copy"
    inside.mkdir()
    code, says = run(inside)
    assert code == 0
    assert "has no history, so no commit to look at" in says
