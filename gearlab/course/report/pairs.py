"""Students with equal wrong numbers on different givens: a hint for a talk, not a verdict.

Every student has numbers of their own, so two of them come to the same wrong number by chance only, or one
has it from the other (whose right number it may be), or both from a third. What counts, and how much, stands
in `RULE` and on the page that is written. What was typed goes to a folder on disk as it comes and is brought
together there part by part: the work grows as the class does, the memory does not.
"""

import heapq
import math
import shutil
import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from hashlib import blake2b
from itertools import combinations, groupby
from operator import attrgetter, itemgetter
from pathlib import Path
from typing import NamedTuple

from markupsafe import Markup

from gearlab.course.marks import MarkedTask
from gearlab.course.pages import page, part
from gearlab.course.roster import Roster
from gearlab.digits import number_text
from gearlab.practice import HomeworkSet, Question, Reading
from gearlab.practice.typed.reading import in_unit
from gearlab.practice.verdict import Verdict
from gearlab.quoting import one_line

MOST_HOLDERS = 15  # students who may share a number before it is a common one
ENOUGH = 1.5  # weight from which a pair is shown
MOST_SHOWN = 100  # pairs
SHORTEST_TEXT = 6  # characters of a text that may be unusual
PARTS = 64  # into which what was typed is sorted
HELD = 1_000_000  # bytes in memory before they go to disk
SHOWN = 24  # bytes of a typed text that are kept for the page

RULE = (
    "Counted are numbers that are equal to six figures, in the unit asked, typed to the same question "
    "by two students whose givens there are different, and wrong for at least one of the two (right for "
    "the other, perhaps). A number that only these two typed counts 1, one that three share 0.71, five "
    "0.5, ten 0.33 (one by the root of how many others share it); one that more than fifteen share "
    "counts nothing: it is a common slip. A number of three figures counts three quarters of that, one "
    "of fewer figures nothing. A wrong text without a named cause that is the same letter for letter "
    "counts three quarters as well. Of several in one question the second and further ones count half. "
    "A pair is shown from 1.5 on, so that one equal number is never enough."
)

# what was typed (digest), student, answer, digest of the givens, whether a number, wrong, full, as shown
_TYPED = struct.Struct(f">8sIHI???{SHOWN}s")
# the two students, answer, holders, whether it is wrong for each, full, as shown
_SHARED = struct.Struct(f">IIHB???{SHOWN}s")


class Sorted:
    """Records in parts by their first bytes: in memory while they are few, beyond that in files.

    folder: where the files go, made when it is needed; None to stay in memory.
    """

    def __init__(self, size: int, folder: Path | None, name: str):
        self._size, self._folder, self._name = size, folder, name
        self._parts = [bytearray() for _ in range(PARTS)]
        self._held = 0

    def add(self, place: int, record: bytes) -> None:
        """Add a record to the part of this number."""
        self._parts[place % PARTS] += record
        self._held += self._size
        if self._held >= HELD:
            self._put_by()

    def merge(self, other: "Sorted") -> None:
        """Add the records of another one."""
        for place in range(PARTS):
            content = other._content(place)
            self._parts[place] += content
            self._held += len(content)
            if self._held >= HELD:
                self._put_by()

    def parts(self) -> Iterator[list[bytes]]:
        """The records, part by part, in order."""
        for place in range(PARTS):
            content = self._content(place)
            yield sorted(content[i : i + self._size] for i in range(0, len(content), self._size))

    def _content(self, place: int) -> bytes:
        path = self._folder / f"{self._name}-{place:02d}" if self._folder else None
        return (path.read_bytes() if path and path.exists() else b"") + bytes(self._parts[place])

    def _put_by(self) -> None:
        if self._folder is None:
            return
        self._folder.mkdir(exist_ok=True)
        for place, content in enumerate(self._parts):
            if content:
                with open(self._folder / f"{self._name}-{place:02d}", "ab") as file:
                    file.write(content)
                content.clear()
        self._held = 0


class Shared(NamedTuple):
    """A wrong number that two students share.

    place: of the answer in the set [-].
    holders: students who typed it to this answer [-].
    wrong: whether it is wrong for the first of the two, and for the second.
    """

    place: int
    holders: int
    wrong: tuple[bool, bool]
    full: bool
    text: str

    @property
    def weight(self) -> float:
        """How much it counts [-]."""
        return (1.0 if self.full else 0.75) / math.sqrt(self.holders - 1)


@dataclass(frozen=True)
class Pair:
    """Two students, by their places in the class list, and what they share."""

    first: int
    second: int
    weight: float
    shared: tuple[Shared, ...]


