"""The manifest of an export folder: which versions wrote it, from which design, with which verdict, and the hash of
every file."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass
from pathlib import Path

from neckmodel.errors import ExportError
from neckmodel.findings import FAIL, PASS, VERDICTS, Verdict
from neckmodel.writers.atomic import sync
from neckmodel.writers.base import Job, Target, Writer
from neckmodel.writers.jsons import dumps
from neckmodel.writers.step.step import place_of
from neckmodel.writers.versions import versions

NAME = "manifest.json"
SCHEMA = "neckmodel/manifest/1"


@dataclass(frozen=True)
class FileFact:
    """One file. sha256: hexadecimal. size: bytes. parts: inside it, in order. setup, origin, up: how a part for CAM
    lies. deflection: {"linear": mm, "angular": rad} of its meshes. None where the file has no such thing."""

    file: str
    format: str
    sha256: str
    size: int
    parts: tuple[str, ...]
    setup: str | None = None
    origin: str | None = None
    up: str | None = None
    deflection: dict[str, float] | None = None


@dataclass(frozen=True)
class Manifest:
    """The contents of a manifest. verdict: "pass" or "fail". failed: names of the failed checks. despite_findings:
    exported although one failed. counts: how many findings of each verdict. files: all but the manifest itself, by
    name."""

    design: str
    design_file: str
    verdict: Verdict
    failed: tuple[str, ...]
    despite_findings: bool
    counts: dict[str, int]
    unit: str
    step_schema: str
    step_unit: str
    versions: dict[str, str | None]
    files: tuple[FileFact, ...]

    def as_json(self) -> dict[str, object]:
        """The manifest as JSON data."""
        return {"schema": SCHEMA, **asdict(self)}

    def save(self, folder: Path) -> None:
        """Write the manifest into the folder and read it back."""
        path, text = folder / NAME, dumps(self.as_json())
        path.write_text(text, encoding="utf-8", newline="\n")
        if path.read_bytes() != text.encode():
            raise ExportError(f"{NAME}: read back differently")
        sync(path)


def file_fact(writer: Writer, job: Job, target: Target, folder: Path) -> FileFact:
    """The entry for a file that has been written and verified."""
    place = place_of(job, target) if writer.name == "step" else None
    deflection = None if target.deflection is None else asdict(target.deflection)
    return FileFact(
        target.file,
        writer.name,
        *fingerprint(folder / target.file),
        parts=target.parts,
        setup=target.setup,
        origin=place.origin if place else None,
        up=place.up if place else None,
        deflection=deflection,
    )


def manifest_of(job: Job, files: list[FileFact]) -> Manifest:
    """The manifest of a job and the files written for it."""
    verdicts = [found.verdict for found in job.findings]
    return Manifest(
        design=job.design,
        design_file="design.toml",
        verdict=FAIL if job.failed else PASS,
        failed=job.failed,
        despite_findings=bool(job.failed),
        counts={verdict: verdicts.count(verdict) for verdict in VERDICTS},
        unit="mm",
        step_schema=job.form.schema,
        step_unit=job.unit,
        versions=versions(),
        files=tuple(sorted(files, key=lambda fact: fact.file)),
    )


def fingerprint(path: Path) -> tuple[str, int]:
    """(SHA-256 in hexadecimal, size in bytes)."""
    data = path.read_bytes()
    return hashlib.sha256(data).hexdigest(), len(data)


def listed(folder: Path) -> dict[str, tuple[str, int]] | None:
    """The files that an earlier export lists, with hash and size; None if the folder is not an export of this
    program."""
    try:
        data = json.loads((folder / NAME).read_text(encoding="utf-8"))
        if data["schema"] != SCHEMA:
            return None
        return {fact["file"]: (fact["sha256"], fact["size"]) for fact in data["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        return None
