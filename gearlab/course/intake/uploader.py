"""Who sent a file, as the learning system wrote it into names of folders and files."""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator
from functools import cached_property, lru_cache
from typing import NamedTuple

from gearlab.course.roster import Roster

_WORD = re.compile(r"[^\W_]+")
LONGEST_NAME = 5  # words of a name that are tried together
LONGEST_TEXT = 300  # characters of a folder's or a file's name that are looked at
MOST_SENT = 3  # files of other students that one may have sent


def _plain(text: str) -> str:
    """Text without accents and capitals: systems write names in file names that way."""
    parted = unicodedata.normalize("NFKD", text)
    return "".join(letter for letter in parted if not unicodedata.combining(letter)).casefold()


class _Named(NamedTuple):
    """The students whom a text names: by a whole name or an address, by one word, by an id."""

    names: frozenset[str] = frozenset()
    words: frozenset[str] = frozenset()
    ids: frozenset[str] = frozenset()
    alone: frozenset[str] = frozenset()  # ids that are all a text says


class Uploaders:
    """Compares who sent a file with whose it is.

    A name of several words, an address, or an id with a name of one word tells a student for sure. An id
    alone may be any number of the system's, or that of a section: it counts where ids outside and inside
    agree for others, or where a folder is called by nothing else. What is not sure changes nothing.
    """

    def __init__(self, roster: Roster):
        self._roster = roster
        self._agreeing = 0  # files at which an id or a word outside agrees with the id inside
        # (steps, id by the file, id outside, whether that is sure, whether a folder is called by it)
        self._differing: list[tuple[tuple[str, ...], str, str, bool, bool]] = []
        self._texts = lru_cache(maxsize=1024)(self._read)  # one folder holds many files

    def note(self, steps: tuple[str, ...], texts: list[str], owner: str) -> bool:
        """Look at one file: the texts around its name, and the student it names.

        Returns whether somebody else seems to have sent it; it comes back in `settled` then.
        """
        named = self._all(texts)
        if owner in named.names | named.words | named.ids:
            self._agreeing += owner in named.words | named.ids
            return False
        for senders, sure in ((_sure(named), True), (named.ids | named.words, False)):
            if len(senders) == 1:
                (sender,) = senders
                self._differing.append((steps, owner, sender, sure, sender in named.alone))
                return True
        return False

    def sender(self, texts: list[str]) -> str | None:
        """Who sent a file that names nobody, if that is sure."""
        named = self._all(texts)
        senders = _sure(named) or named.alone
        return next(iter(senders)) if len(senders) == 1 else None

    def settled(self) -> Iterator[tuple[tuple[str, ...], str, str | None]]:
        """Each file that somebody else seemed to send: steps, the student it names, who sent it if sure."""
        unsure = sum(not sure for _, _, _, sure, _ in self._differing)
        claims = Counter(sender for _, _, sender, _, _ in self._differing)
        for steps, owner, sender, sure, alone in self._differing:
            sure = sure or self._agreeing >= unsure or (alone and claims[sender] == 1)
            # a folder with many students' files is called after somebody else: an assistant, a section
            yield steps, owner, sender if sure and claims[sender] <= MOST_SENT else None

    def _all(self, texts: list[str]) -> _Named:
        read = [self._texts(text[:LONGEST_TEXT]) for text in texts]
        return _Named(*(frozenset().union(*sets) for sets in zip(*read))) if read else _Named()

    def _read(self, text: str) -> _Named:
        names = self._names
        pieces = _WORD.findall(_plain(text))
        spans = [
            (first, last, student)
            for first in range(len(pieces))
            for last in range(first + 1, min(first + LONGEST_NAME, len(pieces)) + 1)
            if (student := names.get("".join(pieces[first:last]))) is not None
        ]
        # a name that is part of a longer one there is not meant
        whole_names = {
            student
            for first, last, student in spans
            if not any(
                begin <= first and last <= end and (begin, end) != (first, last) for begin, end, _ in spans
            )
        }
        addresses = {names.get(f"@{word}") for word in _plain(text).split()} - {None}
        words = {names.get(f" {piece}") for piece in pieces} - {None}
        whole = text.strip()
        ids = {whole, *re.split(r"[\s_,;()\[\]+]+", text), *_WORD.findall(text)} & self._ids
        return _Named(*map(frozenset, (whole_names | addresses, words, ids, {whole} & ids)))

    @cached_property
    def _ids(self) -> frozenset[str]:
        return frozenset(student.id for student in self._roster)

    @cached_property
    def _names(self) -> dict[str, str | None]:
        """Whole names in each order that turns them round, single words, addresses; None: several's."""
        index: dict[str, str | None] = {}
        for student in self._roster:
            words = _WORD.findall(_plain(student.name))
            signs = {"".join(words[i:] + words[:i]) for i in range(len(words))} if len(words) > 1 else set()
            signs |= {f" {words[0]}"} if len(words) == 1 else set()
            signs |= {f"@{student.email.casefold()}"} if "@" in student.email else set()
            for sign in signs:
                index[sign] = student.id if index.get(sign, student.id) == student.id else None
        return index


def _sure(named: _Named) -> frozenset[str]:
    return named.names or named.ids & named.words
