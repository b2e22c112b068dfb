"""Texts that people mark: one list without names, filled in with a spreadsheet, read again by each marking.

What an assistant does with such a list is common practice: points in halves, two readers for some, a
spreadsheet that saves in its country's way (semicolons, comma decimals, a byte order mark, UTF-16, CR LF).
"""

import csv
import io
import json
import pickle
import random
import re
import unicodedata

import pytest
from greenhouse import WHY_PLAY, hand_in, sheet_of

from gearlab.course.coursekey import HEADER, make_key, read_key
from gearlab.course.decisions.reasonmarks import CODE, Codes
from gearlab.course.handout.edition import frozen_edition
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.reasons import COLUMNS, ReasonList, reasons_path, still_open
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student

BANK = (
    """
[bank]
title = "The vent drive"
lesson = "08"
"""
    + WHY_PLAY
    + """
[[question]]
id = "shafts"
title = "Where the shafts go"
prompt = "{driver_teeth} and {driven_teeth} teeth, module {module} mm. How far apart are the shafts?"
hints = ["Which circles touch?", "Half of each.", "C = m (N1 + N2) / 2"]
[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 40, to = 64, step = 1 }
module = { one_of = [2, 2.5, 3] }
[[question.answers]]
label = "centre distance"
asked = "centre_distance"
unit = "mm"
points = 2
"""
)
SET = """
[set]
name = "play"
title = "Backlash"
use = "marked"
[[question]]
bank = "bank.toml"
id = "why-play"
points = 4
[[question]]
bank = "bank.toml"
id = "shafts"
"""
IDS = ["0001", "0002", "0003", "0004", "0005"]
NAMES = ["Ada", "Bo", "Chidi", "Dana", "Émile"]
TEXTS = [
    "Heat.",
    "=1+1 Heat makes gears grow;\nboth flanks would touch.",
    "Heat.",
    '\u202egears\u0007, "play"',
    "",
]


class Course:
    """Five students of whom four wrote something."""

    def __init__(self, folder):
        self.folder, self.hand_ins = folder, folder / "in"
        (folder / "bank.toml").write_text(BANK, encoding="utf-8")
        (folder / "set.toml").write_text(SET, encoding="utf-8")
        (folder / "course.key").write_text(
            f"{HEADER}\n{'5a' * 32}\n", encoding="utf-8"
        )  # the same in every run
        (folder / "course.key").chmod(0o600)
        self.key = read_key(folder / "course.key")
        self.roster = Roster([Student(i, n) for i, n in zip(IDS, NAMES)])
        hand_out(folder / "set.toml", self.roster, self.key, folder / "out")
        self.hand_ins.mkdir()
        for identity, text in zip(IDS, TEXTS):
            self.write(identity, text)
        self.list = reasons_path(self.key, "play")

    def write(self, identity, text):
        sheet = sheet_of(self.folder / "out" / "notebooks" / f"play_{identity}.ipynb")
        given = {n: float(v) for n, v in sheet["questions"][1]["givens"].items()}
        shafts = given["module"] * (given["driver_teeth"] + given["driven_teeth"]) / 2  # C = m (N1 + N2) / 2
        answers = {"why-play": {"text": text}, "shafts": {"centre_distance": f"{shafts} mm"}}
        (self.hand_ins / f"HAND-IN_play_{identity}.json").write_text(
            hand_in(sheet, answers), encoding="utf-8"
        )

    def mark(self):
        done = mark(self.hand_ins, self.folder / "set.toml", self.roster, self.key, self.folder / "results")
        with open(self.folder / "results" / "gradebook.csv", encoding="utf-8", newline="") as file:
            self.book = {row["id"]: row for row in csv.DictReader(file)}
        return done

    def page(self, identity):
        return (self.folder / "results" / "feedback" / f"{identity}.html").read_text(encoding="utf-8")

    def rows(self):
        return list(csv.DictReader(io.StringIO(self.list.read_bytes().decode("utf-8-sig"), newline="")))

    def save(self, rows, part=",", encoding="utf-8-sig", ending="\n", columns=COLUMNS, lead=""):
        """As a spreadsheet saves it."""
        file = io.StringIO(newline="")
        out = csv.DictWriter(file, columns, delimiter=part, lineterminator=ending)
        out.writeheader()
        out.writerows(rows)
        self.list.write_bytes((lead + file.getvalue()).encode(encoding))


@pytest.fixture
def course(tmp_path):
    return Course(tmp_path)


def fill(rows, *entries):
    """Points and who gave them, row by row."""
    return [row | dict(zip(("points", "by", "remark"), entry)) for row, entry in zip(rows, entries)]


