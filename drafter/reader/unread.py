"""The stand-in for a value that could not be read, so that all else in a file can still be checked."""

from __future__ import annotations

from typing import Any, NoReturn


class Unread(Exception):  # noqa: N818  (it ends a check early; it is no error of its own)
    """Something was asked of a value that could not be read; what was wrong with it is found already."""


class _UnreadValue:
    """Stands in an entry for a value that could not be read: whoever asks it anything meets `Unread`."""

    def _ask(self, *_: object) -> NoReturn:
        raise Unread

    def __getattr__(self, name: str) -> NoReturn:
        if name.startswith("__"):
            raise AttributeError(name)
        raise Unread

    def __repr__(self) -> str:
        return "UNREAD"

    __bool__: Any = _ask
    __eq__: Any = _ask
    __hash__: Any = _ask
    __lt__: Any = _ask
    __le__: Any = _ask
    __gt__: Any = _ask
    __ge__: Any = _ask
    __add__: Any = _ask
    __radd__: Any = _ask
    __sub__: Any = _ask
    __rsub__: Any = _ask
    __mul__: Any = _ask
    __rmul__: Any = _ask
    __truediv__: Any = _ask
    __rtruediv__: Any = _ask
    __float__: Any = _ask
    __str__: Any = _ask
    __format__: Any = _ask
    __iter__: Any = _ask
    __len__: Any = _ask
    __contains__: Any = _ask
    __getitem__: Any = _ask


UNREAD: Any = _UnreadValue()


def is_read(value: object) -> bool:
    """Whether a value could be read."""
    return value is not UNREAD
