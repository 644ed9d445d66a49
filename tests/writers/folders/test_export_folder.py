"""The export folder: all or nothing, and nobody's files but ours are ever replaced."""

from __future__ import annotations

import hashlib
import json
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import writer_samples as samples

from neckmodel.errors import ExportError
from neckmodel.writers.base import Job, Target
from neckmodel.writers.manifest import Manifest
from neckmodel.writers.registry import FORMATS

FILES = {
    "O-Grosse-assembly.step",
    "O-Grosse-blank.step",
    "O-Grosse-neck.step",
    "O-Grosse-blank.stl",
    "O-Grosse-neck.stl",
    "O-Grosse.3mf",
    "O-Grosse.glb",
    "findings.json",
    "layout.json",
    "design.toml",
    "manifest.json",
}


def test_everything_is_there_and_nothing_else(export: tuple[Path, Manifest]) -> None:
    place, _ = export
    assert {path.name for path in place.iterdir()} == FILES
    assert [path.name for path in place.parent.iterdir()] == ["sample"]


def test_the_manifest_knows_every_file(export: tuple[Path, Manifest]) -> None:
    place, manifest = export
    data = json.loads((place / "manifest.json").read_text(encoding="utf-8"))
    assert data["schema"] == "neckmodel/manifest/1"
    assert {fact["file"] for fact in data["files"]} == FILES - {"manifest.json"}
    for fact in data["files"]:
        found = (place / fact["file"]).read_bytes()
        assert (fact["sha256"], fact["size"]) == (hashlib.sha256(found).hexdigest(), len(found))
    assert [fact["file"] for fact in data["files"]] == sorted(FILES - {"manifest.json"})
    facts = {fact["file"]: fact for fact in data["files"]}
    neck = facts["O-Grosse-neck.step"]
    assert (neck["setup"], neck["parts"]) == ("back-up-bed", ["neck"])
    assert neck["up"].startswith("the back looks up")
    assert neck["origin"].endswith("the glue plane is at z = 0.0000 mm")
    assert facts["O-Grosse-assembly.step"]["setup"] is None
    assert facts["O-Grosse-assembly.step"]["parts"] == ["blank", "neck", "rod"]
    assert facts["O-Grosse-neck.stl"]["deflection"] == {"linear": 0.05, "angular": 0.2}
    assert facts["O-Grosse.glb"]["deflection"] == {"linear": 0.1, "angular": 0.3}
    assert (data["verdict"], data["failed"], data["despite_findings"]) == ("pass", [], False)
    assert data["counts"] == {"fail": 0, "warn": 0, "skipped": 1, "pass": 1}
    assert data["versions"]["cadquery"]
    assert data == json.loads(json.dumps(manifest.as_json()))
    assert str(place).encode() not in (place / "manifest.json").read_bytes()


def test_a_failed_check_refuses_by_name_and_writes_nothing(export_to: Any, tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="checks failed: wall/run"):
        export_to(tmp_path / "new" / "place", fail=True)
    assert list(tmp_path.iterdir()) == []


def test_despite_findings_every_text_says_so(export_to: Any, tmp_path: Path) -> None:
    manifest = export_to(tmp_path / "e", fail=True, despite_findings=True)
    assert (manifest.verdict, manifest.failed, manifest.despite_findings) == ("fail", ("wall/run",), True)
    for name in ("findings.json", "layout.json"):
        assert json.loads((tmp_path / "e" / name).read_bytes())["remark"] == "EXPORTED DESPITE FAILED CHECKS"
    text = (tmp_path / "e" / "design.toml").read_text(encoding="utf-8")
    assert text.startswith("# EXPORTED DESPITE FAILED CHECKS: wall/run\n")
    assert tomllib.loads(text) == tomllib.loads(samples.DESIGN)


def test_despite_findings_says_nothing_of_a_design_that_passes(export_to: Any, tmp_path: Path) -> None:
    assert export_to(tmp_path / "e", despite_findings=True).despite_findings is False


