"""What the tests of scales share: a small neck to vary, and random ones with every kind of frets and strings."""

from __future__ import annotations

from hypothesis import strategies as st
from plain_neck import NECK

from neckmodel.design import Design, read_text
from neckmodel.layout import Layout, lay_out

PLAIN = (
    NECK
    + """\
[bars]
count = 1
width = 6.0
height = 9.0
length = 380.0
"""
)


def plain(*overrides: str) -> Design:
    return read_text(PLAIN, "plain", overrides)


def laid_out(*overrides: str) -> Layout:
    return lay_out(plain(*overrides))


def two(bass: float, treble: float, square: float, at_nut: float = 44.0, at_bridge: float = 62.0) -> tuple[str, ...]:
    """Overrides for two scale lengths."""
    return (
        f"strings.scale={{bass = {bass}, treble = {treble}, square_fret = {square}}}",
        f"strings.spacing_at_nut={at_nut}",
        f"strings.spacing_at_bridge={at_bridge}",
        "head.swell_length=60",
        "head.length=220",
    )


def _steps(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 20), round(high * 20)).map(lambda n: n / 20)


@st.composite
def fretted(draw: st.DrawFn) -> tuple[str, ...]:
    """Overrides for a neck of any courses, single or paired, one scale length or two, nut or zero fret, either end."""
    courses, paired = draw(st.integers(3, 12)), draw(st.booleans())
    bass = draw(_steps(300, 900))
    treble = max(300.0, bass - draw(_steps(0, 0.08 * bass))) if draw(st.booleans()) else bass
    at_nut = draw(_steps(max(20.0, 5.0 * (courses - 1)), max(24.0, 7.0 * (courses - 1))))
    at_bridge = at_nut + draw(_steps(0, 18))
    joint = draw(st.integers(11, 17))
    frets = joint + draw(st.integers(3, 8))
    made = [
        f"strings.courses={courses}",
        f"strings.divided_by={draw(st.sampled_from(('gaps', 'centres')))}",
        f"neck.joint_fret={joint}",
        f"fretboard.frets={frets}",
        f"fretboard.edge_margin={draw(_steps(2.5, 5))}",
        f"fretboard.zero_fret={'true' if draw(st.booleans()) else 'false'}",
        f"fretboard.radius={draw(st.sampled_from(('flat', '250.0', '{nut = 240.0, end = 400.0}')))}",
        f"fretboard.fret_slot.floor={draw(st.sampled_from(('curved', 'flat')))}",
        "bars.length=120",
        "rod_place.past_joint=0",
    ]
    if paired:
        made += ["strings.paired=true", f"strings.pair_gap={draw(_steps(1.0, 1.0 + at_nut / (courses - 1) / 5))}"]
    spacing = (at_nut, at_bridge)
    if bass != treble:
        made += two(bass, treble, draw(st.integers(0, 12)), *spacing)
    else:
        made += [
            f"strings.scale={bass}",
            *(f"strings.spacing_at_{k}={v}" for k, v in zip(("nut", "bridge"), spacing, strict=True)),
        ]
    past = draw(_steps(2, 12))
    last = (bass + treble) / 2 * (1 - 2 ** (-frets / 12))
    square = round(last + past + (bass - treble) / 2, 2)
    made.append(f"fretboard.ends_at={square}" if draw(st.booleans()) else f"fretboard.past_last_fret={past}")
    return tuple(made)
