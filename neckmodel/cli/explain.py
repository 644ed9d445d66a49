"""`neckmodel explain`: what a check measures, its limit, and where that comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completing
from neckmodel.cli.options import Json, Quiet

if TYPE_CHECKING:
    from neckmodel.checks.about import About


def explain(
    check: Annotated[
        str,
        typer.Argument(
            metavar="CHECK",
            help="A check as the findings name it, or its family; all if left out.",
            autocompletion=completing.checks,
        ),
    ] = "",
    json: Json = False,
    quiet: Quiet = False,  # noqa: ARG001 (every command takes it)
) -> None:
    """Say what a check measures, its limit, and where that comes from."""
    from dataclasses import asdict

    from neckmodel.cli.out import say_json
    from neckmodel.cli.table import show_lines
    from neckmodel.lengths import in_both

    found = _found(check)
    if json:
        say_json({"schema": "neckmodel/explain/1", "checks": [asdict(about) for about in found]})
        return
    for at, about in enumerate(found):
        if at:
            show_lines("")
        show_lines(about.name)
        said = (f"measures: {about.measures}", f"limit: {about.limit}", f"source: {about.source}")
        show_lines(*(in_both(line) for line in said), indent=2, hang=2)


def _found(check: str) -> tuple[About, ...]:
    """The entries that a name, a pattern or a family stands for. Raises CallError where there is none."""
    from neckmodel.checks import registry
    from neckmodel.cli.guard import CallError

    check = check.strip().lower()
    if not check:
        return registry.EXPLAINED
    families = list(dict.fromkeys(about.name.partition("/")[0] for about in registry.EXPLAINED))
    if check.rstrip("/") in families:
        return tuple(about for about in registry.EXPLAINED if about.name.startswith(f"{check.rstrip('/')}/"))
    try:
        return (registry.about(check),)
    except KeyError:
        import difflib

        from neckmodel.design.source import quoted

        names = [*families, *(about.name for about in registry.EXPLAINED)]
        near = difflib.get_close_matches(check, names, 1, 0.6)
        meant = f"; did you mean {near[0]}?" if near else ""
        raise CallError(f"there is no check {quoted(check)}; families: {', '.join(families)}{meant}") from None
