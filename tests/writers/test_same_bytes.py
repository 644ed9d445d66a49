"""The same design gives the same bytes: whatever the hash seed, the time zone, the locale, the folder and the day."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

from waiting import HANGS

import neckmodel

ROOT = Path(neckmodel.__file__).resolve().parents[1]
# everything that is written: solids, meshes, tables, sheets on two papers and in every format, page, a jig's folder
COMMANDS = """
import contextlib, locale, sys
for name in sys.argv[1:]:
    with contextlib.suppress(locale.Error):  # a machine need not have it
        locale.setlocale(locale.LC_ALL, name)
import typer
from neckmodel.cli.app import app

command = typer.main.get_command(app)
formats = [word for name in ("step", "stl", "3mf", "glb") for word in ("--format", name)]
drawn = [word for name in ("pdf", "svg", "dxf") for word in ("--format", name)]
for words in (
    ["build", "redpoll", *formats, "--with-sheets", "--with-report", "--quiet"],
    ["sheets", "redpoll", *drawn, "--paper", "A4", "--paper", "long", "--quiet"],
    ["sheets", "wheatear", "--format", "dxf", "--dxf-unit", "in", "--quiet"],
    ["jig", "redpoll", "screw-guide", "--quiet"],
):
    code = command.main(words, standalone_mode=False)
    assert code in (None, 0), (words, code)
"""
RUNS = (
    ({"PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C", "COLUMNS": "60"}, ()),
    (
        {"PYTHONHASHSEED": "4", "TZ": "Pacific/Auckland", "LC_ALL": "C.UTF-8", "COLUMNS": "200"},
        ("de_DE.UTF-8", "tr_TR.UTF-8"),
    ),
)


def test_two_seeds_zones_locales_and_folders(tmp_path: Path) -> None:
    runs, folders = [], []
    for number, (own, locales) in enumerate(RUNS):
        folder = tmp_path / ("a" * (number + 1)) / f"run {number}"
        folder.mkdir(parents=True)
        folders.append(folder)
        environment = {key: value for key, value in os.environ.items() if not key.startswith("LC_")}
        environment.update({"PYTHONPATH": str(ROOT), **own})
        command = [sys.executable, "-c", COMMANDS, *locales]
        runs.append(
            subprocess.Popen(
                command, cwd=folder, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8"
            )
        )
    for run in runs:
        said, _ = run.communicate(timeout=HANGS)
        assert run.returncode == 0, said
    first, second = (
        {
            path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in folder.rglob("*")
            if path.is_file()
        }
        for folder in folders
    )
    suffixes = {Path(name).suffix for name in first}
    assert suffixes >= {".step", ".stl", ".3mf", ".glb", ".json", ".toml", ".html", ".pdf", ".svg", ".dxf"}
    assert first.keys() == second.keys()
    assert [name for name in first if first[name] != second[name]] == []
