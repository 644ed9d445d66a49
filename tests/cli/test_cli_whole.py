"""The main job on real solids, redpoll from file to findings and files: once failing and once passing as processes of
their own, the rest in this one."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
from pathlib import Path

import pytest
from cli_runs import Invoke, environment
from waiting import HANGS

from neckmodel.checks import registry
from neckmodel.cli.build import CAUTION

THIN = ("--set", "neck.thickness.fret_1=18", "--set", "neck.thickness.fret_12=20")


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("bench")


def run(place: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "neckmodel", *arguments],
        capture_output=True,
        encoding="utf-8",
        cwd=place,
        env=environment() | {"COLUMNS": "80"},
        timeout=HANGS,
        check=False,
    )


@pytest.fixture(scope="module")
def thin(place: Path) -> subprocess.CompletedProcess[str]:
    """`check --json` of a redpoll too thin for its rod."""
    return run(place, "check", "redpoll", "--json", "--out", "found", *THIN)


@pytest.fixture(scope="module")
def built(place: Path) -> subprocess.CompletedProcess[str]:
    return run(place, "build", "redpoll")


def test_a_failing_check_is_code_1_with_its_numbers_in_json(thin: subprocess.CompletedProcess[str]) -> None:
    assert thin.returncode == 1, thin.stderr
    data = json.loads(thin.stdout)
    assert data["schema"] == "neckmodel/findings/1"
    assert data["passed"] is False
    (failed,) = [found for found in data["findings"] if found["verdict"] == "fail"]
    # by section 2.439: worked out by hand from the superellipse of fret 1 and 12 at the run's start
    assert failed["check"] == "wall/run"
    assert failed["measured"] == pytest.approx(2.439, abs=0.02)
    assert failed["limit"] == 3.0


def test_every_finding_is_explained(thin: subprocess.CompletedProcess[str]) -> None:
    for found in json.loads(thin.stdout)["findings"]:
        assert registry.about(found["check"]).measures, found["check"]


def test_the_json_left_in_a_folder_is_the_one_printed(thin: subprocess.CompletedProcess[str], place: Path) -> None:
    assert (place / "found" / "findings.json").read_text(encoding="utf-8") == thin.stdout


def test_progress_goes_to_stderr_only(thin: subprocess.CompletedProcess[str]) -> None:
    lines = thin.stderr.splitlines()
    assert "neckmodel: building redpoll" in lines
    assert "neckmodel: measuring redpoll" in lines


def test_a_passing_build_exports_what_it_says(built: subprocess.CompletedProcess[str], place: Path) -> None:
    assert built.returncode == 0, built.stderr
    folder = place / "exports" / "redpoll"
    manifest = json.loads((folder / "manifest.json").read_text())
    for fact in manifest["files"]:
        assert hashlib.sha256((folder / fact["file"]).read_bytes()).hexdigest() == fact["sha256"]
        assert fact["file"] in built.stdout
    suffixes = {path.suffix for path in folder.iterdir()}
    assert suffixes == {".step", ".stl", ".json", ".toml"}
    assert (folder / "redpoll-blank.step").is_file()


def test_a_build_ends_with_the_cautions(built: subprocess.CompletedProcess[str]) -> None:
    assert " ".join(built.stdout.split()).endswith(CAUTION)
    assert "EXPORTED DESPITE" not in built.stdout


def test_a_failing_build_exports_nothing_and_says_why(invoke: Invoke, tmp_path: Path) -> None:
    result = invoke("build", "redpoll", "--out", "thin", *THIN)
    assert result.exit_code == 1
    assert "Nothing was exported, because a check fails: wall/run." in " ".join(result.stdout.split())
    assert list(tmp_path.iterdir()) == []


def test_despite_findings_exports_and_every_file_says_so(invoke: Invoke, tmp_path: Path) -> None:
    result = invoke(
        "build", "redpoll", "--out", "despite", "--despite-findings", "--format", "stl", "--json", "-q", *THIN
    )
    assert result.exit_code == 1  # a check failed, exported or not
    data = json.loads(result.stdout)
    folder = tmp_path / data["folder"]
    assert sorted(path.name for path in folder.iterdir()) == sorted([*data["files"], "manifest.json"])
    assert json.loads((folder / "manifest.json").read_text())["despite_findings"] is True
    design = (folder / "design.toml").read_text()
    assert design.startswith("# EXPORTED DESPITE FAILED CHECKS: wall/run\n")
    assert "# set over this file: neck.thickness.fret_1 = 18\n" in design
    assert result.stderr == ""


def test_the_remedy_printed_makes_the_check_pass(thin: subprocess.CompletedProcess[str], invoke: Invoke) -> None:
    (failed,) = [found for found in json.loads(thin.stdout)["findings"] if found["verdict"] == "fail"]
    over = [word for key, value in failed["remedy"]["set"].items() for word in ("--set", f"{key}={value}")]
    result = invoke("check", "redpoll", *over)
    assert result.exit_code == 0
    assert result.stdout.startswith("✓ PASS  redpoll: 0 checks fail")
