"""The verdict, and every finding with its place, its limit and its remedy, as HTML."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from neckmodel.findings import FAIL, PASS, WARN, Finding, Findings, ways_of
from neckmodel.lengths import in_unit
from neckmodel.report import words
from neckmodel.report.html import Html, el, fold, joined, section
from neckmodel.report.view import placed, sides

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout import Layout

COLUMNS = ("verdict", "check, and what it says", "measured", "limit", "worst case", "where")
READING = (
    "Measured on the solids, worst first. x counts from the nut toward the body, y from the centre line toward the "
    "{side}, z from the glue plane toward the strings. ± bounds the measuring error. Worst case: with all of the "
    "workshop's tolerances against it. A place is a link into the view."
)
MEANING = (
    "FAIL: the design itself misses the limit. WARN: only the worst case misses it, or a value is unusual. SKIP: the "
    "design file does not state what the check needs. PASS: all the rest."
)


def verdict_box(findings: Findings) -> Html:
    """The verdict, first on the page: a sign, a word and a sentence."""
    warned = any(found.verdict == WARN for found in findings.findings)
    kind = FAIL if not findings.passed else WARN if warned else PASS
    word = "FAIL" if not findings.passed else "PASS"
    sign = words.SIGNS[FAIL if not findings.passed else PASS]
    says = [el("p", el("strong", f"{sign} {word}"), f" {words.counted(findings)}.")]
    if not findings.passed:
        says.append(el("p", f"Checks failed: {', '.join(findings.failed)}. ", el("strong", "Do not cut by this page.")))
    if warned:
        names = dict.fromkeys(found.check for found in findings.findings if found.verdict == WARN)
        says.append(el("p", f"{words.SIGNS[WARN]} Look at: {', '.join(names)}."))
    return el("div", *says, class_=f"verdict {kind}")


def first_to_do(findings: Findings, design: Design) -> Html:
    """The one thing to do first: the remedy of the first finding that fails or warns, else the first piece of work."""
    wrong = [found for found in words.worst_first(findings) if found.verdict in (FAIL, WARN)]
    if not wrong:
        work = el("a", "order of work", href="#work")
        return el("p", el("strong", "First: "), "nothing to change. Go on with the ", work, ".", class_="first")
    found = next((one for one in wrong if one.remedy is not None), wrong[0])
    unit = design.design.units
    if found.remedy is None:
        return el("p", el("strong", f"First look at {found.check}: "), in_unit(found.says, unit), class_="first")
    says = [el("p", el("strong", "First: "), in_unit(found.remedy.says, unit, to_follow=True), f" ({found.check}).")]
    if found.remedy.set:
        says.append(el("code", words.arguments(found.remedy.set, design), class_="type"))
    return el("div", *says, class_="first")


def findings_section(findings: Findings, layout: Layout) -> Html:
    """The section with every finding."""
    reading = READING.format(side=sides(layout)[0])
    says = (el("p", reading, class_="small"), el("p", MEANING, class_="small"))
    numbers = {id(found): number for number, found in enumerate(placed(findings))}
    ordered = words.worst_first(findings)
    passes = [found for found in ordered if found.verdict == PASS]
    others = [found for found in ordered if found.verdict != PASS]
    tables = [_table(others, "What does not simply pass, worst first", layout.design, numbers)] if others else []
    if passes:
        says_how_many = "1 check passes" if len(passes) == 1 else f"{len(passes)} checks pass"
        tables.append(
            fold(says_how_many, _table(passes, "What passes, nearest to its limit first", layout.design, numbers))
        )
    return section("findings", "Findings", *says, *tables)


def findings_table(findings: Findings, design: Design | None) -> Html:
    """All findings in one table, worst first, without links. design: gives the units and the words to type; None:
    mm."""
    rows = words.worst_first(findings)
    return _table(rows, f"{len(rows)} findings, worst first", design, {})


def _table(found: Sequence[Finding], caption: str, design: Design | None, numbers: Mapping[int, int]) -> Html:
    """A table of findings. numbers: of the marks in the view, by a finding's identity."""
    rows = [_row(each, design, numbers.get(id(each))) for each in found]
    head = el("tr", *(el("th", name, scope="col") for name in COLUMNS))
    return el("table", el("caption", caption), el("thead", head), el("tbody", *rows), class_="findings")


def _row(found: Finding, design: Design | None, number: int | None) -> Html:
    unit = "mm" if design is None else design.design.units
    tag = el("span", f"{words.SIGNS[found.verdict]} {words.WORDS[found.verdict]}", class_=f"tag {found.verdict}")
    says = [el("p", el("strong", found.check), f" ({found.part})"), el("p", in_unit(found.says, unit))]
    if found.basis:
        says.append(el("p", f"limit from: {in_unit(found.basis, unit)}", class_="small"))
    if found.follows is not None:
        says.append(el("p", f"follows from {found.follows}: what mends that mends this"))
    for number, way in enumerate(ways_of(found.remedy) if found.follows is None else ()):
        says.append(el("p", el("strong", "or: " if number else "to do: "), in_unit(way.says, unit, to_follow=True)))
        if way.set and design is not None:
            says.append(el("code", words.arguments(way.set, design), class_="type"))
    measured = [el("div", words.measured(found, unit))]
    if found.measured is not None and words.error(found, unit):
        measured.append(el("div", words.error(found, unit), class_="small"))
    cells = (
        ("", joined([tag])),
        ("", joined(says)),
        ("measured", joined(measured)),
        ("limit", words.limit(found, unit)),
        ("worst case", words.worst_case(found, unit)),
        ("where", _where(found, unit, number)),
    )
    return el("tr", *(el("td", cell, data_label=label or None) for label, cell in cells), class_=found.verdict)


def _where(found: Finding, unit: str, number: int | None) -> str:
    if found.at is None:
        return "-"
    says, rest = words.along(found.at, unit), el("div", words.across(found.at, unit), class_="small")
    if number is None:
        return joined([says, rest])
    link = el(
        "a",
        says,
        href="#drawings",
        class_="place",
        data_place=str(number),
        aria_label=f"{says}: show the place of {found.check} in the view",
    )
    return joined([link, rest])
