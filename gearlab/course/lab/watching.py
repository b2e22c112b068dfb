"""The board's eyes: what lies in the folder that benches write to, and how far each of them is.

Only files that changed are read, and every read is bounded. A file that is being written is read at the next
look; what was known of its bench stays until then. Nothing of it is ever executed, changed or sent anywhere.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import stat
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from gearlab.course.handout.edition import Task
from gearlab.course.lab.folder import LabFolder, open_lab_folder
from gearlab.course.lab.numbers import Bench, Reading, prediction_id
from gearlab.course.lab.readings import ReadingTable, reading_id
from gearlab.course.lab.runsheet import Step
from gearlab.practice.handin import FILE_LIMIT, HandIn, read_hand_in
from gearlab.practice.verdict import Verdict
from gearlab.quoting import one_line

STUCK = 6 * 60.0  # seconds for which a wrong answer stays before its bench counts as stuck, or quiet
RACY = 2.0  # seconds within which a file may be written twice under one time: it is read once more
HOUR = 3600.0
_FILES = re.compile(r"HAND-IN_.*\.json|gearlab-attempts(-\d+)?\.jsonl", re.DOTALL)
FILES_LIMIT = 5000  # files looked at
TAIL_LIMIT = 1_000_000  # bytes of attempts read at one look
STATES = {
    "none": ("·", " ", "nothing yet"),
    "begun": ("◔", "w", "working"),
    "given": ("◇", "p", "predictions in"),
    "right": ("●", "R", "right"),
    "mended": ("◆", "r", "right after a slip"),
    "wrong": ("▲", "x", "not right"),
    "stuck": ("■", "S", "stuck for 6 minutes"),
}


@dataclass(frozen=True)
class Cell:
    """One bench at one checkpoint: a state of `STATES`, how much is in, and since when [s]."""

    state: str
    done: int
    asked: int
    since: float = 0.0

    @property
    def mark(self) -> str:
        """Its shape and its letter: either of them tells the state without colour."""
        return " ".join(STATES[self.state][:2]).rstrip()


@dataclass(frozen=True)
class Cause:
    """A recognised cause: at how many benches it was met within the hour, and what to say of it."""

    title: str
    question: str
    benches: int
    sentence: str


@dataclass(frozen=True)
class Dot:
    """One bench's reading: measured minus computed [unit of the reading]."""

    difference: float
    far: bool
    plausible: bool = True


@dataclass
class _Known:
    """What is known of one bench."""

    answers: dict[str, dict[str, str]] = field(default_factory=dict)
    saved: int = -1
    path: str = ""
    changed: float = 0.0
    states: dict[tuple[str, str], str] = field(default_factory=dict)  # of a question's answer, or a reading
    slipped: set[str] = field(default_factory=set)  # checkpoints at which something was not right before
    wrong_since: dict[str, float] = field(default_factory=dict)


