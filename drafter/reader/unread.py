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


_QUESTIONS = """
    abs add bool contains divmod eq float floordiv format ge getitem gt hash index int iter le len lt mod mul ne neg
    pos pow radd rdivmod rfloordiv rmod rmul round rpow rsub rtruediv str sub truediv
"""
for _question in _QUESTIONS.split():
    setattr(_UnreadValue, f"__{_question}__", _UnreadValue._ask)

UNREAD: Any = _UnreadValue()


def is_read(value: object) -> bool:
    """Whether a value could be read."""
    return value is not UNREAD
