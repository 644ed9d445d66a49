"""What a script sees of the package beside its functions: version, presets by name, findings one by one, licence."""

from __future__ import annotations

import importlib.metadata
import re
from pathlib import Path

import pytest

import neckmodel
from neckmodel.errors import DesignError
from neckmodel.findings import Finding, Findings

ROOT = Path(neckmodel.__file__).resolve().parents[1]


def test_the_version_is_that_of_the_installation(monkeypatch: pytest.MonkeyPatch) -> None:
    assert neckmodel.__version__ == importlib.metadata.version("neckmodel")
    assert "__version__" in dir(neckmodel)

    def missing(name: str) -> str:
        raise importlib.metadata.PackageNotFoundError(name)

    monkeypatch.setattr(importlib.metadata, "version", missing)
    assert neckmodel.__version__ == "unknown"


def test_a_preset_is_read_by_its_name_and_a_file_of_that_name_goes_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    redpoll = ROOT / "presets" / "redpoll.toml"
    assert neckmodel.read("redpoll").sha256 == neckmodel.read(redpoll).sha256
    (tmp_path / "redpoll").write_text(
        redpoll.read_text(encoding="utf-8").replace('name = "redpoll"', 'name = "own"'), encoding="utf-8"
    )
    assert neckmodel.read("redpoll").name == "own"


def test_a_folder_named_like_a_preset_is_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "redpoll").mkdir()
    assert neckmodel.read("redpoll").name == "redpoll"
    with pytest.raises(DesignError, match=r"heron: the file: there is no such file; `neckmodel presets` lists"):
        neckmodel.read("heron")


def test_findings_are_gone_through_one_by_one() -> None:
    first, second = Finding("wall/run", "neck", "fail", "thin"), Finding("fit/run", "neck", "pass", "close")
    findings = Findings("wren", (first, second), ())
    assert list(findings) == [first, second]
    assert len(findings) == 2
    assert first in findings
    assert "fit/run" in findings
    assert "fit/end" not in findings
    assert findings["fit/run"] is second


def test_findings_without_any_are_findings_all_the_same() -> None:
    none = Findings("wren", (), ())
    assert len(none) == 0
    assert list(none) == []
    assert none
    assert none.passed


def test_the_readme_tells_of_both_other_systems() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    for system, command in (
        ("On Windows", r".venv\Scripts\neckmodel build redpoll"),
        ("On macOS", "bin/neckmodel build"),
    ):
        block = re.search(rf"{system}[^\n]*:\n\n```[a-z]+\n(.*?)```", text, re.DOTALL)
        assert block is not None, system
        assert len(block[1].splitlines()) == 2
        assert command in block[1]
