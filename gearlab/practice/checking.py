"""Checking a question bank, or the questions of a set, as an instructor would.

Every draw, every key by a second way, every listed slip.
"""

from __future__ import annotations

from pathlib import Path

from gearlab.practice.bank import load_bank, load_set
from gearlab.practice.question import Question
from gearlab.practice.tables import BankError

__all__ = ["check_bank", "check_set"]


def check_bank(path: str | Path, draws: int = 200) -> list[str]:
    """Check a bank.

    Parameters
    ----------
    path : str or path
        A ``bank.toml`` or its folder [-].
    draws : int
        How many draws of each question are made [-].

    Returns
    -------
    list of str
        One line for each problem [-]; empty where all is well.  Checked are the form of the file; that theory
        derives every answer; that fair numbers can be drawn; that each key solves the relations it comes from
        (by Newton's method, without the closed form); that each listed slip applies, is recognised and is
        worth less than the right answer; and that right answers, as typed by a student, are judged right.  Of
        a question with many right answers, that the example meets every condition for every draw, that the
        bad one does not, and that each condition can fail alone.
    """
    try:
        bank = load_bank(path)
    except BankError as error:
        return error.problems
    return [problem for question in bank for problem in _told(bank.path, question, draws)]


def check_set(path: str | Path, draws: int = 200) -> list[str]:
    """Check a homework set.

    Its form, that its banks have the questions it names, and each of these questions.

    Parameters
    ----------
    path : str or path
        The set's file [-].
    draws : int
        How many draws of each question are made [-].

    Returns
    -------
    list of str
        One line for each problem [-]; empty where all is well.  The questions are checked as by `check_bank`.
    """
    try:
        homework = load_set(path)
    except BankError as error:
        return error.problems
    return [
        problem for entry in homework.entries for problem in _told(entry.bank_path, entry.question, draws)
    ]


def _told(path: Path, question: Question, draws: int) -> list[str]:
    try:
        return [f"{path}: question {question.id!r}: {problem}" for problem in question.check(draws)]
    except BankError as error:
        return error.problems
