"""Which of a maker's rods fit: places, margins and mistakes in the list."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from neck_runs import design, laid_out
from variant_samples import RUSH, rods_file

from neckmodel.errors import DesignError
from neckmodel.variants import fit_rods, read_rods
from neckmodel.variants.rods.margins import margins_at, room_of


def test_the_room_of_a_rod_by_hand(tmp_path: Path) -> None:
    """L 640, joint at fret 16 (386.016), wood to 468.41, 4 from the nut, 15 past the joint, 6 and 1 beyond the rod:
    420 may lie from 4 to 41.41; 470 is 12.59 too long; the gap binds one side, the wood's end the other."""
    rods = rods_file(tmp_path, {"rush 420": {"length": 420.0}, "rush 470": {"length": 470.0}})
    good, long = fit_rods(design("redpoll"), read_rods(rods))
    assert (good.name, good.fits, good.x_from) == ("rush 420", True, 4.0)
    assert good.x_to == pytest.approx(468.41 - 7 - 420)
    assert (long.name, long.fits, long.x_start) == ("rush 470", False, None)
    assert long.margin == pytest.approx(-(470 + 4 + 7 - 468.41))
    assert long.says == "the gap from the nut and the wood's end leave no place, 12.59 mm are lacking"
    assert long.length_to == pytest.approx(468.41 - 7 - 4)


def test_the_best_place_is_the_middle_where_walls_do_not_bind(tmp_path: Path) -> None:
    """A thick neck, 26 throughout: the same wall everywhere, so the middle between 4 from the nut and the place where
    the block ends at fret 1 (35.92 - 22), to a hundredth."""
    thick = ("neck.thickness.fret_1=24", "neck.thickness.fret_12=24", "head.drop=11")
    (fit,) = fit_rods(design("redpoll", *thick), read_rods(rods_file(tmp_path, {"rush": {}})))
    span = laid_out("redpoll").frets.x(1) - 22.0
    assert fit.x_start == pytest.approx((4.0 + span) / 2, abs=0.011)
    assert {m.what: m.value for m in fit.margins}["the gap from the nut"] == pytest.approx((span - 4.0) / 2, abs=0.011)


def test_the_best_place_goes_where_there_is_more_wood(tmp_path: Path) -> None:
    """A neck that is 4 thicker at fret 12: the wall near the nut binds, and the rod goes toward the body until its
    walls are within 0.05 of the best."""
    tapered = ("neck.thickness.fret_1=18.8", "neck.thickness.fret_12=24", "heel.depth=21")
    rods = read_rods(rods_file(tmp_path, {"rush": {}}))
    (fit,) = fit_rods(design("redpoll", *tapered), rods)
    (level,) = fit_rods(design("redpoll"), rods)
    assert fit.x_start is not None
    assert level.x_start is not None
    assert fit.x_start > level.x_start + 1.0
    at_all = [
        margins_at(layout, room_of(layout, layout.rod))
        for layout in (laid_out("redpoll", *tapered, f"rod_place.from_nut={x}") for x in (4, 6, 8, 10, 12, 13.9))
        if layout.rod is not None
    ]
    walls = [min(m.value for m in margins if m.kind == "wall") for margins in at_all]
    assert fit.margin is not None
    assert fit.margin > max(walls) - 0.05 - 1e-3  # the best of the places looked at lies a little before 13.9


def test_each_place_told_is_one_that_the_layout_agrees_with(tmp_path: Path) -> None:
    """Put into the design at the place told, the layout has the margins told, and the best come first."""
    lengths = {f"rush {n}": {"length": float(n)} for n in (380, 400, 440, 460, 300)}
    fits = fit_rods(design("redpoll"), read_rods(rods_file(tmp_path, lengths)))
    # 460 leaves too little wood behind it; 380 and 300 reach past the joint only from beyond fret 1 (35.92 - 22)
    assert {fit.name for fit in fits[:2]} == {"rush 400", "rush 440"}
    assert fits[0].margin is not None
    assert fits[1].margin is not None
    assert fits[0].margin >= fits[1].margin
    assert [bool(fit.warns) for fit in fits] == [False, False, True, True, False]
    assert (fits[4].name, fits[4].fits) == ("rush 460", False)
    short = next(fit for fit in fits if fit.name == "rush 380")
    assert short.x_from == pytest.approx(386.016 + 15 - 380, abs=1e-3)
    assert short.x_start is not None
    beyond = short.x_start - (laid_out("redpoll").frets.x(1) - 22)
    assert short.warns == f"its block ends {beyond:.2f} mm beyond fret 1: the first frets are not straightened"
    for fit in fits:
        if fit.fits:
            layout = laid_out("redpoll", f"rod.length={fit.length}", f"rod_place.from_nut={fit.x_start}")
            assert layout.rod is not None
            again = margins_at(layout, room_of(layout, layout.rod))
            assert {m.what: m.value for m in again} == pytest.approx({m.what: m.value for m in fit.margins})


def test_a_rod_too_high_says_which_wall_it_lacks(tmp_path: Path) -> None:
    tall = {"height": 12.0, "block": {"length": 12.0, "width": 6.0, "height": 12.0}}
    (fit,) = fit_rods(design("redpoll"), read_rods(rods_file(tmp_path, {"tall": tall})))
    assert not fit.fits
    assert fit.margin is not None
    assert fit.margin < 0
    assert fit.says == f"the wall round the run is {-fit.margin:.2f} mm short"


