"""What every writer must do; a new one in the registry is tested here without a further line."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
import writer_samples as samples

import neckmodel.writers
from neckmodel.errors import ExportError
from neckmodel.writers.atomic import produce, verify
from neckmodel.writers.base import DESPITE, Job, Writer
from neckmodel.writers.registry import DOCUMENTS, FORMATS, format_named

WRITERS = [*FORMATS.values(), *DOCUMENTS]
every_writer = pytest.mark.parametrize("writer", WRITERS, ids=lambda writer: writer.name)


def text_inside(path: Path) -> bytes:
    """The bytes of a file, of a ZIP file the bytes of its members."""
    if not zipfile.is_zipfile(path):
        return path.read_bytes()
    with zipfile.ZipFile(path) as packed:
        return b"".join(packed.read(name) for name in packed.namelist())


@every_writer
def test_its_files_have_different_names_with_its_suffix(writer: Writer, job: Job) -> None:
    names = [target.file for target in writer.targets(job)]
    assert names
    assert len(set(names)) == len(names)
    assert all(name.endswith(writer.suffix) and name.isascii() for name in names)


@every_writer
def test_only_a_failed_design_says_so_inside_each_file(
    writer: Writer, job: Job, failed_job: Job, tmp_path: Path
) -> None:
    for design, expected in ((job, False), (failed_job, True)):
        for target in writer.targets(design):
            path = produce(writer, design, target, tmp_path)
            assert (DESPITE.encode() in text_inside(path)) is expected, path.name


@every_writer
def test_a_file_of_another_verdict_is_not_taken_for_ours(
    writer: Writer, job: Job, failed_job: Job, tmp_path: Path
) -> None:
    target = writer.targets(job)[-1]
    path = produce(writer, failed_job, target, tmp_path)
    with pytest.raises(ExportError, match=path.name):
        verify(writer, job, target, path)


@every_writer
@pytest.mark.parametrize("share", [0.0, 0.5, 0.999])
def test_a_file_cut_short_is_found(writer: Writer, job: Job, tmp_path: Path, share: float) -> None:
    target = writer.targets(job)[-1]
    path = produce(writer, job, target, tmp_path)
    data = path.read_bytes()
    path.write_bytes(data[: min(int(len(data) * share), len(data) - 2)])
    with pytest.raises(ExportError, match=path.name):
        verify(writer, job, target, path)


@every_writer
def test_what_cannot_be_verified_leaves_the_earlier_file_alone(
    writer: Writer, job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = writer.targets(job)[0]
    (tmp_path / target.file).write_text("earlier")

    def spoil(*given: object) -> None:
        Path(str(given[-1])).write_bytes(b"spoiled")

    monkeypatch.setattr(type(writer), "write", spoil)
    with pytest.raises(ExportError, match=target.file):
        produce(writer, job, target, tmp_path)
    assert (tmp_path / target.file).read_text() == "earlier"
    assert [path.name for path in tmp_path.iterdir()] == [target.file]


@every_writer
def test_a_folder_that_is_not_there_is_one_clear_message(writer: Writer, job: Job, tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="cannot be written"):
        produce(writer, job, writer.targets(job)[0], tmp_path / "missing")


def test_another_process_writes_the_same_bytes(export: tuple[Path, object], tmp_path: Path) -> None:
    """This process has written other files before and has another hash seed: neither may show."""
    folder, _ = export
    again = tmp_path / "again"
    environment = {**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Pacific/Auckland"}
    environment["PYTHONPATH"] = str(Path(neckmodel.writers.__file__).parents[2])
    script = Path(samples.__file__)
    subprocess.run([sys.executable, str(script), str(again)], check=True, env=environment)
    names = sorted(path.name for path in folder.iterdir())
    assert names == sorted(path.name for path in again.iterdir())
    assert [name for name in names if (folder / name).read_bytes() != (again / name).read_bytes()] == []


def test_importing_the_writers_loads_no_kernel_and_no_mesh_library() -> None:
    heavy = ("OCP", "cadquery", "trimesh", "lib3mf")
    code = f"import sys, neckmodel.writers; print([name for name in {heavy} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, encoding="utf-8")
    assert done.stdout.strip() == "[]"


def test_an_unknown_format_names_the_known_ones() -> None:
    with pytest.raises(ExportError, match="'stp' is not known; it is one of: step, stl, 3mf, glb"):
        format_named("stp")
