"""Imports go down the floors, never up or round, and nothing loads the CAD kernel that does not need it."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from waiting import HANGS

import neckmodel

PACKAGE = Path(neckmodel.__file__).resolve().parent
FILES = sorted(PACKAGE.rglob("*.py"))

# from the ground up; a module imports only from its own floor and those below
FLOORS = (
    ("errors", "units", "limits", "findings", "presets", "lengths", "stopping", "notebook", "geometry", "memory"),
    ("design",),
    ("layout",),
    ("solids", "strength"),
    ("work",),
    ("meshes",),
    ("jigs",),
    ("checks",),
    ("sheets",),
    ("writers",),
    ("report",),
    ("export",),
    ("variants",),
    ("cli",),
    ("__init__", "__main__"),
)
HEIGHT = {name: floor for floor, names in enumerate(FLOORS) for name in names}

KERNEL = {"cadquery", "OCP", "vtk", "vtkmodules"}
# the files that write STEP write the exact solids, and look at them to verify what they wrote
MAY_NAME_KERNEL = ("solids/", "jigs/", "meshes/", "checks/measure/", "writers/step/")


def place(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def floor_of(module: str) -> int:
    """`neckmodel.layout.rod` stands on the floor of `layout`; `neckmodel` itself is the roof."""
    parts = module.split(".")
    return HEIGHT[parts[1] if len(parts) > 1 else "__init__"]


def imports(path: Path, *, typing_too: bool) -> Iterator[tuple[int, str]]:
    """(line, module) of every import in a file, wherever it stands in it."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    only_typing = {
        id(node)
        for block in ast.walk(tree)
        if isinstance(block, ast.If) and "TYPE_CHECKING" in ast.unparse(block.test)
        for statement in block.body
        for node in ast.walk(statement)
    }
    for node in ast.walk(tree):
        if not typing_too and id(node) in only_typing:
            continue
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: imports name their whole path"
            module = node.module or ""
            for alias in node.names:
                # `from neckmodel import presets` imports a module; other names belong to the module itself
                inner = f"{module}.{alias.name}"
                yield node.lineno, inner if module == "neckmodel" else module


def test_every_module_has_a_floor() -> None:
    for path in FILES:
        top = place(path).removesuffix(".py").split("/")[0]
        assert top in HEIGHT, f"{place(path)}: put {top!r} on a floor"


@pytest.mark.parametrize("path", FILES, ids=place)
def test_imports_go_down(path: Path) -> None:
    own = HEIGHT[place(path).removesuffix(".py").split("/")[0]]
    upward = [
        f"line {line}: {module}"
        for line, module in imports(path, typing_too=True)
        if module.split(".")[0] == "neckmodel" and module != "neckmodel" and floor_of(module) > own
    ]
    assert upward == []


def bound(path: Path) -> set[str]:
    """The names that a package's face gives, so that `from neckmodel.layout import lay_out` is told from the file."""
    names: set[str] = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.ImportFrom):
            names |= {alias.asname or alias.name for alias in node.names}
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.add(node.name)
    return names


def file_graph() -> dict[str, set[str]]:
    """The modules that each module imports, anywhere in it and for types too. A face counts as a module of its own:
    what it imports is one step farther on."""
    modules = {".".join((PACKAGE.name, *path.relative_to(PACKAGE).with_suffix("").parts)): path for path in FILES}
    modules = {name.removesuffix(".__init__"): path for name, path in modules.items()}
    faces = {name: bound(path) for name, path in modules.items() if path.name == "__init__.py"}
    graph: dict[str, set[str]] = {name: set() for name in modules}
    for name, path in modules.items():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == PACKAGE.name:
                for alias in node.names:
                    inner = f"{node.module}.{alias.name}"
                    own = alias.name in faces.get(node.module or "", set())
                    graph[name].add(inner if inner in modules and not own else node.module or "")
            elif isinstance(node, ast.Import):
                graph[name] |= {alias.name for alias in node.names if alias.name in modules}
    return {name: {other for other in others if other != name} for name, others in graph.items()}


