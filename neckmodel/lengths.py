"""Lengths as makers read them: mm to 0.01, or inches with the nearest 1/64."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from neckmodel.units import MM_PER, from_mm

NONE = "-"
CLOSE = 0.1  # share of a length by which the 1/64 beside it may be off: 0.118 in is some 1/8, 0.008 in no 1/64
EXACT = 5e-4  # in, of what is sold by fractions


def mm(value: float | None, decimals: int = 2) -> str:
    """Millimetres without their unit, rounded as a person rounds (7.065 is 7.07); "-" where there is no number."""
    if value is None or not math.isfinite(value):
        return NONE
    # first to 8 decimals: the error of binary fractions is far smaller, and would turn 7.065 into 7.06
    shown = Decimal(f"{value:.8f}").quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    return f"{abs(shown) if shown == 0 else shown}"  # no "-0.00"


SAME = 1e-7  # of a step: the error of binary fractions is smaller


def rounded_up(value: float, step: float = 0.01) -> float:
    """The next multiple of a step at or above the value, for what must be at least this much."""
    return round(math.ceil(value / step - SAME) * step, 6)


def rounded_down(value: float, step: float = 0.01) -> float:
    """The next multiple of a step at or below the value, for what must be at most this much."""
    return round(math.floor(value / step + SAME) * step, 6)


def no_less(value: float) -> str:
    """A least length, mm to 0.01, rounded up so that the printed number is itself enough."""
    return f"{mm(rounded_up(value))} mm"


def no_more(value: float) -> str:
    """A greatest length, mm to 0.01, rounded down so that the printed number is itself allowed."""
    return f"{mm(rounded_down(value))} mm"


def inches(value: float | None) -> str:
    """A length in mm as inches to 0.001 with the nearest 1/64 in brackets: `1.486 (1 31/64)`."""
    if value is None or not math.isfinite(value):
        return NONE
    exact = from_mm(value, "in")
    return to_thousandths(exact) + fraction_beside(exact)


def to_thousandths(value: float, decimals: int = 3) -> str:
    """Inches in so many decimals; with one more where something would read as nothing."""
    shown, finer = mm(value, decimals), mm(value, decimals + 1)
    return finer if not float(shown) and float(finer) else shown


def fraction_beside(value: float, shown: Fraction | None = None) -> str:
    """` (1/8)`: the nearest 1/64 of some inches, as it is written behind them; "" where it would mislead, which
    fractions of small sizes do. shown: another 1/64 than the nearest, for a bound."""
    if shown is not None:
        return f" ({sixty_fourths(float(shown))})" if shown else ""
    near = Fraction(round(value * 64), 64)
    return f" ({sixty_fourths(float(near))})" if near and abs(float(near) - value) <= CLOSE * abs(value) else ""


def sixty_fourths(value: float) -> str:
    """The nearest 1/64 in, as a whole number and a fraction in lowest terms: -0.75 is `-3/4`, 2.5 is `2 1/2`."""
    nearest = Fraction(round(value * 64), 64)
    whole, part = divmod(abs(nearest), 1)
    said = " ".join(str(piece) for piece in (whole, part) if piece) or "0"
    return f"-{said}" if nearest < 0 else said


def listed(names: Iterable[str]) -> str:
    """ "bar 1", "bar 1 and bar 2", "a, b and c"."""
    names = list(names)
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def length(value: float | None, unit: str) -> str:
    """A length in mm in the unit of a design file, "mm" or "in"."""
    return inches(value) if unit == "in" else mm(value)


def with_unit(value: float | None, unit: str) -> str:
    """A length with its unit: `6.00 mm`, `0.236 in (15/64)`."""
    if value is None or not math.isfinite(value):
        return NONE
    if unit == "in":
        exact = from_mm(value, "in")
        return f"{to_thousandths(exact)} in{fraction_beside(exact)}"
    return f"{mm(value)} mm"


def tool_size(value: float, unit: str) -> str:
    """The size of a cutter, drill, bush or key, as it is sold: `6.00 mm`; in a design in inches `1/4 in` where it is
    one of the 1/64, else decimals alone, `0.236 in`."""
    if unit == "mm":
        return with_unit(value, unit)
    exact = from_mm(value, "in")
    nearest = Fraction(round(exact * 64), 64)
    return f"{sixty_fourths(exact) if nearest and abs(exact - nearest) <= EXACT else to_thousandths(exact)} in"


def least(value: float, unit: str) -> float:
    """A length in mm, rounded up to the decimals that `length` and `with_unit` print."""
    return rounded_up(value) if unit == "mm" else rounded_up(from_mm(value, "in"), 0.001) * MM_PER["in"]


def most(value: float, unit: str) -> float:
    """A length in mm, rounded down to the decimals that `length` and `with_unit` print."""
    return rounded_down(value) if unit == "mm" else rounded_down(from_mm(value, "in"), 0.001) * MM_PER["in"]


def decimal(value: float | None, unit: str) -> str:
    """A length with its unit but without fractions, for tables whose numbers are typed in again: `6.00 mm`, `0.236
    in`."""
    if value is None or not math.isfinite(value):
        return NONE
    return f"{to_thousandths(from_mm(value, 'in'))} in" if unit == "in" else f"{mm(value)} mm"


_NUMBER = r"-?\d+(?:\.\d+)?"
# numbers that share one "mm" at the end of their row; a bare number before "and" is a length only if it has decimals
_LENGTHS = re.compile(rf"(?<![\w.\"-])({_NUMBER}(?: to | x )|-?\d+\.\d+(?: and | or |, ))*({_NUMBER}) mm(?!\w)")

# a bound holds to the end of its clause: "no thinner than 18.30 mm at fret 1 and 20.30 mm at fret 12"
_CLAUSE = re.compile(r"[;:(]|[.,] ")
_NO_MORE = re.compile(r"\bno (?:deeper|wider|longer|more|higher|thicker|further|farther|larger|greater) than\b")
_NO_LESS = re.compile(r"\bno (?:shallower|narrower|shorter|less|lower|thinner|nearer|smaller) than\b")
# only in instructions: elsewhere the same words report what was measured
_THE = r"the [\w' -]+?"
_MOST = re.compile(rf"(?:\bat most|\ballowed are \S+ mm to|\blengthen {_THE} back to x) $")
_LEAST = re.compile(rf"(?:\bat least|\b(?:cut|widen) {_THE} to|\blengthen {_THE} to x) $")

Rounding = Callable[[Fraction], int]


def in_unit(text: str, unit: str, *, to_follow: bool = False) -> str:
    """A sentence with every length in mm that it names in the unit of a design file: `3.0 mm` becomes `0.118 in (1/8)`,
    `4.00 to 40.24 mm` becomes `0.157 (5/32) to 1.584 (1 37/64) in`.

    Bounds stay bounds: after "no deeper than" decimals and fractions are rounded down, after "no thinner than" up.
    to_follow: the sentence is an instruction or a limit, so that "at most", "at least" and "allowed are 1.0 to 2.0 mm"
    are bounds too.
    """
    if unit == "mm":
        return text
    return _LENGTHS.sub(lambda found: _row_in_inches(found[0], *_toward(found, to_follow)), text)


def in_both(text: str) -> str:
    """A sentence with every length in inches too: `3.0 mm = 0.118 in (1/8)`."""
    return _LENGTHS.sub(lambda found: f"{found[0]} = {_row_in_inches(found[0])}", text)


def _toward(found: re.Match[str], to_follow: bool) -> tuple[Rounding | None, Rounding | None]:
    """How the first number of a row is rounded, and how the others are; None: to the nearest."""
    before = found.string[: found.start()]
    clause = _CLAUSE.split(before)[-1]
    for down, up, looked_at in ((_NO_MORE, _NO_LESS, clause), *(((_MOST, _LEAST, before),) if to_follow else ())):
        if down.search(looked_at):
            return math.floor, math.floor
        if up.search(looked_at):
            return math.ceil, math.ceil
    if to_follow and before.endswith("allowed are "):
        return math.ceil, math.floor
    return None, None


def _row_in_inches(row: str, first: Rounding | None = None, others: Rounding | None = None) -> str:
    alone = len(re.findall(_NUMBER, row)) == 1

    def one(found: re.Match[str]) -> str:
        exact, decimals = Fraction(found[0]) / MM_PER["in"], len(found[0].partition(".")[2])
        places = 3 if decimals <= 2 else decimals + 2
        toward = others if found.start() else first
        if toward is None:
            shown, beside = to_thousandths(float(exact), places), fraction_beside(float(exact))
        else:
            shown = mm(float(Fraction(toward(exact * 10**places), 10**places)), places)
            beside = fraction_beside(float(exact), Fraction(toward(exact * 64), 64))
        return shown + (" in" if alone else "") + beside

    return re.sub(_NUMBER, one, row.removesuffix(" mm")) + ("" if alone else " in")
