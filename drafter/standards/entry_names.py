"""Finding a table's entry by the name or spelling a site file uses."""

from collections.abc import Iterable
from typing import Protocol, TypeVar


class _Named(Protocol):
    @property
    def name(self) -> str: ...

    @property
    def also_called(self) -> tuple[str, ...]: ...


_Entry = TypeVar("_Entry", bound=_Named)


def find_entry(entries: Iterable[_Entry], name: str) -> _Entry | None:
    """The entry with that name or other spelling; case, spacing and hyphens do not count.

    Source:
        none; the entries carry theirs.
    """
    wanted = _plain(name)
    return next((entry for entry in entries if wanted in map(_plain, (entry.name, *entry.also_called))), None)


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())