class Board:
    """How far the benches of a lab are; `look` brings it up to date.

    unreadable: files that could not be read at the last look, with the reason; lost: nothing ever is.
    """

    def __init__(self, lab: LabFolder):
        self.lab = lab
        self._known: dict[str, _Known] = {bench.id: _Known() for bench in lab.numbers.by_id.values()}
        self._seen: dict[str, tuple] = {}
        self._tails: dict[tuple[int, int], int] = {}
        self._told: dict[tuple[str, str], dict[str, float]] = {}  # (question, cause) -> bench -> when
        self._words: dict[tuple[str, str], tuple[str, str]] = {}
        self.attempts = 0
        self.reads = 0
        self.unreadable: dict[str, str] = {}
        self.foreign: dict[str, str] = {}
        self.now = 0.0

    # -- looking --

    def look(self, now: float | None = None) -> bool:
        """Read what changed since the last look; whether anything did."""
        self.now = time.time() if now is None else now
        reads, here = self.reads, {"(folder)"}
        self.unreadable.pop("(folder)", None)
        for path, name in self._files():
            here.add(self._shown(path))
            try:
                info = os.stat(path, follow_symlinks=False)
            except OSError:
                continue  # moved meanwhile: a file that is replaced has its name again at the next look
            if not stat.S_ISREG(info.st_mode):
                continue
            sign = (info.st_mtime_ns, info.st_size, info.st_ino)
            if self._seen.get(path) == sign:
                continue
            self.reads += 1
            done = self._attempts(path, info) if name.startswith("gearlab-attempts") else self._hand_in(path)
            if done and abs(self.now - info.st_mtime) > RACY:
                self._seen[path] = sign
        for told in (self.unreadable, self.foreign):
            for gone in told.keys() - here:
                del told[gone]
        self._age()
        return self.reads != reads

    def _shown(self, path: str) -> str:
        """A file's path below the shared folder, as it may be shown."""
        return one_line(os.path.relpath(path, self.lab.shared))[:200]

    def _files(self) -> Iterator[tuple[str, str]]:
        """Hand-ins and attempts in the shared folder and one level below it."""
        count, folders = 0, [str(self.lab.shared)]
        while folders:
            folder = folders.pop(0)
            with contextlib.suppress(OSError), os.scandir(folder) as entries:
                for entry in entries:
                    count += 1
                    if count > FILES_LIMIT:
                        self.unreadable["(folder)"] = (
                            f"more than {FILES_LIMIT} files lie there: the others are not read"
                        )
                        return
                    name = entry.name
                    if folder == str(self.lab.shared) and entry.is_dir(follow_symlinks=False):
                        folders.append(entry.path)
                    elif _FILES.fullmatch(name):
                        yield entry.path, name

    def _bytes(self, path: str, start: int, limit: int) -> bytes:
        flags = (
            os.O_RDONLY
            | getattr(os, "O_NOFOLLOW", 0)
            | getattr(os, "O_BINARY", 0)
            | getattr(os, "O_NONBLOCK", 0)
        )
        with open(os.open(path, flags), "rb", buffering=0) as file:
            file.seek(start)
            return file.read(limit)

    def _hand_in(self, path: str) -> bool:
        """Take over a hand-in; no where it has to be read again."""
        name = self._shown(path)
        self.foreign.pop(name, None)
        try:
            hand_in = read_hand_in(self._bytes(path, 0, FILE_LIMIT + 1))
        except (OSError, ValueError) as error:
            self.unreadable[name] = one_line(str(error))[:300]
            return False
        self.unreadable.pop(name, None)
        bench = self.lab.numbers.by_id.get(hand_in.student)
        if hand_in.set != self.lab.sheet.lab.name or bench is None:
            self.foreign[name] = (
                f"belongs to {one_line(hand_in.student)[:64]!r} of {one_line(hand_in.set)[:64]!r}"
            )
            return True
        if hand_in.packet and hand_in.packet != self.lab.numbers.packet(bench):
            self.foreign[name] = "its sheet is of another lab folder: other numbers"
            return True
        self._take(bench, hand_in, path)
        return True

    def _take(self, bench: Bench, hand_in: HandIn, path: str) -> None:
        known = self._known[bench.id]
        # of several copies the one saved most often counts; the same file always does, also begun anew
        if hand_in.saved < known.saved and path != known.path and os.path.exists(known.path):
            return
        known.saved, known.path = hand_in.saved, path
        answers = {
            question: {name: text for name, text in texts.items() if text and text.strip()}
            for question, texts in hand_in.answers.items()
        }
        changed = {
            name
            for name in answers.keys() | known.answers.keys()
            if answers.get(name) != known.answers.get(name)
        }
        if not changed:
            return
        known.answers, known.changed = answers, self.now
        for step in self.steps:
            for what in self.lab.numbers.asked(bench, step):
                if isinstance(what, Task) and what.entry.question.id in changed:
                    self._judge(bench, known, step, what)
                elif isinstance(what, Reading) and reading_id(what.table) in changed:
                    self._measure(bench, known, step, what)

    def _judge(self, bench: Bench, known: _Known, step: Step, task: Task) -> None:
        question = task.entry.question
        texts = question.as_typed(known.answers.get(question.id, {}))
        for name, verdict in question.judge(task.draw, texts).items():
            state = "" if verdict.kind == "not answered" else "right" if verdict.right else "wrong"
            self._state(known, step, (question.id, name), state)
            if state == "wrong":
                self._cause(bench, question.id, verdict)

    def _measure(self, bench: Bench, known: _Known, step: Step, reading: Reading) -> None:
        name, text = reading_id(reading.table), self._typed(bench, reading)
        verdict, difference = reading.verdict(text), self.difference(bench, reading)
        if verdict is None:  # a lab of before: a number that lies near enough, or does not
            near = difference is not None and abs(difference) <= reading.table.within + 1e-9
            state = "" if difference is None else "right" if near else "wrong"
        else:
            unread = verdict.kind in ("not answered", "cannot read")
            state = "" if unread else "right" if verdict.right else "wrong"
            self._cause(bench, name, verdict)
        self._state(known, step, (name, "reading"), state)

    def _cause(self, bench: Bench, question: str, verdict: Verdict) -> None:
        for cause in verdict.causes[:1]:
            self._words[question, cause.name] = cause.title, cause.sentence
            self._told.setdefault((question, cause.name), {})[bench.id] = self.now

    def _state(self, known: _Known, step: Step, place: tuple[str, str], state: str) -> None:
        known.states[place] = state
        if state == "wrong":
            known.slipped.add(step.checkpoint)

    def _attempts(self, path: str, info: os.stat_result) -> bool:
        """Read the whole lines added to a bench's attempts; half a line is read at the next look."""
        place = info.st_dev, info.st_ino
        start = self._tails.get(place, 0)
        if info.st_size < start:
            start = 0  # another file has its number
        try:
            data = self._bytes(path, start, TAIL_LIMIT)
        except OSError:
            return False
        whole, _, rest = data.rpartition(b"\n")
        self._tails[place] = start + len(whole) + 1 if whole or data.startswith(b"\n") else start
        bench = self._bench_of(path)
        for line in whole.splitlines():
            with contextlib.suppress(ValueError, RecursionError):
                entry = json.loads(line[:20_000])
                if isinstance(entry, dict) and isinstance(entry.get("event"), str):
                    self.attempts += 1
                    self._attempt(bench, entry)
        return not rest and len(data) < TAIL_LIMIT

    def _bench_of(self, path: str) -> str:
        """The bench in whose folder a file lies, "" for none."""
        name = os.path.basename(os.path.dirname(path))
        return next((bench.id for bench in self.lab.numbers.by_id.values() if bench.short == name), "")

    def _attempt(self, bench: str, entry: dict) -> None:
        if bench:
            self._known[bench].changed = self.now
        question, cause = entry.get("question"), entry.get("cause")
        if (
            bench
            and entry["event"] == "answer"
            and isinstance(question, str)
            and isinstance(cause, str)
            and cause
        ):
            place = one_line(question)[:80], one_line(cause)[:60]
            self._words.setdefault(place, (place[1], ""))
            self._told.setdefault(place, {})[bench] = self.now

    def _age(self) -> None:
        """Since when something has not been right at each checkpoint."""
        for bench in self.lab.numbers.by_id.values():
            known = self._known[bench.id]
            for step in self.steps:
                if self._wrong(known, step):
                    known.wrong_since.setdefault(step.checkpoint, self.now)
                else:
                    known.wrong_since.pop(step.checkpoint, None)

    # -- what there is to see --

    @property
    def steps(self) -> list[Step]:
        """The steps with a checkpoint, in their order."""
        return [step for _, _, step in self.lab.sheet.steps(self.lab.minutes) if step.checkpoint]

    @property
    def benches(self) -> list[Bench]:
        """The benches, and the make-up sheets of which something came."""
        numbers = self.lab.numbers
        return [*numbers.benches, *(bench for bench in numbers.make_ups if self._known[bench.id].answers)]

    def answers(self, bench: Bench) -> dict[str, dict[str, str]]:
        """What a bench has typed, as last read: question to answer to text."""
        return self._known[bench.id].answers

    def saved(self, bench: Bench) -> int:
        """How often the hand-in that the board shows was saved; -1 before there is one [-]."""
        return self._known[bench.id].saved

    @staticmethod
    def _places(step: Step) -> set[str]:
        return {asked.id for asked in step.question} | {reading_id(table) for table in step.reading}

    def _wrong(self, known: _Known, step: Step) -> bool:
        places = self._places(step)
        return any(state == "wrong" and place[0] in places for place, state in known.states.items())

    def cell(self, bench: Bench, step: Step) -> Cell:
        """How far a bench is at a checkpoint."""
        known, places = self._known[bench.id], self._places(step)
        wanted = [(prediction_id(asked), "choice") for asked in step.prediction]
        predictions = len(wanted)
        tasks = self.lab.numbers.tasks(bench)
        wanted += [
            (asked.id, answer.id)
            for asked in step.question
            for answer in tasks[asked.id].entry.question.fields
        ]
        wanted += [(reading_id(table), "reading") for table in step.reading]
        done = sum(bool(known.answers.get(question, {}).get(answer)) for question, answer in wanted)
        since = known.wrong_since.get(step.checkpoint)
        if since is not None:
            quiet = self.now - max(since, known.changed) >= STUCK
            return Cell("stuck" if quiet else "wrong", done, len(wanted), since)
        if done < len(wanted) or not wanted:
            return Cell("begun" if done else "none", done, len(wanted))
        if predictions == len(wanted):
            return Cell("given", done, len(wanted))
        unsettled = any(not state for place, state in known.states.items() if place[0] in places)
        state = "begun" if unsettled else "mended" if step.checkpoint in known.slipped else "right"
        return Cell(state, done, len(wanted))

    def quiet(self, bench: Bench) -> float:
        """For how long nothing has come from a bench that began and is not done [s]."""
        known = self._known[bench.id]
        open_ = any(
            self.cell(bench, step).state in ("none", "begun", "wrong", "stuck") for step in self.steps
        )
        return self.now - known.changed if known.changed and open_ else 0.0

    def counts(self, step: Step) -> Counter[str]:
        """How many benches stand in which state at a checkpoint."""
        return Counter(self.cell(bench, step).state for bench in self.benches)

    def tally(self, step: Step) -> list[tuple[str, list[tuple[str, int]], int]]:
        """Of each prediction of a step: its question, the count of each option, and the sum. No names."""
        rows = []
        for asked in step.prediction:
            prediction = self.lab.sheet.prediction(asked)
            texts = [
                known.answers.get(prediction_id(asked), {}).get("choice", "")
                for known in self._known.values()
            ]
            count = Counter(text for text in texts if text)
            options = [(text, count[str(place)]) for place, text in enumerate(prediction.choices, 1)]
            rows.append((prediction.question, options, sum(number for _, number in options)))
        return rows

    def causes(self, most: int = 3, question: str | None = None) -> list[Cause]:
        """The commonest recognised causes of the last hour: each bench counts once."""
        rows = []
        for (name, cause), benches in self._told.items():
            count = sum(self.now - when <= HOUR for when in benches.values())
            if count and question in (None, name):
                title, sentence = self._words[name, cause]
                rows.append(Cause(title, self._title(name), count, sentence))
        return sorted(rows, key=lambda row: (-row.benches, row.question, row.title))[:most]

    def _title(self, question: str) -> str:
        titles = {entry.question.id: entry.question.title for entry in self.lab.numbers.maker.set}
        titles |= {reading_id(table): table.title for step in self.steps for table in step.reading}
        return titles.get(question, question)

    def _typed(self, bench: Bench, reading: Reading) -> str:
        return self._known[bench.id].answers.get(reading_id(reading.table), {}).get("reading", "")

    def difference(self, bench: Bench, reading: Reading) -> float | None:
        """Measured minus computed [unit of the reading]; None where nothing readable is in."""
        value = reading.value(self._typed(bench, reading))
        return None if value is None else value - reading.computed

    def dots(self, table: ReadingTable) -> list[Dot]:
        """Measured minus computed of every bench, smallest first and without names."""
        rows = []
        for bench in self.benches:
            reading = self.lab.numbers.reading(bench, table)
            difference = self.difference(bench, reading)
            if difference is not None:
                verdict = reading.verdict(self._typed(bench, reading))
                plausible = verdict is None or verdict.kind not in ("not plausible", "wrong unit")
                rows.append(Dot(difference, abs(difference) > table.within + 1e-9, plausible))
        return sorted(rows, key=lambda dot: dot.difference)


def open_board(folder: str | Path) -> Board:
    """The board of a folder that `gearlab lab` made. ValueError where it is none."""
    return Board(open_lab_folder(Path(folder)))
