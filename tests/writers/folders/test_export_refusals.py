"""What an export refuses: other people's files, links, and places that cannot be."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import writer_samples as samples

from neckmodel.errors import ExportError
from neckmodel.solids.parts import Part
from neckmodel.writers.base import file_stem
from neckmodel.writers.folders import export
from neckmodel.writers.folders.export import write
from neckmodel.writers.manifest import Manifest


def test_foreign_files_are_never_replaced(export_to: Any, tmp_path: Path) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "notes.txt").write_text("years of notes")
    with pytest.raises(ExportError, match="is not an earlier export"):
        export_to(mine)
    place = tmp_path / "e"
    export_to(place)
    (place / "notes.txt").write_text("on this neck")
    with pytest.raises(ExportError, match=r"holds what no export wrote: notes\.txt"):
        export_to(place)
    (place / "notes.txt").unlink()
    (place / "design.toml").write_text("edited here by mistake")
    with pytest.raises(ExportError, match=r"design\.toml was changed after the export"):
        export_to(place)
    assert (place / "design.toml").read_text() == "edited here by mistake"
    assert (mine / "notes.txt").read_text() == "years of notes"


@pytest.mark.parametrize("text", ["", "[]", '{"schema": "other/1", "files": []}', '{"schema": "neckmodel/manifest/1"}'])
def test_a_manifest_that_is_not_ours_does_not_make_it_ours(export_to: Any, tmp_path: Path, text: str) -> None:
    (tmp_path / "manifest.json").write_text(text)
    with pytest.raises(ExportError, match="is not an earlier export"):
        export_to(tmp_path)


def test_links_are_not_followed(export_to: Any, tmp_path: Path) -> None:
    elsewhere, place = tmp_path / "elsewhere", tmp_path / "e"
    export_to(elsewhere)
    before = samples.contents(elsewhere)
    place.symlink_to(elsewhere)
    with pytest.raises(ExportError, match="is a link"):
        export_to(place)
    place.unlink()
    export_to(place)
    (place / "findings.json").unlink()
    (place / "findings.json").symlink_to(elsewhere / "findings.json")
    with pytest.raises(ExportError, match="changed after the export"):
        export_to(place)
    assert samples.contents(elsewhere) == before


def test_a_place_that_cannot_be_is_one_clear_message(export_to: Any, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(ExportError, match="is a file, not a folder"):
        export_to(tmp_path / "file")
    with pytest.raises(ExportError, match="cannot be written"):
        export_to(tmp_path / "file" / "below")


def test_two_files_of_one_name_are_refused(parts: tuple[Part, ...], tmp_path: Path) -> None:
    twice = samples.job((*parts, parts[1]))
    with pytest.raises(ExportError, match=r"same name: \['O-Grosse-neck.stl'\]"):
        write(twice, tmp_path / "e", formats=["stl"])
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("redpoll", "redpoll"),
        ("O'Größe 漢", "O-Grosse"),
        ("../../etc/passwd", "etc-passwd"),
        (".hidden", "hidden"),
        ("a/b\\c:d", "a-b-c-d"),
        ("漢字", "neck"),
        ("", "neck"),
        ("x" * 300, "x" * 80),
    ],
)
def test_a_design_name_becomes_a_safe_file_name(name: str, stem: str) -> None:
    assert file_stem(name) == stem


def test_the_place_is_looked_at_again_before_the_swap(
    export_to: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Someone puts a file there while we write: it stays."""
    place = tmp_path / "e"
    saved = Manifest.save

    def save(self: Manifest, draft: Path) -> None:
        saved(self, draft)
        place.mkdir()
        (place / "notes.txt").write_text("just now")

    monkeypatch.setattr(export.Manifest, "save", save)
    with pytest.raises(ExportError, match="is not an earlier export"):
        export_to(place)
    assert samples.contents(tmp_path) == {"e/notes.txt": b"just now"}
