"""The reader of ISO 10303-21 text, on small files written by hand after the standard's own grammar (clause 5 to 7)."""

from __future__ import annotations

import pytest

from neckmodel.errors import ExportError
from neckmodel.writers.step import part21

HEAD = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('one; two','it''s'),'2;1');\nENDSEC;\nDATA;\n"
TAIL = "ENDSEC;\nEND-ISO-10303-21;\n"
POINTS = """#1 = CARTESIAN_POINT('',(1.,-2.5,3.E-1));
#2 = CARTESIAN_POINT('a;#9(',(4.,0.5,-7.));
#3 = VERTEX_POINT('',#1);
#4 = VERTEX_POINT('',#2);
#5 = ( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) );
"""
INCH = "#6 = ( CONVERSION_BASED_UNIT('INCH',#5) LENGTH_UNIT() NAMED_UNIT(#5) );\n"


def file(data: str) -> str:
    return HEAD + data + TAIL


def test_instances_references_and_strings() -> None:
    parsed = part21.parse(file(POINTS + "/* a #77 remark; */\n#12=PRODUCT('id','it''s a \\\\ b','',(#1,#4));\n"))
    assert parsed.header["FILE_DESCRIPTION"] == ("one; two", "it's", "2;1")
    assert parsed.data[12].refs == (1, 4)
    assert parsed.product_names() == ["it's a \\ b"]
    assert parsed.data[2].refs == ()  # the #9 in its name is text
    assert parsed.counts()["CARTESIAN_POINT"] == 2
    assert parsed.counts()["LENGTH_UNIT+NAMED_UNIT+SI_UNIT"] == 1


def test_box_of_the_corners_in_mm_whatever_the_unit() -> None:
    assert part21.parse(file(POINTS)).vertex_box() == (1.0, -2.5, -7.0, 4.0, 0.5, 0.3)
    inches = part21.parse(file(POINTS + INCH)).vertex_box()
    # the international inch is 25.4 mm by definition
    assert inches == pytest.approx((25.4, -63.5, -177.8, 101.6, 12.7, 7.62), abs=1e-12)


def test_a_unit_in_metres_and_one_that_is_not_clear() -> None:
    assert part21.parse(file(POINTS.replace(".MILLI.", "$"))).mm_per_unit() == 1000.0
    with pytest.raises(ExportError, match="unit is not clear"):
        part21.parse(file(POINTS.replace(".MILLI.", ".KILO."))).mm_per_unit()
    with pytest.raises(ExportError, match="unit is not clear"):
        part21.parse(file("#1 = A(1);\n")).mm_per_unit()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("#1 = A(#2);\n", "#1 refers to #2, which is not there"),
        ("#1 = A(1);\n#1 = B(1);\n", "#1 is there twice"),
        ("#1 = A((1);\n", "brackets do not match"),
        ("#1 = A)1(;\n", "brackets do not match"),
        ("#1 = A(1.0?);\n", "bad character"),
        ("#1 = A('ä');\n", "bad character"),
        ("#1 = A('two\nlines');\n", "bad character"),
        ("#1 = A(1e5);\n", "bad character"),
        ("#1 = A(1)\n", "."),
        ("#1 = A('open);\n", "."),
        ("A(1);\n", "not an instance"),
        ("#1 = 5;\n", "no entity name"),
        ("ENDSEC;\n#1 = A(1);\n", "."),
    ],
)
def test_what_is_not_part_21_is_refused(data: str, says: str) -> None:
    with pytest.raises(ExportError, match=says):
        part21.parse(file(data))


@pytest.mark.parametrize("cut", [1, 30, len(TAIL) + 5])
def test_a_file_cut_short_is_refused(cut: int) -> None:
    whole = file(POINTS).rstrip()
    with pytest.raises(ExportError, match="not a whole Part 21 file"):
        part21.parse(whole[:-cut])


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("neck", "neck"),
        # the standard's own example of the \X2\ form is of this kind: UTF-16 code units in hexadecimal
        ("Größe", "Gr\\X2\\00F600DF\\X0\\e"),
        ("漢", "\\X2\\6F22\\X0\\"),
        ("ø8 ±0.1", "\\X2\\00F8\\X0\\8 \\X2\\00B1\\X0\\0.1"),
    ],
)
def test_text_beyond_ascii_there_and_back(text: str, written: str) -> None:
    assert part21.ascii_only(text) == written
    assert part21.decode(written) == text


def test_strings_are_made_whole_again() -> None:
    assert part21.unbroken("A('one \ntwo','it''s\n');\nB('');") == "A('one two','it''s');\nB('');"


def colours(*blocks: tuple[int, int, str]) -> str:
    """A file with two bodies #1 and #2, and behind them a colour block for each (its number, its body, its colour)."""
    lines = "#1 = BODY('#10');\n#2 = BODY('');\n"
    for number, body, colour in blocks:
        lines += f"#{number} = {part21.COLOURS}_REPRESENTATION('',(#{number + 1}),#1);\n"
        lines += (
            f"#{number + 1} = STYLED_ITEM('#12',(#{number + 2}),\n  #{body});\n#{number + 2} = COLOUR('{colour}');\n"
        )
    return file(lines)


def test_the_order_of_the_colours_no_longer_shows() -> None:
    one = part21.canonical(colours((10, 1, "red"), (13, 2, "blue")))
    other = part21.canonical(colours((10, 2, "blue"), (13, 1, "red")))
    assert one == other
    parsed = part21.parse(one)
    assert [parsed.data[n].strings for n in (12, 15)] == [("red",), ("blue",)]
    assert parsed.data[11].refs == (12, 1)
    assert parsed.data[11].strings == ("#12",)  # a number inside a text stays
    assert part21.canonical(one) == one


def test_a_file_without_colours_stays_as_it_is() -> None:
    assert part21.canonical(file(POINTS)) == file(POINTS)


def test_something_unexpected_behind_the_colours_is_refused() -> None:
    text = colours((10, 1, "red")).replace("ENDSEC;\nEND", "#20 = OTHER(#1);\nENDSEC;\nEND")
    with pytest.raises(ExportError, match="unexpected instances after the colours"):
        part21.canonical(text)
