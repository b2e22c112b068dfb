"""What is asked: numbers and expressions read, questions drawn, answers judged and kept."""

from gearlab.digits import number_text
from gearlab.practice.bank import (
    Bank,
    BankError,
    HomeworkSet,
    SetEntry,
    check_bank,
    check_set,
    is_set,
    load_bank,
    load_set,
)
from gearlab.practice.draw import Draw, Given
from gearlab.practice.kinds import QUESTION_KINDS
from gearlab.practice.question import Question
from gearlab.practice.typed.reading import Reading, read_expression, read_number
from gearlab.practice.verdict import KINDS, Cause, Verdict

__all__ = [
    "Bank",
    "BankError",
    "Cause",
    "Draw",
    "Given",
    "HomeworkSet",
    "KINDS",
    "QUESTION_KINDS",
    "Question",
    "Reading",
    "SetEntry",
    "Verdict",
    "check_bank",
    "check_set",
    "is_set",
    "load_bank",
    "load_set",
    "number_text",
    "read_expression",
    "read_number",
]