def test_an_earlier_export_is_replaced_whole(export_to: Any, tmp_path: Path) -> None:
    place = tmp_path / "e"
    export_to(place, formats=["stl"])
    (place / ".DS_Store").write_text("left by a file manager")
    export_to(place)
    assert {path.name for path in place.iterdir()} == {
        "O-Grosse.glb", "findings.json", "layout.json", "design.toml", "manifest.json",
    }  # fmt: skip
    assert [path.name for path in tmp_path.iterdir()] == ["e"]


def test_an_empty_folder_may_be_filled(export_to: Any, tmp_path: Path) -> None:
    (tmp_path / "e").mkdir()
    export_to(tmp_path / "e")
    assert (tmp_path / "e" / "manifest.json").is_file()


@dataclass(frozen=True)
class Broken:
    """A writer that fails in a chosen way, after others have written."""

    error: Exception | None
    name: str = "broken"
    suffix: str = ".broken"
    says: str = ""

    def targets(self, job: Job) -> tuple[Target, ...]:
        return (Target(f"{job.stem}.broken"),)

    def write(self, job: Job, target: Target, path: Path) -> None:  # noqa: ARG002
        path.write_text("half")
        if self.error:
            raise self.error

    def verify(self, job: Job, target: Target, path: Path) -> None:  # noqa: ARG002
        raise ExportError(f"{path.name}: read back differently")


@pytest.mark.parametrize(
    ("error", "kind", "says"),
    [
        (OSError(28, "No space left on device"), ExportError, "O-Grosse.broken: cannot be written: No space left"),
        (None, ExportError, "O-Grosse.broken: read back differently"),
        (KeyError("our own mistake"), KeyError, "our own mistake"),
    ],
)
def test_a_failure_leaves_the_earlier_export_whole(
    export_to: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: Exception | None, kind: type, says: str
) -> None:
    place = tmp_path / "e"
    export_to(place)
    before = samples.contents(tmp_path)
    monkeypatch.setitem(FORMATS, "broken", Broken(error))
    with pytest.raises(kind, match=says):
        export_to(place, formats=["glb", "broken"])
    assert samples.contents(tmp_path) == before
    assert [path.name for path in tmp_path.iterdir()] == ["e"]


def test_a_failing_rename_brings_the_earlier_export_back(
    export_to: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "e"
    export_to(place)
    before = samples.contents(tmp_path)
    rename = Path.rename

    def refuse_the_draft(self: Path, target: Path) -> Path:
        if self.name == "new":
            raise OSError(5, "Input/output error")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", refuse_the_draft)
    with pytest.raises(ExportError, match="Input/output error"):
        export_to(place, formats=[])
    assert samples.contents(tmp_path) == before


def test_progress_names_every_file(export_to: Any, tmp_path: Path) -> None:
    said: list[str] = []
    export_to(tmp_path / "e", progress=said.append)
    assert said == [f"writing {name}" for name in ("O-Grosse.glb", "findings.json", "layout.json", "design.toml")]


def test_the_folder_can_be_read_like_any_other(export_to: Any, tmp_path: Path) -> None:
    export_to(tmp_path / "e")
    (tmp_path / "plain").mkdir()
    (tmp_path / "plain" / "file").write_text("")
    assert (tmp_path / "e").stat().st_mode == (tmp_path / "plain").stat().st_mode
    modes = {path.stat().st_mode for path in (tmp_path / "e").iterdir()}
    assert modes == {(tmp_path / "plain" / "file").stat().st_mode}


def test_a_failure_leaves_no_new_folders(export_to: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(FORMATS, "broken", Broken(None))
    (tmp_path / "exports").mkdir()
    with pytest.raises(ExportError, match="read back differently"):
        export_to(tmp_path / "exports" / "of" / "today", formats=["broken"])
    assert [path.name for path in tmp_path.rglob("*")] == ["exports"]
