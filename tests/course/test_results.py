"""Results are switched as one, under a lock, and what a person wrote into them is never lost.

What is expected stands in the issue of the course: never half new, whatever is held open or killed.
"""

import hashlib
import itertools
import json
import os
import random
import re
import signal
import socket
import subprocess
import sys
import time
import warnings
from pathlib import Path

import pytest
from greenhouse import hand_in, right_answers, sheet_of, write_course

from gearlab.course import results as module
from gearlab.course.coursekey import make_key, read_key
from gearlab.course.handout.making import hand_out
from gearlab.course.lock import Lock
from gearlab.course.marking.whole import mark
from gearlab.course.results import DIGESTS, EDITED, Results
from gearlab.course.roster import Roster, Student, read_roster

posix = pytest.mark.skipif(os.name != "posix", reason="needs POSIX signals")


def written(folder, content):
    """One renewal with these files; gives what it told."""
    with Results(folder).renewed() as renewal:
        for name, text in content.items():
            (renewal.fresh / name).parent.mkdir(exist_ok=True)
            (renewal.fresh / name).write_text(text, encoding="utf-8")
    return renewal.told


def files_of(folder):
    return {p.relative_to(folder).as_posix(): p.read_text() for p in folder.rglob("*") if p.is_file()}


FIRST = {"gradebook.csv": "id,points\n1,5\n", "feedback/1.html": "five", "feedback/2.html": "-"}
SECOND = {"gradebook.csv": "id,points\n1,7\n", "feedback/1.html": "seven"}


def test_switched_as_one_and_the_earlier_one_kept(tmp_path):
    folder = tmp_path / "results" / "homework-1"
    assert written(folder, FIRST) == []
    assert {name: text for name, text in files_of(folder).items() if name != DIGESTS} == FIRST
    # the digests are in the form that sha256sum checks
    for line in (folder / DIGESTS).read_text().splitlines():
        digest, name = line.split("  ")
        assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == digest
    (told,) = written(folder, FIRST)
    assert "same as before" in told and not Results(folder).earlier_states()
    (told,) = written(folder, SECOND)
    (state,) = Results(folder).earlier_states()
    assert re.fullmatch(r"\d{4}-\d\d-\d\d_\d\d-\d\d-\d\d", state) and state in told
    kept = tmp_path / "results" / "earlier" / "homework-1" / state
    assert files_of(kept).items() >= FIRST.items() and "feedback/2.html" not in files_of(folder)
    written(folder, FIRST)
    written(folder, SECOND)
    assert len(Results(folder).earlier_states()) == 3  # two within one second have names of their own
    assert sorted(path.name for path in folder.parent.iterdir()) == ["earlier", "homework-1"]


def test_what_a_person_put_in_or_edited_is_kept_and_told(tmp_path):
    folder = tmp_path / "results"
    written(folder, FIRST)
    (folder / "talks").mkdir()
    (folder / "talks" / "monday.txt").write_text("talk to 1")
    (folder / "gradebook.csv").write_text("id,points\n1,6\n")
    (folder / "feedback" / "1.html").write_text("five, well tried")
    (folder / "feedback" / "note.html").write_text("mine")
    (folder / "feedback" / ".DS_Store").write_text("of a system")
    told = " ".join(written(folder, FIRST))  # the same marks again
    there = files_of(folder)
    assert there["gradebook.csv"] == FIRST["gradebook.csv"] and there["talks/monday.txt"] == "talk to 1"
    assert there[f"{EDITED}/gradebook.csv"] == "id,points\n1,6\n" and "decisions" in told
    assert there[f"{EDITED}/feedback/1.html"] == "five, well tried"
    assert there[f"{EDITED}/feedback/note.html"] == "mine" and "feedback/note.html" not in there
    assert all(name in told for name in ("gradebook.csv", "feedback/1.html", "feedback/note.html"))
    assert ".DS_Store" not in told and "talks" not in told
    # edited once more: both are kept, and what was kept goes along
    (folder / "gradebook.csv").write_text("id,points\n1,6.5\n")
    written(folder, SECOND)
    there = files_of(folder)
    assert there[f"{EDITED}/gradebook.csv"] == "id,points\n1,6\n"
    assert there[f"{EDITED}/gradebook (2).csv"] == "id,points\n1,6.5\n"
    assert there["talks/monday.txt"] == "talk to 1"
    assert "edited" not in " ".join(written(folder, FIRST)).replace(f"{EDITED}/", "")


