"""Every finding that a jig can give is explained, and nothing is explained that no jig gives."""

from __future__ import annotations

import ast
import json
from pathlib import Path

import pytest
import typer
from jig_runs import inspected

import neckmodel.findings
import neckmodel.jigs
from neckmodel.checks.explain.jigs import ABOUT_JIGS
from neckmodel.checks.registry import about
from neckmodel.cli.app import app


def written() -> set[str]:
    """The names of the findings that the jigs' own modules make: none is put together."""
    makers = {name for name in vars(neckmodel.findings) if name.endswith("_finding")}
    found = set()
    for path in Path(neckmodel.jigs.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") in makers:
                (check,) = (word.value for word in node.keywords if word.arg == "check")
                assert isinstance(check, ast.Constant), path.name
                found.add(check.value)
    return found


def test_what_jigs_find_is_what_is_explained() -> None:
    assert written() == {entry.name for entry in ABOUT_JIGS}
    assert {finding.check for finding in inspected("redpoll", "screw-guide").findings} <= written()


def test_each_says_what_it_measures_its_limit_and_its_source() -> None:
    for name in written():
        told = about(name)
        assert told.name == name
        assert len(told.measures) > 10
        assert told.limit
        assert told.source


@pytest.mark.parametrize(("asked", "count"), [("jig/overhang", 1), ("jig", len(ABOUT_JIGS))])
def test_explain_tells_one_or_the_family(asked: str, count: int, capsys: pytest.CaptureFixture[str]) -> None:
    typer.main.get_command(app).main(["explain", asked, "--json"], standalone_mode=False)
    told = json.loads(capsys.readouterr().out)["checks"]
    assert len(told) == count
    assert all(entry["name"].startswith("jig/") for entry in told)
