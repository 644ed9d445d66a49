"""`neckmodel explain`: what a check measures, its limit and where that comes from; what a key is if it is left out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completion
from neckmodel.cli.options import Json, Quiet

if TYPE_CHECKING:
    from neckmodel.checks.explain.about import About
    from neckmodel.design.explanation import KeyEntry


def explain(
    check: Annotated[
        str,
        typer.Argument(
            metavar="CHECK",
            help="A check as the findings name it, its family, or a key; all checks if left out.",
            autocompletion=completion.explained,
        ),
    ] = "",
    json: Json = False,
    quiet: Quiet = False,  # noqa: ARG001 (every command takes it)
) -> None:
    """Say what a check measures, and its limit with its source. Of a key (`action.at_12`) its default."""
    from dataclasses import asdict

    from neckmodel.cli.terminal.out import say_json
    from neckmodel.cli.terminal.table import show_lines
    from neckmodel.lengths import in_both

    keys = _keys(check)
    found = () if keys else _found(check)
    if json:
        listed = {"checks": [asdict(about) for about in found], "keys": [asdict(key) for key in keys]}
        say_json({"schema": "neckmodel/explain/1", **listed})
        return
    for key in keys:
        show_lines(key.key)
        said = (f"is: {key.says}", f"left out: {key.default}", *([f"source: {key.source}"] if key.source else []))
        show_lines(*(in_both(line) for line in said), indent=2, hang=2)
    for at, about in enumerate(found):
        if at:
            show_lines("")
        show_lines(about.name)
        said = (f"measures: {about.measures}", f"limit: {about.limit}", f"source: {about.source}")
        show_lines(*(in_both(line) for line in said), indent=2, hang=2)


def _keys(name: str) -> tuple[KeyEntry, ...]:
    """The entry of a key of the design file, whose name has dots in it; none for the name of a check."""
    name = name.strip().lower()
    if "." not in name:
        return ()
    from neckmodel.cli.guard import CallError
    from neckmodel.design.explanation import about_key, keys
    from neckmodel.design.file.toml import quoted
    from neckmodel.design.values.kinds import nearest

    told = about_key(name)
    if told is None:
        near = nearest(name, keys())
        raise CallError(f"the design file has no key {quoted(name)}{f'; did you mean {near}?' if near else ''}")
    return (told,)


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

        from neckmodel.design.file.toml import quoted

        names = [*families, *(about.name for about in registry.EXPLAINED)]
        near = difflib.get_close_matches(check, names, 1, 0.6)
        meant = f"; did you mean {near[0]}?" if near else ""
        raise CallError(f"there is no check {quoted(check)}; families: {', '.join(families)}{meant}") from None
