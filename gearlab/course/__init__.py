"""What is asked of many: a set handed out to a class, and marked."""

from gearlab.course.coursekey import CourseKey, make_key, read_key
from gearlab.course.gradebook import fill_template
from gearlab.course.handout.making import HandOut, hand_out
from gearlab.course.marking.whole import Marking, mark
from gearlab.course.roster import Roster, Student, read_roster

__all__ = [
    "CourseKey",
    "HandOut",
    "Marking",
    "Roster",
    "Student",
    "fill_template",
    "hand_out",
    "make_key",
    "mark",
    "read_key",
    "read_roster",
]
