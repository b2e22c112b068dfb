"""A class marked by one process, all cores, a cluster that loses a worker, after a kill: the same bytes."""

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from greenhouse import hand_in, right_answers, write_course

from gearlab.course.coursekey import make_key, read_key
from gearlab.course.handout.edition import SheetMaker, edition_of
from gearlab.course.marking import ready, spread
from gearlab.course.marking import whole as marking
from gearlab.course.marking.spread import in_order, workers
from gearlab.course.marking.whole import mark
from gearlab.course.report.tally import Sample
from gearlab.course.roster import Student, read_roster

COUNT = 130


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """A class whose hand-ins are right, wrong, odd, doubled or missing."""
    folder = tmp_path_factory.mktemp("spread")
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own" / "key")
    edition = edition_of(set_file)
    edition.write(key.frozen_path(edition.set_name))
    maker, chance = SheetMaker(edition, key), random.Random(13)
    lines = ["id,name,section"]
    (folder / "came").mkdir()
    for number in range(COUNT):
        student = Student(f"{number:03d}", f"Student {number}")
        lines.append(f"{student.id},{student.name},{'AB'[number % 2]}")
        sheet = maker.sheet(student, maker.tasks(student.id))
        answers = {
            question: {
                name: text
                if (dice := chance.random()) < 0.6
                else f"{chance.uniform(1, 200):.3f}"
                if dice < 0.9
                else ""
                for name, text in texts.items()
            }
            for question, texts in right_answers(sheet).items()
        }
        if number % 17:
            (folder / "came" / sheet["file"]).write_text(hand_in(sheet, answers), encoding="utf-8")
        if number % 29 == 1:
            (folder / "came" / f"again {sheet['file']}").write_text(
                hand_in(sheet, answers, saved=99), encoding="utf-8"
            )
    (folder / "roster.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return folder


def marked(course, name, **options):
    mark(
        course / "came",
        course / "exercises" / "sets" / "homework_1.toml",
        read_roster(course / "roster.csv"),
        read_key(course / "own" / "key"),
        course / name,
        **options,
    )
    folder = course / name
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


@pytest.fixture(scope="module")
def alone(course):
    return marked(course, "alone")


def test_two_processes_give_the_same_bytes(course, alone, monkeypatch):
    monkeypatch.setattr(marking, "LARGE", 10)
    assert marked(course, "two", cores=2) == alone
    assert not list(course.glob(".*")), "nothing is left beside the results"


def test_a_cluster_that_loses_a_worker_in_mid_run_gives_the_same_bytes(course, alone):
    distributed = pytest.importorskip("distributed")
    cluster = distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, scheduler_port=0, silence_logs=50
    )
    try:
        process = next(iter(cluster.workers.values())).process.process._process
        seen = []

        def each(student, _points):
            seen.append(student.id)
            if len(seen) == 1:
                os.kill(process.pid, signal.SIGKILL)

        assert marked(course, "cluster", cluster=cluster.scheduler_address, each=each) == alone
        assert len(seen) == COUNT
    finally:
        cluster.close(timeout=10)


def test_a_cluster_that_is_not_there_is_said(course, monkeypatch):
    monkeypatch.setattr(spread, "ANSWERS_WITHIN", 0.5)
    with pytest.raises(ValueError, match=r"cluster tcp://127.0.0.1:9: does not answer .*give the address"):
        marked(course, "nowhere", cluster="tcp://127.0.0.1:9")
    assert not (course / "nowhere").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="forks")
def test_a_killed_marking_goes_on_where_it_was(course, alone, monkeypatch):
    """Killed after the first blocks: the next run marks the others only, and the bytes are the same."""
    monkeypatch.setattr(marking, "LARGE", 10)
    monkeypatch.setattr(marking, "BLOCK", 10)
    begun = course / ".killed.begun"
    child = os.fork()
    if child == 0:
        try:
            work = marking.mark_block

            def slowly(recipe, block):
                time.sleep(0.05)
                return work(recipe, block)

            marking.mark_block = slowly
            marked(course, "killed")
        finally:
            os._exit(1)
    until = time.monotonic() + 60
    while len(list(begun.glob("*"))) < 6:  # pages, recipe, and some blocks
        assert time.monotonic() < until and os.waitpid(child, os.WNOHANG) == (0, 0)
        time.sleep(0.002)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    assert not (course / "killed").exists()
    done = len([path for path in begun.iterdir() if len(path.name) == 40])
    damaged = next(path for path in begun.iterdir() if len(path.name) == 40)
    damaged.write_bytes(b"\0" * 32 + b"cos\nsystem\n(S'false'\ntR.")  # is not sealed: never unpacked
    worked = []
    block_before = marking.mark_block

    def counted(recipe, block):
        worked.append(len(block))
        return block_before(recipe, block)

    monkeypatch.setattr(marking, "mark_block", counted)
    assert marked(course, "killed") == alone
    assert sum(worked) == COUNT - 10 * (done - 1), "what was done is not done again"
    assert not begun.exists() and not list(course.glob(".killed*"))


