"""Scarfed heads: where the seam lies, what the two pieces hold, and that together they are the head in one piece."""

from __future__ import annotations

import math

import pytest
from ends_samples import TENON, design, scarfed
from ends_solids import assert_sound, built, found_all, glued, laid_out
from scipy.integrate import quad

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.head.head import one_piece_height
from neckmodel.layout.wood.scarf import scarf_face, scarf_projection
from neckmodel.solids.kernel.gate import volume

WIDTH, CORNER = 50.0, 8.0
SQUARE = {"outline": f"{{near = {WIDTH}, far = {WIDTH}}}", "swell_length": 24}  # ends before the seam begins
BOARD = "[board]\nlength = 800.0\nwidth = 70.0\nthickness = {}\n"


def test_a_scarfs_lengths_at_13_degrees() -> None:
    """By trigonometry, worked by hand: 20/sin 13 and 20/tan 13; a head in one piece 190 long and 14.5 thick."""
    assert scarf_face(20, 13) == pytest.approx(88.91, abs=5e-3)
    assert scarf_projection(20, 13) == pytest.approx(86.63, abs=5e-3)
    assert one_piece_height(190, 14.5, 13) == pytest.approx(56.87, abs=5e-3)


def test_the_seam_under_a_shaft_of_18() -> None:
    scarf = laid_out(scarfed("under", 13), BOARD.format(18)).scarf
    assert scarf is not None
    assert scarf.x_top == pytest.approx(-83.97, abs=5e-3)
    assert scarf.seam_top[1] == -18
    # the head's back, -6.0 tan 13 from the face and 14.5/cos 13 below it, is 18 deep there
    back = -6 - (18 - 14.5 / math.cos(math.radians(13))) / math.tan(math.radians(13))
    assert scarf.x_back == pytest.approx(back, abs=1e-9)
    # but the carve has come out of the flat back before: the seam shows where the wood as carved is 18 deep
    outside = laid_out(scarfed("under", 13), BOARD.format(18)).outside
    assert outside.x_head_run_out < scarf.x_keel < back
    assert outside.keel(scarf.x_keel) == pytest.approx(18, abs=1e-6)
    thicker = laid_out(scarfed("under"), BOARD.format(20)).scarf
    assert thicker is not None
    assert thicker.x_keel == pytest.approx(thicker.x_back, abs=1e-6)  # here the flat back still stands


def test_the_seam_on_the_ramp() -> None:
    layout = laid_out(scarfed("on-ramp", 13), BOARD.format(20))
    scarf = layout.scarf
    assert scarf is not None
    assert scarf.x_top == pytest.approx(58.46, abs=5e-3)
    depth = layout.back.depth(0.0)
    assert scarf.x_back == pytest.approx(scarf.x_top - depth / math.tan(math.radians(13)), abs=1e-9)
    # with a back 15 deep that is -6.51
    assert scarf.x_top - scarf_projection(15, 13) == pytest.approx(-6.51, abs=5e-3)
    assert scarf.seam(scarf.x_keel) == pytest.approx(-layout.outside.keel(scarf.x_keel), abs=1e-6)


@pytest.mark.parametrize("way", ["under", "on-ramp"])
@pytest.mark.parametrize("angle", [8.0, 14.0, 17.0])
def test_both_pieces_are_the_head_in_one_piece(way: str, angle: float) -> None:
    more = {"length": 190.0} if angle == 8.0 else {}
    parts = built(scarfed(way, angle, **more), BOARD.format(20))
    one = built(scarfed(way, angle, **more).replace("scarfed", "angled"), BOARD.format(60))
    assert_sound(parts)
    assert set(glued(parts)) == {"neck", "head-piece"}
    assert sum(volume(solid) for solid in glued(parts).values()) == pytest.approx(volume(one["neck"].solid), rel=1e-5)


def test_the_head_piece_under_the_shaft_by_a_section_integral() -> None:
    """Beyond the swell every section is a rectangle less what the round corners take: width times depth below -t."""
    parts = built(scarfed("under", **SQUARE), BOARD.format(20))
    scarf, turn = parts.layout.scarf, math.radians(14)
    assert scarf is not None
    assert scarf.x_keel < parts.layout.head.x_swell
    x_far = -6 - 170 * math.cos(turn)
    level = -(170 * math.sin(turn) + 14.5 * math.cos(turn))  # the far end, square to the face, reaches no deeper

    def section(x: float) -> float:
        face = (x + 6) * math.tan(turn)
        high, low = min(face, -20.0), max(face - 14.5 / math.cos(turn), level)
        u = max(CORNER - (x - x_far), 0.0)
        return (WIDTH - 2 * (CORNER - math.sqrt(CORNER**2 - u * u))) * max(high - low, 0.0)

    bends = [x_far + CORNER, x_far + 14.5 * math.sin(turn), scarf.x_top]
    expected = quad(section, x_far, scarf.x_back, points=bends, epsabs=1e-6, limit=400)[0]
    assert volume(parts["head-piece"].solid) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("way", ["under", "on-ramp"])