def test_the_first_marking_lists_all_texts_without_names(course):
    done = course.mark()
    assert course.list == course.folder / "play.reasons.csv"
    rows, content = course.rows(), course.list.read_text(encoding="utf-8-sig")
    assert tuple(rows[0]) == COLUMNS and len(rows) == 4
    assert not any(word in content for word in (*IDS, *NAMES))
    assert all(CODE.fullmatch(row["code"]) and row["out of"] == "2" for row in rows)
    assert {row["state"] for row in rows} == {"not marked yet"} and not any(row["points"] for row in rows)
    same = [place for place, row in enumerate(rows) if row["text"] == "Heat."]
    assert len(same) == 2 and same[1] - same[0] == 1  # equal texts stand together
    lone = [row["code"] for row in rows if row["text"] != "Heat."]
    assert lone == sorted(lone)  # and the order is that of the codes, not that of the class list
    formula = next(row["text"] for row in rows if "grow" in row["text"])
    assert formula.startswith("'=1+1") and " ¶ " in formula  # no formula for a spreadsheet, one line
    assert not re.search("[\u202e\x07]", content)
    guide = (course.folder / "play.reasons.guide.txt").read_text(encoding="utf-8")
    assert "1. Why leave backlash (why-play), 2 points (counted as 4 in this set)" in guide
    assert "both flanks" in guide and "Warm gears grow" in guide and "steps of 0.5" in guide
    # open, and not 0: in gradebook, page, report and what the terminal says
    assert any(note.startswith("4 of 4 texts not marked yet") for note in done.notes)
    assert (
        course.book["0001"]["points"] == "2"
        and "1 not marked yet (4 points open)" in course.book["0001"]["comment"]
    )
    assert (
        "-4" not in course.book["0001"]["comment"] and "1: -4 not answered" in course.book["0005"]["comment"]
    )
    page = course.page("0001")
    assert "? of 4" in page
    assert "not marked yet" in page and "4 points are still open" in page and "What earns points" in page
    assert "still open" not in course.page("0005")
    report = (course.folder / "results" / "report.html").read_text(encoding="utf-8")
    assert "<td>not marked yet</td>" in report and "4 of 4 texts" in report


def test_codes_are_stable_and_cannot_be_guessed(course, tmp_path):
    course.mark()
    before = course.list.read_bytes()
    course.mark()
    assert course.list.read_bytes() == before  # nothing new: the file is left alone
    codes = Codes.of(course.key, "play")
    assert codes.code("0001", "why-play", "text", "Heat.") in before.decode("utf-8-sig")
    other = Codes.of(make_key(tmp_path / "other.key"), "play")
    assert other.code("0001", "why-play", "text", "Heat.") != codes.code("0001", "why-play", "text", "Heat.")
    one, two = (codes.code(who, "why-play", "text", "Heat.") for who in ("0001", "0003"))
    assert one[:9] != two[:9] and one[-4:] == two[-4:]
    assert codes.code("0001", "why-play", "text", " Heat.\r\n ") == one  # blanks do not make it another text
    assert course.key.secret.hex() not in repr(codes) and pickle.loads(pickle.dumps(codes)) == codes


def test_points_remarks_and_who_gave_them(course):
    course.mark()
    rows = course.rows()
    entries = [("1", "J. Baker", "Which flanks?")] * 4
    course.save(fill(rows, *entries[:3]) + rows[3:])
    done = course.mark()
    assert any(note.startswith("1 of 4 texts not marked yet") for note in done.notes)
    codes = Codes.of(course.key, "play")
    marked = {row["code"] for row in rows[:3]}
    for identity, text in zip(IDS[:4], TEXTS):
        page, book = course.page(identity), course.book[identity]
        if codes.code(identity, "why-play", "text", text) in marked:
            # 1 of 2 points of the bank is 2 of 4 of the set
            assert book["points"] == "4" and "1: -2 marked by a reader" in book["comment"]
            assert "Marked by J. Baker. Which flanks?" in page and "2 of 4" in page
            assert "names a cause" in page and "Warm gears grow" in page
        else:
            assert book["points"] == "2" and "open" in book["comment"]
    records = json.loads((course.folder / "results" / "evidence.json").read_text(encoding="utf-8"))["records"]
    told = [r for r in records if r["question"] == "why-play" and r["verdict"] == "marked"]
    assert len(told) == 3 and {r["note"] for r in told} == {"marked by J. Baker: Which flanks?"}
    assert all(r["points"] == 2 and r["out_of"] == 4 for r in told)
    assert [row["state"] for row in course.rows()].count("marked") == 3


