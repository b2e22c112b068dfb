"""A handed-out notebook, run in a real kernel: what its boxes save is what `mark` reads."""

import csv
import json
import shutil

import nbclient
import nbformat
from greenhouse import right_answers, sheet_of, write_course

from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student
from gearlab.practice.handin import read_hand_in


def test_the_notebook_runs_saves_and_is_marked(tmp_path, monkeypatch):
    monkeypatch.delenv("GEARLAB_ANSWERS", raising=False)
    roster, key = (
        Roster([Student("007", "Ada"), Student("x/9", "Cy")]),
        make_key(tmp_path / "own" / "course.key"),
    )
    set_file = write_course(tmp_path / "exercises")
    hand_out(set_file, roster, key, tmp_path / "out")
    desk = tmp_path / "desk"
    desk.mkdir()
    path = desk / shutil.copy(tmp_path / "out" / "notebooks" / "homework-1_x~2f~9.ipynb", desk)
    answers = right_answers(sheet_of(path))
    answers["speed"]["ratio"] = ""

    notebook = nbformat.read(path, as_version=4)
    typed = f"for question, texts in {answers!r}.items():\n    sheet.keep(question, texts)"
    notebook.cells.insert(-1, nbformat.v4.new_code_cell(typed))
    nbclient.NotebookClient(notebook, timeout=120, resources={"metadata": {"path": str(desk)}}).execute()

    saved = desk / "HAND-IN_homework-1_x~2f~9.json"
    hand_in = read_hand_in(saved.read_bytes())
    assert hand_in.student == "x/9" and hand_in.answered() == 9
    status = json.dumps(notebook.cells[-1].outputs)
    assert saved.name in status and "ratio" in status  # the last cell names the file and what is still empty

    mark(desk, set_file, roster, key, tmp_path / "results")
    with open(tmp_path / "results" / "gradebook.csv", encoding="utf-8", newline="") as file:
        grades = {row["id"]: row["points"] for row in csv.DictReader(file)}
    assert grades == {"007": "", "x/9": "11"}  # 12 without the ratio
    assert "altered" not in (tmp_path / "results" / "problems.csv").read_text()
