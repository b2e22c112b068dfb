"""What other processes write while a test looks.

They are forked from one process that has imported what writes (where that cannot be, each imports it itself).
"""

import multiprocessing
from pathlib import Path

from gearlab.practice.workbook.attempts import record
from gearlab.practice.workbook.progress import Answers


def process(act, *given):
    """A process that does something of this file, not yet started; it can be killed."""
    forks = "forkserver" in multiprocessing.get_all_start_methods()
    context = multiprocessing.get_context("forkserver" if forks else "spawn")
    if forks:
        context.set_forkserver_preload(
            ["gearlab.practice.workbook.attempts", "gearlab.practice.workbook.progress"]
        )
    return context.Process(target=act, args=given)


def record_many(folder: Path, name: str, count: int) -> None:
    for number in range(count):
        record(folder, event="read", lesson=f"{name}-{number}")


def record_and_tell(folder: Path, line) -> None:
    """Without an end; each number is told when `record` has handed back."""
    for number in range(10**6):
        record(folder, event="read", lesson=str(number))
        line.send(str(number))


def answer_many(folder: Path, name: str, count: int) -> None:
    answers = Answers(folder)
    for number in range(count):
        answers.put(f"{name}-{number}", number=number)


def answer_on(folder: Path) -> None:
    """Without an end."""
    answers = Answers(folder)
    for number in range(10**9):
        answers.put("k", number=number)
