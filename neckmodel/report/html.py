"""HTML made of elements. Whatever is not markup already is escaped, so no text can become an element."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from html import escape

EMPTY = frozenset({"br", "col", "hr", "img", "input", "link", "meta"})


class Html(str):
    """Markup. A plain `str` beside it is text."""

    __slots__ = ()


def el(tag: str, *children: str, **attributes: str | bool | None) -> Html:
    """An element. children: text is escaped, markup is kept. attributes: `class_` is class, `data_place` is data-place;
    True is an attribute without a value, False and None leave it out."""
    head = "".join(_attribute(name, value) for name, value in attributes.items())
    if tag in EMPTY:
        return Html(f"<{tag}{head}>")
    return Html(f"<{tag}{head}>{joined(children)}</{tag}>")


def joined(children: Iterable[str], between: str = "") -> Html:
    """Markup and escaped text, one after the other."""
    return Html(between.join(child if isinstance(child, Html) else escape(child, quote=False) for child in children))


def _attribute(name: str, value: str | bool | None) -> str:
    if value is None or value is False:
        return ""
    name = name.rstrip("_").replace("_", "-")
    return f" {name}" if value is True else f' {name}="{escape(value)}"'


def table(
    title: str,
    columns: Sequence[str],
    rows: Sequence[Sequence[str]],
    text: int = 1,
    class_: str | None = None,
    captioned: bool = True,
) -> Html:
    """A table under its caption, which is not shown where the title stands above it already. text: how many columns,
    from the left, hold words; the others hold numbers. It stands in a box that scrolls by itself, so that a narrow page
    does not."""
    kinds = [None if at < text else "number" for at in range(len(columns))]
    head = el("tr", *(el("th", name, scope="col", class_=kind) for name, kind in zip(columns, kinds, strict=True)))
    body = [el("tr", *(el("td", cell, class_=kind) for cell, kind in zip(row, kinds, strict=True))) for row in rows]
    whole = el(
        "table",
        el("caption", title, class_=None if captioned else "unseen"),
        el("thead", head),
        el("tbody", *body),
        class_=class_,
    )
    return el("div", whole, class_="scroll", tabindex="0", role="group", aria_label=title)


def section(name: str, title: str, *children: str) -> Html:
    """A part of the page with its heading, linked to as `#name`."""
    heading = el("h2", title, id=f"{name}-title")
    back = el("a", "to the top", href="#top", class_="back")
    return el("section", el("div", heading, back, class_="head"), *children, id=name, aria_labelledby=f"{name}-title")


def fold(summary: str, *children: str, class_: str | None = None, opened: bool = False) -> Html:
    """Content that opens when its summary is pressed. On paper it is always open, and it opens where a link leads into
    it."""
    return el("details", el("summary", summary), *children, class_=class_, open=opened)


def list_of(items: Iterable[str], class_: str | None = None) -> Html:
    """A list with one point for each item."""
    return el("ul", *(el("li", item) for item in items), class_=class_)


def json_text(data: object) -> Html:
    """JSON for a script element that holds data; nothing in it can end the element."""
    text = json.dumps(data, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return Html(text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029"))
