"""`neckmodel vary`: many variants of one design: the workshop's tolerances drawn, or one value from end to end."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from neckmodel.cli import completion
from neckmodel.cli.options import File, Json, Out, Quiet, Set

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.variants import ToleranceReport, Variant

WAYS = "tolerance; or range KEY FROM TO STEP"


def vary(
    file: File,
    way: Annotated[str, typer.Argument(metavar="WAY", help="tolerance, or range.", autocompletion=completion.ways)],
    values: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[KEY FROM TO STEP]",
            help="Of range: the dotted key, its first and last value, the step.",
            autocompletion=completion.keys,
        ),
    ] = None,
    *,
    seed: Annotated[
        int | None,
        typer.Option("--seed", metavar="NUMBER", help="Of tolerance: where the drawing starts; 20 unless said."),
    ] = None,
    set_: Set = None,
    json: Json = False,
    out: Out = None,
    quiet: Quiet = False,
) -> None:
    """Draw 100,000 necks within tolerance, or vary one value. By sections, needs no CAD kernel."""
    from neckmodel.cli.guard import CallError
    from neckmodel.cli.opening import open_design
    from neckmodel.cli.saving import refuse_place, save
    from neckmodel.cli.terminal.out import say_json
    from neckmodel.cli.words import any_case
    from neckmodel.writers.jsons import dumps

    given, (way,) = values or [], any_case([way], ("tolerance", "range"))
    if way not in ("tolerance", "range"):
        raise CallError(f"{way!r} is no way to vary a design; write {WAYS}")
    if len(given) != (4 if way == "range" else 0):
        raise CallError(f"{way} takes {'KEY FROM TO STEP' if way == 'range' else 'nothing more'}")
    if seed is not None and (way == "range" or not 0 <= seed < 2**63):
        raise CallError("--seed is a whole number from 0, and only tolerance draws by chance")
    design = open_design(file, set_, quiet)
    refuse_place(out, f"vary-{way}.json")
    data = _range(design, given, json) if way == "range" else _tolerance(design, seed, json)
    if json:
        say_json(data)
    if out is not None:
        save(out, f"vary-{way}.json", dumps(data), overwrite=True)


def _tolerance(design: Design, seed: int | None, json: bool) -> dict[str, object]:
    from neckmodel.layout import lay_out
    from neckmodel.variants import vary_tolerance
    from neckmodel.variants.json import tolerance_json
    from neckmodel.variants.tolerance.errors import NECKS, SEED

    layout = lay_out(design)
    report = vary_tolerance(layout, NECKS, SEED if seed is None else seed)
    if not json:
        _show_tolerance(design, report)
    return tolerance_json(layout, report)


def _show_tolerance(design: Design, report: ToleranceReport) -> None:
    from neckmodel.cli.terminal.lengths import measured
    from neckmodel.cli.terminal.table import Column, show_lines, show_table
    from neckmodel.lengths import length

    unit = design.design.units
    show_lines(
        f"{design.name}: of {report.necks:,} necks drawn with the workshop's tolerances (seed {report.seed}), "
        f"{_share(report.every)} keep every limit below."
    )
    columns = [Column("check"), Column("pass", number=True)]
    titles = ("as designed", "limit", "worst case", "1 in 100 below")
    columns += [*(Column(title, number=True) for title in titles), Column("takes most")]
    rows = [
        (
            sure.check,
            _share(sure.share),
            measured(sure.value, sure.limit, unit),
            *(length(v, unit) for v in (sure.limit, sure.worst, sure.low)),
            f"{_words(sure.largest)}, {length(sure.takes[sure.largest], unit)}",
        )
        for sure in report.checks
    ]
    if not rows:
        show_lines("", "No limit that sections tell of depends on the tolerances: nothing is cut or drilled.")
        return
    show_table(f"Lengths in {'mm' if unit == 'mm' else 'inches, the nearest 1/64 in brackets'}.", columns, rows)
    gains = [(_words(name), f"{100 * gain:+.2f} %") for name, gain in report.gains if gain > 0]
    if gains:
        show_table("What to improve first", [Column("tolerance halved"), Column("more necks pass", number=True)], gains)
    show_lines(
        "",
        "A tolerance counts as two standard deviations. By sections, without solids: holes beside the channel, and "
        "access, are left to `neckmodel check`, whose worst case assumes all tolerances against you at once.",
    )


def _share(share: float) -> str:
    """A share in words, never rounded up to all of them."""
    percent = 100 * share
    return "100 %" if share == 1 else f"{min(percent, 99.99):.2f} %"


def _words(name: str) -> str:
    return name.replace("_", " ")


def _range(design: Design, given: list[str], json: bool) -> dict[str, object]:
    from neckmodel.cli.overruled import refuse_overruled
    from neckmodel.variants import vary_range
    from neckmodel.variants.json import range_json
    from neckmodel.variants.ranges import is_length

    key = given[0]
    length = is_length(key)
    refuse_overruled(design, [key], "KEY")
    variants = vary_range(design, key, _values(given[1:], design.design.units if length else None))
    if not json:
        _show_range(design, key, length, variants)
    return range_json(design.name, key, "mm" if length else "", variants)


def _values(texts: list[str], unit: str | None) -> tuple[float, ...]:
    """FROM, TO and STEP as numbers, lengths in mm. unit: of those without one."""
    from neckmodel.cli.guard import CallError
    from neckmodel.design.reading.settings import parsed
    from neckmodel.units import to_mm
    from neckmodel.variants.ranges import values_between

    numbers = []
    for name, text in zip(("FROM", "TO", "STEP"), texts, strict=True):
        try:
            numbers.append(to_mm(parsed(text), unit) if unit else float(text))
        except ValueError:
            raise CallError(f"{name} = {text!r} is not a {'length' if unit else 'number'}") from None
    try:
        return values_between(*numbers)
    except ValueError as error:
        raise CallError(str(error)) from None


def _show_range(design: Design, key: str, is_length: bool, variants: tuple[Variant, ...]) -> None:
    from neckmodel.cli.terminal.findings import sign
    from neckmodel.cli.terminal.table import Column, show_lines, show_table
    from neckmodel.findings import FAIL, PASS
    from neckmodel.lengths import NONE, in_unit, length

    unit = design.design.units
    steps = list(dict.fromkeys(wall.step for variant in variants for wall in variant.walls))
    rows = []
    for variant in variants:
        walls = {wall.step: wall.wall for wall in variant.walls}
        first = variant.first
        because = variant.refused if first is None else f"{first.what}, {length(first.value, unit)}"
        rows.append(
            (
                length(variant.value, unit) if is_length else f"{variant.value:g}",
                f"{sign(PASS if variant.keeps else FAIL)} {'yes' if variant.keeps else 'no'}",
                *(length(walls.get(step), unit) for step in steps),
                length(variant.rod_margin, unit),
                in_unit(because, unit) if because else NONE,
            )
        )
    columns = [Column(key, number=True), Column("keeps")]
    columns += [Column(title, number=True) for title in (*(f"wall {step}" for step in steps), "rod's place")]
    columns.append(Column("least", least=24))
    show_lines(f"{design.name}: {sum(v.keeps for v in variants)} of {len(variants)} variants keep every limit below")
    show_table(
        f"Least walls, the rod's margin in its place, and what is least against its limit; lengths in "
        f"{'mm' if unit == 'mm' else 'inches, the nearest 1/64 in brackets'}.",
        columns,
        rows,
    )
    show_lines("", "By layout and cross-sections, without solids: `neckmodel check` measures what you choose.")
