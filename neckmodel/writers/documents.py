"""The text files of every export, whatever formats are asked for: findings, layout, and the design itself."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.design.file.toml import as_toml
from neckmodel.design.values.keys import dotted, look_up
from neckmodel.errors import ExportError
from neckmodel.writers.base import Job, Target, refuse
from neckmodel.writers.jsons import dumps, findings_json, layout_json

if TYPE_CHECKING:
    from neckmodel.design.file.source import Source


@dataclass(frozen=True)
class Document:
    """A writer of one text file, `name` + `suffix`."""

    name: str
    suffix: str
    says: str
    text: Callable[[Job], str]

    def targets(self, job: Job) -> tuple[Target, ...]:  # noqa: ARG002 (every writer is asked this way)
        """Its one file."""
        return (Target(f"{self.name}{self.suffix}", title=self.says),)

    def write(self, job: Job, target: Target, path: Path) -> None:  # noqa: ARG002
        """Writes the text."""
        path.write_bytes(self.text(job).encode())

    def verify(self, job: Job, target: Target, path: Path) -> None:  # noqa: ARG002
        """Compares the file with the text; JSON by its data."""
        meant, problems = self.text(job), []
        try:
            found = path.read_bytes().decode()
            if self.suffix == ".json" and json.loads(found, parse_constant=_not_json) != json.loads(meant):
                problems.append("its data are not those written")
            elif found != meant:
                problems.append("its text is not the one written")
        except ValueError as error:  # also what json and the decoder raise
            problems.append(str(error))
        refuse(path, problems)


def _not_json(word: str) -> float:
    raise ExportError(f"{word} is not JSON")


def _findings_text(job: Job) -> str:
    return dumps({**findings_json(job.findings), **_remark(job)})


def _layout_text(job: Job) -> str:
    return dumps({**layout_json(job.layout), **_remark(job)})


def design_text(source: Source) -> str:
    """The text of the design file; values set over it stand in remarks at its top."""
    over = [f"# set over this file: {dotted(path)} = {as_toml(look_up(source.raw, path))}" for path in source.overrides]
    return "".join(f"{line}\n" for line in over) + source.text


def _design_text(job: Job) -> str:
    return f"# {job.remark}: {', '.join(job.failed)}\n{job.design_text}" if job.remark else job.design_text


def _remark(job: Job) -> dict[str, str]:
    return {"remark": job.remark} if job.remark else {}


FINDINGS = Document("findings", ".json", "what every check measured", _findings_text)
LAYOUT = Document("layout", ".json", "every derived number", _layout_text)
DESIGN = Document("design", ".toml", "the design file this was built from", _design_text)
REPORT = Document("report", ".html", "everything on one page", lambda job: job.page)
