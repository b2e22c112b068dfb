"""A key sheet for office hours: everybody's givens and right answers of a set, on few pages, found by id."""

import os
from pathlib import Path

from markupsafe import Markup

from gearlab.course.coursekey import CourseKey, refuse_handed_out
from gearlab.course.handout.edition import SheetMaker, Task, edition_of, frozen_edition
from gearlab.course.pages import amount, page, part
from gearlab.course.roster import Roster, file_name
from gearlab.digits import number_text
from gearlab.practice import Question
from gearlab.quoting import one_line
from gearlab.theory.units import written
from gearlab.writing import write_whole

RESULTS = "gradebook.csv"  # a folder with it holds results


def key_sheet(maker: SheetMaker, roster: Roster, section: str = "") -> str:
    """The page, students in the order of the class list. It is private: it holds all right answers.

    section: the one whose students these are, to be told on the page.
    """
    students = []
    for student in roster:
        tasks = maker.tasks(student.id)
        students.append(
            {
                "id": one_line(student.id),
                "name": one_line(student.name),
                "section": one_line(student.section),
                "packet": maker.packet(student.id),
                "lines": [(task.entry.question, _givens(task), _keys(task)) for task in tasks],
            }
        )
    asked = [
        (
            entry.question.title,
            [
                (answer.label, written(answer.unit), _asked(entry.question, answer))
                for answer in entry.question.answers
            ],
        )
        for entry in maker.set.entries
    ]
    css = Markup(part("page.css") + part("keysheet.css"))
    return page(
        "keysheet.html",
        set=maker.set,
        css=css,
        students=students,
        section=one_line(section),
        asked=asked,
        edition=maker.digest,
    )


def key_sheet_file(set_name: str, section: str = "") -> str:
    """Name of the page of the class, or of a section.

    >>> key_sheet_file("homework-1"), key_sheet_file("homework-1", "B 2")
    ('homework-1.keys.html', 'homework-1.keys_B~20~2.html')
    """
    return f"{set_name}.keys{f'_{file_name(section)}' if section else ''}.html"


def write_key_sheet(set_path: Path, roster: Roster, key: CourseKey, path: Path, section: str = "") -> int:
    """Write the key sheet of a set as it was handed out (as it stands, if it was not), for its owner only.

    path: the HTML file, beside the course key or among results; one that is there is replaced.
    section: for the students of this section only.
    Returns how many students are on it [-].
    ValueError if the place is another one, or a folder that is handed out, or there is no such section;
        nothing is written then.
    """
    path = Path(path)
    if section:
        roster = roster.section(section)
        section = roster.sections[0]
    check_place(path, key)
    edition = edition_of(set_path)
    maker = SheetMaker(frozen_edition(key, edition.set_name) or edition, key)
    write_whole(path, key_sheet(maker, roster, section))
    if os.name == "posix":
        path.chmod(0o600)
    return len(roster)


def check_place(path: Path, key: CourseKey) -> None:
    """Refuse a place for a key sheet where it might be handed out.

    ValueError if the file would lie neither below the folder of the key nor in a folder of results, or lie in
        a folder that is handed out.
    """
    folder = path.resolve().parent
    refuse_handed_out(path)
    private = folder.is_relative_to(key.path.resolve().parent)
    if not private and not (folder / RESULTS).is_file():
        raise ValueError(
            f"key sheet {path}: holds everybody's right answers and is written beside the course key"
            f" ({key.path.parent}) or among the results of a marking only; choose such a place with --to"
        )
    if path.suffix.lower() not in (".html", ".htm"):
        raise ValueError(f"key sheet {path}: is a page; give a name that ends in .html")


def _asked(question: Question, answer) -> str:
    """What is asked of an answer and what is right, in a sentence."""
    contract = question.contracts.get(answer.id)
    told = contract.sentence.removesuffix(".") if contract else ""
    return told[:1].lower() + told[1:]


def _givens(task: Task) -> list:
    """The givens of a question that stand as numbers on the sheet."""
    return [] if task.draw.options or not task.entry.question.shows_numbers else list(task.draw.givens)


def _keys(task: Task) -> list[tuple[str, str]]:
    """The right answers of a question, each with how far off it may be; of a design they are own choice."""
    question = task.entry.question
    if not question.judges_fields:
        return [("own choice", "")]
    keys = []
    for identity, key in question.keys(task.draw).items():
        if key.value is None:
            keys.append((key.text, ""))
        else:
            answer = question.answer(identity)
            exact = answer.whole or answer.table.preferred  # a count, or a size of a list: no limit around it
            off = "" if exact else f"± {number_text(key.tolerance, 2)}"
            keys.append((amount(key.value, key.unit), off))
    return keys
