"""`neckmodel layout`: every derived number, without the CAD kernel."""

from __future__ import annotations

from neckmodel.cli.options import File, Json, Out, Quiet, Set


def layout(file: File, set_: Set = None, json: Json = False, out: Out = None, quiet: Quiet = False) -> None:
    """Print every number that follows from the design. Frets, outlines, rod, channel, stations."""
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.saving import refuse_place, save
    from neckmodel.cli.terminal.out import say_json
    from neckmodel.layout import lay_out
    from neckmodel.layout.json.layout import layout_json
    from neckmodel.writers.jsons import dumps

    found = lay_out(open_design(file, set_, quiet))
    refuse_place(out, "layout.json")
    if json:
        say_json(layout_json(found))
    else:
        from neckmodel.cli.terminal.tables import show_layout

        show_layout(found)
    if out is not None:
        save(out, "layout.json", dumps(layout_json(found)), overwrite=True)
    if not quiet:
        from neckmodel.cli.running import remarks

        remarks(found, quiet)