class Traces:
    """What a class typed, to be searched for pairs.

    folder: where they go when they are many: of this one alone, and gone once the pairs are told. Without one
        they stay in memory, which will do for a part of a class.
    """

    def __init__(self, homework: HomeworkSet, folder: Path | None = None):
        self._places = {
            (entry.question.id, answer.id): (place, number)
            for place, (number, entry, answer) in enumerate(
                (number, entry, answer)
                for number, entry in enumerate(homework.entries)
                for answer in entry.question.answers
            )
        }
        self._folder = folder
        self._typed = Sorted(_TYPED.size, self._folder, "typed")

    def add(self, number: int, marked: list[MarkedTask]) -> None:
        """Add what one student typed.

        number: place of the student in the class list, from 0.
        """
        for task in marked:
            question, givens = task.entry.question, None
            for identity, verdict in task.verdicts.items():
                typed = _comparable(question, identity, task, verdict)
                if typed is None:
                    continue
                text, is_number, full = typed
                if givens is None:
                    givens = _of_givens(task.draw.shown)
                place, _ = self._places[question.id, identity]
                digest = _digest(f"{place}\0{text}")
                shown = text.encode("utf-8", "replace")  # of which a record takes the beginning
                record = _TYPED.pack(digest, number, place, givens, is_number, not verdict.right, full, shown)
                self._typed.add(digest[0], record)

    def merge(self, other: "Traces") -> None:
        """Add what another part of the class typed to the same set."""
        self._typed.merge(other._typed)

    def pairs(self) -> tuple[list[Pair], int]:
        """The pairs with most weight, and how many there are."""
        shared = Sorted(_SHARED.size, self._folder, "shared")
        for records in self._typed.parts():
            for _, same in groupby(map(_TYPED.unpack, records), key=itemgetter(0)):
                _share(list(same), shared)
        question_of = dict(self._places.values())
        heaviest: list[tuple[tuple, Pair]] = []
        count = 0
        for records in shared.parts():
            for who, group in groupby(map(_SHARED.unpack, records), key=itemgetter(0, 1)):
                pair = _weighed(who, group, question_of)
                if pair.weight < ENOUGH - 1e-9:
                    continue
                count += 1
                item = ((pair.weight, -pair.first, -pair.second), pair)
                (heapq.heappush if len(heaviest) < MOST_SHOWN else heapq.heappushpop)(heaviest, item)
        if self._folder:
            shutil.rmtree(self._folder, ignore_errors=True)
        return [pair for _, pair in sorted(heaviest, key=itemgetter(0), reverse=True)], count


@lru_cache(maxsize=4096)
def _of_givens(shown: tuple[float, ...]) -> int:
    """A number that tells numbers shown from others."""
    return int.from_bytes(_digest(repr(shown))[:4], "big")


def _digest(text: str) -> bytes:
    return blake2b(text.encode("utf-8", "surrogatepass"), digest_size=8).digest()


def _comparable(
    question: Question, identity: str, task: MarkedTask, verdict: Verdict
) -> tuple[str, bool, bool] | None:
    """What was typed, as it is compared: the text, whether it is a number, and whether it counts in full."""
    if verdict.kind == "not answered" or question.for_people:
        return None
    reading = task.read.get(identity)
    if question.judges_fields and reading is not None and reading.value is not None:
        return _number(reading)
    if verdict.right or verdict.causes or (reading is not None and reading.choices):
        return None
    text = "".join(question.typed(task.texts, identity).casefold().split())
    return (text, False, False) if len(text) >= SHORTEST_TEXT else None


def _number(reading: Reading) -> tuple[str, bool, bool] | None:
    value = reading.value if not reading.unit else in_unit(reading, reading.asked_unit)
    if value is None:
        return None
    text = number_text(value, 6)
    figures = len(text.partition("e")[0].replace(".", "").lstrip("-0"))
    return (text, True, figures > 3) if figures >= 3 else None


def _share(holders: list[tuple], shared: Sorted) -> None:
    """Note what each two of those who typed the same share, where they are few."""
    if not 2 <= len(holders) <= MOST_HOLDERS:
        return
    for holder, other in combinations(sorted(holders, key=itemgetter(1)), 2):
        _, first, place, givens, is_number, wrong, full, text = holder
        _, second, _, others, _, also_wrong, _, _ = other
        counts = givens != others and (wrong or also_wrong) if is_number else wrong and also_wrong
        if first != second and counts:
            record = _SHARED.pack(first, second, place, len(holders), wrong, also_wrong, full, text)
            shared.add(first * 31 + second, record)


def _weighed(who: tuple[int, int], group: Iterable[tuple], question_of: dict[int, int]) -> Pair:
    shared = [
        Shared(place, holders, (wrong, also), full, text.rstrip(b"\0").decode("utf-8", "ignore"))
        for _, _, place, holders, wrong, also, full, text in group
    ]
    best: dict[int, float] = {}
    for same in shared:
        question = question_of[same.place]
        best[question] = max(best.get(question, 0.0), same.weight)
    weight = (math.fsum(best.values()) + math.fsum(same.weight for same in shared)) / 2
    return Pair(*who, weight, tuple(sorted(shared, key=attrgetter("place"))))


def pairs_page(homework: HomeworkSet, roster: Roster, pairs: list[Pair], count: int) -> str:
    """The page for the instructor; it holds names, and is for nobody else."""
    wanted = {number for pair in pairs for number in (pair.first, pair.second)}
    students = {number: student for number, student in enumerate(roster) if number in wanted}
    answers = [
        (f"{number}. {entry.question.title}", answer.label)
        for number, entry in enumerate(homework.entries, start=1)
        for answer in entry.question.answers
    ]
    rows = []
    for pair in pairs:
        two = [students[pair.first], students[pair.second]]
        rows.append(
            {
                "who": [(one_line(student.name), student.id, one_line(student.section)) for student in two],
                "shared": [
                    (*answers[same.place], one_line(same.text), _for_whom(same, two), same.holders)
                    for same in pair.shared
                ],
            }
        )
    css = Markup(part("page.css") + part("report.css"))
    return page("pairs.html", css=css, set=homework, pairs=rows, count=count, rule=RULE)


def _for_whom(same: Shared, two: list) -> str:
    if all(same.wrong):
        return "wrong for both"
    wrong, right = two if same.wrong[0] else two[::-1]
    return f"wrong for {one_line(wrong.id)}, right for {one_line(right.id)}"
