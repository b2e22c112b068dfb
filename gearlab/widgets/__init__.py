"""What is handled: living pictures, explorers, answer boxes."""

from . import explorers
from .answerbox import AnswerBox, ask
from .coursepage import CoursePage, course_page
from .explorers import *  # noqa: F403  (each explorer is handed on, and named in one place)
from .handin import hand_in, hand_in_box
from .living import Living, living
from .ownline import check, given
from .prediction import look_back, predict
from .surprise import surprise

__all__ = [
    "AnswerBox",
    "CoursePage",
    "Living",
    "ask",
    "check",
    "given",
    "course_page",
    "hand_in",
    "hand_in_box",
    "living",
    "look_back",
    "predict",
    "surprise",
    *explorers.__all__,
]
