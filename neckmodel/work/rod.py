"""The order of work on rod and bars: felt free, laid, glued in, and first turned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.design.reading.measured import is_measured
from neckmodel.layout.channel.cutters import narrower
from neckmodel.layout.channel.seat import deepest
from neckmodel.layout.channel.step import StepName, plain
from neckmodel.layout.rod.way import LIES, bar_words, turned_words
from neckmodel.lengths import listed
from neckmodel.work import cautions
from neckmodel.work.operation import GLUING, Work, words_of
from neckmodel.work.soundhole import key_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace

LEAST_PLAY = 0.005  # mm; less counts as no play
ALIKE = 0.05  # mm; an axis this near to half the rod's height counts as equally far from both faces
SLACK = "The adjuster stays as it is until the glue has set for its full time: never turn a rod while glue sets."


def each_of_two(layout: Layout) -> list[str]:
    """Which of two rods is which; nothing of one."""
    if not layout.paired:
        return []
    at = " and ".join(f"rod {rod.number} at y {words_of(layout)(layout.across(rod.y))}" for rod in layout.rods)
    return [f"There are two rods alike, {at}: do what follows with each of them."]


def felt_free(rod: RodPlace) -> str:
    """How to set a rod slack. A two-way rod takes hold in both directions, others in one."""
    if rod.kind == "two-way":
        return (
            "Feel the rod free: turn its adjuster by hand both ways until each just takes hold, then back to the "
            "middle, where it turns loosely. Now it is slack."
        )
    against = "until it just bears on its washer" if rod.washer is not None else "until it just takes hold"
    return (
        f"Feel the rod free: turn its adjuster in by hand {against}, and back it off by half a turn. Now it is slack."
    )


def faces_of(rod: RodPlace) -> tuple[float, float]:
    """Distance of the adjuster's axis from the face of a straight rod that goes up, and from the other face, mm."""
    up = rod.table.adjuster.axis_below_top
    return up, deepest(rod.segments) - up


def way_up(layout: Layout, rod: RodPlace) -> str:
    """Which face of a straight rod goes up, and which end goes where."""
    say, (up, down) = words_of(layout), faces_of(rod)
    lies = f", {bar_words(rod.bar)}" if rod.bar is not None else ""
    said = f"The rod goes in with its adjuster at the {layout.adjuster_end}{lies}"
    cut = "its pocket and the access slot are" if layout.of_kind(StepName.ACCESS_SLOT) else "its pocket is"
    if layout.of_kind(StepName.KEY_BORE):
        cut = "its pocket and the key's bore are"
    if abs(up - down) < ALIKE and rod.bar is None:
        return (
            f"{said}. The adjuster's axis lies {say(up)} from either face, so both ways up fit: the rod's data sheet "
            "says which face goes up."
        )
    return (
        f"{said}, and with that face up from which the adjuster's axis lies {say(up)}. Turned over, the axis would lie "
        f"{say(down)} deep, and {cut} not cut for that."
    )


def glue_bars(layout: Layout) -> Work | None:
    """Gluing in the bars; None without any."""
    bars = layout.bars
    if not bars:
        return None
    say, names = words_of(layout), listed(plain(bar.name) for bar in bars)
    its, is_ = ("its", "lies") if len(bars) == 1 else ("their", "lie")
    said = [
        f"{plain(bar.name)}, {bar.material}, {say.sizes((bar.x_end - bar.x_start, bar.width, bar.height))}: from x "
        f"{say(bar.x_start)}, its middle at y {say(layout.across(bar.y))}."
        for bar in bars
    ]
    run = "each run" if layout.paired else "the run"
    keep = f" Lay a waxed strip into {run} meanwhile, to keep glue out of it." if layout.rod is not None else ""
    below = listed(dict.fromkeys(say(bar.below) for bar in bars if bar.below > 0))
    flush = f" As cut, {names} {is_} {below} under it." if below else ""
    return Work(
        f"Glue in {names} and level",
        (
            *said,
            f"Roughen and clean {its} faces as the glue's data sheet says. Spread glue in the channel, press {names} "
            f"down to the floor, wipe off what comes out, and clamp a flat batten over a strip of film.{keep} {GLUING}",
            "Once the glue has set, scrape and sand with a flat block until nothing stands above the glue plane."
            f"{flush}",
        ),
        (cautions.GLUE, cautions.DUST, cautions.BARS),
        checks=(f"a straightedge laid across the glue plane touches wood on both sides of {names}",),
    )


def cover_strip(layout: Layout) -> Work | None:
    """Gluing in the strip over a rod, level with the glue plane; None without one."""
    rod, say = layout.rod, words_of(layout)
    strip = None if rod is None else rod.strip
    if rod is None or strip is None:
        return None
    under = strip.underside
    middle = under.at((strip.x_start + strip.x_end) / 2)
    depths = ", ".join(say(depth) for depth in (under.start, middle, under.end))
    says = [
        *each_of_two(layout),
        f"Cover strip, {strip.wood}, {say.sizes((strip.x_end - strip.x_start, strip.width, strip.thickness))}, from x "
        f"{say(strip.x_start)} to {say(strip.x_end)}: fit its underside to the rod's top, {depths} below the glue "
        "plane at its start, half way and its end. It must touch the rod all along: that keeps the rod from rattling.",
        f"{felt_free(rod)} Lay it with its adjuster at the {layout.adjuster_end} and a strip of thin tape over it. "
        f"Glue the strip in at its sides only and press it down on the rod. {SLACK} {GLUING}",
        "Once the glue has set, plane the strip level with the glue plane. Turn the adjuster in by hand until it "
        "takes hold, and back it off again.",
    ]
    cutting = layout.cutting(layout.of_kind(StepName.RUN)[0].name)
    if cutting is not None and narrower(cutting, strip.width):
        says.append(f"In one line the run comes out {say(cutting.width)} wide: plane the strip to fit it as it is cut.")
    if strip.thickness < under.extremes()[1]:
        says.append("The stock is thinner than the rod is deep: where it does not come down to the rod, pack it out.")
    turns = "each adjuster turns by hand, and no rod rattles" if layout.paired else ""
    checks = (f"{turns or 'the adjuster turns by hand, and the rod does not rattle'} when the blank is knocked",)
    title = f"Glue in the cover strip{'s' if layout.paired else ''}"
    return Work(title, tuple(says), (cautions.GLUE, cautions.CHISEL, cautions.DUST), checks=checks)


