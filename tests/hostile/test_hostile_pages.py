"""Hostile names, ids, answers, reasons, file names and decisions on their way through a course and a lab.

Whatever was typed: no tag of it stands in a page, no cell of a table is a formula, and no control or
direction character comes raw to a page, a table or a terminal. The texts are ways of breaking pages, tables
and terminals that are common practice.
"""

import csv
import io
import json
import re
from html.parser import HTMLParser

from coursereaders import REASONS, REASONS_SET
from greenhouse import hand_in, sheet_of, write_course
from readers import hidden
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.contents import lab_file
from gearlab.course.coursekey import make_key
from gearlab.course.lab import make_lab, open_board
from gearlab.course.lab.boardpage import board_html

TYPED = [
    "<script>alert(1)</script>",
    "\u202e57.87",
    "=cmd|' /C calc'!A0",
    "78.75\x1b[2J\x07 mm",
    '"><img src=x onerror=alert(1)>',
    "\u2066=1+1\u2069",
    "</bdi></style><svg/onload=alert(1)>",
    "@SUM(A1)\r\n-1",
    "78.75 \u200f\u202emm<b>",
    "''' + quit() + '''",
    "\x9b31m{{7*7}}${7*7}%s",
]
NAMES = [text.replace("\r\n", " ") for text in TYPED]
IDS = ["0001", "=1+1", "a<b>", "@x", "-2", "0/../7", "q'''x", '"><i>', "+3", "%s{}", "&amp;"]
FOREIGN = {"script", "img", "iframe", "object", "embed", "form", "base", "link"}


class _Page(HTMLParser):
    """Tags and attributes of a page as a browser sees them, and what stands between."""

    def __init__(self, text):
        super().__init__()
        self.faults = []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        if tag in FOREIGN or any(name.startswith("on") for name, _ in attributes):
            self.faults.append(f"<{tag} {attributes}>")


def page_faults(text):
    shown = [repr(c) for c in hidden(text.replace("\n", "")) if c != "\t"]
    return _Page(text).faults + shown[:3]


def table_faults(text):
    faults = [repr(c) for c in hidden(re.sub("[\r\n]", "", text))[:3]]
    for row in csv.reader(io.StringIO(text, newline="")):
        for cell in row:
            if cell.lstrip()[:1] in tuple("=+-@\t\r") and not re.fullmatch(r"\s*[+-]?[\d.]+|", cell):
                faults.append(cell)
    return faults


def notebook_faults(text):
    cells = json.loads(text)["cells"]
    faults = [repr(c) for cell in cells for c in hidden("".join(cell["source"]).replace("\n", ""))]
    for cell in cells:
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            faults += _Page(source).faults
        elif "r'''" in source:  # the sheet: one text, then nothing of the student's
            json.loads(source.split("r'''")[1].split("'''")[0])
    return faults


FAULTS = {".html": page_faults, ".csv": table_faults, ".ipynb": notebook_faults}


def faults_below(folder):
    """What must not be, by file; and how many files of each kind were looked at."""
    looked, faults = dict.fromkeys(FAULTS, 0), {}
    for path in sorted(folder.rglob("*")):
        if path.suffix in FAULTS and path.is_file():
            looked[path.suffix] += 1
            if wrong := FAULTS[path.suffix](path.read_bytes().decode("utf-8-sig")):
                faults[path.name] = wrong
    return faults, looked


def told(*words):
    """What a command says on the terminal."""
    run = CliRunner().invoke(app, [str(word) for word in words])
    assert run.exception is None or isinstance(run.exception, SystemExit), run.exception
    assert not hidden(run.output.replace("\n", "")), run.output
    assert run.exit_code == 0, run.output
    return run.output


