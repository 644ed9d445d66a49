"""STEP files as text (ISO 10303-21): parse, count, name, measure and order them, without any CAD kernel."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from neckmodel.errors import ExportError
from neckmodel.units import MM_PER

_STRING = r"'(?>[^'\x00-\x1f\x7f-\U0010ffff]|'')*+'"
NUMBER = re.compile(r"[+-]?\d++(?:\.\d*+(?:E[+-]?\d++)?)?")
_WORD = r"\.[A-Z_][A-Z_0-9]*+\.|!?[A-Z_][A-Z0-9_]*+"
TOKENS = re.compile(rf'(?>\s++|/\*(?s:.*?)\*/|{_STRING}|#\d++|{NUMBER.pattern}|{_WORD}|"[0-9A-F]*+"|[()=,$*])*+')
STATEMENT = re.compile(r"(?>[^';/]++|'(?>[^'])*+'|/\*(?s:.*?)\*/|/)*+;")
STRING = re.compile(r"'((?:[^']|'')*)'")
STRING_OR_REMARK = re.compile(r"'(?:[^']|'')*'|/\*.*?\*/", re.S)
INSTANCE = re.compile(r"\s*#(\d+)\s*=\s*(.*);\s*", re.S)
REFERENCE = re.compile(r"#(\d+)")
# what nearly every instance is: one entity, no remark, no string but empty ones, brackets at most three deep; all else
# is taken apart step by step
_ATOM = rf"\s++|#\d++|{NUMBER.pattern}|''(?!')|\.[A-Z_][A-Z_0-9]*+\.|[,$*]"
_LIST = rf"\((?>{_ATOM}|\((?>{_ATOM}|\((?>{_ATOM})*+\))*+\))*+\)"
PLAIN = re.compile(rf"\s*+#(\d++)\s*+=\s*+(([A-Z_][A-Z0-9_]*+)\s*+{_LIST})\s*+;")
START, END = "ISO-10303-21;", "END-ISO-10303-21;"
COLOURS = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION"
SI_PREFIX = {".MILLI.": 1.0, ".CENTI.": 10.0, "$": 1000.0}


class Instance(NamedTuple):
    """One `#n = ...;`: its entity names, the instances it refers to, and its text right of the equals sign."""

    keywords: tuple[str, ...]
    refs: tuple[int, ...]
    text: str

    @property
    def strings(self) -> tuple[str, ...]:
        """Its strings, decoded."""
        return tuple(decode(found) for found in STRING.findall(self.text))


@dataclass(frozen=True)
class Part21:
    """A parsed file: the strings of each header entity by its keyword, and the data section's instances by number."""

    header: Mapping[str, tuple[str, ...]]
    data: Mapping[int, Instance]

    def of(self, keyword: str) -> list[Instance]:
        """All instances with this entity name, in the order of the file."""
        return [instance for instance in self.data.values() if keyword in instance.keywords]

    def counts(self) -> Counter[str]:
        """How many instances there are of each entity."""
        return Counter("+".join(instance.keywords) for instance in self.data.values())

    def product_names(self) -> list[str]:
        """The names of all products."""
        return [instance.strings[1] for instance in self.of("PRODUCT")]

    def mm_per_unit(self) -> float:
        """mm in one length unit of the file's geometry. Raises ExportError when there is not exactly one."""
        scales = set()
        for instance in self.of("LENGTH_UNIT"):
            if "CONVERSION_BASED_UNIT" in instance.keywords:
                scales.add(float(MM_PER["inch"]) if instance.strings[0].upper() == "INCH" else float("nan"))
        if not scales:
            for instance in self.of("LENGTH_UNIT"):
                prefix = re.search(r"SI_UNIT\s*\(\s*([^,\s]+)\s*,\s*\.METRE\.", instance.text)
                scales.add(SI_PREFIX.get(prefix.group(1), float("nan")) if prefix else float("nan"))
        if len(scales) != 1 or scales != {scale for scale in scales if scale > 0}:
            raise ExportError(f"STEP: the length unit is not clear ({sorted(scales)} mm)")
        return float(scales.pop())

    def vertex_box(self) -> tuple[float, float, float, float, float, float]:
        """(xmin, ymin, zmin, xmax, ymax, zmax) of all vertex points, mm: a size check that needs no kernel."""
        points = []
        for vertex in self.of("VERTEX_POINT"):
            text = self.data[vertex.refs[0]].text
            x, y, z = map(float, NUMBER.findall(STRING.sub("", text)))
            points.append((x, y, z))
        if not points:
            raise ExportError("STEP: no vertex in the file")
        scale = self.mm_per_unit()
        low = [min(point[axis] for point in points) * scale for axis in range(3)]
        high = [max(point[axis] for point in points) * scale for axis in range(3)]
        return low[0], low[1], low[2], high[0], high[1], high[2]


