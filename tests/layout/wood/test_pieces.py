"""The pieces that a neck is glued up from, by hand: blocks under a heel, and wings at a head."""

from __future__ import annotations

import pytest
from layout_samples import preset

from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out

FAR = 90.0  # mm of the head's width at its far end


@pytest.mark.parametrize(
    ("board", "blocks"),
    [
        (45.0, []),  # as thick as the heel is deep
        (40.0, []),  # 2 mm are lacking, too little to glue on
        (39.0, [(39.0, 42.0)]),
        (30.0, [(30.0, 42.0)]),
        (21.0, [(21.0, 42.0)]),  # one block, just as thick as the board
        (20.0, [(20.0, 31.0), (31.0, 42.0)]),  # a last one of 2 mm would be too thin: both share the rest
        (19.0, [(19.0, 38.0), (38.0, 42.0)]),
        (15.0, []),  # too thin for the shaft already
        (17.0, [(17.0, 34.0), (34.0, 42.0)]),
        (17.0, [(17.0, 34.0), (34.0, 43.5), (43.5, 53.0)]),  # three: the last two share the rest
        (17.0, [(17.0, 34.0), (34.0, 51.0), (51.0, 60.0)]),
    ],
)
def test_blocks_make_up_a_deep_heel(board: float, blocks: list[tuple[float, float]]) -> None:
    """Pipit's heel, 42 deep and deeper; the lowest block first, of the blank's width of 44, each glued at its upper
    side. It begins where the sawn ramp, at 45 degrees up to x 143, passes that side, and ends with the tenon, which is
    36 deep, at x 201, or with the heel at 173."""
    deep = max((bottom for _, bottom in blocks), default=42.0)
    layout = lay_out(preset("pipit", f"board.thickness={board}", f"heel.depth={deep}"))
    assert layout.heel.depth == deep
    found = [piece for piece in layout.pieces if piece.name.startswith("heel-block")]
    assert [piece.name for piece in found] == [f"heel-block-{k}" for k in range(len(blocks), 0, -1)]
    for piece, (top, bottom) in zip(found, reversed(blocks), strict=True):
        assert piece.seam == pytest.approx(-top)
        assert piece.stock[1:] == pytest.approx((44.0, bottom - top))
        if top > 18.0:  # the shaft is 17.3 deep where the ramp begins
            assert piece.stock[0] == pytest.approx((201.0 if top < 36.0 else 173.0) - (143.0 - (deep - top)))
        assert piece.y_to == -piece.y_from > layout.outside.widest
        zs = [z for _, z in piece.profile]
        assert max(zs) == pytest.approx(-top)
        if bottom < deep:
            assert min(zs) == pytest.approx(-bottom)
        else:  # the lowest takes all that lies below it
            assert min(zs) < -deep - 19.9


def winged(*wings: str) -> Layout:
    """Redpoll with a head 90 mm wide at its far end, glued out by wings."""
    return lay_out(preset("redpoll", f"head.outline.far={FAR}", f"head.wings=[{', '.join(wings)}]"))


def wing(side: str, width: float, length: float = 170.0) -> str:
    return f'{{side = "{side}", width = {width}, length = {length}}}'


def test_wings_lie_beside_the_blank_one_against_the_other() -> None:
    """The last one of a side reaches past the outline."""
    layout = winged(wing("bass", 6), wing("treble", 30), wing("bass", 12))
    half = layout.blank_half_width
    one, other, outer = layout.pieces
    assert [piece.name for piece in layout.pieces] == ["wing-1", "wing-2", "wing-3"]
    assert half == pytest.approx(layout.back.half_width(layout.heel.x_end) + 2.5)  # the heel, as wide as the fretboard
    sign = -1 if one.y_to <= 0 else 1
    assert sorted(sign * y for y in (one.y_from, one.y_to)) == pytest.approx([half, half + 6])
    assert sorted(sign * y for y in (outer.y_from, outer.y_to)) == pytest.approx([half + 6, half + 18 + 20])
    assert sorted(-sign * y for y in (other.y_from, other.y_to)) == pytest.approx([half, half + 30 + 20])
    assert [piece.seam for piece in (one, outer, other)] == pytest.approx(
        [sign * half, sign * (half + 6), -sign * half]
    )
    assert one.stock == pytest.approx((170.0, 6.0, 14.0))
    for piece in layout.pieces:
        xs = [x for x, _ in piece.profile]
        assert (min(xs), max(xs)) == pytest.approx((layout.head.x_far - 20.0, layout.head.x_line))


def test_wings_that_do_not_reach_are_refused_with_the_size_that_does() -> None:
    """The head reaches 45 mm; it is wider than the blank from where its side, a straight line from its nut's half width
    plus 2 to 45 over 170, passes the blank's."""
    half, head = winged(wing("bass", 30), wing("treble", 30)).blank_half_width, 45.0
    least = head - half
    with pytest.raises(DesignError, match=r"does not reach the outline's 45\.00 mm; at least "):
        winged(wing("bass", least - 0.1), wing("treble", 30))
    assert winged(wing("bass", least + 0.1), wing("treble", 30)).pieces
    near = lay_out(preset("redpoll")).head.near / 2
    long = 170.0 * (head - half) / (head - near)
    with pytest.raises(DesignError, match="does not reach all of the head beyond the blank; at least ") as refused:
        winged(wing("bass", 30, long - 1.0), wing("treble", 30))
    assert float(str(refused.value).rpartition("at least ")[2].split()[0]) == pytest.approx(
        long, abs=170.0 / 400 + 0.01
    )
    assert winged(wing("bass", 30, long + 1.0), wing("treble", 30)).pieces
    hardly = (f"head.outline.far={2 * half + 1}", f"head.wings=[{wing('bass', 30)}, {wing('treble', 30)}]")
    with pytest.raises(DesignError, match="hardly farther than the blank"):
        lay_out(preset("redpoll", *hardly))
    with pytest.raises(DesignError, match="the wings inside it already reach the outline; leave it out"):
        winged(wing("bass", least + 0.1), wing("treble", 30), wing("bass", 5))
