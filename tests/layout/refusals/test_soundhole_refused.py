"""A rod turned through the soundhole that is half stated, or goes with nothing: one message, with the key, why and what
to try."""

from __future__ import annotations

import pytest
from soundhole_samples import design, laid_out

from neckmodel.errors import DesignError


def refused(*overrides: str) -> tuple[str, str, str]:
    """(key, what is wrong, what is allowed and to try) of the one problem."""
    with pytest.raises(DesignError) as caught:
        laid_out(*overrides)
    (problem,) = caught.value.problems
    return problem.key, problem.says, f"{problem.allowed}; {problem.attempt}"


HEAD = ("rod.adjuster_at=head", "rod.block.height=9.2", "rod.adjuster.axis_below_top=4.2")
BAR = (
    'rod.adjuster.socket={kind = "spokes", size = 4.0, depth = 2.0, holes = 8}',
    "adjusting_key.kind=bar",
    "adjusting_key.size=4",
    "adjusting_key.engaged_depth=2",
)
THROUGH = ("heel.kind=through", "heel.wood_ends_at=440", "heel.width=60", "body.top=0")


@pytest.mark.parametrize(
    ("overrides", "key", "says", "ways"),
    [
        (HEAD, "adjusting_key.enters", "the rod's adjuster lies at the head", 'rod.adjuster_at = "heel"'),
        (BAR, "adjusting_key.enters", "nobody can turn a wheel with a bar", 'allowed is "face" with a bar'),
        (THROUGH, "adjusting_key.enters", "the neck runs through the body", "another heel.kind"),
        (("body.soundhole.to=450",), "body.soundhole.to", "does not lie beyond from", "more than 452 mm"),
        (("body.soundhole.to=700",), "body.soundhole.to", "beyond the bridge, x 642 mm", "at most 642 mm"),
        (("body.head_block_ends_at=300",), "body.head_block_ends_at", "before the joint, x 356.02 mm", "more than"),
        (("body.head_block_ends_at=440", "body.braces=[]", "body.soundhole.from=430"),
         "body.head_block_ends_at", "lies in the soundhole", "at most 430 mm"),
        (("body.braces=[{from = 400.0, to = 410.0, depth = 16.0}]",),
         "body.braces[0].from", "the bore meets no such brace", "at least 404 mm; or leave this brace out"),
        (("body.braces=[{from = 448.0, to = 460.0, depth = 16.0}]",),
         "body.braces[0].to", "beyond the edge of the soundhole", "at most 452 mm; or leave this brace out"),
        (("body.braces=[{from = 442.0, to = 428.0, depth = 16.0}]",), "body.braces[0].to", "beyond from", "more than"),
        (("body.braces=[{from = 420.0, to = 432.0, depth = 16.0}, {from = 430.0, to = 440.0, depth = 16.0}]",),
         "body.braces[1].from", "lies in the brace that ends at x 432 mm", "at least 432 mm"),
        (("body.braces.0.depth=2",), "body.braces[0].depth", "meets no such brace", "or leave this brace out"),
        (("body.top_thickness=15", "body.thickness=29", "heel.neck_pocket_depth=20", "body.top=0"),
         "body.top_thickness", "leaves no room between top and back", "less than 14.5 mm"),
        (("body.soundhole.from=375", "body.braces=[]", "body.head_block_ends_at=370"),
         "body.soundhole.from", "lies before the neck's wood ends, x 381.02 mm", "or let the wood end before it"),
        (("body.soundhole.width=3",), "body.soundhole.width", "too small", "20 to 400 mm"),
        (("adjusting_key.enters=side",), "adjusting_key.enters", "", "face"),
    ],
)  # fmt: skip
def test_one_message_names_the_key_and_what_to_try(overrides: tuple[str, ...], key: str, says: str, ways: str) -> None:
    found = refused(*overrides)
    assert found[0] == key
    assert says in found[1]
    assert ways in found[2]


def test_a_brace_just_deep_enough_to_be_met_is_let_in() -> None:
    """The bore's upper side lies 2.565 to 2.71 under the top along it."""
    assert refused("body.braces.0.depth=2.7")[2].startswith("allowed is more than 2.72 mm")
    assert laid_out("body.braces.0.depth=2.73").soundhole_way is not None


def test_without_a_soundhole_it_is_missing() -> None:
    text = [line for line in design().source.text.splitlines() if not line.startswith(("soundhole", "braces"))]
    from neckmodel.design import read_text

    with pytest.raises(DesignError, match=r"body.soundhole.*is missing.*needs \{from, to, width\}"):
        read_text("\n".join(text))
