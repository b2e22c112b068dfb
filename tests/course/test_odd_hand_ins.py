"""Files nobody meant to be read.

Whatever comes in, every student is accounted for and the rest are marked.
"""

import json
import random
import time

import pytest
from greenhouse import hand_in, right_answers, write_course

from gearlab.course.coursekey import make_key
from gearlab.course.handout.edition import SheetMaker, edition_of
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student

COUNT = 250


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    folder = tmp_path_factory.mktemp("odd")
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own.key")
    edition = edition_of(set_file)
    edition.write(key.frozen_path(edition.set_name))
    maker = SheetMaker(edition, key)
    sheets = {
        student.id: maker.sheet(student, maker.tasks(student.id))
        for student in (Student(f"{i:03d}") for i in range(COUNT))
    }
    return folder, set_file, key, sheets


def scramble(data: bytes, chance: random.Random) -> bytes:
    """The bytes of a file with some of them lost, doubled or changed."""
    data = bytearray(data)
    for _ in range(chance.randint(1, 8)):
        place = chance.randrange(len(data))
        match chance.randrange(3):
            case 0:
                data[place] = chance.randrange(256)
            case 1:
                del data[place : place + chance.randint(1, 40)]
            case 2:
                data[place:place] = data[place : place + chance.randint(1, 40)]
        if not data:
            break
    return bytes(data)


ODD = [
    None,
    True,
    -1,
    1e400,
    [],
    {},
    "",
    "\0",
    "\u202e\u2066",
    "é" * 100,
    "<!--",
    "]]>",
    "%00",
    "${7*7}",
    "1e999",
    "-0",
    "٣٫٥",
    "½ in",
    "1,234",
    "∞",
    "NaN",
    "0x10",
]


def rewrite(value, chance: random.Random):
    """A hand-in's data with values of other kinds in it."""
    if isinstance(value, dict):
        return {key: rewrite(item, chance) for key, item in value.items() if chance.random() > 0.02}
    return chance.choice(ODD) if chance.random() < 0.06 else value


@pytest.mark.parametrize("way", ["bytes", "values", "texts"])
def test_scrambled_files_never_stop_a_marking(course, tmp_path, way):
    folder, set_file, key, sheets = course
    chance = random.Random(way)
    came = tmp_path / "came"
    came.mkdir()
    for sheet in sheets.values():
        answers = right_answers(sheet)
        if way == "texts":
            answers = {
                q: {
                    a: (
                        str(chance.choice(ODD))
                        if chance.random() < 0.5
                        else "".join(
                            chance.choices("0123456789.,-+*/^() eEmn°'\"πz12", k=chance.randint(1, 40))
                        )
                    )
                    for a in texts
                }
                for q, texts in answers.items()
            }
        content = hand_in(sheet, answers)
        if way == "values":
            content = json.dumps(rewrite(json.loads(content), chance))
        data = content.encode("utf-8", errors="replace")
        (came / sheet["file"]).write_bytes(scramble(data, chance) if way == "bytes" else data)
    roster = Roster([Student(identity) for identity in sheets])
    done = mark(came, set_file, roster, key, tmp_path / "results")
    unmarked = {
        problem.student
        for problem in done.problems
        if problem.kind in ("unreadable", "foreign", "other set", "missing")
    }
    assert done.marked + len(unmarked) >= COUNT and done.students == COUNT
    assert done.marked == len(list((tmp_path / "results" / "feedback").iterdir()))
    if way == "texts":
        assert done.marked == COUNT
    assert all(problem.reason or problem.kind == "missing" for problem in done.problems)


def test_the_longest_answers_take_no_time(course, tmp_path):
    folder, set_file, key, sheets = course
    roster = Roster([Student(identity) for identity in list(sheets)[:20]])
    long = [
        "9" * 4000,
        "(" * 4000,
        "9**" * 1300 + "9",
        "1/" * 1999 + "1",
        "1 " * 2000,
        "m*" * 2000,
        "-" * 4000,
        "1e" + "9" * 3998,
        "a" * 4000,
        "1," * 2000,
    ]
    for number, student in enumerate(roster):
        sheet = sheets[student.id]
        (tmp_path / "came").mkdir(exist_ok=True)
        (tmp_path / "came" / sheet["file"]).write_text(
            hand_in(
                sheet,
                {q: dict.fromkeys(texts, long[number % 10]) for q, texts in right_answers(sheet).items()},
            )
        )
    mark(tmp_path / "came", set_file, roster, key, tmp_path / "warm")
    started = time.process_time()
    done = mark(tmp_path / "came", set_file, roster, key, tmp_path / "results")
    assert done.marked == 20 and done.points == 0
    # 200 answers of 4,000 characters, the set's own derivations included
    assert time.process_time() - started < 3