def test_results_of_before_there_were_digests_are_kept_whole(tmp_path):
    folder = tmp_path / "results"
    (folder / "feedback").mkdir(parents=True)
    (folder / "gradebook.csv").write_text("of long ago")
    (folder / "feedback" / "1.html").write_text("of long ago")
    (folder / "mine.txt").write_text("mine")
    told = written(folder, SECOND)
    assert "earlier gearlab" in told[0] and (folder / "mine.txt").read_text() == "mine"
    assert EDITED not in files_of(folder) and "of long ago" not in files_of(folder).values()
    (state,) = Results(folder).earlier_states()
    assert (tmp_path / "earlier" / "results" / state / "gradebook.csv").read_text() == "of long ago"


@pytest.mark.parametrize("record", ["", "../../x  y\n", "0" * 64 + "  zz\n" + "0" * 64 + "  aa\n", "\xff\0"])
def test_a_damaged_record_loses_nothing(tmp_path, record):
    folder = tmp_path / "results"
    written(folder, FIRST)
    (folder / "gradebook.csv").write_text("edited")
    (folder / DIGESTS).write_text(record, encoding="latin-1")
    written(folder, SECOND)
    (state,) = Results(folder).earlier_states()
    kept = files_of_bytes(tmp_path / "earlier" / "results" / state)
    assert (
        kept["gradebook.csv"] == b"edited"
        and (folder / "gradebook.csv").read_text() == SECOND["gradebook.csv"]
    )


def files_of_bytes(folder):
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.mark.parametrize("at", [1, 2, 3])
def test_a_file_held_open_leaves_the_old_results_whole(tmp_path, monkeypatch, at):
    """Some systems move no folder in which a file is open: whichever move is refused, nothing is half new."""
    folder = tmp_path / "results"
    written(folder, FIRST)
    before, calls, move = files_of(folder), [], module.put_in_place

    def refusing(source, target):
        calls.append(target)
        if len(calls) == at:
            raise PermissionError(13, "Permission denied")
        move(source, target)

    monkeypatch.setattr(module, "put_in_place", refusing)
    with pytest.raises((ValueError, OSError), match=r"close it and mark again|denied"):
        written(folder, SECOND)
    monkeypatch.undo()
    assert files_of(folder) == before and not [p for p in tmp_path.iterdir() if p.name.startswith(".")]
    written(folder, SECOND)
    assert files_of(folder)["feedback/1.html"] == "seven"


def test_a_failing_block_leaves_nothing(tmp_path):
    with pytest.raises(OSError, match="full"), Results(tmp_path / "results").renewed() as renewal:
        (renewal.fresh / "gradebook.csv").write_text("half")
        raise OSError(28, "disk full")
    assert list(tmp_path.iterdir()) == []


def test_places_that_cannot_be_switched_are_refused(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("x")
    for name, words in (("file", "is a file"), ("earlier", "choose another name")):
        with pytest.raises(ValueError, match=words):
            Results(tmp_path / name)
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ValueError, match="you are in it"):
        Results(Path(".")).refuse_around([])
    with pytest.raises(ValueError, match="course.key is in it"):
        Results(tmp_path / "own").refuse_around([tmp_path / "own" / "course.key"])
    many = tmp_path / "many"
    many.mkdir()
    for number in range(module.CARRIED_LIMIT + 1):
        (many / f"{number}.txt").touch()
    with pytest.raises(ValueError, match="more than 2000 other files"):
        written(many, FIRST)


def lock_of(pid, host=None, started=""):
    return json.dumps(
        {"pid": pid, "host": host or socket.gethostname(), "since": "2026-11-25 09:10", "started": started}
    )


