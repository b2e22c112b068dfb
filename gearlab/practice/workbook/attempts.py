"""What a student tried, one line after another: the record behind the course page and the tutor.

An append-only file beside the answers, one JSON object a line. It serves the student only: no mark is ever
worked out from it.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

from gearlab.practice.workbook.progress import FILE as ANSWERS_FILE
from gearlab.practice.workbook.progress import FOLDER_VARIABLE, held

__all__ = ["COUNTED", "EVENTS", "FILE", "MOST_CAUSES", "attempts", "practised", "record"]

FILE = "gearlab-attempts.jsonl"
EVENTS = ("answer", "hint", "solution", "new numbers", "predicted", "opened", "read")
COUNTED = ("draws", "tries", "right", "hints", "solutions")  # what `practised` counts of a question
MOST_CAUSES = 5  # of a question that it names, the commonest first
FULL = 1_000_000  # bytes (some 3,000 tries) from which a file is put by under a number and a new one begun
LONGEST_LINE = 20_000  # bytes of one line
LONGEST_TEXT = 500  # characters of one text
# What every reader may rely on: these fields, where they stand in a line, have these types.
_TEXTS = ("at", "event", "bank", "question", "answer", "typed", "verdict", "cause", "lesson")
_COUNTS = ("version", "draw", "try", "hints")


def record(folder: str | Path | None = None, **fields) -> dict:
    """Add one line to the attempts of a folder, by default the working folder, and hand it back.

    As for the answers, the environment variable GEARLAB_ANSWERS goes before both. The line is on the disk
    when this returns; a program killed meanwhile loses this line and no other.

    event: one of `EVENTS`. An "answer" has bank, question, version, draw, answer, typed, verdict (a kind of
        `verdict.KINDS`), cause (its name or ""), share (earned, 0 to 1 [-]), try (1 is the first), hints
        (shown so far), solution (whether it was shown); the others have those of them that apply, "read"
        has lesson.
    at: when, such as "2026-11-29T13:00:05Z"; by default now.
    ValueError if a field is not of its kind; OSError if the folder cannot be written.
    """
    entry = {"at": datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"), **fields}
    for word in _TEXTS:
        if isinstance(entry.get(word), str):
            entry[word] = entry[word][:LONGEST_TEXT]
    if entry.get("event") not in EVENTS:
        raise ValueError(f"event = {entry.get('event')!r}: use one of {', '.join(EVENTS)}")
    fault = _fault(entry)
    if fault:
        raise ValueError(
            f"{fault} = {entry.get(fault)!r} is not what an attempt may hold: see EVENTS and record"
        )
    line = json.dumps(entry, ensure_ascii=False, allow_nan=False).encode("utf-8", "backslashreplace")
    if len(line) > LONGEST_LINE:
        raise ValueError(f"an attempt of {len(line)} bytes is longer than {LONGEST_LINE} bytes")
    place = _folder(folder)
    with held(place / ANSWERS_FILE):
        _append(place / FILE, line)
    return entry


def attempts(folder: str | Path | None = None) -> list[dict]:
    """Everything recorded in a folder, oldest line first.

    A line that cannot be read is passed over and stays where it is. Fields have the types that :func:`record`
    tells; one that is missing was not recorded.
    """
    place = _folder(folder)
    with contextlib.ExitStack() as lock:
        if place.is_dir() and os.access(place, os.W_OK):  # nobody writes in the others
            lock.enter_context(held(place / ANSWERS_FILE))
        data = [path.read_bytes() for path in [*_put_by(place), place / FILE] if path.is_file()]
    return [entry for content in data for entry in _read(content)]


def practised(lines: Sequence[Mapping], questions: Mapping[str, int]) -> dict[str, dict]:
    """How questions were practised, from attempts: each of `COUNTED`, and how often each cause was met.

    Where a right answer came, also after how many tries it first did, and how many minutes after the first
    line of the question (breaks count).

    questions: version by id; lines of other questions and versions do not count.
    Returns plain data by question; one that was never practised is missing.
    """
    told: dict[str, dict] = {}
    draws: dict[str, set] = {}
    begun: dict[str, str] = {}
    for line in lines:
        name, event = line.get("question", ""), line["event"]
        if name not in questions or line.get("version") != questions[name]:
            continue
        if event not in ("answer", "hint", "solution"):
            continue
        row = told.setdefault(name, {**dict.fromkeys(COUNTED, 0), "causes": {}})
        begun.setdefault(name, line["at"])
        draws.setdefault(name, set()).add(line.get("draw", 0))
        row["draws"] = len(draws[name])
        if event != "answer":
            row["hints" if event == "hint" else "solutions"] += 1
            continue
        row["tries"] += 1
        row["right"] += line.get("verdict") == "right"
        if row["right"] and "first_right_tries" not in row:
            took = datetime.fromisoformat(line["at"]) - datetime.fromisoformat(begun[name])
            row["first_right_tries"] = row["tries"]
            row["first_right_minutes"] = max(0, round(took.total_seconds() / 60))  # a clock may be set back
        if line.get("cause"):
            cause = line["cause"][:60]
            row["causes"][cause] = row["causes"].get(cause, 0) + 1
    for row in told.values():
        row["causes"] = dict(sorted(row["causes"].items(), key=lambda pair: -pair[1])[:MOST_CAUSES])
    return told


def _folder(folder: str | Path | None) -> Path:
    return Path(os.environ.get(FOLDER_VARIABLE) or folder or Path.cwd())


def _put_by(folder: Path) -> list[Path]:
    """The full files of a folder, the oldest first."""
    stem = Path(FILE).stem
    numbered = {
        int(path.stem[len(stem) + 1 :]): path
        for path in folder.glob(f"{stem}-*.jsonl")
        if path.stem[len(stem) + 1 :].isdecimal()
    }
    return [numbered[number] for number in sorted(numbered)]


def _append(path: Path, line: bytes) -> None:
    if path.exists() and path.stat().st_size >= FULL:
        full = _put_by(path.parent)
        number = 1 + (int(full[-1].stem.rsplit("-", 1)[1]) if full else 0)
        os.replace(path, path.with_name(f"{path.stem}-{number}{path.suffix}"))
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(handle, "r+b", buffering=0) as file:
        size = file.seek(0, os.SEEK_END)
        broken = False
        if size:
            file.seek(size - 1)
            broken = file.read(1) != b"\n"  # half a line of a program that was killed: it ends here
        rest = (b"\n" if broken else b"") + line + b"\n"
        while rest:
            rest = rest[file.write(rest) :]
        os.fsync(file.fileno())


def _read(content: bytes) -> Iterator[dict]:
    for line in content.split(b"\n"):
        if not line.strip() or len(line) > LONGEST_LINE:
            continue
        try:
            entry = json.loads(line)
        except (ValueError, RecursionError):
            continue
        if isinstance(entry, dict) and isinstance(entry.get("event"), str) and not _fault(entry):
            yield entry


def _fault(entry: dict) -> str:
    """The first field that is not of its kind, "" if all are."""
    for word, value in entry.items():
        whole = isinstance(value, int) and not isinstance(value, bool)
        if word == "at":
            sound = isinstance(value, str) and _is_time(value)
        elif word in _TEXTS:
            sound = isinstance(value, str)
        elif word in _COUNTS:
            sound = whole and 0 <= value < 10**6
        elif word == "share":
            sound = (whole or isinstance(value, float)) and math.isfinite(value) and 0 <= value <= 1
        elif word == "solution":
            sound = isinstance(value, bool)
        else:
            sound = value is None or isinstance(value, (str, bool, int, float))
        if not sound:
            return word
    return "" if "at" in entry else "at"


def _is_time(text: str) -> bool:
    if len(text) != 20 or text[10] != "T" or text[-1] != "Z":
        return False
    try:
        datetime.fromisoformat(text[:-1])
    except ValueError:
        return False
    return True
