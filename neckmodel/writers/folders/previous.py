"""The findings of an earlier export, if they are about this very design."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from neckmodel.findings import PASS, Finding, Findings, Place, Remedy, Verdict
from neckmodel.writers.jsons import FINDINGS_SCHEMA, RANGE
from neckmodel.writers.manifest import fingerprint, listed

FINDINGS, LAYOUT = "findings.json", "layout.json"


def earlier_findings(folder: Path, sha256: str) -> Findings | None:
    """The findings in an export folder for the design whose hash is `sha256`. None where the folder is no export, where
    its files were changed, or where it is about another design, even one value apart."""
    ours = listed(folder)
    if ours is None:
        return None
    try:
        for name in (FINDINGS, LAYOUT):
            if fingerprint(folder / name) != ours[name]:
                return None
        if json.loads((folder / LAYOUT).read_text(encoding="utf-8"))["design_sha256"] != sha256:
            return None
        return _findings(json.loads((folder / FINDINGS).read_text(encoding="utf-8")))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _findings(data: dict[str, Any]) -> Findings:
    if data["schema"] != FINDINGS_SCHEMA:
        raise ValueError(data["schema"])
    return Findings(data["name"], tuple(_finding(found) for found in data["findings"]), ())


def _finding(data: dict[str, Any]) -> Finding:
    at, remedy, more = data["at"], data["remedy"], data.get("more", {})
    return Finding(
        check=data["check"],
        part=data["part"],
        verdict=Verdict(data["verdict"]),
        says=data["says"],
        measured=data["measured"],
        error=data["error"],
        limit=data["limit"],
        unit=data["unit"],
        worst_case=data["worst_case"],
        basis=data["basis"],
        at=None if at is None else Place(at["x"], at["y"], at["z"], at["fret"]),
        remedy=None if remedy is None else _remedy(remedy),
        more={name: value for name, value in more.items() if name not in RANGE},
        held=(more.get(RANGE[0]), more.get(RANGE[1])) if more.keys() & set(RANGE) else None,
        follows=data.get("follows"),
    )


def _remedy(data: dict[str, Any]) -> Remedy:
    """The remedy; exports of earlier versions state only its first way."""
    ways = tuple(Remedy(way["says"], way["set"], leaves=Verdict(way["leaves"])) for way in data.get("ways", ()))
    several = ways if len(ways) > 1 else ()
    return Remedy(data["says"], data["set"], several, leaves=Verdict(data.get("leaves", PASS)))
