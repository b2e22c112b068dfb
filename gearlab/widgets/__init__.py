"""What is handled: living pictures, explorers, answer boxes."""

from . import explorers
from .answerbox import AnswerBox, ask
from .coursepage import CoursePage, course_page
from .explorers import *  # noqa: F403  (each explorer is handed on, and named in one place)
from .handin import hand_in, hand_in_box
from .living import Living, living
from .prediction import look_back, predict

__all__ = [
    "AnswerBox",
    "CoursePage",
    "Living",
    "ask",
    "course_page",
    "hand_in",
    "hand_in_box",
    "living",
    "look_back",
    "predict",
    *explorers.__all__,
]
