"""The report: one page of HTML that opens from disk without a network and holds everything about one design."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from neckmodel.design.file.toml import as_toml
from neckmodel.design.values.keys import dotted, look_up
from neckmodel.report.drawings import drawings, figure, picture
from neckmodel.report.estimates import estimates_section
from neckmodel.report.findings import findings_section, first_to_do, verdict_box
from neckmodel.report.geometry import packed
from neckmodel.report.html import Html, el, fold, joined, json_text, list_of, section
from neckmodel.report.materials import materials_section
from neckmodel.report.tables import built_section, tables_section
from neckmodel.report.view import view, view_data
from neckmodel.report.work import cautions_section, work_section
from neckmodel.sheets.pages.titles import titles_of
from neckmodel.writers.versions import PROGRAM

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout
    from neckmodel.solids.parts import Parts

KINDS_OF_NUMBERS = (
    "Three kinds of numbers stand here: stated ones (the design), derived ones (layout, drawings, order of work, "
    "materials) and measured ones (the findings, taken on the solids)."
)
SCRIPTS = {"three": "three.min.js", "parts": "parts.js", "folds": "folds.js", "viewer": "viewer.js"}
VENDORED = "The view is drawn by three.js, which is part of this page under the following licence."


def report(parts: Parts, findings: Findings, progress: Callable[[str], None] = lambda text: None) -> str:  # noqa: ARG005
    """The page's text. The same design gives the same text.

    parts: as built; findings: of the checks on them, failed ones too. progress: called with a short text before each
    part is meshed. Raises MeshError where a part's mesh does not close.
    """
    layout = parts.layout
    shapes = packed(parts, progress)
    progress("drawing")
    main = (
        findings_section(findings, layout),
        built_section(layout),
        view(shapes, layout),
        drawings(layout, findings),
        work_section(layout),
        materials_section(layout),
        estimates_section(layout, findings, {shape.name: shape.volume for shape in shapes if shape.volume > 0}),
        tables_section(layout),
        cautions_section(layout),
        _design(layout),
    )
    style = Html(web("page.css"))
    scripts = {name: Html(web(file)) for name, file in SCRIPTS.items()}
    return filled(
        web("page.html"),
        {
            "title": joined([f"{layout.name}: {'checks pass' if findings.passed else 'CHECKS FAILED'}"]),
            "program": joined([PROGRAM]),
            "script-hashes": Html(" ".join(source_hash(script) for script in scripts.values())),
            "style-hash": Html(source_hash(style)),
            "style": style,
            "header": _header(layout, findings),
            "nav": _nav(main),
            "main": joined(main, "\n"),
            "footer": _footer(),
            "data": json_text(view_data(shapes, findings, layout)),
            **scripts,
        },
    )


def web(name: str) -> str:
    """The text of one of the files that a page is made from."""
    return files("neckmodel.report").joinpath("web", name).read_text(encoding="utf-8")


def source_hash(text: str) -> str:
    """The hash by which a content security policy allows one inline script or style, and no other."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode('ascii')}'"


def filled(template: str, slots: dict[str, Html]) -> str:
    """The template with each `{{name}}` replaced, in one pass: inserted text is not searched again."""
    return re.sub(r"\{\{([a-z-]+)\}\}", lambda match: slots[match[1]], template)


def _header(layout: Layout, findings: Findings) -> Html:
    titles = titles_of(layout, findings)
    remark = [el("p", titles.remark)] if titles.remark else []
    units = "mm" if titles.unit == "mm" else "inches"
    hand = layout.design.design.hand
    about = f"{titles.mark}; {hand}-handed; stated in {units}; SHA-256 of the design {layout.design.sha256}"
    return joined(
        [
            el("h1", titles.name),
            *remark,
            el("div", verdict_box(findings), first_to_do(findings, layout.design), class_="answer"),
            figure(picture(layout), "picture"),
            el("p", about, class_="small"),
            el("p", KINDS_OF_NUMBERS, class_="small"),
        ]
    )


def _nav(main: tuple[Html, ...]) -> Html:
    """A link to each section, in order, by its heading."""
    found = [re.search(r'<h2 id="([a-z]+)-title">(.*?)</h2>', part) for part in main]
    return el("ul", *(el("li", Html(f'<a href="#{match[1]}">{match[2]}</a>')) for match in found if match))


def _design(layout: Layout) -> Html:
    source = layout.design.source
    says = f"As read from {Path(source.file).name}." if source.file else "As read."
    if source.overrides:
        says += " Set over it:"
    over = [f"{dotted(path)} = {as_toml(look_up(source.raw, path))}" for path in source.overrides]
    shown = [el("p", says), *([list_of(over)] if over else [])]
    text = el("pre", source.text, tabindex="0", role="group", aria_label="design file")
    return section("design", "The design file", *shown, fold("the file as it was read", text))


def _footer() -> Html:
    licence = el("pre", web("three-LICENSE.txt"), tabindex="0", role="group", aria_label="licence of three.js")
    folded = fold("licence of three.js", licence, class_="screen")
    return joined([el("p", f"Made by {PROGRAM}.", class_="small"), el("p", VENDORED, class_="small screen"), folded])