def ended() -> int:
    """The number of a process that runs no more."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def test_a_live_lock_is_named_and_a_dead_one_taken_over(tmp_path):
    folder, lock = tmp_path / "results", tmp_path / ".results.lock"
    refused = pytest.raises(ValueError, match=rf"process {os.getpid()} on this machine has been writing")
    with Results(folder).renewed(), refused:
        written(folder, FIRST)
    assert not lock.exists()
    lock.write_text(lock_of(4711, "greenhouse-pc"))
    with pytest.raises(ValueError, match=r"process 4711 on greenhouse-pc .* since 2026-11-25 09:10.*delete"):
        written(folder, FIRST)
    for content in (lock_of(ended()), lock_of(os.getpid(), started="1"), "", "{", '{"pid": true}'):
        lock.write_text(content)
        os.utime(lock, (time.time() - 60,) * 2)
        told = written(folder, FIRST)
        assert any("stopped in the middle" in sentence for sentence in told) and not lock.exists()


def test_two_at_once_take_a_dead_lock_over_once(tmp_path):
    lock = Lock(tmp_path / "lock", "results")
    lock.path.write_text(lock_of(4711, "elsewhere"))
    lock._take_away(b"what stood there before", None)  # another one has taken it over meanwhile
    assert "4711" in lock.path.read_text() and len(list(tmp_path.iterdir())) == 1


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """Twelve students, handed out; two states of what came in, which give two results."""
    folder = tmp_path_factory.mktemp("kills")
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own" / "key")
    roster = Roster([Student(f"{number:03d}", f"Student {number}") for number in range(12)])
    (folder / "roster.csv").write_text("id,name\n" + "".join(f"{s.id},{s.name}\n" for s in roster))
    hand_out(set_file, roster, key, folder / "out")
    for state in ("right", "empty"):
        (folder / state).mkdir()
        for notebook in (folder / "out" / "notebooks").glob("*.ipynb"):
            sheet = sheet_of(notebook)
            answers = right_answers(sheet) if state == "right" else {}
            (folder / state / sheet["file"]).write_text(hand_in(sheet, answers))
        mark(folder / state, set_file, roster, key, folder / f"expected-{state}")
    return folder


def marks_on_and_on(course):
    """A process that marks the two states in turn, with what it has begun to mark with."""
    set_file = course / "exercises" / "sets" / "homework_1.toml"
    roster, key = read_roster(course / "roster.csv"), read_key(course / "own" / "key")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of threads: the child runs none of them
        child = os.fork()  # all that is imported and worked out comes along: a new process takes seconds
    if child == 0:
        try:
            for state in itertools.cycle(("right", "empty")):
                mark(course / state, set_file, roster, key, course / "results" / "homework-1")
                (course / "marked").touch()
        finally:
            os._exit(1)
    return child


def of_one_run(folder):
    """What a folder of results holds, but for what tells how they differ from those before."""
    files = files_of_bytes(folder)
    files.pop("changes.csv", None)
    lines = files["digests.txt"].splitlines(keepends=True)
    return files | {"digests.txt": b"".join(line for line in lines if not line.endswith(b"changes.csv\n"))}


@posix
def test_killed_at_twenty_moments_the_results_are_of_one_run(course):
    """Marked again and again, and killed anywhere; what stands there is whole: old or new, never of both."""
    chance = random.Random(20)
    expected = [of_one_run(course / f"expected-{state}") for state in ("right", "empty")]
    folder = course / "results" / "homework-1"
    whole = held = 0
    for _ in range(20):
        (course / "marked").unlink(missing_ok=True)
        child = marks_on_and_on(course)
        until = time.monotonic() + 60
        while not (course / "marked").exists():  # one is marked, whatever the killed one left
            assert os.waitpid(child, os.WNOHANG) == (0, 0), "it refused to mark"
            assert time.monotonic() < until, "it does not mark"
            time.sleep(0.002)
        time.sleep(chance.random() * 0.2)
        os.kill(child, signal.SIGKILL)
        assert os.waitpid(child, 0)[1] == signal.SIGKILL
        if folder.exists():  # between two renames it is not there, and the next run says so
            assert of_one_run(folder) in expected
            whole += 1
        left = (folder.parent / ".homework-1.lock").exists()  # not where it was reading, between two markings
        held += left
    assert whole >= 15 and held >= 5
    for state in Results(folder).earlier_states():
        assert of_one_run(Results(folder).earlier / state) in expected
    told = written(folder, {"gradebook.csv": "last"})
    assert any("stopped" in sentence for sentence in told) or not left
    assert sorted(path.name for path in folder.parent.iterdir()) == ["earlier", "homework-1"]


def test_killed_between_the_two_renames_the_next_run_finishes(tmp_path):
    folder = tmp_path / "results"
    written(folder, FIRST)
    (tmp_path / ".results.lock").write_text(lock_of(ended()))
    folder.rename(tmp_path / ".results.new-12345678")
    half = tmp_path / ".results.new-00000000"
    half.mkdir()
    (half / "gradebook.csv").write_text("half")
    told = written(folder, FIRST)
    assert any("were complete" in line for line in told) and any("cleared away" in line for line in told)
    assert files_of(folder).items() >= FIRST.items() and list(tmp_path.iterdir()) == [folder]