def lay_rod(layout: Layout) -> list[str]:
    """What to do with the rod just before the fretboard goes on."""
    rod, say = layout.rod, words_of(layout)
    if rod is None:
        return []
    if layout.back_strip is not None:
        return [f"The rod lies behind its strip already, slack. {SLACK}"]
    if rod.strip is not None:
        if layout.paired:
            return [f"The rods lie under their strips, slack. Keep glue out of the adjusters' pockets. {SLACK}"]
        return [f"The rod lies under its strip, slack. Keep glue out of the adjuster's pocket. {SLACK}"]
    lay = f"Lay it with its adjuster at the {layout.adjuster_end}"
    if rod.curve is None:
        up, down = faces_of(rod)
        lay += " and the same face up as in the trial"
        lay += f", its flat bar {LIES[rod.bar]}" if rod.bar is not None else ""
        if abs(up - down) >= ALIKE:
            lay += f": the adjuster's axis {say(up)} under it"
    play = max(_play(layout, rod) for rod in layout.rods)
    room = f"the {say(play)} of play in its run" if play > LEAST_PLAY else "what play it has"
    return [
        *each_of_two(layout),
        f"{felt_free(rod)} {lay}.",
        f"Keep it from rattling: take up {room} with a thin sleeve or wax along its middle; none on the adjuster, and "
        "none under the rod, which would lift it.",
        f"Lay thin tape over the rod and its adjuster, and keep the glue off both edges of the channel. {SLACK}",
    ]


def _play(layout: Layout, rod: RodPlace) -> float:
    """The rod's play in width in its run, as that is cut or will come out of the cutter, mm."""
    own = rod.diameter if rod.curve is not None else min(s.width for s in rod.segments if s.x_end > s.x_start)
    name = f"{StepName.RUN}{rod.suffix}"
    cutting, width = layout.cutting(name), layout.step(name).width
    if cutting is not None and not is_measured(layout.design, f"channel.{name}.width") and narrower(cutting, width):
        width = cutting.width
    return width - own


def string_up(layout: Layout) -> Work | None:
    """Stringing up, and the first use of the rod; with neither rod nor bar, what is read of the neck. None with bars
    alone."""
    rod, say = layout.rod, words_of(layout)
    joint, wanted = layout.design.neck.joint_fret, layout.design.action.wanted_relief
    ready = "" if layout.fretless else "fretted and "
    if rod is None:
        return None if layout.bars else _read_relief(joint, say(wanted), ready)
    which = (
        "The rod's data sheet says which way takes relief away."
        if rod.kind == "two-way"
        else "This rod bends the neck one way only, against the strings: turned in, it can take relief away, not add "
        "any."
    )
    if rod.bar is not None:
        which = f"{turned_words(rod.bar)} (common practice, a right-hand thread)."
    turn = "turn the adjuster by an eighth of a turn"
    if layout.paired:
        turn = "turn one adjuster by an eighth of a turn and the other by as much"
        which += " Keep both rods alike: one turned alone also twists the neck."
    return Work(
        "String up, and set the relief",
        (
            f"Once the instrument is {ready}put together, {_clamped(layout)}bring the strings to pitch and let it "
            "settle for a day. "
            f"Measure the relief between fret 1 and fret {joint}: the design wants {say(wanted)}.",
            f"Where it is more or less, slacken the strings, {turn}, bring them to "
            f"pitch and measure again. {which}{_reached(layout)} Where the adjuster goes stiff, stop.",
        ),
        (cautions.STRINGS,),
    )


def _clamped(layout: Layout) -> str:
    return "" if layout.clamp is None else "fasten the clamp behind the nut, "


def _read_relief(joint: int, wanted: str, ready: str) -> Work:
    """Nothing in the neck sets its relief: what there is is read, for this neck and the next."""
    return Work(
        "String up, and read the relief",
        (
            f"Once the instrument is {ready}put together, measure the relief between fret 1 and fret {joint} "
            "without strings. Bring the strings to pitch, let the neck settle for a day, and measure it again: the "
            f"design wants {wanted}.",
            "Nothing in this neck sets its relief. Write both readings under [calibration], and run the checks: the "
            "estimates then hold for this wood. Where the relief is too much, lighter strings make it less; where it "
            f"is too little, the {'frets are levelled' if ready else 'fretboard is planed'} hollow by what is missing.",
        ),
        (cautions.STRINGS_ALONE,),
    )


def _reached(layout: Layout) -> str:
    words = key_words(layout)
    return f" {words}" if words else ""
