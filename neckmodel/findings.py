"""What a check reports: the finding, and all findings of a design together."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypedDict, Unpack

from neckmodel.notebook import Shown


class Verdict(StrEnum):
    """What a check comes to, the worst first; in files and in print it is its word."""

    FAIL = "fail"
    WARN = "warn"
    SKIPPED = "skipped"
    PASS = "pass"


FAIL, WARN, SKIPPED, PASS = VERDICTS = tuple(Verdict)
NEXT_CUT = ("carve_at_fret_1", "carve_at_fret_12", "cut_no_deeper")
"""Names in `Finding.more` that are numbers for cuts still to come, once something was measured."""


@dataclass(frozen=True)
class Place:
    """Where something was found: mm in the layout's frame, and the nearest fret (0 is the nut)."""

    x: float
    y: float
    z: float
    fret: int | None


@dataclass(frozen=True)
class Remedy:
    """A change that makes its finding pass: a sentence, and the keys to set (all together), lengths in mm.

    ways: where there are several, each by itself, the one of `set` first; `says` then names them all. leaves: the
    verdict that its finding then has, "warn" where no value passes with the worst case included. finer: the same change
    by another amount, to be tried in turn where this one does not pass. only_if: work that must not be done yet ("the
    head is not sawn yet"), with which `says` begins.
    """

    says: str
    set: dict[str, float | str]
    ways: tuple[Remedy, ...] = ()
    only_if: str = ""
    leaves: Verdict = PASS
    finer: tuple[Remedy, ...] = ()


OF_TWO_RODS = ("-1", "-2")
"""Behind the name of a check made of one of two rods: the bass side's, the treble side's."""


def without_rod(check: str) -> str:
    """A check's name, less the number of the rod where there are two."""
    return next((check.removesuffix(end) for end in OF_TWO_RODS if check.endswith(end)), check)


def ways_of(remedy: Remedy | None) -> tuple[Remedy, ...]:
    """Each change that a remedy offers, by itself."""
    return () if remedy is None else remedy.ways or (remedy,)


@dataclass(frozen=True)
class Finding:
    """One check's answer.

    check: "family/topic". part: the part it is about. measured, error, limit, worst_case: in `unit`, None where there
    is no such number; `error` bounds the measuring error. verdict: one of VERDICTS. basis: where the limit comes from.
    held: (least, most) that `measured` must keep, None at a side without a bound; None where it simply must be at least
    `limit`: a limit that is a maximum has (None, limit). says: one sentence why. remedy: None where no number helps.
    more: further numbers for a reader, by name. follows: the check whose remedy mends this finding too; None where it
    stands for itself.
    """

    check: str
    part: str
    verdict: Verdict
    says: str
    measured: float | None = None
    error: float | None = None
    limit: float | None = None
    unit: str = "mm"
    worst_case: float | None = None
    basis: str = ""
    at: Place | None = None
    remedy: Remedy | None = None
    more: dict[str, float] = field(default_factory=dict)
    held: tuple[float | None, float | None] | None = None
    follows: str | None = None

    @property
    def spare(self) -> float:
        """How much better the value is than its limit, in its unit; negative where it misses it, inf where nothing
        bounds it."""
        if self.measured is None:
            return math.inf
        least, most = (self.limit, None) if self.held is None else self.held
        under = math.inf if least is None else self.measured - least
        return min(under, math.inf if most is None else most - self.measured)


class Beside(TypedDict, total=False):
    """What a finding may carry besides: see `Finding`."""

    error: float | None
    unit: str
    worst_case: float | None
    basis: str
    at: Place | None
    remedy: Remedy | None
    more: dict[str, float]


def limit_finding(
    *,
    check: str,
    part: str,
    verdict: Verdict,
    says: str,
    measured: float | None,
    limit: float | None,
    **beside: Unpack[Beside],
) -> Finding:
    """A number that should be at least its one limit; either None where there is none to tell. What must stay under a
    limit is a range without a lower end."""
    return Finding(check, part, verdict, says, measured=measured, limit=limit, **beside)


def range_finding(
    *,
    check: str,
    part: str,
    verdict: Verdict,
    says: str,
    measured: float | None,
    limit: float | None,
    held: tuple[float | None, float | None] | None,
    **beside: Unpack[Beside],
) -> Finding:
    """A number that should lie between two, or stay under one: `held` is (least, most); `limit` the one it meets."""
    return Finding(check, part, verdict, says, measured=measured, limit=limit, held=held, **beside)


def yes_no_finding(
    *,
    check: str,
    part: str,
    good: bool,
    says: str,
    otherwise: Verdict = FAIL,
    measured: float | None = None,
    limit: float | None = None,
    held: tuple[float | None, float | None] | None = None,
    **beside: Unpack[Beside],
) -> Finding:
    """Something that is so or is not, and the number that shows it best: at least the limit, or within `held`.
    otherwise: the verdict where it is not so."""
    verdict = PASS if good else otherwise
    return Finding(check, part, verdict, says, measured=measured, limit=limit, held=held, **beside)


def told_finding(
    *, check: str, part: str, says: str, measured: float | None = None, **beside: Unpack[Beside]
) -> Finding:
    """A number that the maker must know, with nothing to hold it against."""
    return Finding(check, part, PASS, says, measured=measured, **beside)


def skipped_finding(*, check: str, part: str, says: str, unit: str = "mm", basis: str = "") -> Finding:
    """A check that cannot be made; `says` names what the design would have to state for it."""
    return Finding(check, part, SKIPPED, says, unit=unit, basis=basis)


@dataclass(frozen=True)
class PartFact:
    """What is known of one built part: volume mm3, bounds (xmin, ymin, zmin, xmax, ymax, zmax) mm, its soundness."""

    name: str
    volume: float
    bounds: tuple[float, float, float, float, float, float]
    solids: int
    valid: bool
    watertight: bool


@dataclass(frozen=True)
class Findings(Shown):
    """All findings of a design, worst first; `passed` when no finding has the verdict "fail".

    `for found in findings`, `len(findings)`; one of them by its check, `findings["wall/run"]`.
    """

    name: str
    findings: tuple[Finding, ...]
    parts: tuple[PartFact, ...]

    @property
    def passed(self) -> bool:
        """Whether no finding has the verdict "fail"."""
        return all(finding.verdict != FAIL for finding in self.findings)

    @property
    def failed(self) -> tuple[str, ...]:
        """The names of the checks that fail, each once."""
        return tuple(dict.fromkeys(finding.check for finding in self.findings if finding.verdict == FAIL))

    def __getitem__(self, check: str) -> Finding:
        for finding in self.findings:
            if finding.check == check:
                return finding
        raise KeyError(check)

    def __contains__(self, check: str | Finding) -> bool:
        return any(check in (finding.check, finding) for finding in self.findings)

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.findings)

    def __len__(self) -> int:
        return len(self.findings)

    def __bool__(self) -> bool:
        return True  # an empty `Findings` is true as well: `passed` gives the verdict
