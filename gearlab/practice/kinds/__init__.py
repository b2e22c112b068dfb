"""The kinds of question: one file each, one line in the table each."""

from gearlab.practice.kinds.table import QUESTION_KINDS

__all__ = ["QUESTION_KINDS"]