def test_the_seam_of_the_solids_lies_where_the_layout_says(way: str) -> None:
    """By the checks on the meshes, and by the exact faces in the seam's plane."""
    parts = built(scarfed(way), TENON)
    scarf = parts.layout.scarf
    assert scarf is not None
    normal = (0.0, 0.0, -1.0) if way == "under" else (-math.sin(math.radians(14)), 0.0, math.cos(math.radians(14)))
    seams = [
        face
        for face in parts["neck"].solid.Faces()
        if face.geomType() == "PLANE"
        and abs(face.normalAt().dot(__import__("cadquery").Vector(*normal)) - 1) < 1e-9
        and abs(face.Center().z - scarf.seam(face.Center().x)) < 1e-6
        and face.Center().x < 100
    ]
    boxes = [face.BoundingBox(1e-6) for face in seams]
    ends = sorted((min(b.xmin for b in boxes), max(b.xmax for b in boxes)))
    assert ends == pytest.approx(sorted((scarf.x_top, scarf.x_keel)), abs=2e-3)
    found = found_all(scarfed(way), TENON)["head/scarf"]
    assert found.verdict == "pass"
    assert found.measured is not None
    assert found.measured > 3


def test_a_slot_deep_enough_to_meet_the_seam_fails() -> None:
    """On the ramp the seam rises toward the nut: a wide key's slot comes near it. 3 mm is usual."""
    key = '[adjusting_key]\nkind = "straight"\nlength = 190.0\n'
    shallow = found_all(scarfed("on-ramp", thickness=14.5), key, BOARD.format(20))["head/scarf"]
    thin = found_all(scarfed("on-ramp", thickness=13.0, swell_length=40), key, BOARD.format(20))["head/scarf"]
    assert shallow.measured is not None
    assert thin.measured is not None
    # the seam is parallel to the face and one thickness below it: 1.5 less of head is 1.5 less of wood
    assert shallow.measured - thin.measured == pytest.approx(1.5, abs=1e-2)


def test_the_stock_of_both_pieces() -> None:
    """Laid out by hand on a board 20 thick: shaft, slanting cut, head piece."""
    layout = laid_out(scarfed("under"), TENON)
    scarf, turn = layout.scarf, math.radians(14)
    assert scarf is not None
    face = 170 - 20 / math.sin(turn)  # of the head piece
    assert scarf.piece_length == pytest.approx(face + 14.5 / math.tan(turn))
    shaft = layout.heel.x_end + 10 - (-6 - 20 / math.tan(turn))
    total = shaft + face + 14.5 / math.tan(turn) + 10 - 20 / math.tan(turn) + 3 / math.sin(turn)
    assert scarf.board_length(layout.heel.x_end, 10, 3) == pytest.approx(total)
    found = found_all(scarfed("under"), TENON)["stock/size"]
    assert found.verdict == "warn"  # as it is stated it fits; rough, it would not
    assert found.remedy is not None
    assert found.remedy.set == {"board.surface": "trued"}
    # the blank's far end is level, not square to the face: its piece measures a little longer
    assert found.measured == pytest.approx(0, abs=1e-6)  # the shaft is as thick as the board
    short = found_all(scarfed("under"), TENON.replace("620.0", "560.0"))["stock/size"]
    assert short.verdict == "fail"
    assert short.measured is not None
    assert -short.measured == pytest.approx(total - 560, abs=4.0)
    assert short.measured <= 560 - total + 1e-6
    assert short.remedy is not None
    assert set(short.remedy.set) == {"board.length"}


@pytest.mark.parametrize(
    ("sections", "says"),
    [
        ((scarfed("under", 7.0, thickness=17), BOARD.format(22)), "of the head's face to the head piece"),
        ((scarfed("on-ramp", 3.0, thickness=18), BOARD.format(20)), "reaches into the heel's swell"),
    ],
)
def test_seams_that_leave_no_joint_are_refused(sections: tuple[str, ...], says: str) -> None:
    with pytest.raises(DesignError, match=says):
        lay_out(design(*sections))


def test_a_volute_deeper_than_the_shafts_board_is_refused_and_its_remedy_holds() -> None:
    sections = (scarfed("under", 9.61, length=190, starts_at=-9), BOARD.format(18))
    with pytest.raises(DesignError, match=r"apart from the head piece.*at most (\d\.\d+) mm") as caught:
        lay_out(design(*sections, sets=("head.volute={length=28.5, height=5.5}",)))
    most = float(str(caught.value).partition("at most ")[2].split()[0])
    layout = lay_out(design(*sections, sets=(f"head.volute={{length=28.5, height={most}}}",)))
    assert layout.head.volute is not None
    with pytest.raises(DesignError, match="apart from the head piece"):
        lay_out(design(*sections, sets=(f"head.volute={{length=28.5, height={most + 0.05}}}",)))


def test_a_volute_through_the_ramp_again_is_refused_and_its_remedy_holds() -> None:
    """On a gentle ramp the seam comes out before the volute, which would stand through it as a loose splinter."""
    sections = (scarfed("on-ramp", 4.5, length=190, starts_at=-6, thickness=18),)
    with pytest.raises(DesignError, match=r"below the seam on the ramp.*at most (\d\.\d+) mm") as caught:
        lay_out(design(*sections, sets=("head.volute={length=35, height=5}",)))
    most = float(str(caught.value).partition("at most ")[2].split()[0])
    assert_sound(built(f"{sections[0]}volute = {{length = 35, height = {most}}}\n"))
    with pytest.raises(DesignError, match="below the seam on the ramp"):
        lay_out(design(*sections, sets=(f"head.volute={{length=35, height={most + 0.1}}}",)))