def parse(text: str) -> Part21:
    """Read a Part 21 file strictly.

    Raises ExportError for anything that is not one: a bad character, an open bracket or string, a number given twice, a
    reference to nothing, text outside a section, a file cut short.
    """
    if not text.startswith(START) or not text.rstrip().endswith(END):
        raise ExportError("STEP: not a whole Part 21 file")
    body, position, section = text[: text.rindex(END)], len(START), ""
    header: dict[str, tuple[str, ...]] = {}
    data: dict[int, Instance] = {}
    while True:
        if section == "DATA" and (plain := PLAIN.match(body, position)):
            number, position = int(plain[1]), plain.end()
            _add(data, number, Instance((plain[3],), tuple(map(int, REFERENCE.findall(plain[2]))), plain[2]))
            continue
        match = STATEMENT.match(body, position)
        if match is None:
            break
        statement, position = match.group().strip(), match.end()
        word = statement[:-1].strip()
        if word in ("HEADER", "DATA", "ENDSEC"):
            section = word
        elif section == "HEADER":
            _check(statement)
            header[word.partition("(")[0].strip()] = tuple(decode(found) for found in STRING.findall(statement))
        elif section == "DATA":
            _add(data, *_instance(statement))
        else:
            raise ExportError(f"STEP: text outside a section: {statement[:40]!r}")
    if body[position:].strip() or section != "ENDSEC":
        raise ExportError(f"STEP: unfinished: {body[position:].strip()[:40]!r}")
    for number, instance in data.items():
        for ref in instance.refs:
            if ref not in data:
                raise ExportError(f"STEP: #{number} refers to #{ref}, which is not there")
    return Part21(header, data)


def _add(data: dict[int, Instance], number: int, instance: Instance) -> None:
    if number in data:
        raise ExportError(f"STEP: #{number} is there twice")
    data[number] = instance


def _instance(statement: str) -> tuple[int, Instance]:
    _check(statement)
    if "/*" in statement:
        statement = STRING_OR_REMARK.sub(
            lambda found: " " if found.group().startswith("/") else found.group(), statement
        )
    match = INSTANCE.fullmatch(statement)
    if match is None:
        raise ExportError(f"STEP: not an instance: {statement[:40]!r}")
    text = match.group(2)
    bare = STRING.sub("", text)
    refs = tuple(map(int, REFERENCE.findall(bare)))
    keywords = tuple(re.findall(r"(?<![.A-Z0-9_])[A-Z_][A-Z0-9_]*(?=\s*\()", bare))
    if not keywords:
        raise ExportError(f"STEP: no entity name: {statement[:40]!r}")
    return int(match.group(1)), Instance(keywords, refs, text)


def _check(statement: str) -> None:
    """Every token is one of Part 21's, and the brackets match."""
    end = TOKENS.match(statement).end()  # type: ignore[union-attr]  # the pattern matches the empty text too
    if end != len(statement) - 1:
        raise ExportError(f"STEP: bad character in {statement[max(0, end - 20) : end + 20]!r}")
    brackets, depth = re.sub(r"[^()]+", "", STRING.sub("", statement)), 0
    for bracket in brackets:
        depth += 1 if bracket == "(" else -1
        if depth < 0:
            break
    if depth:
        raise ExportError(f"STEP: brackets do not match in {statement[:40]!r}")


def canonical(text: str) -> str:
    """The same file with its colour blocks in a fixed order.

    The kernel writes them last, in an order that changes with every process. They are sorted by the geometry they
    colour, and only the numbers from the first of them on are assigned anew. Raises ExportError if anything else
    follows them.
    """
    starts = [found.start() for found in re.finditer(rf"^#\d+ = {COLOURS}", text, re.M)]
    if not starts:
        return text
    end = text.rindex("ENDSEC;")
    data = dict(_instance(found.group().strip()) for found in STATEMENT.finditer(text, starts[0], end))
    base = min(number for number, item in data.items() if item.keywords[0].startswith(COLOURS))
    order: dict[int, None] = {}  # as an ordered set

    def geometry(root: int) -> list[int]:
        return sorted(ref for styled in data[root].refs if styled >= base for ref in data[styled].refs if ref < base)

    def visit(number: int) -> None:
        if number >= base and number not in order:
            order[number] = None
            for ref in data[number].refs:
                visit(ref)

    for root in sorted((n for n, item in data.items() if item.keywords[0].startswith(COLOURS)), key=geometry):
        visit(root)
    if set(order) != set(data):
        raise ExportError(f"STEP: unexpected instances after the colours: {sorted(set(data) - set(order))[:5]}")
    new = {old: base + count for count, old in enumerate(order)}
    lines = [f"#{new[old]} = {_renumbered(data[old].text, new)};" for old in order]
    return text[: starts[0]] + "\n".join(lines) + "\n" + text[end:]


def _renumbered(text: str, new: Mapping[int, int]) -> str:
    pieces = re.split(r"('(?:[^']|'')*')", "".join(line.strip() for line in text.splitlines()))
    for index in range(0, len(pieces), 2):  # the odd ones are strings
        pieces[index] = re.sub(r"#(\d+)", lambda ref: f"#{new.get(int(ref[1]), int(ref[1]))}", pieces[index])
    return "".join(pieces)


def ascii_only(text: str) -> str:
    r"""Names as Part 21 requires them: all beyond ASCII as \X2\hhhh\X0\ (UTF-16). The kernel writes raw UTF-8."""
    return re.sub(r"[^\x00-\x7f]+", lambda run: f"\\X2\\{run.group().encode('utf-16-be').hex().upper()}\\X0\\", text)


def unbroken(text: str) -> str:
    """The same file with no line break inside a string; the kernel puts one into every long string."""
    return STRING.sub(lambda found: found.group().replace("\n", ""), text)


def decode(inside: str) -> str:
    r"""The text of a Part 21 string: '' is an apostrophe, \\ a backslash, \X2\...\X0\ UTF-16."""

    def letters(match: re.Match[str]) -> str:
        if match.group() in ("''", "\\\\"):
            return match.group()[0]
        return bytes.fromhex(match.group(1)).decode("utf-16-be")

    return re.sub(r"''|\\\\|\\X2\\((?:[0-9A-F]{4})+)\\X0\\", letters, inside)
