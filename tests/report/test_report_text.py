"""What stands in the page, without a browser: every finding and number, nothing from outside, nothing unescaped."""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from neck_runs import design
from report_cases import case

from neckmodel.errors import ExportError
from neckmodel.findings import Finding, Findings
from neckmodel.report import report, write_report
from neckmodel.report.html import Html, el, json_text
from neckmodel.report.page import filled, source_hash, web
from neckmodel.report.writing import problems

NAMES = ("redpoll", "thin", "wren")


def text_of(page: str) -> str:
    """The words of a page, scripts and styles left out, spaces folded."""
    bare = re.sub(r"<(script|style)[^>]*>.*?</\1>", " ", page, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", bare)).split())


@pytest.mark.parametrize("name", NAMES)
def test_no_fold_says_its_title_twice(name: str) -> None:
    """The caption of a table under a fold of the same name is there for those who hear the page, and not shown."""
    folds = re.findall(
        r"<summary>(.*?)</summary><div[^>]*><table[^>]*><caption( class=\"unseen\")?>(.*?)<", case(name).text
    )
    same = [unseen for title, unseen, caption in folds if title == caption]
    assert len(same) >= 8
    assert all(same)
    assert ".unseen {" in case(name).text


@pytest.mark.parametrize("name", NAMES)
def test_every_finding_stands_there_with_what_it_says(name: str) -> None:
    found = case(name)
    words = text_of(found.text)
    for finding in found.findings.findings:
        assert f"{finding.check} ({finding.part})" in words
        if name != "wren":  # there its lengths stand in inches
            assert " ".join(finding.says.split()) in words
    rows = re.findall(r'<tr class="(fail|warn|skipped|pass)">', found.text)
    assert rows == sorted(rows, key=("fail", "warn", "skipped", "pass").index)
    assert len(rows) == len(found.findings.findings)


def test_a_failed_check_is_said_first_and_with_what_to_type() -> None:
    words = text_of(case("thin").text)
    verdict = words.index("✗ FAIL 1 check fails")
    assert verdict < words.index("Findings")
    assert "Checks failed: wall/run. Do not cut by this page." in words
    # 0.56 mm short as designed, 0.78 mm more in the worst case: 18 + 1.34, and up to what can be carved, tenths
    assert "--set neck.thickness.fret_1=19.40 --set neck.thickness.fret_12=21.40" in words
    assert "<title>redpoll: CHECKS FAILED</title>" in case("thin").text
    assert "Do not cut" not in case("redpoll").text


@pytest.mark.parametrize("name", NAMES)
def test_it_is_small_and_asks_for_nothing(name: str) -> None:
    page = case(name).text
    assert len(page.encode()) < 1_200_000
    assert problems(page.encode(), page) == []
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page)
    assert policy is not None
    assert policy[1].startswith("default-src 'none'; script-src 'sha256-")
    assert not re.search(r"unsafe|https?:|\*", policy[1])
    addresses = set(re.findall(r"https?://[^\s\"'<>)]+", page))
    assert addresses <= {"http://www.w3.org/1999/xhtml", "http://www.w3.org/2000/svg"}  # names, never fetched


def test_the_policy_names_the_very_scripts_of_the_page() -> None:
    page = case("redpoll").text
    scripts = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
    hashes = [base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() for script in scripts]
    assert len(hashes) == 4
    policy = re.search(r"script-src ([^;]*);", page)
    assert policy is not None
    assert policy[1] == " ".join(f"'sha256-{value}'" for value in hashes)


def test_the_same_design_gives_the_same_bytes() -> None:
    found = case("redpoll")
    assert report(found.parts, found.findings) == found.text


def test_the_design_file_and_what_was_set_over_it_stand_there() -> None:
    page = case("thin").text
    assert design("redpoll").source.text in html.unescape(page)
    assert "As read from redpoll.toml. Set over it: neck.thickness.fret_1 = 18 " in text_of(page)
    assert "Set over it" not in text_of(case("redpoll").text)


def test_what_would_be_markup_is_text() -> None:
    found = case("redpoll")
    nasty = '</script><script>alert("1")</script> {{three}} & <b>'
    finding = Finding("wall/run", "neck", "pass", nasty, basis=nasty, at=found.findings["wall/run"].at, measured=1.0)
    page = report(found.parts, Findings("redpoll", (finding,), ()))
    assert problems(page.encode(), page) == []
    assert page.count("<script") == 5
    assert f"<p>{html.escape(nasty, quote=False)}</p>" in page


def test_data_cannot_end_their_element() -> None:
    text = json_text({"says": "</script><!-- \u2028"})
    assert "<" not in text
    assert json.loads(text) == {"says": "</script><!-- \u2028"}


def test_elements_escape_text_and_keep_markup() -> None:
    made = el("p", 'a < b & "c"', el("br"), class_="x", data_place='1 & "2"', hidden=True, id=None)
    assert made == '<p class="x" data-place="1 &amp; &quot;2&quot;" hidden>a &lt; b &amp; "c"<br></p>'


def test_a_slot_is_filled_once() -> None:
    assert filled("{{one}} {{two}}", {"one": Html("{{two}}"), "two": Html("\\1")}) == "{{two}} \\1"


