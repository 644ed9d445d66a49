"""Presets laid out, built and checked once for all tests that look at the same one."""

from __future__ import annotations

import json
from functools import cache

from neckmodel.checks import check
from neckmodel.design import Design, read
from neckmodel.findings import Finding, Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.presets import path_of
from neckmodel.solids import build
from neckmodel.solids.parts import Parts

PRESETS = ("dunnock", "garganey", "redpoll")


@cache
def design(preset: str, *overrides: str) -> Design:
    """A preset's design with `KEY=VALUE` texts set over it."""
    return read(path_of(preset), overrides)


@cache
def laid_out(preset: str, *overrides: str) -> Layout:
    return lay_out(design(preset, *overrides))


@cache
def built(preset: str, *overrides: str) -> Parts:
    return build(laid_out(preset, *overrides))


@cache
def checked(preset: str, *overrides: str) -> Findings:
    return check(built(preset, *overrides))


def found(check_name: str, preset: str, *overrides: str) -> Finding:
    return checked(preset, *overrides)[check_name]


def as_overrides(settings: dict[str, float | str]) -> tuple[str, ...]:
    """A remedy's settings as `--set` takes them."""
    return tuple(f"{key}={json.dumps(value)}" for key, value in settings.items())
