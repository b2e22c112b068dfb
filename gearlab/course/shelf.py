"""What is kept in bounded room, so that the memory does not grow with a class: on the disk, or forgotten."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, MutableMapping
from typing import TypeVar

Made = TypeVar("Made")
HELD = 500  # kilobytes that stay in memory
_PUT = (
    "INSERT INTO shelf (name, content) VALUES (?, ?)"
    " ON CONFLICT (name) DO UPDATE SET content = excluded.content"
)


class Shelf(MutableMapping[str, str]):
    """Text by text, in the order in which they came; gone when nobody has it any more.

    It lies in a file without a name that the system clears away, however the program ends.

    >>> shelf = Shelf()
    >>> shelf["012"], shelf["007"] = "Ben", "Ada"
    >>> shelf["007"], "13" in shelf, list(shelf), len(shelf)
    ('Ada', False, ['012', '007'], 2)
    """

    def __init__(self) -> None:
        self._base = sqlite3.connect("", check_same_thread=False, isolation_level=None)
        for words in (
            f"PRAGMA cache_size = -{HELD}",
            "PRAGMA journal_mode = OFF",
            "PRAGMA synchronous = OFF",
            "CREATE TABLE shelf (place INTEGER PRIMARY KEY, name TEXT UNIQUE, content TEXT)",
            "BEGIN",  # one transaction for as long as it is there: nobody else ever reads it
        ):
            self._base.execute(words)

    def __getitem__(self, name: str) -> str:
        row = self._base.execute("SELECT content FROM shelf WHERE name = ?", (name,)).fetchone()
        if row is None:
            raise KeyError(name)
        return row[0]

    def __contains__(self, name: object) -> bool:
        return self._base.execute("SELECT 1 FROM shelf WHERE name = ?", (name,)).fetchone() is not None

    def __setitem__(self, name: str, content: str) -> None:
        self._base.execute(_PUT, (name, content))

    def put_all(self, texts: Iterable[tuple[str, str]]) -> None:
        """Put several texts there, each with its name, in a third of the time."""
        self._base.executemany(_PUT, texts)

    def append(self, name: str, content: str, between: str) -> None:
        """Put a text there, or behind the one that is there."""
        self._base.execute(
            "INSERT INTO shelf (name, content) VALUES (?, ?)"
            " ON CONFLICT (name) DO UPDATE SET content = content || ? || excluded.content",
            (name, content, between),
        )

    def __delitem__(self, name: str) -> None:
        if not self._base.execute("DELETE FROM shelf WHERE name = ?", (name,)).rowcount:
            raise KeyError(name)

    def __iter__(self) -> Iterator[str]:
        for (name,) in self._base.execute("SELECT name FROM shelf ORDER BY place"):
            yield name

    def values_in_order(self) -> Iterator[str]:
        """The texts in the order in which they came."""
        for (content,) in self._base.execute("SELECT content FROM shelf ORDER BY place"):
            yield content

    def __len__(self) -> int:
        return self._base.execute("SELECT count(*) FROM shelf").fetchone()[0]


class Remembered(dict[tuple, Made]):
    """What was made, by what it hangs on; all of it is forgotten when it becomes too much.

    most: things that are remembered [-].

    >>> made = Remembered(2)
    >>> made["a",], made["b",], made["c",] = 1, 2, 3
    >>> made
    {('c',): 3}
    """

    def __init__(self, most: int):
        super().__init__()
        self._most = most

    def __setitem__(self, same: tuple, kept: Made) -> None:
        if len(self) >= self._most:
            self.clear()
        super().__setitem__(same, kept)
