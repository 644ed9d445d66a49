"""The mark of a function whose results are kept.

A function that bears it reads nothing but its arguments and constants, changes none of them, and gives the same for the
same. Its key is made of all its arguments, so none can be forgotten: whoever gives it one more widens the key. An
argument whose content cannot be told (a Layout or Design as a whole, a solid of unknown make) makes the call an
ordinary one: slower, never wrong. What it gives is shared by all who ask, so nobody may change it.
"""

from __future__ import annotations

from collections.abc import Callable
from contextvars import ContextVar
from functools import wraps
from typing import ParamSpec, Protocol, TypeVar, cast

from neckmodel.memory.inputs import UnkeyableError, key_of
from neckmodel.memory.store import Store

P = ParamSpec("P")
R = TypeVar("R")

IN_USE: ContextVar[Store | None] = ContextVar("in use", default=Store())  # noqa: B039 - one for all of the process
"""Where results are kept: one store for the process. None: nowhere, every call is made."""


class Mark(Protocol):
    """A mark: it leaves a function's arguments and result as they are."""

    def __call__(self, function: Callable[P, R], /) -> Callable[P, R]:
        """The function that remembers."""


def remembered(size: Callable[..., int]) -> Mark:
    """The mark, above a function: `@remembered(bytes_of)`. size: estimates what a result takes, bytes."""

    def marked(function: Callable[P, R]) -> Callable[P, R]:
        name = f"{function.__module__}.{function.__qualname__}"

        @wraps(function)
        def asked(*args: P.args, **kwargs: P.kwargs) -> R:
            store = IN_USE.get()
            if store is None:
                return function(*args, **kwargs)
            try:
                key = key_of(name, args, kwargs, store.known)
            except UnkeyableError:
                return function(*args, **kwargs)
            kept = store.get(key)
            if kept is not None:
                return cast(R, kept.result)
            result = function(*args, **kwargs)
            store.put(key, result, size(result))
            return result

        return asked

    return marked
