"""The order of work beside a string that starts later than the nut: the bass side's step, and the peg's hole."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.sides import side_at
from neckmodel.work import cautions
from neckmodel.work.operation import Work, words_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def edge_words(layout: Layout) -> str:
    """Both edges of the fretboard by their distances from the centre line, in place of a taper; empty where every
    string starts at the nut."""
    board, say, later = layout.fretboard, words_of(layout), layout.fretboard.later
    if later is None:
        return ""
    treble = f"from {say(board.treble(0.0))} at the nut to {say(board.treble(board.x_end))} at x {say(board.x_end)}"
    first = f"from {say(-board.bass(0.0))} at the nut to {say(-board.bass(later.x_from))} at x {say(later.x_from)}"
    last = f"from {say(-board.bass(later.x_to))} at x {say(later.x_to)} to {say(-board.bass(board.x_end))} at its end"
    return (
        f"Saw and plane both edges, measured from the centre line. The treble edge is straight: {treble}. The bass "
        f"edge is nearer beside the strings that run to the nut: {first}, straight; then it swings out to the full "
        f"width in a smooth S, without a corner at either end; and {last}, straight again. Saw that S outside its "
        f"line and file it to the fretboard sheet ({say.printed('fretboard')})."
    )


def plan_words(layout: Layout) -> str:
    """How the shaft's sides are sawn beside the step, to follow another sentence; empty without one."""
    say, later = words_of(layout), layout.fretboard.later
    if later is None:
        return ""
    return (
        f" The bass side steps out between x {say(later.x_from)} and x {say(later.x_to)}: draw it from the fretboard, "
        "or from the marking-out sheet, and saw outside it."
    )


def back_words(layout: Layout) -> str:
    """Where the back's deepest line runs, to follow another sentence; empty without a step."""
    say, later, back = words_of(layout), layout.fretboard.later, layout.back
    if later is None:
        return ""
    off = back.middle(0.0), back.middle(later.x_from)
    return (
        f" The deepest line lies midway between the two edges: {say(off[0])} to the treble side of the centre line at "
        f"the nut, {say(off[1])} at x {say(later.x_from)}, and from x {say(later.x_to)} on as on an even neck. Let the "
        "back follow the step as smoothly as the edge does."
    )


def bore_peg(layout: Layout) -> Work | None:
    """Boring the hole for the peg of the string that starts later; None without one."""
    peg, say = layout.peg, words_of(layout)
    if peg is None:
        return None
    x, y, z = peg.mouth
    deep = f"{say(peg.depth)} deep"
    if peg.side:
        place = (
            f"On the carved bass side, at x {say(x)}, mark the hole's middle {say(-z)} below the glue plane. Bore it "
            f"{say.tool(peg.hole)} across and {deep}, level and square to the centre line."
        )
    else:
        place = (
            f"On the carved back, at x {say(x)}, mark the hole's middle {say(abs(y))} to the {side_at(y)} side of the "
            f"centre line. Bore it {say.tool(peg.hole)} across and {deep}, square to the glue plane."
        )
    return Work(
        "Bore the hole for the short string's peg",
        (
            f"{place} Clamp a block against the mouth, hollowed to the neck, so that the edge does not break out, and "
            "set the drill's stop by a hole in scrap. A tapered peg is reamed to fit after that.",
        ),
        (cautions.DRILL, cautions.DUST),
        checks=("the peg goes in by hand, and its hole has not come out anywhere",),
    )
