"""What a set needs to be marked, worked out once where the processes of a marking come from.

The server from which they are forked imports this module (`spread.processes`), and is told the set by its
environment. Its slips and solutions, half a second of work, are then there in each process.
"""

import contextlib
import os
from pathlib import Path

from gearlab.course.handout.edition import read_frozen
from gearlab.course.marking.blocks import mark_block as mark_block  # what the processes do
from gearlab.course.marking.feedback import FeedbackPages
from gearlab.practice import HomeworkSet

FROZEN = "GEARLAB_SET_TO_MARK"  # its frozen copy


def work_out(homework: HomeworkSet) -> None:
    """Mark something wrong, so that the questions have what they keep: slips, derivations, templates."""
    FeedbackPages(homework)
    for entry in homework.entries:
        question = entry.question
        draw = question.draw("ready")
        question.judge(draw, {field.id: "0.12345" for field in question.fields})
        question.solution(draw, form="html")


if place := os.environ.pop(FROZEN, ""):
    with contextlib.suppress(Exception):  # what is wrong with it is said by who marks it
        work_out(read_frozen(Path(place)).load())
