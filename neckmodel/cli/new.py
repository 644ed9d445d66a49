"""`neckmodel new`: a commented design file to start from."""

from __future__ import annotations

from typing import Annotated

import typer

from neckmodel.cli.options import Json, Quiet


def new(
    name: Annotated[str, typer.Argument(metavar="NAME", help="Name of the design; the file is NAME.toml.")],
    like: Annotated[str, typer.Option("--like", metavar="PRESET", help="The preset to start from.")] = "redpoll",
    out: Annotated[str, typer.Option("--out", metavar="FOLDER", help="Folder for the file.")] = ".",
    json: Json = False,
    quiet: Quiet = False,
) -> None:
    """Write NAME.toml, a commented copy of a preset to edit. Never overwrites a file."""
    from neckmodel import presets
    from neckmodel.cli.guard import CallError
    from neckmodel.cli.out import say, say_json, tell
    from neckmodel.cli.saving import save
    from neckmodel.design import read_text
    from neckmodel.design.source import quoted

    name = name.removesuffix(".toml")
    preset = presets.path_of(like)
    if preset is None:
        raise CallError(f"there is no preset {quoted(like)}; there are: {', '.join(presets.names())}")
    text = renamed(preset.read_text(encoding="utf-8"), like, name)
    read_text(text, "new")  # a name that is no name is refused here, in the words of the design file
    path = save(out, f"{name}.toml", text, overwrite=False)
    if json:
        say_json({"schema": "neckmodel/new/1", "name": name, "file": str(path), "like": like})
    else:
        say(f"wrote {path}, a copy of the preset {like}")
    if not quiet:
        tell(f"neckmodel: next: edit it, then: neckmodel check {path}")


def renamed(text: str, like: str, name: str) -> str:
    """The preset's text with its name changed and its first remark, which is about the preset alone, replaced."""
    from neckmodel.design.source import quoted

    lines = text.splitlines()
    start = next((at for at, line in enumerate(lines) if line.strip() in ("", "#")), 0)
    rest = "\n".join(lines[start:])
    rest = rest.replace(f'\nname = "{like}"\n', f"\nname = {quoted(name)}\n", 1)
    return f"# {name}: started from the preset {like}. Every size below is that preset's: make them yours.\n{rest}\n"