def circles(graph: dict[str, set[str]]) -> list[list[str]]:
    """Groups of nodes each of which leads to all the others of its group: what is left once every node that leads to
    nothing left, or to which nothing left leads, has been taken away, again and again."""
    left = {name: set(others) for name, others in graph.items()}
    while True:
        reached = set().union(*left.values()) if left else set()
        gone = {name for name, others in left.items() if not others & left.keys() or name not in reached}
        if not gone:
            return [sorted(left)] if left else []
        left = {name: others - gone for name, others in left.items() if name not in gone}


def test_no_file_is_in_a_circle() -> None:
    assert circles(file_graph()) == []


def test_no_room_is_in_a_circle() -> None:
    """A room is a folder; the files that stand in a floor itself, beside its rooms, are each a room of their own."""
    graph = file_graph()
    floors = {name for name in graph if name.count(".") <= 1}
    room = {name: name if name in floors or name.count(".") == 2 else name.rpartition(".")[0] for name in graph}
    rooms: dict[str, set[str]] = {each: set() for each in room.values()}
    for name, others in graph.items():
        rooms[room[name]] |= {room[other] for other in others} - {room[name]}
    assert circles(rooms) == []


def test_a_circle_is_found() -> None:
    line = {"a": {"b"}, "b": {"c"}, "c": set(), "d": {"a"}}
    assert circles(line) == []
    assert circles({**line, "c": {"a"}}) == [["a", "b", "c"]]


def test_only_the_solids_and_what_measures_or_writes_them_name_the_kernel() -> None:
    named = {
        place(path)
        for path in FILES
        for _, module in imports(path, typing_too=False)
        if module.split(".")[0] in KERNEL and not place(path).startswith(MAY_NAME_KERNEL)
    }
    assert named == set()


def loaded_after(script: str) -> set[str]:
    """The top names in sys.modules of a fresh interpreter after a script."""
    path = os.pathsep.join(part for part in (str(PACKAGE.parent), os.environ.get("PYTHONPATH", "")) if part)
    done = subprocess.run(
        [sys.executable, "-c", f"{script}\nimport sys\nprint(*{{name.split('.')[0] for name in sys.modules}})"],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": path},
        cwd="/",
        timeout=HANGS,
        check=True,
    )
    return set(done.stdout.split())


READ = f"import neckmodel\ndesign = neckmodel.read({str(PACKAGE.parent / 'presets' / 'redpoll.toml')!r})"


def test_importing_the_package_loads_nothing_heavy() -> None:
    names = loaded_after("import neckmodel")
    assert names.isdisjoint({*KERNEL, "numpy", "scipy", "trimesh", "manifold3d", "pydantic", "typer", "rich", "lib3mf"})


@pytest.mark.parametrize(
    "script",
    [READ, f"{READ}\nneckmodel.lay_out(design)", "from neckmodel import Design, Findings, Layout"],
    ids=["read", "lay_out", "names"],
)
def test_what_needs_no_kernel_loads_none(script: str) -> None:
    assert loaded_after(script).isdisjoint({*KERNEL, "trimesh", "manifold3d", "scipy", "lib3mf", "typer"})


def test_public_names_are_there_and_are_the_real_ones() -> None:
    from neckmodel.design import Design, read
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout, lay_out
    from neckmodel.solids.parts import Parts

    real = {"Design": Design, "read": read, "Findings": Findings, "Layout": Layout, "lay_out": lay_out, "Parts": Parts}
    for name, thing in real.items():
        assert getattr(neckmodel, name) is thing
    assert set(neckmodel.__all__) == {*real, "build", "check", "write", "write_report"}
    assert set(neckmodel.__all__) <= set(dir(neckmodel))
    assert all(callable(getattr(neckmodel, name)) for name in neckmodel.__all__)


def test_a_name_that_is_none_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="module 'neckmodel' has no attribute 'biuld'"):
        neckmodel.biuld  # noqa: B018
