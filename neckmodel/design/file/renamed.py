"""Keys that were renamed. A file with the old name is read all the same, and a remark names the new one."""

from __future__ import annotations

from neckmodel.design.values.keys import Path, dotted, split

RENAMED: dict[Path, Path] = {split("workshop.pass_depth"): split("workshop.deepest_pass")}
"""Old name to new name, both in the same section."""


def present(path: Path) -> Path:
    """The path with today's names for renamed keys."""
    return next((new + path[len(old) :] for old, new in RENAMED.items() if path[: len(old)] == old), path)


def as_written(path: Path, old_names: tuple[Path, ...]) -> Path:
    """The path with the old names that the file uses."""
    return next(
        (old + path[len(RENAMED[old]) :] for old in old_names if path[: len(RENAMED[old])] == RENAMED[old]), path
    )


def modernise(raw: dict[str, object]) -> tuple[Path, ...]:
    """Renames every old key in raw tables and returns the old names found. A table with both the old and the new key
    keeps both; a message then asks to take one out."""
    found = []
    for old, new in RENAMED.items():
        table = raw.get(str(old[0]))
        if isinstance(table, dict) and old[1] in table and new[1] not in table:
            order = [(new[1] if name == old[1] else name, value) for name, value in table.items()]
            table.clear()
            table.update(order)
            found.append(old)
    return tuple(found)


def remarks(old_names: tuple[Path, ...]) -> list[str]:
    """One sentence for each old name, with the new one."""
    return [f"{dotted(old)} is called {RENAMED[old][-1]} now; the old name is still read" for old in old_names]
