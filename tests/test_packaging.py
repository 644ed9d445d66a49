"""The wheel: what is in it, and that an installed package finds its presets."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest
from waiting import HANGS

import neckmodel
from neckmodel import presets

ROOT = Path(neckmodel.__file__).resolve().parents[1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout, built by its own back end without fetching anything."""
    folder = tmp_path_factory.mktemp("dist")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
        timeout=HANGS,
    )
    (built,) = folder.glob("*.whl")
    return built


def test_the_wheel_holds_the_package_and_the_presets_and_nothing_else(wheel: Path) -> None:
    names = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    shipped = {f"neckmodel/presets/{path.name}" for path in (ROOT / "presets").iterdir()}
    tracked = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "neckmodel").rglob("*")
        if path.is_file() and path.suffix != ".pyc"
    }
    assert names == shipped | tracked
    assert {"neckmodel/py.typed", "neckmodel/report/web/three.min.js"} <= names


def test_the_wheel_holds_the_licence_in_the_package_and_beside_it(wheel: Path) -> None:
    """The text of the MIT licence as the Open Source Initiative publishes it, from memory."""
    archive = zipfile.ZipFile(wheel)
    held = [name for name in archive.namelist() if name.endswith("/LICENSE")]
    assert len(held) == 2
    for name in held:
        text = archive.read(name).decode()
        assert text == (ROOT / "neckmodel" / "LICENSE").read_text(encoding="utf-8")
        assert text.startswith("MIT License")
        assert "The above copyright notice and this permission notice shall be included in all" in text
        assert 'THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND' in text


def test_an_installed_wheel_finds_its_presets(wheel: Path, tmp_path: Path) -> None:
    """Unpacked elsewhere and run from elsewhere, so that the checkout cannot help."""
    zipfile.ZipFile(wheel).extractall(tmp_path / "site")
    done = subprocess.run(
        [sys.executable, "-P", "-m", "neckmodel", "layout", "redpoll", "--json"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path / "site")},
        capture_output=True,
        encoding="utf-8",
        timeout=HANGS,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert '"name": "redpoll"' in done.stdout
    where = subprocess.run(
        [sys.executable, "-P", "-c", "from neckmodel import presets; print(presets.folder())"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path / "site")},
        capture_output=True,
        encoding="utf-8",
        timeout=HANGS,
        check=True,
    )
    assert Path(where.stdout.strip()) == (tmp_path / "site" / "neckmodel" / "presets").resolve()


def test_a_checkout_finds_its_own_presets() -> None:
    assert presets.folder() == ROOT / "presets"
    assert set(presets.names()) >= {"dunnock", "redpoll", "garganey"}


def test_an_installation_without_presets_says_so(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(presets, "__file__", str(tmp_path / "neckmodel" / "presets.py"))
    with pytest.raises(Exception, match="the presets are missing from this installation"):
        presets.folder()


def test_every_dependency_says_what_it_is_for() -> None:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    wanted = tomllib.loads(text)["project"]["dependencies"]
    for dependency in wanted:
        (line,) = [line for line in text.splitlines() if line.strip().startswith(f'"{dependency}"')]
        assert "#" in line, dependency
