"""Every single edit of a kind that someone could make by mistake, in the text of one file."""

from __future__ import annotations

import ast
import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass

COMPARE = {
    ast.Lt: ("<", ">"),
    ast.LtE: ("<=", ">="),
    ast.Gt: (">", "<"),
    ast.GtE: (">=", "<="),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
    ast.Is: ("is", "is not"),
    ast.IsNot: ("is not", "is"),
    ast.In: ("in", "not in"),
    ast.NotIn: ("not in", "in"),
}
ARITHMETIC = {
    ast.Add: ("+", "-"),
    ast.Sub: ("-", "+"),
    ast.Mult: ("*", "/"),
    ast.Div: ("/", "*"),
}
NAMES = {
    "min": "max",
    "max": "min",
    "minimum": "maximum",
    "maximum": "minimum",
    "any": "all",
    "all": "any",
}
BOTH_WAYS = {
    "rounded_up": "rounded_down",
    "rounded_down": "rounded_up",
    "floor": "ceil",
    "ceil": "floor",
}


@dataclass(frozen=True)
class Edit:
    """One edit. start, end: bytes of the text that it replaces; inside: the function it lies in, "" at the top."""

    file: str
    line: int
    inside: str
    kind: str
    start: int
    end: int
    before: str
    after: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line} {self.inside or '-'}: {self.kind}: {self.before} -> {self.after}"

    def applied(self, text: str) -> str:
        data = text.encode()
        assert data[self.start : self.end].decode() == self.before
        return (data[: self.start] + self.after.encode() + data[self.end :]).decode()


def edits(text: str, file: str = "") -> list[Edit]:
    """All edits of a file, in the order of its text. Words, types and what only types are for are left alone."""
    found = [*_Reader(text, file).run(ast.parse(text))]
    return sorted(found, key=lambda edit: (edit.start, edit.end, edit.kind, edit.after))


class _Reader:
    def __init__(self, text: str, file: str) -> None:
        self.data, self.file, self.inside = text.encode(), file, ""
        self.starts = [0]
        for line in self.data.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))

    def run(self, node: ast.AST) -> Iterator[Edit]:
        if isinstance(node, ast.Raise | ast.JoinedStr | ast.Assert | ast.Import | ast.ImportFrom):
            return  # words, mostly
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            return
        outside = self.inside
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            self.inside = f"{outside}.{node.name}".strip(".")
        yield from self._of(node)
        for name, value in ast.iter_fields(node):
            if name in ("annotation", "returns", "decorator_list", "type_params"):
                continue
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.AST):
                    yield from self.run(child)
        self.inside = outside

    def _of(self, node: ast.AST) -> Iterator[Edit]:
        match node:
            case ast.Constant(value=bool() as value):
                yield self._edit(node, "truth", str(not value))
            case ast.Constant(value=int() | float() as value):
                yield self._edit(node, "number", _other(value))
            case ast.Compare(left=left, ops=[first], comparators=[right]):
                yield from self._between(node, left, right, "comparison", *COMPARE[type(first)])
            case ast.BinOp(left=left, right=right, op=op) if type(op) in ARITHMETIC:
                if not any(isinstance(side, ast.JoinedStr | ast.List | ast.Tuple) for side in (left, right)):
                    yield from self._between(node, left, right, "arithmetic", *ARITHMETIC[type(op)])
            case ast.BoolOp(op=op, values=values):
                words = ("and", "or") if isinstance(op, ast.And) else ("or", "and")
                for left, right in itertools.pairwise(values):
                    yield from self._between(node, left, right, "and or", *words)
            case ast.UnaryOp(op=ast.USub() | ast.Not(), operand=operand):
                yield self._edit(node, "sign", f"({self._text(operand)})")
            case ast.IfExp(test=test, body=body, orelse=orelse):
                swapped = f"({self._text(orelse)} if {self._text(test)} else {self._text(body)})"
                yield self._edit(node, "arms", swapped)
            case ast.Call(func=ast.Name(id="abs"), args=[inner]):
                yield self._edit(node, "abs", f"({self._text(inner)})")
            case ast.Name(id="floor" | "ceil"):
                pass  # a floor of the channel, not a rounding
            case ast.Attribute(attr="floor" | "ceil", value=value) if self._text(value) not in ("math", "np"):
                pass
            case ast.Name(id=name) | ast.Attribute(attr=name) if name in NAMES | BOTH_WAYS:
                other = (NAMES | BOTH_WAYS)[name]
                yield self._edit(node, "name", f"{self._text(node)[: -len(name)]}{other}")
            case ast.Return(value=value) if value is not None and not _is_none(value):
                yield self._edit(node, "return", "return None")

    def _at(self, line: int, column: int) -> int:
        return self.starts[line - 1] + column

    def _span(self, node: ast.AST) -> tuple[int, int]:
        return self._at(node.lineno, node.col_offset), self._at(node.end_lineno, node.end_col_offset)  # type: ignore[attr-defined]

    def _text(self, node: ast.AST) -> str:
        start, end = self._span(node)
        return self.data[start:end].decode()

    def _edit(self, node: ast.AST, kind: str, after: str) -> Edit:
        start, end = self._span(node)
        return Edit(
            self.file,
            node.lineno,
            self.inside,
            kind,
            start,
            end,
            self._text(node),
            after,
        )  # type: ignore[attr-defined]

    def _between(
        self,
        whole: ast.AST,
        left: ast.AST,
        right: ast.AST,
        kind: str,
        before: str,
        after: str,
    ) -> Iterator[Edit]:
        (_, start), (end, _) = self._span(left), self._span(right)
        word = rf"\b{before}\b" if before[0].isalpha() else re.escape(before)
        gap = re.sub(
            r"#[^\n]*",
            lambda remark: " " * len(remark[0]),
            self.data[start:end].decode("latin-1"),
        )
        for found in re.finditer(word, gap):
            at = start + found.start()
            yield Edit(
                self.file,
                whole.lineno,  # type: ignore[attr-defined]
                self.inside,
                kind,
                at,
                at + len(before),
                before,
                after,
            )
            return


def _is_none(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _other(value: int | float) -> str:
    """One more, or for a fraction a quarter more: less than that is within what tolerances allow."""
    return str(value + 1) if isinstance(value, int) or value == int(value) else repr(value * 1.25)
