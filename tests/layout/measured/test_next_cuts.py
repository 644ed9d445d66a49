"""Numbers for the next cut hold for the neck as it is after the cuts that are told before it."""

from __future__ import annotations

import pytest
from neck_runs import laid_out
from variant_samples import told_of

from neckmodel.errors import DesignError
from neckmodel.layout.measured.carve import least_carve

LONG_ROD = ("rod.length=458", "measured.channel.run.depth=9.35")  # the run is cut to x 7 + 458 + 1 = 466


def test_the_carve_holds_for_the_run_once_it_is_cut_on() -> None:
    """A run 8.7 deep for a rod 9.2 high is cut on to the planned 9.3; the wall under that needs 18.57 and 20.57, not
    the 17.97 and 19.97 that 8.7 would."""
    layout = laid_out("redpoll", "measured.channel.run.depth=8.7")
    finding = told_of(layout, "wall/run")
    assert finding.says.endswith(
        "; cut the run to 9.30 mm deep, then carve no thinner than 18.57 mm at fret 1 and 20.57 mm at fret 12"
    )
    assert finding.more == {"carve_at_fret_1": 18.57, "carve_at_fret_12": 20.57}
    done = ("measured.channel.run.depth=9.3", "measured.neck.thickness.fret_1=18.57")
    assert 3.0 <= laid_out("redpoll", *done, "measured.neck.thickness.fret_12=20.57").walls[0].wall < 3.01
    thin = ("measured.neck.thickness.fret_1=17.97", "measured.neck.thickness.fret_12=19.97")
    assert laid_out("redpoll", done[0], *thin).walls[0].wall == pytest.approx(2.41, abs=0.01)
    # 9.25 deep the rod lies 0.05 below the glue plane: nothing is cut on, and the carve is told for it as it is
    told = least_carve(laid_out("redpoll", "measured.channel.run.depth=9.25"))
    assert told is not None
    assert (told.first, told.fret_1) == ((), 18.52)


# --- a neck measured at one fret -------------------------------------------------------------------------------------
def test_a_neck_carved_at_one_fret_tells_the_other_from_both_sides() -> None:
    """Its back is one line: thinner at fret 12 lacks wood under the run there, thicker lacks it before fret 1."""
    one = "measured.neck.thickness.fret_1=19.0"
    layout = laid_out("redpoll", one, "neck.thickness.fret_12=21.0", "measured.channel.run.depth=9.68")
    carve = least_carve(layout)
    assert carve is not None
    assert carve.fret_1 is None
    assert carve.fret_12 is not None
    assert carve.no_thicker is not None
    assert carve.fret_12 < 21.0 < carve.no_thicker
    assert carve.says == (
        f"carve no thinner than {carve.fret_12:.2f} mm at fret 12, and no thicker than {carve.no_thicker:.2f} mm there"
    )
    for fret_12, enough in (
        (carve.fret_12, True),
        (carve.fret_12 - 0.02, False),
        (carve.no_thicker, True),
        (carve.no_thicker + 0.02, False),
    ):
        after = laid_out(
            "redpoll", one, f"measured.neck.thickness.fret_12={fret_12:.2f}", "measured.channel.run.depth=9.68"
        )
        assert (after.walls[0].wall >= 3.0) is enough, fret_12


def test_one_carve_is_told_in_every_finding() -> None:
    """The bars' channels, 12.1 deep beside the run and not cut yet, need far more wood than the run: whoever reads only
    of the run must not carve thinner than they need."""
    layout = laid_out("garganey", "bars.offset=16", "bars.height=12", "measured.channel.run.depth=10.8")
    own, whole = least_carve(layout, "run"), least_carve(layout)
    assert own is not None
    assert whole is not None
    assert whole.step in ("bar-1", "bar-2")
    assert own.fret_1 is not None
    assert whole.fret_1 is not None
    assert own.fret_1 < whole.fret_1 - 5
    finding = told_of(layout, "wall/run")
    assert (
        f"carve no thinner than {whole.fret_1:.2f} mm at fret 1 and {whole.fret_12:.2f} mm at fret 12" in finding.says
    )
    assert finding.says.endswith(
        f", which the channel of {whole.step} needs; the run alone needs {own.fret_1:.2f} mm at fret 1 and "
        f"{own.fret_12:.2f} mm at fret 12"
    )
    assert finding.more == {"carve_at_fret_1": whole.fret_1, "carve_at_fret_12": whole.fret_12}


def test_no_carve_is_told_where_the_wood_ends() -> None:
    layout = laid_out("redpoll", *LONG_ROD)
    assert "carve no thinner than 18.63 mm" in told_of(layout, "wall/run", 17.0).says
    assert "carve" not in told_of(layout, "wall/run", 468.4).says


def test_the_carve_comes_with_the_heel_that_it_needs() -> None:
    """T12 - T1 = 2 from fret 1 to the joint, less the fretboard's 6, and 0.5 of step."""
    deep = "measured.channel.run.depth=14"
    layout = laid_out("dunnock", deep)
    carve = least_carve(layout)
    assert carve is not None
    assert carve.fret_1 == pytest.approx(23.33)
    assert carve.fret_12 == pytest.approx(25.33)
    scale, joint = layout.frets.scale, layout.design.neck.joint_fret
    x = [scale * (1 - 2 ** (-fret / 12)) for fret in (1, 12, joint)]
    depth = 23.33 + 2 * (x[2] - x[0]) / (x[1] - x[0]) - layout.fretboard.thickness + 0.5
    assert dict(carve.ends)["heel.depth"] == pytest.approx(depth, abs=0.01)
    assert carve.says.endswith(f"25.33 mm at fret 12 with heel.depth no less than {carve.ends[0][1]:.2f} mm")
    carved = ("measured.neck.thickness.fret_1=23.33", "measured.neck.thickness.fret_12=25.33")
    assert laid_out("dunnock", deep, *carved, f"heel.depth={carve.ends[0][1]}").back.t_1 == 23.33
    with pytest.raises(DesignError, match=r"heel\.depth"):
        laid_out("dunnock", deep, *carved, f"heel.depth={carve.ends[0][1] - 0.02}")