@pytest.mark.parametrize(
    "part, encoding, ending, points, lead",
    [
        (";", "utf-8-sig", "\r\n", "1,5", ""),
        (";", "cp1252", "\r\n", "1,5", "sep=;\r\n"),
        ("\t", "utf-16", "\r\n", "1.5", ""),
        (",", "utf-8", "\n", "1,5", ""),
        (",", "utf-8-sig", "\r\n", " 1.50 ", ""),
    ],
)
def test_any_spreadsheet_may_save_it(course, part, encoding, ending, points, lead):
    course.mark()
    rows = [row | {"text": row["text"].encode("cp1252", "replace").decode("cp1252")} for row in course.rows()]
    rows = [{"note to self": "später", **row} for row in fill(rows, *[(points, "Ü. Baker", "so ½ gut")] * 4)]
    course.save(rows, part, encoding, ending, ("note to self", *COLUMNS), lead)
    course.mark()
    assert [course.book[i]["points"] for i in IDS] == ["5", "5", "5", "5", "2"]  # 1.5 of 2 is 3 of 4, and 2
    assert "Marked by Ü. Baker. so ½ gut" in course.page("0001")
    content = course.list.read_bytes()
    text = content.decode("utf-16" if encoding == "utf-16" else "utf-8-sig")
    assert text.startswith(
        lead + f"note to self{part}question{part}code"
    )  # in its own way, with what else stood there
    assert text.count(points) == 4 and text.count("später") == 4 and (ending in text)
    course.mark()
    assert course.list.read_bytes() == content


def test_a_text_that_changed_and_a_new_one(course):
    course.mark()
    course.save(fill(course.rows(), *[("2", "J. Baker", "")] * 4))
    course.mark()
    assert course.book["0002"]["points"] == "6"
    course.write("0002", "Heat.")
    course.write("0005", "Dirt needs room.")
    done = course.mark()
    rows = course.rows()
    assert len(rows) == 6
    old = [row for row in rows if row["state"] == "text changed since"]
    assert (
        len(old) == 1 and "grow" in old[0]["text"] and old[0]["points"] == "2" and old[0]["by"] == "J. Baker"
    )
    heat = [place for place, row in enumerate(rows) if row["text"] == "Heat."]
    assert heat == list(range(heat[0], heat[0] + 3))  # the new one stands below those it is equal to
    assert sum(row["state"] == "not marked yet" for row in rows) == 2
    assert course.book["0002"]["points"] == "2" and "open" in course.book["0002"]["comment"]
    assert any("for 1 text that changed since" in note for note in done.notes)
    course.write("0002", TEXTS[1])  # and back: its points are there still
    course.mark()
    assert course.book["0002"]["points"] == "6"
    (course.hand_ins / "HAND-IN_play_0004.json").unlink()
    course.mark()
    assert [row["state"] for row in course.rows()].count("not among the hand-ins now") == 1


def test_a_second_reader(course):
    course.mark()
    rows = fill(course.rows(), *[("1", "J. Baker", "")] * 4)
    for row, second in zip(rows, ("1.5", "2", "1", "")):
        row |= {"second points": second, "second by": "M. Lind" if second else ""}
    course.save(rows)
    done = course.mark()
    assert [row["state"] for row in course.rows()] == ["marked", "readers differ", "marked", "marked"]
    assert any("differ by more than 0.5 on 1 text (rows 3 of" in note for note in done.notes)
    totals = sorted(course.book[i]["points"] for i in IDS[:4])
    assert totals == ["2", "4", "4", "4.5"]  # the mean of 1 and 1.5 is 2.5 of 4; open where they differ
    pages = [course.page(i) for i in IDS[:4]]
    assert sum("its readers (J. Baker and M. Lind) differ" in page for page in pages) == 1
    rows[1]["agreed points"] = "1.5"
    course.save(rows)
    course.mark()
    assert sorted(course.book[i]["points"] for i in IDS[:4]) == ["4", "4", "4.5", "5"]


@pytest.mark.parametrize(
    "column, text, says",
    [
        ("points", "3", "row 3: points '3': give 0 to 2 points in steps of 0.5, such as 0.5"),
        ("points", "0.3", "row 3: points '0.3': give 0 to 2"),
        ("points", "01. Mai", "row 3: points '01. Mai'"),
        ("points", "-1", "row 3: points '-1'"),
        ("second points", "2", "row 3: second by: there are second points, but not who gave them"),
        ("by", "", "row 3: by: there are points, but not who gave them"),
        ("by", "x" * 2000, "row 3: by: has 2000 characters, at most 1000"),
        ("code", "BCDF", "row 3: code 'BCDF' is no code of a text"),
        ("question", "shafts", "row 3: question 'shafts' is not marked by people here; use why-play"),
    ],
)
def test_a_bad_cell_is_named_and_nothing_is_marked(course, column, text, says):
    course.mark()
    before = (course.folder / "results" / "gradebook.csv").read_bytes()
    rows = fill(course.rows(), *[("1", "J. Baker", "")] * 4)
    rows[1][column] = text
    course.save(rows)
    entered = course.list.read_bytes()
    with pytest.raises(ValueError, match=re.escape(says)):
        course.mark()
    assert course.list.read_bytes() == entered
    assert (course.folder / "results" / "gradebook.csv").read_bytes() == before


