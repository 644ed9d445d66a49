"""The errors that a caller can meet: one root, and leaves that are also the builtin error that a Python programmer
would catch."""

from __future__ import annotations

from dataclasses import dataclass, replace


class NeckmodelError(Exception):
    """Root of every error raised on purpose; its text is fit to be shown to a maker as it stands."""


@dataclass(frozen=True)
class Problem:
    """One mistake in a design file.

    key: dotted key as a maker writes it (`rod.height`, `workshop.cutters[2].diameter`).
    value: the value given, as written in TOML, or None where a key is missing.
    says: what is wrong. allowed: what would be right. attempt: what to try (may be empty).
    line: 1-based line in the file, None where it is not known yet.
    place: where the value stands if not in the file (`--set`).
    """

    key: str
    says: str
    value: str | None = None
    allowed: str = ""
    attempt: str = ""
    line: int | None = None
    place: str | None = None

    def render(self, file: str) -> str:
        """The problem as one text, with file and line in front."""
        place = self.place or (f"{file}:{self.line}" if self.line is not None else file)
        given = self.key if self.value is None else f"{self.key} = {self.value}"
        tail = "".join(f"; {part}" for part in (self.allowed, self.attempt) if part)
        return f"{place}: {given}: {self.says}{tail}"

    def at_line(self, line: int | None) -> Problem:
        """The same problem with its line."""
        return replace(self, line=line)


class DesignError(NeckmodelError, ValueError):
    """The design file, or a value set over it, is wrong. Carries every problem found, not just the first."""

    def __init__(self, problems: list[Problem] | tuple[Problem, ...], file: str = "design") -> None:
        self.problems = tuple(problems)
        self.file = file
        super().__init__("\n".join(problem.render(file) for problem in self.problems))


class KernelError(NeckmodelError, RuntimeError):
    """A CAD operation failed or gave an implausible solid; names the operation and its parameters."""

    def __init__(self, operation: str, reason: str, **parameters: object) -> None:
        self.operation, self.reason, self.parameters = operation, reason, parameters
        given = ", ".join(f"{name}={value}" for name, value in parameters.items())
        super().__init__(f"{operation}: {reason}" + (f" ({given})" if given else ""))


class MissingLibraryError(NeckmodelError, ImportError):
    """A library or a system package is missing; the text names what to install."""


class MeshError(NeckmodelError, RuntimeError):
    """A solid's mesh is not closed, or two meshes cannot be compared."""


class ExportError(NeckmodelError, OSError):
    """A file could not be written, or what was read back differs from what was meant; nothing was kept."""
