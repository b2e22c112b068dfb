"""What is handled: living pictures, explorers, answer boxes."""

from importlib import import_module as _load

from . import explorers, words
from .answerbox import AnswerBox, ask
from .coursepage import CoursePage, course_page
from .explorers import *  # noqa: F403  (each explorer is handed on, and named in one place)
from .handin import hand_in, hand_in_box
from .living import Living, living
from .ownline import check, given
from .prediction import look_back, predict
from .surprise import surprise

_TAB_KNOWS = words.lessons  # and their questions
# Charts and pictures, loaded when first asked for: the name here, then file and name there.
_LATER = {
    "backlash_chart": "drawing.charts.backlash:backlash",
    "candidates_chart": "drawing.charts.candidates:candidates",
    "contact_ratio_chart": "drawing.charts.contact:contact_ratio",
    "cones_picture": "drawing.views.cones:cones",
    "drive_picture": "drawing.views.drive:drive",
    "figure": "drawing.figures:figure",
    "idler_push": "drawing.views.train:idler_push",
    "sliding_chart": "drawing.charts.contact:specific_sliding",
}
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
    *_LATER,
]


def __getattr__(name):
    if name in _LATER:
        file, _, there = _LATER[name].partition(":")
        return getattr(_load(f"gearlab.{file}"), there)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