def test_lists_that_are_none_are_refused_and_two_rows_of_one_text_must_agree(course):
    course.mark()
    rows = fill(course.rows(), *[("1", "J. Baker", "")] * 4)
    course.save([*rows, rows[0]])
    assert course.mark().marked == 5
    course.save([*rows, rows[0] | {"points": "2"}])
    with pytest.raises(ValueError, match="row 6: code .* is in row 2 too, with other entries: leave one"):
        course.mark()
    for content in (
        b"PK\x03\x04" + bytes(range(256)) * 40,
        b"a,b\n1,2\n",
        b'question,code,points,by\n"' + b"x" * 200_000,
    ):
        course.list.write_bytes(content)
        with pytest.raises(ValueError, match="reasons .*(row 1 names the columns|is no line of CSV)"):
            course.mark()
    course.list.write_bytes(b"")
    assert course.mark().marked == 5 and len(course.rows()) == 4


def test_saved_by_somebody_while_the_class_is_marked(course):
    course.mark()
    homework = frozen_edition(course.key, "play").load()
    texts = ReasonList(course.list, homework, course.key)
    course.save(fill(course.rows(), *[("2", "J. Baker", "kept")] * 4))  # between reading and writing
    told = texts.write()
    assert any("saved while the class was marked" in line for line in told)
    assert [row["remark"] for row in course.rows()] == ["kept"] * 4


def test_in_a_course_folder_it_lies_in_reasons(course):
    (course.folder / "course.toml").write_text('[course]\ntitle = "Gears"\n', encoding="utf-8")
    assert reasons_path(course.key, "play") == course.folder / "reasons" / "play.csv"
    course.list = reasons_path(course.key, "play")
    course.mark()
    assert len(course.rows()) == still_open(course.list) == 4
    course.save(fill(course.rows(), *[("2", "J. Baker", "")] * 3))
    course.mark()
    assert still_open(course.list) == 1 and still_open(course.folder / "none.csv") == 0


def test_a_list_with_points_goes_to_another_process(course):
    course.mark()
    course.save(fill(course.rows(), *[("2", "J. Baker", "")] * 4))
    homework = frozen_edition(course.key, "play").load()
    marks = ReasonList(course.list, homework, course.key).marks
    assert pickle.loads(pickle.dumps(marks)) == marks and len(marks.given) == 4


def test_hostile_lists_are_read_or_refused(course):
    """Whatever lies there: a list, or a sentence; and a page never gets markup or turning characters raw."""
    course.mark()
    good, chance = course.list.read_bytes(), random.Random(13)
    homework = frozen_edition(course.key, "play").load()
    kinds = set()
    for _ in range(400):
        content = bytearray(good)
        for _ in range(chance.randint(1, 12)):
            place = chance.randrange(len(content))
            content[place : place + chance.randint(0, 3)] = chance.choice(
                [
                    b'"',
                    b";",
                    b"\t",
                    b"\x00",
                    b"\xff\xfe",
                    b"\r",
                    b"\n",
                    b"1,5",
                    b"\xe2\x80\xae",
                    bytes([chance.randrange(256)]),
                ]
            )
        course.list.write_bytes(content)
        try:
            texts = ReasonList(course.list, homework, course.key)
        except ValueError as error:
            kinds.add("refused")
            told = str(error).replace("\n", "")
            assert told.startswith(f"reasons {course.list}") and len(told) < 5000
            categories = {unicodedata.category(letter) for letter in told}
            assert not categories & {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}
        else:
            kinds.add("read")
            assert all(0 <= (award.points or 0) <= 2 for award in texts.marks.given.values())
    assert kinds == {"read", "refused"}
    course.list.write_bytes(good)
    course.save(fill(course.rows(), *[("1", "<b>J</b>\u202e", "<script>x</script>\x07")] * 4))
    course.mark()
    page = course.page("0001")
    assert (
        "<script>x" not in page and "&lt;script&gt;x" in page and "\u202e" not in page and "\x07" not in page
    )


def test_a_list_that_a_spreadsheet_holds(course, monkeypatch):
    course.mark()
    course.write("0005", "Late, but there.")
    before = course.list.read_bytes()

    def held(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("gearlab.course.marking.reasons.write_whole", held)
    done = course.mark()
    assert done.marked == 5 and any("cannot be written (Permission denied)" in note for note in done.notes)
    assert course.list.read_bytes() == before
    monkeypatch.undo()
    course.mark()
    assert len(course.rows()) == 5
