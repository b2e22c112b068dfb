"""A class of twelve for the tests of decisions: handed out, handed in, and what was decided about it.

Expected points are counted by hand from the bank of greenhouse.py: shafts 2, pinion 3 x 1, pitch 1,
inch-shafts 1, speed 2 + 1, formula 1, direction 1; 12 in all.
"""

from greenhouse import hand_in, right_answers, sheet_of, write_course

from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.marking.whole import mark
from gearlab.course.roster import Roster, Student

NAMES = (
    "Ada North",
    "Ben West",
    "Cleo Ford",
    "Dan Hill",
    "Eva Lake",
    "Finn Moor",
    "Gus Reed",
    "Hana Wood",
    "Ivo Dale",
    "Jo Marsh",
    "Kim Brook",
    "Lea Stone",
)
ROSTER = Roster([Student(f"00{number:02d}", name) for number, name in enumerate(NAMES, 1)])

DECISIONS = """
set = "homework-1"

[[leave_out]]
question = "pitch"
by = "A. Assistant"
why = "The prompt could be read in two ways."
when = 2026-11-27

[[also_right]]
question = "inch-shafts"
formula = "(driver_teeth+driven_teeth)/diametral_pitch"
by = "A. Assistant"
why = "The sketch showed the <b>diameters</b>."

[[set_points]]
student = "0002"
question = "shafts"
points = 1.5
by = "B. Instructor"
why = "The way was right on paper."

[[late]]
student = "0004"
due = 2026-11-20
came = 2026-11-23
per_cent_a_day = 10
at_most = 25
by = "B. Instructor"
why = "Three days after the hour."

[[extra_time]]
student = "0004"
days = 1
by = "B. Instructor"
why = "agreed with the office"

[[excused]]
student = "0005"
by = "B. Instructor"
why = "ill"

[[absent]]
student = "0006"
by = "B. Instructor"
why = "no word"

[[attempt]]
student = "0007"
counts = "best"
by = "B. Instructor"
why = "rule of the course"

[[wrong_key]]
question = "speed"
answer = "ratio"
formula = "driver_teeth/driven_teeth"
by = "B. Instructor"
why = "The sentence asked for turns of the wheel."

[[look_again]]
student = "0010"
question = "formula"
by = "A. Assistant"
why = "is z1 the pinion?"

[[full_points]]
question = "direction"
students = ["0011", "0012"]
by = "A. Assistant"
why = "the drawing was missing in their room"

[[file_of]]
student = "0009"
file = "HAND-IN_homework-1_0009.json"
by = "B. Instructor"
why = "sent from a friend's address"
"""


def givens_of(sheet, question):
    return {
        name: float(text)
        for name, text in next(q["givens"] for q in sheet["questions"] if q["id"] == question).items()
    }


def write_class(folder):
    """A course of twelve with its hand-ins; gives what marking needs: (place, set, roster, key)."""
    set_file = write_course(folder)
    key = make_key(folder / "course.key")
    hand_out(set_file, ROSTER, key, folder / "out")
    place = folder / "in"
    place.mkdir()
    for number, student in enumerate(ROSTER, 1):
        sheet = sheet_of(folder / "out" / "notebooks" / f"homework-1_{student.id}.ipynb")
        answers = right_answers(sheet)
        twin, speed = givens_of(sheet, "inch-shafts"), givens_of(sheet, "speed")
        if number == 2:
            answers["shafts"] = {"centre_distance": "999 mm"}
        if number == 3:  # diameters added: the bank gives half for it
            both = (twin["driver_teeth"] + twin["driven_teeth"]) / twin["diametral_pitch"]
            answers["inch-shafts"] = {"centre_distance": f"{both:.5f} in"}
        if number in (5, 6):
            continue  # nothing came
        if number == 8:  # the inverted ratio, which the sentence asked for
            answers["speed"]["ratio"] = f"{speed['driver_teeth'] / speed['driven_teeth']:.6f}"
        if number == 12:
            answers["direction"] = {}
        name = place / sheet["file"]
        name.write_text(hand_in(sheet, answers), encoding="utf-8")
        if number == 7:  # a second attempt, saved later and worse
            worse = answers | {"shafts": {"centre_distance": "999 mm"}}
            name.with_name(name.name.replace(".json", " (1).json")).write_text(
                hand_in(sheet, worse, saved=9), encoding="utf-8"
            )
    return place, set_file, ROSTER, key


def marked(course, results, text=None, **more):
    """The course marked with decisions written beside the key, or with those that lie there."""
    key = course[3]
    if text is not None:
        key.path.with_name("homework-1.decisions.toml").write_text(text, encoding="utf-8")
    return mark(*course, results, **more)
