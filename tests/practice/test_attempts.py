"""What a student tried, on disk."""

import contextlib
import json
import multiprocessing
import os
import signal
import sys

import pytest
import writers

from gearlab.practice.workbook import attempts as room
from gearlab.practice.workbook import progress
from gearlab.practice.workbook.attempts import EVENTS, FILE, attempts, record
from gearlab.practice.workbook.progress import Answers

TRY = {
    "event": "answer",
    "bank": "07_contact",
    "question": "contact-ratio",
    "version": 1,
    "draw": 0,
    "answer": "contact_ratio",
    "typed": "1,55 – “half”",
    "verdict": "listed slip",
    "cause": "one-side",
    "share": 0.25,
    "try": 1,
    "hints": 0,
    "solution": False,
}


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.delenv(progress.FOLDER_VARIABLE, raising=False)
    return tmp_path


def test_what_is_recorded_is_read(folder):
    at = "2026-11-29T13:00:05Z"
    entry = record(folder, at=at, **TRY)
    record(folder, event="read", lesson="07_contact")
    first, second = attempts(folder)
    assert first == entry == {"at": at, **TRY}
    assert second["event"] == "read" and second["lesson"] == "07_contact"
    assert len(second["at"]) == len(at)
    lines = (folder / FILE).read_text(encoding="utf-8").splitlines()
    assert [json.loads(line) for line in lines] == [first, second]
    assert (folder / FILE).stat().st_mode & 0o077 == 0 or os.name != "posix"


def test_nothing_yet(folder):
    assert attempts(folder) == [] and attempts(folder / "nowhere") == []
    assert not (folder / "nowhere").exists()


@pytest.mark.parametrize("event", EVENTS)
def test_every_event(folder, event):
    assert record(folder, event=event)["event"] == attempts(folder)[0]["event"] == event


def test_the_folder_is_the_answers_one(folder, monkeypatch):
    monkeypatch.chdir(folder)
    record(event="read", lesson="a")
    monkeypatch.setenv(progress.FOLDER_VARIABLE, str(folder / "elsewhere"))
    record(folder, event="read", lesson="b")
    assert [one["lesson"] for one in attempts(folder)] == ["b"]
    assert (Answers(folder).folder / FILE).exists() and len((folder / FILE).read_bytes().splitlines()) == 1


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"event": "guessed"},
        {"event": 3},
        {**TRY, "try": -1},
        {**TRY, "try": True},
        {**TRY, "share": float("nan")},
        {**TRY, "share": 1.5},
        {**TRY, "typed": 1.55},
        {**TRY, "solution": "no"},
        {**TRY, "at": "yesterday"},
        {**TRY, "more": object()},
        {**TRY, "more": "x" * room.LONGEST_LINE},
    ],
)
def test_other_fields_are_refused(folder, fields):
    with pytest.raises(ValueError):
        record(folder, **fields)
    assert attempts(folder) == []


def test_texts_are_bounded_and_whole_lines(folder):
    record(folder, **{**TRY, "typed": "9" * 10_000})
    record(folder, **{**TRY, "typed": "a\nb\r\u2028c\ud800"})
    first, second = attempts(folder)
    assert len(first["typed"]) == room.LONGEST_TEXT and second["typed"].startswith("a\nb\r\u2028c")


@pytest.mark.parametrize(
    "junk",
    [
        b'{"event": "answer", "at": "2026-11-29T13:0',
        b"\xff\xfe\x00",
        b"[1, 2]",
        b"3",
        b'{"event": 3, "at": "2026-11-29T13:00:05Z"}',
        b'{"event": "read"}',
        b'{"event": "answer", "at": "2026-11-29T13:00:05Z", "try": "two"}',
        b'{"event": "answer", "at": "2026-11-29T13:00:05Z", "share": NaN}',
        b"[" * 5000,
        b'{"event": "read", "at": "2026-11-29T13:00:05Z", "lesson": "' + b"x" * 30_000 + b'"}',
    ],
)
@pytest.mark.parametrize("ended", [b"", b"\n"])
def test_a_line_that_cannot_be_read_is_passed_over_and_kept(folder, junk, ended):
    record(folder, event="read", lesson="before")
    with open(folder / FILE, "ab") as file:
        file.write(junk + ended)
    assert [one["lesson"] for one in attempts(folder)] == ["before"]
    record(folder, event="read", lesson="after")
    assert [one["lesson"] for one in attempts(folder)] == ["before", "after"]
    assert junk in (folder / FILE).read_bytes()


def test_a_full_file_is_put_by_and_nothing_is_lost(folder, monkeypatch):
    monkeypatch.setattr(room, "FULL", 400)
    for number in range(40):
        record(folder, event="read", lesson=str(number))
    files = sorted(path.name for path in folder.glob("*.jsonl"))
    assert len(files) > 3 and all((folder / name).stat().st_size < 600 for name in files)
    assert len(files) > 10 or "gearlab-attempts-2.jsonl" in files
    (folder / "gearlab-attempts-mine.jsonl").write_text("not ours")
    assert [int(one["lesson"]) for one in attempts(folder)] == list(range(40))  # 10 comes after 9


def test_two_writers_lose_nothing(folder):
    workers = [writers.process(writers.record_many, folder, name, 40) for name in "ab"]
    for one in workers:
        one.start()
    for one in workers:
        one.join(60)
    kept = [one["lesson"] for one in attempts(folder)]
    for name in "ab":
        mine = [lesson for lesson in kept if lesson.startswith(name)]
        assert mine == [f"{name}-{number}" for number in range(40)]


def test_the_same_lock_as_the_answers(folder, monkeypatch):
    monkeypatch.setattr(progress, "_PATIENCE", 0.05)
    answers = Answers(folder)
    with progress.held(answers.path), pytest.raises(TimeoutError, match="another program"):
        record(folder, event="read", lesson="a")


def test_where_there_is_no_flock(folder, monkeypatch):
    monkeypatch.setitem(sys.modules, "fcntl", None)
    record(folder, event="read", lesson="a")
    assert [one["lesson"] for one in attempts(folder)] == ["a"]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs kill")
def test_killed_while_recording(folder):
    told = []
    for _ in range(2):
        line, theirs = multiprocessing.Pipe(duplex=False)
        process = writers.process(writers.record_and_tell, folder, theirs)
        process.start()
        theirs.close()
        mine = []
        while len(mine) < 20 and line.poll(60):
            mine.append(line.recv())
        process.kill()
        process.join()
        with contextlib.suppress(EOFError):
            while True:
                mine.append(line.recv())
        assert len(mine) >= 20, "it does not record"
        told.append(mine)
    kept = [one["lesson"] for one in attempts(folder)]
    for mine in told:  # what record handed back is on the disk, and at most one more of each
        assert kept[: len(mine)] == mine
        kept = kept[len(mine) :]
        if kept and kept[0] == str(len(mine)):
            kept = kept[1:]
    assert kept == []