def test_a_key_that_does_not_fit_is_told_and_a_rod_may_bring_its_own(tmp_path: Path) -> None:
    wide = RUSH["adjuster"] | {"diameter": 8.0, "socket": {"kind": "hex", "size": 5.0, "depth": 5.0}}
    key = {"kind": "straight", "size": 5.0, "length": 190.0, "engaged_depth": 4.0}
    rods = {"no key": {"adjuster": wide}, "own key": {"adjuster": wide, "adjusting_key": key}}
    own, none = fit_rods(design("redpoll"), read_rods(rods_file(tmp_path, rods)))
    assert (own.name, own.fits) == ("own key", True)
    assert (none.name, none.fits) == ("no key", False)
    assert none.says == "adjusting_key.size does not fit the socket of 5 mm"


def test_a_channel_that_is_cut_already_must_take_the_rod(tmp_path: Path) -> None:
    """The run was cut 5.9 wide: a rod 6.0 wide does not go in, one of 5.8 does."""
    cut = design("redpoll", "measured.channel.run.width=5.9")
    ends = {"length": 12.0, "width": 5.8, "height": 9.2}
    rods = rods_file(tmp_path, {"6.0": {}, "5.8": {"width": 5.8, "block": ends, "anchor": ends}})
    slim, wide = fit_rods(cut, read_rods(rods))
    assert (slim.name, slim.fits) == ("5.8", True)
    assert (wide.name, wide.fits) == ("6.0", False)
    assert wide.says == "the width of run as cut is 0.10 mm short"


def test_inches_in_the_list_and_in_the_design(tmp_path: Path) -> None:
    rods = rods_file(tmp_path, {"inch": {"length": 16.5}}, units="in", scale=1 / 25.4)
    (fit,) = fit_rods(design("redpoll"), read_rods(rods))
    assert fit.length == pytest.approx(419.1)
    assert fit.x_to == pytest.approx(468.41 - 7 - 419.1)


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (("length = 420.0", "lenght = 420.0"), "rods.toml:4: rod[0].lenght = 420.0: is an unknown key; did you"),
        (("length = 420.0", "length = 42000"), "rods.toml:4: rod[0].length"),
        (("length = 420.0", "length = 20.0"), "is too small"),
        (("name = \"rush\"", "name = 3"), "rods.toml:3: rod[0].name: is no name"),
        (("units", "unit"), "rods.toml:1: unit: is an unknown key; known are units and [[rod]]"),
        (("[[rod]]", "[rod]"), "rod: is no list of rods"),
        (("[[rod]]", "[[rod"), "is not TOML"),
    ],
)  # fmt: skip
def test_mistakes_in_the_list(tmp_path: Path, edit: tuple[str, str], says: str) -> None:
    file = rods_file(tmp_path, {"rush": {"length": 420.0}})
    file.write_text(file.read_text().replace(*edit))
    with pytest.raises(DesignError) as caught:
        fit_rods(design("redpoll"), read_rods(file))
    assert says in str(caught.value).replace(f"{tmp_path}/", "")


def test_two_rods_of_one_name_are_a_mistake(tmp_path: Path) -> None:
    file = rods_file(tmp_path, {"a": {}, "b": {}})
    file.write_text(file.read_text().replace('"b"', '"a"'))
    with pytest.raises(DesignError, match=r'rod\[1\]\.name: stands twice: "a"'):
        read_rods(file)


def test_nothing_here_loads_the_kernel(tmp_path: Path) -> None:
    file = rods_file(tmp_path, {"rush": {}})
    script = (
        "import sys; from neckmodel import presets; from neckmodel.design import read\n"
        "from neckmodel.layout import lay_out\n"
        "from neckmodel.variants import fit_rods, read_rods, vary_range, vary_tolerance\n"
        "d = read(presets.path_of('redpoll'))\n"
        f"fit_rods(d, read_rods({str(file)!r}))\n"
        "vary_tolerance(lay_out(d), 100); vary_range(d, 'rod.length', [400.0])\n"
        "print(*{name.split('.')[0] for name in sys.modules})"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, encoding="utf-8", check=True)
    assert not {"OCP", "cadquery", "trimesh", "manifold3d", "scipy"} & set(done.stdout.split())


INCH_ROD = """[[rod]]
name = "wisp"
kind = "two-way"
length = 16.5
width = "15/64"
height = 0.36
adjuster = {diameter = 0.28, length = 0.4, axis_below_top = 0.165, socket = {kind = "hex", size = 0.158, depth = 0.2}}
"""


def test_a_list_in_the_other_unit_is_told_once(tmp_path: Path) -> None:
    file = tmp_path / "rods.toml"
    file.write_text(INCH_ROD.replace('"15/64"', "0.24"))
    with pytest.raises(DesignError) as caught:
        read_rods(file)
    (problem,) = caught.value.problems
    assert problem.says == (
        "does not go with sizes that make sense only in inches: rod[0].length = 16.5 (line 4), "
        "rod[0].width = 0.24 (line 5), rod[0].height = 0.36 (line 6) and 5 more"
    )
    assert problem.attempt.startswith('write units = "in" at the top of the file')
    file.write_text('units = "in"\n' + INCH_ROD)
    (fit,) = fit_rods(design("redpoll"), read_rods(file))
    assert fit.length == pytest.approx(419.1)
