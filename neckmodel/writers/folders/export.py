"""An export folder is complete and verified, or does not exist. An earlier export stays whole until the new one is
complete."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from neckmodel.errors import ExportError
from neckmodel.stopping import EARLIER, held
from neckmodel.writers.atomic import make_readable, produce, sync
from neckmodel.writers.base import Job, Target, Writer
from neckmodel.writers.documents import REPORT
from neckmodel.writers.drafts import LONGEST, drafts, try_place
from neckmodel.writers.manifest import NAME, FileFact, Manifest, file_fact, fingerprint, listed, manifest_of
from neckmodel.writers.registry import DOCUMENTS, format_named

IGNORED = {".DS_Store", "Thumbs.db", "desktop.ini"}
"""Left behind by file managers; no loss."""


def write(
    job: Job,
    folder: str | Path,
    *,
    formats: Sequence[str],
    despite_findings: bool = False,
    progress: Callable[[str], None] = lambda text: None,  # noqa: ARG005
) -> Manifest:
    """Export a design into `folder`, replacing an earlier export there. formats: names in the registry's FORMATS;
    the job's sheets and page are added, each sheet in its usual format.

    Raises ExportError, and leaves what was there as it was, when a check failed and `despite_findings` is not set, when
    `folder` holds anything that an earlier export did not write, and when any file cannot be written or reads back
    differently.
    """
    if job.failed and not despite_findings:
        raise ExportError(
            f"not exported, because checks failed: {', '.join(job.failed)}; "
            "exporting despite findings is possible, and every file then says so"
        )
    writers = [*(format_named(name) for name in dict.fromkeys(formats)), *DOCUMENTS, *((REPORT,) if job.page else ())]
    planned: list[tuple[Writer, Target]] = [(writer, target) for writer in writers for target in writer.targets(job)]
    if job.sheets:
        from neckmodel.writers.folders.sheets import planned as plan_of

        planned += plan_of(job)
    names = [target.file for _, target in planned]
    if len(set(names)) != len(names):
        raise ExportError(f"two files would have the same name: {sorted(n for n in set(names) if names.count(n) > 1)}")
    return fill(folder, [(writer, job, target) for writer, target in planned], job, progress)


def fill(
    folder: str | Path, plan: Sequence[tuple[Writer, Job, Target]], job: Job, progress: Callable[[str], None]
) -> Manifest:
    """Fills the folder with every planned file and its manifest; on failure leaves it as it was. job: what the manifest
    describes."""
    place = Path(folder).absolute()
    check_place(place)
    with drafted(place) as draft:
        facts: list[FileFact] = []
        for writer, of, target in plan:
            progress(f"writing {target.file}")
            produce(writer, of, target, draft)
            facts.append(file_fact(writer, of, target, draft))
        manifest = manifest_of(job, facts)
        manifest.save(draft)
        sync(draft)
        swap(draft, place)
    return manifest


def try_export(folder: Path) -> None:
    """Raises ExportError where an export into `folder` could not take its place: before minutes of work."""
    place = folder.absolute()
    check_place(place)
    try_place(place.parent, f"{place.name}/{LONGEST}")


def check_place(place: Path) -> None:
    """Raise ExportError unless `place` is free, empty, or an export of ours with nothing else in it and unchanged."""
    if place.is_symlink():
        raise ExportError(f"{place} is a link; give the folder itself")
    if not place.exists():
        return
    if not place.is_dir():
        raise ExportError(f"{place} is a file, not a folder")
    there = {path.name: path for path in place.iterdir() if path.name not in IGNORED}
    if not there:
        return
    ours = listed(place)
    if ours is None:
        raise ExportError(f"{place} holds files but is not an earlier export; move them, or choose another folder")
    foreign = sorted(set(there) - set(ours) - {NAME})
    if foreign:
        raise ExportError(
            f"{place} holds what no export wrote: {', '.join(foreign[:5])}; move it out of the folder first"
        )
    for name, path in there.items():
        if name != NAME and (path.is_symlink() or fingerprint(path) != ours[name]):
            raise ExportError(f"{path} was changed after the export; move it out of the folder first")


@contextlib.contextmanager
def drafted(place: Path) -> Iterator[Path]:
    """A folder beside the place that may take the place later; removed afterwards unless it was renamed."""
    try:
        with drafts(place.parent) as work:
            draft = work / "new"
            draft.mkdir()
            make_readable(draft, 0o777)
            yield draft
    except OSError as error:
        if isinstance(error, ExportError):
            raise
        raise ExportError(f"{place}: cannot be written: {error.strerror or error}") from error


def swap(draft: Path, place: Path) -> None:
    """Puts the draft in its place. An earlier export is moved aside first, and back again if that fails."""
    check_place(place)  # again: writing took a while
    earlier = draft.parent / EARLIER / place.name
    with held():
        if place.exists():
            earlier.parent.mkdir()
            place.rename(earlier)
        try:
            draft.rename(place)
        finally:
            if not place.exists() and earlier.exists():
                earlier.rename(place)
    sync(place.parent)
