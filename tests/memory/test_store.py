"""Results are kept within bounds, those longest unused go first, and what is gone is known no more."""

from __future__ import annotations

import threading

import numpy as np
import pytest

from neckmodel.memory.store import Store


class Solid:
    """Stands for a solid: an object that does not tell its content, and whose hash code says nothing."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Solid)

    def __hash__(self) -> int:
        return 1


def result(store: Store, key: bytes) -> object:
    kept = store.get(key)
    return None if kept is None else kept.result


def test_the_least_used_goes_first() -> None:
    store = Store(entries=3)
    for name in (b"a", b"b", b"c"):
        store.put(name, name.decode(), 10)
    assert result(store, b"a") == "a"
    store.put(b"d", "d", 10)
    assert [result(store, name) for name in (b"a", b"b", b"c", b"d")] == ["a", None, "c", "d"]
    assert len(store) == 3
    assert store.size == 30


def test_bytes_are_bounded_too() -> None:
    store = Store(size=100)
    store.put(b"a", "a", 60)
    store.put(b"b", "b", 50)
    assert result(store, b"a") is None
    assert store.size == 50
    store.put(b"c", "c", 101)  # more than all
    assert (len(store), store.size) == (0, 0)


def test_a_result_put_twice_counts_once() -> None:
    store = Store()
    store.put(b"a", "one", 10)
    store.put(b"a", "two", 20)
    assert (result(store, b"a"), len(store), store.size) == ("two", 1, 20)


def test_objects_are_known_by_identity_as_long_as_they_are_kept() -> None:
    store, one, two = Store(entries=2), Solid(), Solid()
    store.put(b"a", one, 1)
    assert store.known(one) == b"a0"
    assert store.known(two) is None  # though equal, and of the same hash code
    store.put(b"b", two, 1)
    store.put(b"c", Solid(), 1)
    assert store.known(one) is None
    assert store.known(two) == b"b0"


def test_members_of_a_tuple_are_known_by_their_places() -> None:
    store, piece, rest = Store(), Solid(), Solid()
    store.put(b"a", (piece, rest, 1.5, None), 1)
    assert (store.known(piece), store.known(rest)) == (b"a0", b"a1")


def test_an_object_given_by_two_calls_stays_known_by_the_one_still_kept() -> None:
    store, solid = Store(entries=2), Solid()
    store.put(b"a", solid, 1)
    store.put(b"b", solid, 1)
    assert store.known(solid) == b"b0"
    store.put(b"c", Solid(), 1)  # lets go of a
    assert store.known(solid) == b"b0"


def test_arrays_that_are_kept_refuse_to_be_changed() -> None:
    store, found = Store(), np.zeros(3)
    store.put(b"a", (found, 1.0), 1)
    with pytest.raises(ValueError, match="read-only"):
        found[0] = 1.0


def test_several_threads_do_not_upset_the_count() -> None:
    store = Store(entries=50)

    def fill(start: int) -> None:
        for k in range(start, start + 500):
            store.put(str(k % 120).encode(), Solid(), k % 7)
            store.get(str((k * 7) % 120).encode())

    threads = [threading.Thread(target=fill, args=(start,)) for start in (0, 40, 80)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    kept = [store.get(str(k).encode()) for k in range(120)]
    assert len(store) == 50
    assert store.size == sum(each.size for each in kept if each is not None)