@pytest.mark.parametrize(
    ("page", "says"),
    [
        ('<p id="a"></p><b id="a"></b>', "two elements are called a"),
        ("<p><b></p>", "</p> closes what it did not open"),
        ("<p>", "elements left open: p"),
        ('<img src="https://example.org/a.png">', "img would fetch https://example.org/a.png"),
        ('<a href="other.html">x</a>', "a would fetch other.html"),
        ('<p onclick="x()">x</p>', "p holds a script in onclick"),
    ],
)
def test_the_reader_finds_what_is_wrong(page: str, says: str) -> None:
    assert says in problems(page.encode(), page)


def test_the_tables_hold_the_layouts_numbers() -> None:
    """Fret 12 lies at half the scale length; the rods that fit follow from the joint, fret 1 and the wood's end."""
    words = text_of(case("redpoll").text)
    assert "12 320.00 mm" in words
    scale, past_joint, adjuster_and_block = 640.0, 15.0, 10.0 + 12.0
    joint, first = (scale * (1 - 2 ** (-n / 12)) for n in (16, 1))
    shortest = joint + past_joint - (first - adjuster_and_block)
    longest = 468.41 - 6.0 - 1.0 - 4.0  # the wood's end, wood beyond the rod, clearance, gap from the nut
    assert f"length from {shortest:.2f} mm to {longest:.2f} mm" in words


@pytest.mark.parametrize("name", ["redpoll", "wren"])
def test_every_length_has_its_unit(name: str) -> None:
    """A number with decimals in a cell of a table, and in the captions of the sections, is followed by its unit."""
    page = case(name).text
    cells = re.findall(r"<t[dh][^>]*>([^<]*)</t[dh]>", page) + re.findall(r"<li>([^<]*)</li>", page)
    assert len(cells) > 400
    unit = r"(mm²|in²|mm|deg|degrees|share|times|turns|g/m|in|N|MPa)\b|%"
    bare = []
    for cell in map(html.unescape, cells):
        for number in re.finditer(r"(?<![\w.=\"/-])-?\d+\.\d+(?![\d.])", cell):
            after = cell[number.end() :].lstrip()
            if not re.match(unit, after):
                bare.append(cell)
    allowed = re.compile(r"fullness \d\.\d\d|^\d\.\d\d$")  # an exponent has no unit
    assert [cell for cell in bare if not allowed.search(cell)] == []


def test_in_inches_no_length_stands_in_mm() -> None:
    page = case("wren").text
    for part in ("findings", "tables", "materials"):
        block = page.split(f'<section id="{part}"', 1)[1].split("</section>", 1)[0]
        block = re.sub(r"<code.*?</code>", "", block)
        assert not re.search(r"\d mm\b(?!²)", block), part


def test_cautions_stand_where_something_is_cut_and_once_more_together() -> None:
    page = case("redpoll").text
    work = text_of(page.split('<section id="work"', 1)[1].split("</section>", 1)[0])
    for word in ("local rules", "eye, ear and lung", "Stop blocks", "both hands behind the edge", "cancer hazard"):
        assert word in work
    together = page.split('<section id="cautions"', 1)[1].split("</section>", 1)[0]
    # the first one, saw, dust, router, printed jig, chisel, drill, glue, estimates, strings: redpoll has no bars
    assert together.count("<li>") == 10
    assert "carbon" not in together


def test_the_vendored_library_is_the_one_its_note_describes_and_its_licence_is_in_the_page() -> None:
    library, note = web("three.min.js"), web("VIEWER.txt")
    assert hashlib.sha256(library.encode()).hexdigest() in note
    assert "</script" not in library.lower()
    assert "<!--" not in library
    own = web("parts.js") + web("viewer.js")
    assert "</script" not in own
    licence = web("three-LICENSE.txt")
    assert "Permission is hereby granted, free of charge" in licence
    assert html.escape(licence, quote=False) in case("redpoll").text
    used = set(re.findall(r"THREE\.(\w+)", own))
    given = set(re.findall(r"\w+(?=[, ])", " ".join(re.findall(r"export \{(.*?)\}", web("three-entry.js"), re.DOTALL))))
    assert used <= given
    assert given - used == set()


def test_a_written_report_is_whole_or_not_there(tmp_path: Path) -> None:
    found = case("redpoll")
    path = write_report(found.parts, found.findings, tmp_path / "new" / "folder")
    assert path.name == "redpoll-report.html"
    assert path.read_text(encoding="utf-8") == found.text
    assert [each.name for each in path.parent.iterdir()] == [path.name]
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    with pytest.raises(ExportError, match="is a file, not a folder"):
        write_report(found.parts, found.findings, tmp_path / "file")
    assert (tmp_path / "file").read_text(encoding="utf-8") == "mine"


def test_a_report_that_reads_back_wrong_is_not_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = case("redpoll")
    old = tmp_path / "redpoll-report.html"
    old.write_text("earlier", encoding="utf-8")
    monkeypatch.setattr("neckmodel.report.writing.report", lambda *_: '<p id="a"><img src="b.png">')
    with pytest.raises(ExportError, match=r"img would fetch b\.png"):
        write_report(found.parts, replace(found.findings), tmp_path)
    assert old.read_text(encoding="utf-8") == "earlier"
    assert list(tmp_path.iterdir()) == [old]


def test_the_style_is_let_by_its_hash() -> None:
    assert f"style-src {source_hash(web('page.css'))};" in case("redpoll").text