def test_another_recipe_uses_nothing_of_a_killed_one(course, alone, monkeypatch, tmp_path):
    monkeypatch.setattr(marking, "LARGE", 10)
    begun = course / ".fresh.begun"
    (begun / "feedback").mkdir(parents=True)
    (begun / "recipe.txt").write_text("of another marking")
    (begun / "feedback" / "000.html").write_text("stale")
    assert marked(course, "fresh") == alone


def test_processes_come_from_where_the_set_is_worked_out(course, tmp_path):
    """The server's module has the slips of the set when it is imported; one it cannot read stops nothing."""
    edition = edition_of(course / "exercises" / "sets" / "homework_1.toml")
    frozen = read_key(course / "own" / "key").frozen_path(edition.set_name)
    (tmp_path / "damaged.json").write_text("{")
    look = """
from gearlab.course.marking import ready
from gearlab.course.handout.edition import read_frozen
from pathlib import Path
import os, sys
assert ready.FROZEN not in os.environ
if sys.argv[1:]:
    for entry in read_frozen(Path(sys.argv[1])).load().entries:
        print(entry.question.id, *entry.question._causes)
"""
    for place, told in ((frozen, [frozen]), (tmp_path / "damaged.json", []), (tmp_path / "none", [])):
        run = subprocess.run(
            [sys.executable, "-c", look, *map(str, told)],
            env=os.environ | {ready.FROZEN: str(place)},
            capture_output=True,
            text=True,
            check=True,
        )
        lines = [line.split() for line in run.stdout.splitlines()]
        if told:
            assert len(lines) == 7 and all(len(line) > 1 for line in lines if line[0] != "direction")


def test_results_come_in_order_and_few_blocks_are_under_way():
    """However long each takes; a block that fails tells its error, and the rest is not begun."""
    taken = []

    def blocks():
        for number in range(40):
            taken.append(number)
            yield number

    with ThreadPoolExecutor(2) as pool:
        for block, done in in_order(_slow_square, blocks(), pool, 2):
            assert done == block**2
            assert len(taken) <= block + 1 + 3 * 2
        with pytest.raises(ZeroDivisionError):
            list(in_order(_reciprocal, iter([1, 0, 2]), pool, 2))


def _slow_square(number):
    time.sleep(0.004 * (number % 3))
    return number**2


def _reciprocal(number):
    return 1 / number


def test_cores_that_are_none_are_refused():
    with pytest.raises(ValueError, match=r"cores -1: give 1 to 1024"), workers(-1):
        pass


def test_what_a_killed_run_left_out_of_the_sample_is_made_again_where_it_is_needed(course, monkeypatch):
    """Wrong values beyond those that are kept are not made; then those who had the others hand in anew."""
    monkeypatch.setattr(marking, "LARGE", 10)
    monkeypatch.setattr(marking, "BLOCK", 10)
    monkeypatch.setattr(Sample.__init__, "__defaults__", (5, 2**64))
    came = course / "came"
    shutil.copytree(came, course / "came before")
    block_before, worked = marking.mark_block, []

    def stopped(recipe, block):
        if len(worked) == 10:
            raise KeyboardInterrupt
        worked.append(block.name)
        return block_before(recipe, block)

    monkeypatch.setattr(marking, "mark_block", stopped)
    try:
        with pytest.raises(KeyboardInterrupt):
            marked(course, "anew")
        for number in range(50, 60):  # nobody of the sixth block has anything wrong any more
            for path in came.glob(f"*_{number:03d}.json"):
                data = json.loads(path.read_text(encoding="utf-8"))
                data["answers"] = {}
                path.write_text(json.dumps(data), encoding="utf-8")
        monkeypatch.setattr(marking, "mark_block", block_before)
        expected = marked(course, "whole")
        again = []

        def counted(recipe, block):
            again.append(block.name)
            return block_before(recipe, block)

        monkeypatch.setattr(marking, "mark_block", counted)
        assert marked(course, "anew") == expected
        assert set(again) & set(worked[6:]), "a kept block with too little in it was marked again"
        assert set(again).isdisjoint(worked[:5]), "others were not"
    finally:
        shutil.rmtree(came)
        (course / "came before").rename(came)
