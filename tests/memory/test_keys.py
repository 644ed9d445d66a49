"""A key tells apart whatever differs in type or in the last bit, and nothing else."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum, StrEnum

import numpy as np
import pytest

from neckmodel.memory.inputs import UnkeyableError, key_of


class Side(StrEnum):
    BASS = "bass"
    TREBLE = "treble"


class Way(Enum):
    ON = 1
    OFF = 2


@dataclass(frozen=True)
class Screw:
    x: float
    kind: str = "wood-screw"


@dataclass(frozen=True)
class Dowel:
    x: float
    kind: str = "wood-screw"


@dataclass
class Loose:
    x: float


def key(*values: object, **named: object) -> bytes:
    return key_of("a function", values, named, lambda _: None)


UNLIKE = (
    0.0, -0.0, 0, False, None, "", "0", 1.0, 1, True, math.nan, math.inf, np.float64(1.0), np.int64(1), "bass",
    Side.BASS, Side.TREBLE, Way.ON, Way.OFF, (), [], {}, (1.0,), [1.0], ((1.0,),), (1.0, 1.0), ((1.0, 1.0),),
    ((1.0,), 1.0), ("a", "b"), ("ab",), ("a", ("b",)), {"a": 1.0}, {"b": 1.0}, {"a": 2.0}, {"a": 1.0, "b": 1.0},
    Screw(1.0), Screw(2.0), Dowel(1.0),
    Screw(1.0, "dowel"), Screw(math.nextafter(1.0, 2.0)), frozenset({"a"}), frozenset({"a", "b"}), np.array([1.0, 2.0]),
    np.array([[1.0, 2.0]]), np.array([1.0, 2.0], np.float32), np.array([1, 2]), np.array([-0.0]), np.array([0.0]),
)  # fmt: skip


def test_whatever_differs_has_another_key() -> None:
    for one, two in itertools.combinations(UNLIKE, 2):
        assert key(one) != key(two), (one, two)


def test_a_value_cannot_slip_from_one_argument_into_the_next() -> None:
    assert len({key("ab", "c"), key("a", "bc"), key("abc"), key("abc", ""), key(("ab", "c")), key("ab", x="c")}) == 6
    assert key(x=1.0, y=2.0) != key(x=2.0, y=1.0)
    assert key(x=1.0, y=2.0) == key(y=2.0, x=1.0)


@pytest.mark.parametrize("value", UNLIKE, ids=[f"{k}-{type(v).__name__}" for k, v in enumerate(UNLIKE)])
def test_the_same_content_has_the_same_key(value: object) -> None:
    import copy

    assert key(value) == key(copy.deepcopy(value))


def test_the_function_is_part_of_the_key() -> None:
    assert key_of("one", (1.0,), {}, lambda _: None) != key_of("two", (1.0,), {}, lambda _: None)


def test_an_order_of_hash_codes_does_not_count() -> None:
    assert key(frozenset("abcdef")) == key(frozenset("fedcba"))


@pytest.mark.parametrize(
    "value", [Loose(1.0), object(), lambda: 1, {1.0}, iter([1.0]), (1.0, Loose(1.0))], ids=lambda v: type(v).__name__
)
def test_what_can_change_or_does_not_tell_its_content_has_no_key(value: object) -> None:
    with pytest.raises(UnkeyableError):
        key(value)


def test_an_iterator_is_not_used_up() -> None:
    once = iter([1.0])
    with pytest.raises(UnkeyableError):
        key(once)
    assert list(once) == [1.0]


def test_what_was_made_is_written_by_its_own_key() -> None:
    made = object()
    names: Mapping[int, bytes] = {id(made): b"x"}
    assert key_of("f", (made,), {}, lambda v: names.get(id(v))) != key_of("f", (made,), {}, lambda _: b"y")
