"""A file of decisions to begin with: every kind as a commented example, with the names of its set."""

from __future__ import annotations

import os
from pathlib import Path

from gearlab.course.files import one_line
from gearlab.course.gradebook import points_text
from gearlab.practice import HomeworkSet, Question
from gearlab.practice.handin import file_name as hand_in_name
from gearlab.toml import toml_text

_HEAD = """\
# Decisions about the marks of {title}
#
# `gearlab mark` applies what stands here over the set as it was handed out; the set itself never changes.
# Take away the "# " in front of the lines you need. Every decision says who decided (by) and why; that and
# the date (when, if you like) are shown to the students whom it concerns.
# Whom it concerns: student = "ID", students = ["ID", "ID"], sections = ["A"]; nobody named: everybody.
#
# Questions and answers of this set, with their points:
{questions}
set = {name}

# --- a question or an answer ---

# Left out. points = "fall": they are taken out of what can be reached; "spread": over the rest.
# [[leave_out]]
# question = {question}
# points = "fall"
# by = "who decided"
# why = "what the student should read"
# when = 2026-11-27

# Another answer is right too: value = "78.5 mm", or formula in the givens, or
# quantity = "outside_diameter" (as theory derives it from the givens), or option = "its text".
# credit = 0.5 would give half the points. Name students if it is for some only.
# [[also_right]]
# question = {question}{answer}
# {right}
# by = "who decided"
# why = "what the student should read"

# The key was wrong and is corrected for everybody. old = "stands": answers by the old key keep their points;
# "falls": they lose them. Later answers that build on it are judged by the corrected one.
# [[wrong_key]]
# question = {question}{answer}
# {right}
# old = "stands"
# by = "who decided"
# why = "what the student should read"

# Full points for everybody who handed in, or for the students named.
# [[full_points]]
# question = {last}
# by = "who decided"
# why = "what the student should read"

# To be looked at again; listed until settled = true.
# [[look_again]]
# question = {question}
# settled = false
# by = "who is to look"
# why = "what to look at"

# --- a student ---

# Points set by hand, for a question, or without it in all (then nothing else changes them).
# [[set_points]]
# student = "ID"
# question = {question}
# points = 1
# by = "who decided"
# why = "what the student should read"

# Late. Write one of points, per_cent, points_a_day, per_cent_a_day; at_most is the ceiling by the day, in the
# same measure. Days: days = 2, or the dates due and came. Per cents are of the points reached; with
# of = "possible" of all points.
# [[late]]
# student = "ID"
# due = 2026-11-20
# came = 2026-11-22
# per_cent_a_day = 10
# at_most = 50
# by = "who decided"
# why = "what the student should read"

# Extra time: days are taken off the days late; minutes are told on the page.
# [[extra_time]]
# student = "ID"
# days = 1
# by = "who decided"
# why = "what the student should read"

# No mark at all ([[absent]] in its place: 0 points).
# [[excused]]
# student = "ID2"
# by = "who decided"
# why = "what the student should read"

# Which of several hand-ins counts: "first", "last" (as without a decision) or "best"; or file = "its name".
# [[attempt]]
# counts = "best"
# by = "who decided"
# why = "what the student should read"

# A file that was set aside (the list of problems names it) is a student's and counts: its name, or its whole
# path as listed there. numbers = "file": marked with the numbers of the sheet it was made from, as its sheet
# code proves; "own": with those of the student's own sheet.
# [[file_of]]
# student = "ID"
# file = "{file}"
# numbers = "file"
# by = "who decided"
# why = "what the student should read"
"""


def begin(path: Path, homework: HomeworkSet) -> None:
    """Write a new file of decisions about a set, readable by its owner only.

    ValueError if the file is there already.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
    except FileExistsError:
        raise ValueError(f"decisions {path}: is there already; it is never written over") from None
    with os.fdopen(handle, "wb") as file:
        file.write(starter(homework).encode("utf-8"))


def starter(homework: HomeworkSet) -> str:
    """The text of a new file of decisions about a set; in it nothing is decided yet."""
    rows = []
    for entry in homework.entries:
        answers = ", ".join(
            f"{answer.id} {points_text(answer.points * entry.scale)}" for answer in entry.question.answers
        )
        rows.append(f"#   {entry.question.id} ({points_text(entry.points)}): {answers}")
    first = next((e.question for e in homework.entries if e.question.numbers), homework.entries[0].question)
    answer = f"\n# answer = {toml_text(first.answers[0].id)}" if len(first.answers) > 1 else ""
    return _HEAD.format(
        title=one_line(homework.title),
        name=toml_text(homework.name),
        questions="\n".join(rows),
        question=toml_text(first.id),
        last=toml_text(homework.entries[-1].question.id),
        answer=answer,
        right=_right(first),
        file=hand_in_name(homework.name, "ID2"),
    )


def _right(question: Question) -> str:
    """An answer that may be called right, as an example of the form."""
    if question.kind == "choice":
        wrong = next(option.text for option in question.table.options if not option.right)
        return f"option = {toml_text(wrong)}"
    if question.numbers and question.shown_names:
        return f"formula = {toml_text(f'{question.shown_names[0]} * 2')}"
    return 'formula = "..."'
