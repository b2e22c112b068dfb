"""The kinds of question by their word in a bank: a further kind is a file and a line here."""

from gearlab.practice.kinds.choice import ChoiceQuestion
from gearlab.practice.kinds.design import DesignQuestion
from gearlab.practice.kinds.expression import ExpressionQuestion
from gearlab.practice.kinds.number import NumberQuestion
from gearlab.practice.kinds.reading import ReadingQuestion
from gearlab.practice.kinds.reason import ReasonQuestion

__all__ = ["QUESTION_KINDS"]

QUESTION_KINDS = {
    "number": NumberQuestion,
    "expression": ExpressionQuestion,
    "choice": ChoiceQuestion,
    "design": DesignQuestion,
    "reason": ReasonQuestion,
    "reading": ReadingQuestion,
}