def write_roster(path):
    with open(path, "w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(["id", "name", "section"])
        rows.writerows(
            [identity, name, NAMES[number % 3]] for number, (identity, name) in enumerate(zip(IDS, NAMES))
        )


def hand_in_all(notebooks, folder):
    """Every student types every text somewhere; beside them lie files that are none."""
    folder.mkdir(exist_ok=True)
    for number, notebook in enumerate(sorted(notebooks.iterdir())):
        sheet = sheet_of(notebook)
        texts = iter((TYPED * 4)[number:])
        answers = {
            question["id"]: {answer["id"]: next(texts) for answer in question["answers"]}
            for question in sheet["questions"]
        }
        givens = {
            question["id"]: dict.fromkeys(question["givens"], next(texts)) for question in sheet["questions"]
        }
        content = hand_in(sheet, answers, givens=givens)
        (folder / f"\u202e{number}\x1b[2J<b>_{sheet['file']}").write_text(content, encoding="utf-8")
        if number < 4:
            name = ("=1+1.json", "<img src=x>.json", "HAND-IN_homework-1_\u202e\x07.json", "@a'''.zip")[
                number
            ]
            (folder / name).write_text(content.replace(sheet["student"], TYPED[number]), encoding="utf-8")


def decided():
    """Decisions whose every text is hostile, as an assistant's program would write them."""
    quoted = [json.dumps(text) for text in TYPED]
    rows = [
        f'[[leave_out]]\nquestion = "pitch"\nby = {quoted[0]}\nwhy = {quoted[1]}',
        f'[[full_points]]\nquestion = "speed"\nanswer = "ratio"\nby = {quoted[4]}\nwhy = {quoted[6]}',
        f'[[set_points]]\nstudent = "=1+1"\nquestion = "shafts"\npoints = 1\n'
        f"by = {quoted[2]}\nwhy = {quoted[8]}",
        f'[[late]]\nstudent = "a<b>"\npoints = 1\nby = {quoted[3]}\nwhy = {quoted[10]}',
        f'[[look_again]]\nquestion = "formula"\nby = {quoted[7]}\nwhy = {quoted[5]}',
    ]
    return 'set = "homework-1"\n' + "\n".join(rows) + "\n"


def fill_in(path):
    """People mark every text of the list, and sign with what breaks pages."""
    rows = list(csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline="")))
    assert rows
    for number, row in enumerate(rows):
        row |= {"points": "1", "by": TYPED[number % len(TYPED)], "remark": TYPED[-number % len(TYPED)]}
    with open(path, "w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, list(rows[0]))
        out.writeheader()
        out.writerows(rows)


def test_nothing_hostile_stands_raw_in_what_a_course_writes(tmp_path):
    set_file, key = write_course(tmp_path / "own"), tmp_path / "course.key"
    for path, more in ((tmp_path / "own" / "vent" / "bank.toml", REASONS), (set_file, REASONS_SET)):
        path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    make_key(key)
    roster, out, results = tmp_path / "roster.csv", tmp_path / "out", tmp_path / "results"
    write_roster(roster)
    ours = ("--roster", roster, "--key", key)
    told("hand-out", set_file, *ours, "--to", out)
    hand_in_all(out / "notebooks", tmp_path / "in")
    mark = ("mark", tmp_path / "in", "--set", set_file, *ours, "--to", results, "--cores", 1)
    told(*mark)
    listed = tmp_path / "homework-1.reasons.csv"
    assert not table_faults(listed.read_bytes().decode("utf-8-sig"))
    fill_in(listed)
    decisions = tmp_path / "decisions.toml"
    decisions.write_text(decided(), encoding="utf-8")
    told(*mark, "--decisions", decisions)
    told("key-sheet", set_file, *ours, "--to", tmp_path / "office" / "keys.html")
    for folder, least in ((out, 11), (results, 12), (tmp_path / "office", 1)):
        faults, looked = faults_below(folder)
        assert not faults and sum(looked.values()) >= least, (folder.name, faults, looked)
    pages = "".join(path.read_text(encoding="utf-8") for path in (results / "feedback").iterdir())
    assert "&lt;script&gt;alert(1)" in pages and "\\u202e" in pages  # what was typed is shown, as it is


def write_term(folder, tmp_path):
    """A course of two sets whose titles, groups, reasons and class list are hostile: marked, one in part."""
    told("course", folder)
    write_roster(folder / "roster.csv")
    quoted = [json.dumps(text) for text in TYPED]
    (folder / "course.toml").write_text(
        f"[course]\ntitle = {quoted[0]}\n[term]\ntitle = {quoted[8]}\nout_of = 100\n"
        f'[[term.group]]\nname = {quoted[4]}\nsets = ["homework-1"]\nweight = 60\n'
        f'[[term.group]]\nname = {quoted[2]}\nsets = ["homework-2"]\nweight = 40\n',
        encoding="utf-8",
    )
    first = write_course(tmp_path / "own")
    second = first.with_name("homework_2.toml")
    text = re.sub(
        r'(?m)^title = "[^"]*"', lambda _: f"title = {quoted[6]}", first.read_text("utf-8"), count=1
    )
    second.write_text(text.replace("homework-1", "homework-2"), encoding="utf-8")
    for set_file, name in ((first, "homework-1"), (second, "homework-2")):
        told("hand-out", set_file, "--course", folder)
        hand_in_all(folder / "handed-out" / name / "notebooks", folder / "hand-ins" / name)
    rows = [
        f"[[{kind}]]\nstudent = {json.dumps(IDS[number])}{more}\n"
        f"by = {quoted[number]}\nwhy = {quoted[-number]}"
        for number, (kind, more) in enumerate(
            [
                ("excused", ""),
                ("set_points", "\npoints = 3"),
                ("late", "\npoints = 1"),
                ("absent", ""),
                ("look_again", '\nquestion = "formula"'),
                ("extra_time", "\nminutes = 5"),
                ("file_of", f"\nfile = {quoted[7]}"),
                ("file_of", '\nfile = "=1+1.json"'),
            ]
        )
    ]
    (folder / "decisions" / "homework-1.toml").write_text("\n".join(rows), encoding="utf-8")
    told("mark", "homework-1", "--course", folder, "--cores", 1)
    told("mark", "homework-2", "--course", folder, "--cores", 1, "--section", NAMES[0])
    book = folder / "results" / "homework-1" / "gradebook.csv"
    cells = list(csv.reader(io.StringIO(book.read_text(encoding="utf-8"))))
    cells[1][2], cells[2][2] = TYPED[1], TYPED[3]  # typed by hand, with what breaks a terminal
    with open(book, "w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(cells)


def test_nothing_hostile_stands_raw_in_what_a_term_writes(tmp_path):
    folder, template = tmp_path / "vents", tmp_path / "system.csv"
    write_term(folder, tmp_path)
    with open(template, "w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(["Name", "Number", TYPED[7].strip()])
        rows.writerows([name, identity, ""] for identity, name in zip(IDS, NAMES, strict=True))
        rows.writerows([text, text, text] for text in TYPED)  # students whom the class list does not know
    said = told("term", "--course", folder, "--template", template)
    assert "not in the roster" in said and "not marked yet in section" in said
    results = folder / "results" / "term"
    filled = (results / "gradebook_filled.csv").read_bytes().decode("utf-8")
    (results / "gradebook_filled.csv").unlink()
    faults, looked = faults_below(results)
    assert not faults and looked[".html"] == 12 and looked[".csv"] >= 3, (faults, looked)
    # the instructor's own file stays as it came, to the letter: what is written into it is harmless
    before = list(csv.reader(io.StringIO(template.read_bytes().decode("utf-8"), newline="")))
    after = list(csv.reader(io.StringIO(filled, newline="")))
    assert [row[:3] for row in after] == before
    assert not table_faults("\r\n".join(json.dumps(row[3]) for row in after))
    assert sum(bool(re.fullmatch(r"[\d.]+", row[3])) for row in after) >= 9
    pages = {path.stem: path.read_text(encoding="utf-8") for path in (results / "students").iterdir()}
    assert len(pages) == 11
    assert "3 of" in pages["~3d~1~2b~1"] and "\\u202e" in "".join(pages.values())
    report = (results / "term.html").read_text(encoding="utf-8")
    assert "&lt;script&gt;alert(1)" in report and "\\u202e" in report
    # one section alone, and what stands of a course on the terminal
    told("term", "--course", folder, "--section", NAMES[1])
    told("course", folder)
    for place in (folder / "results").glob("term*"):  # the gradebook that was edited stays as it was typed
        faults, looked = faults_below(place)
        assert not faults and looked[".html"] > 4, faults
    assert len(list((folder / "results").glob("term*"))) == 2


def test_nothing_hostile_stands_raw_on_the_board_of_a_lab(tmp_path):
    folder = tmp_path / "lab"
    make_lab(lab_file("lab-1"), folder, 2, make_ups=0, parts=False)
    board = open_board(folder)
    for number, bench in enumerate(board.benches):
        sheet = board.lab.numbers.hand_out(bench, board.lab.minutes)
        texts = iter(TYPED * 9)
        answers = {q["id"]: {a["id"]: next(texts) for a in q["answers"]} for q in sheet["questions"]}
        place = folder / "benches" / bench.short
        place.mkdir(exist_ok=True)
        content = hand_in(sheet, answers)
        (place / sheet["file"]).write_text(content, encoding="utf-8")
        for text, name in ((TYPED[number], "HAND-IN_\u202e\x1b[2J<b>.json"), (TYPED[4], "HAND-IN_=1.json")):
            (place / name).write_text(content.replace(f'"{bench.id}"', json.dumps(text)), encoding="utf-8")
        lines = [
            {"at": "2026-11-29T10:00:00Z", "event": "answer", "bank": text, "question": text, "cause": text}
            for text in TYPED
        ]
        (place / "attempts.jsonl").write_text("\n".join(map(json.dumps, lines)) + "\n", encoding="utf-8")
    board.look(1_800_000_000.0)
    assert board.unreadable or board.foreign
    assert not page_faults(board_html(board))
    told("board", folder, "--once")
    faults, looked = faults_below(folder)
    assert not faults and looked[".html"] > 3, faults


def test_the_watch_on_pages_tables_and_notebooks_sees_what_it_watches_for():
    assert page_faults("<p onclick=x>") and page_faults("<script>") and page_faults("a\u202eb")
    assert not page_faults("<p>&lt;script&gt; 78.75</p>\n")
    assert table_faults("a,=1+1") and table_faults('"a","\tb"') and table_faults("\u2066a,b")
    assert not table_faults("a,-2.5,'=1+1\r\n")
    cells = [{"cell_type": "markdown", "source": ["<img src=x>"]}]
    assert notebook_faults(json.dumps({"cells": cells}))
