"""Many necks against the analytic share, against sections worked out anew, and against themselves."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
from normal_share import share_passing
from strength_samples import PRESETS, laid_out

from neckmodel.layout.channel.walls import limit_of, opening
from neckmodel.layout.neck.section import Section, section_walls
from neckmodel.layout.workshop.tolerance import contributions
from neckmodel.variants.tolerance.errors import NECKS, SEED, Errors, Walls, draw, places_of, share_of, shares, walls_of

ONE = Walls(np.array([3.6]), np.array([[0.0, -1.0]]), np.array([11.0]), np.array([100.0]))


def generator(seed: int = SEED) -> np.random.Generator:
    return np.random.Generator(np.random.PCG64(seed))


def test_one_wall_straight_down_meets_the_analytic_share() -> None:
    """3.6 against 3.0 with 0.15 depth, 0.1 glue plane, 0.1 stock, 0.4 carve: sigma 0.225, so 0.9962 pass (normal
    distribution), though the worst case is 2.85. Within three standard errors of the drawn share."""
    tolerances = laid_out("redpoll").design.workshop.tolerances
    errors = draw(tolerances, NECKS, generator())
    found, kept = share_of("run", ONE, 3.0, tolerances, errors)
    exact = NormalDist().cdf(0.6 / 0.225)
    assert exact == pytest.approx(0.9962, abs=5e-5)
    assert share_passing(3.6, 3.0, contributions(tolerances, 0.0, -1.0, 11.0)) == pytest.approx(exact, abs=1e-9)
    assert abs(found.share - exact) < 3 * found.error
    assert 1e-4 < found.error < 3e-4
    assert found.worst == pytest.approx(2.85)
    assert found.low == pytest.approx(3.6 + NormalDist().inv_cdf(0.01) * 0.225, abs=0.005)
    assert found.largest == ("carve", pytest.approx(0.2))
    assert kept.sum() == round(found.share * NECKS)


@pytest.mark.parametrize("normal", [(0.6, -0.8), (-1.0, 0.0)])
def test_slanting_walls_meet_the_analytic_share(normal: tuple[float, float]) -> None:
    tolerances = laid_out("redpoll").design.workshop.tolerances
    errors = draw(tolerances, NECKS, generator())
    places = Walls(np.array([3.3]), np.array([normal]), np.array([9.0]), np.array([50.0]))
    found, _ = share_of("run", places, 3.0, tolerances, errors)
    exact = share_passing(3.3, 3.0, contributions(tolerances, *normal, 9.0))
    assert abs(found.share - exact) < 3 * found.error


def test_errors_are_normal_with_half_the_tolerance() -> None:
    tolerances = laid_out("redpoll").design.workshop.tolerances
    errors = draw(tolerances, NECKS, generator())
    for name in ("depth", "sideways", "glue_plane", "stock", "carve"):
        drawn, tolerance = getattr(errors, name), getattr(tolerances, name)
        assert float(drawn.std()) == pytest.approx(tolerance / 2, rel=0.01)
        assert float(drawn.mean()) == pytest.approx(0.0, abs=0.01 * tolerance)
        assert float((abs(drawn) < tolerance).mean()) == pytest.approx(0.9545, abs=0.003)
    assert not errors.tilt.any()  # the preset states none
    again = draw(tolerances, NECKS, generator(1), errors)
    assert again.carve is errors.carve
    assert abs(float(np.corrcoef(again.depth, errors.depth)[0, 1])) < 0.01


@pytest.mark.parametrize("name", PRESETS)
def test_first_order_walls_against_sections_worked_out_anew(name: str) -> None:
    """300 necks with every section cut and measured again: channel shifted and deepened, back moved in by the carve's
    error at its nearest place. Within 0.01 mm."""
    layout = laid_out(name)
    step = layout.step("run")
    errors = draw(layout.design.workshop.tolerances, 300, generator())
    no_carve = Errors(errors.depth, errors.sideways, errors.glue_plane, errors.stock, 0 * errors.carve, errors.tilt)
    places = places_of(layout, step)
    on_shaft = places.x <= layout.heel.x_joint
    shaft = Walls(places.walls[on_shaft], places.normals[on_shaft], places.depths[on_shaft], places.x[on_shaft])
    found = walls_of(shaft, no_carve)
    stations = sorted(set(shaft.x.tolist()))
    sections: list[Section] = [layout.back.section(x) for x in stations]
    for k in range(300):
        deeper = float(errors.depth[k] + errors.glue_plane[k] + errors.stock[k])
        side = float(errors.sideways[k])
        moved = []
        for x in stations:
            box = opening(step, x)
            moved.append(type(box)(box.y_low + side, box.y_high + side, box.depth + deeper))
        assert found[k] == pytest.approx(float(section_walls(sections, moved).min()), abs=0.01)


@pytest.mark.parametrize("name", PRESETS)
def test_walls_as_designed_are_the_layouts_own(name: str) -> None:
    """The same least walls as the layout's, by another search."""
    layout = laid_out(name)
    own = {wall.step: wall.wall for wall in layout.walls}
    for share in shares(layout, 10).each:
        assert share.wall == pytest.approx(own[share.step], abs=2e-3)


def test_the_same_seed_gives_the_same_numbers() -> None:
    thin = laid_out("redpoll", "neck.thickness.fret_1=18.9", "neck.thickness.fret_12=20.9")
    one, two, other = shares(thin), shares(thin), shares(thin, seed=SEED + 1)
    assert one == two
    assert one.each != other.each
    assert one.every == pytest.approx(other.every, abs=5 * one.each[0].error)
    assert 0.85 < one.every < 0.97
    assert one.every <= min(share.share for share in one.each)


def test_better_work_passes_more_often() -> None:
    thin = ("neck.thickness.fret_1=18.9", "neck.thickness.fret_12=20.9")
    usual = shares(laid_out("redpoll", *thin), 20_000)
    better = shares(laid_out("redpoll", *thin, "workshop.tolerances.carve=0.2"), 20_000)
    assert better.every > usual.every + 0.03
    assert usual.each[0].largest[0] == "carve"
    assert better.every <= 1.0


def test_every_step_has_its_own_limit() -> None:
    layout = laid_out("garganey", "limits.wall.bar=2.5", "limits.wall.access_slot=3.5")
    steps = ("run", "bar-1", "access-slot", "key-swing")
    assert [limit_of(layout.design.limits, step) for step in steps] == [3.0, 2.5, 3.5, 3.5]
    assert {share.step for share in shares(layout, 10).each} == {"run", "adjuster", "access-slot", "bar-1", "bar-2"}


def test_a_hundred_thousand_necks_are_drawn_unless_another_number_is_asked_for() -> None:
    assert shares(laid_out("garganey")).necks == 100_000


def test_a_channel_that_breaks_out_passes_in_no_neck() -> None:
    thin = laid_out("redpoll", "neck.thickness.fret_1=15.0", "neck.thickness.fret_12=16.0", "head.drop=7")
    run = next(share for share in shares(thin, 1000).each if share.step == "run")
    assert run.wall < 0
    assert run.share == 0.0
