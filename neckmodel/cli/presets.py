"""`neckmodel presets`: the designs that come with the tool."""

from __future__ import annotations

from neckmodel.cli.options import Json, Quiet


def presets(json: Json = False, quiet: Quiet = False) -> None:  # noqa: ARG001 (every command takes it)
    """List the designs that come with the tool, a line each."""
    from neckmodel import presets as shipped
    from neckmodel.cli.terminal.out import say, say_json

    found = shipped.presets()
    if json:
        listed = [{"name": p.name, "remark": p.remark, "scale": p.scale, "shows": p.shows} for p in found]
        say_json({"schema": "neckmodel/presets/1", "unit": "mm", "presets": listed})
        return
    name, remark = (
        max(len(text) for text in texts) for texts in zip(*((p.name, p.remark) for p in found), strict=True)
    )
    for preset in found:
        scale = " / ".join(f"{length:g}" for length in preset.scale)
        say(f"{preset.name:{name}}  {scale:>9} mm  {preset.remark:{remark}}  {preset.shows}")
