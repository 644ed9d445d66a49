"""The versions that .ci/run tries: the lowest of everything without the CAD kernel, and the set the whole was proven
with."""

from __future__ import annotations

import ast
import re
import runpy
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version
from waiting import HANGS

import neckmodel

ROOT = Path(neckmodel.__file__).resolve().parents[1]
TESTS, CI = ROOT / "tests", ROOT / ".ci"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
NEEDED = [Requirement(text) for text in PROJECT["dependencies"]]
FOR_TESTS = [Requirement(text) for text in PROJECT["optional-dependencies"]["test"]]

KERNEL = {"cadquery", "OCP"}
# large, and used by few tests: not in lowest.txt either
LARGE = {"anastruct", "sectionproperties", "playwright", "pytest_benchmark", "IPython"}


def lines(name: str) -> list[str]:
    return [line for line in (CI / name).read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]


def without_kernel() -> list[Path]:
    """The test files that are listed as needing no kernel."""
    return [TESTS / line for line in lines("no-kernel.txt")]


def pins(name: str) -> dict[str, Version]:
    pairs = (line.split("==") for line in lines(name))
    return {canonicalize_name(package): Version(version) for package, version in pairs}


def test_the_lowest_versions_are_those_that_are_allowed() -> None:
    lowest = pins("lowest.txt")
    for needed in NEEDED:
        (least,) = [spec.version for spec in needed.specifier if spec.operator == ">="]
        if needed.name == "cadquery":
            assert needed.name not in lowest  # the tests are run without it
            continue
        tried = lowest[canonicalize_name(needed.name)]
        assert needed.specifier.contains(tried), needed
        # 3.5 is tried as 3.5.0: no release in between
        assert tried.release[: len(Version(least).release)] == Version(least).release, needed
    for needed in FOR_TESTS:
        assert needed.specifier.contains(lowest.get(canonicalize_name(needed.name), Version("99"))), needed


def test_the_proven_set_has_every_library_and_keeps_to_the_bounds() -> None:
    proven = pins("constraints.txt")
    for needed in (*NEEDED, *FOR_TESTS):
        assert needed.specifier.contains(proven[canonicalize_name(needed.name)]), needed


def test_these_tests_run_with_the_proven_set_or_the_lowest() -> None:
    """What is pinned is what is tried: ci/run exports it to pip before README's commands."""
    text = (CI / "run").read_text(encoding="utf-8")
    assert re.search(r"^export PIP_CONSTRAINT=.*\.ci/constraints\.txt", text, re.MULTILINE)
    assert text.index("export PIP_CONSTRAINT") < text.index("for name in build test")
    assert "-r .ci/lowest.txt" in text
    assert ".ci/no-kernel.txt" in text


OWN = {path.stem: path for path in sorted(TESTS.rglob("*.py")) if path.stem != "conftest"}
OWN_FILES = frozenset(OWN.values())


# --- which tests need no kernel --------------------------------------------------------------------------------------
def imported(path: Path) -> Iterator[str]:
    """Every module that a file imports, wherever in it, and the homes of the names that it takes from the package."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for block in ast.walk(tree):
        if isinstance(block, ast.If) and ast.unparse(block.test) == "TYPE_CHECKING":
            block.body.clear()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
            if node.module == "neckmodel":
                yield from (neckmodel._HOMES[alias.name] for alias in node.names if alias.name in neckmodel._HOMES)
        elif isinstance(node, ast.Attribute) and ast.unparse(node.value) == "neckmodel":
            yield from [neckmodel._HOMES[node.attr]] if node.attr in neckmodel._HOMES else []


def source(module: str, near: Path) -> Path | None:
    """The file of a module of the package or of the tests; None for any other."""
    if module.split(".")[0] == "neckmodel":
        stem = ROOT.joinpath(*module.split("."))
        return next((path for path in (stem.with_suffix(".py"), stem / "__init__.py") if path.is_file()), None)
    beside = near.parent / f"{module}.py"
    return beside if beside in OWN_FILES else OWN.get(module)


@cache
def steps(path: Path) -> frozenset[str | Path]:
    found: set[str | Path] = set()
    for module in imported(path):
        parts = module.split(".")
        for count in range(1, len(parts) + 1):
            inner = source(".".join(parts[:count]), path)
            if inner is not None:
                found.add(inner)
        if parts[0] != "neckmodel":
            found.add(parts[0])
    return frozenset(found)


def reaches(path: Path) -> set[str]:
    """Top names of all that a file can load by import, at once or later."""
    names: set[str] = set()
    seen, ahead = (
        set(),
        [path, *(p / "conftest.py" for p in path.parents if (p / "conftest.py").is_file() and p != ROOT)],
    )
    while ahead:
        here = ahead.pop()
        if here in seen:
            continue
        seen.add(here)
        for step in steps(here):
            if isinstance(step, Path):
                ahead.append(step)
            else:
                names.add(step)
    return names


def test_every_test_that_cannot_reach_the_kernel_is_tried_without_it() -> None:
    listed = set(without_kernel())
    assert all(path.is_file() for path in listed), "a listed file is not there"
    free = {
        path
        for path in TESTS.rglob("test_*.py")
        if "benchmarks" not in path.parts and reaches(path).isdisjoint(KERNEL | LARGE)
    }
    assert len(free) > 10
    missing = sorted(path.relative_to(TESTS).as_posix() for path in free - listed)
    assert not missing, f"add to .ci/no-kernel.txt: {missing}"


def test_none_of_those_loads_the_kernel_when_it_is_collected() -> None:
    """What they load while they run is seen in .ci/run, where there is none."""
    script = (
        "import sys, pytest\n"
        "sys.modules.update({name: None for name in ('cadquery', 'OCP', 'vtkmodules')})\n"
        "sys.exit(pytest.main(['--collect-only', '-q', '-o', 'addopts=', '-p', 'no:cacheprovider', *sys.argv[1:]]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *map(str, without_kernel())],
        capture_output=True,
        encoding="utf-8",
        cwd=ROOT,
        timeout=HANGS,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]


@pytest.mark.parametrize("name", ["lowest.txt", "constraints.txt"])
def test_every_line_is_one_exact_version(name: str) -> None:
    assert len(pins(name)) == len(lines(name))
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+==[0-9][A-Za-z0-9.]*", line) for line in lines(name))


def test_the_subjects_of_new_commits_are_short() -> None:
    """A list of commits shows 72 signs whole. Change a longer one with `git commit --amend`, or `git rebase -i`."""
    says, code = runpy.run_path(str(CI / "subjects.py"))["report"](ROOT)
    assert code == 0, says


def test_every_rule_of_the_lint_says_why_it_is_there() -> None:
    """In pyproject.toml each family of ruff's rules, and each of mypy's extra ones, has its reason on its line."""
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    settings = tomllib.loads(text)["tool"]
    chosen = [*settings["ruff"]["lint"]["select"], *settings["mypy"]["enable_error_code"]]
    reasons = dict(re.findall(r'^    "([\w-]+)", +# (.+)$', text, re.MULTILINE))
    assert set(chosen) <= set(reasons)
    assert all(len(reason.split()) >= 4 for reason in reasons.values())
    assert settings["mypy"]["strict"]
