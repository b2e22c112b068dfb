"""What a question practises: a small table of skills, a few for each lesson.

A question belongs to the first skill of its lesson that names a quantity it asks for; where none does (a choice, say),
to the lesson's skill without words.
"""

from __future__ import annotations

from functools import cache

from gearlab.theory.quantities import split_side

from .lessons import Listed, lessons

# number of the lesson | skill | quantities asked for
SKILL_ROWS = """
01 | size of a gear from teeth and pitch |
02 | module, diametral pitch, and which teeth fit |
02 | circular pitch and base pitch | circular_pitch base_pitch pitches_out_of_step
02 | heights of a tooth | whole_depth outside_diameter root_diameter clearance
03 | centre distance |
03 | holes and pins | spacing_miss hole_spacing
04 | ratio and direction |
04 | speeds and turns | speed angular_speed pitch_line_speed mesh_frequency turns angle
04 | which teeth meet again | driven_teeth_lowest driven_turns_to_repeat driver_turns_to_repeat share_of_spaces
05 | idlers |
05 | compound trains | train_ratio fourth_speed fourth_teeth last_torque turns_to_line_up
06 | the involute and its base circle |
06 | forces along the line of action | separating_force normal_force separating_force_increase
07 | contact ratio |
07 | undercut and interference | least_teeth_with_rack least_teeth_with_equal least_teeth_for_ratio driven_tip_margin largest_mate_teeth least_shift_for_rack
08 | backlash |
09 | lining up the teeth |
10 | holes on the plate |
10 | along the shaft | hub_projection stock_length shaft_length face_height other_gap
11 | hub, bore and wall |
11 | set screws and keys | greatest_drill_depth screw_room tapped_depth key_bearing holding_safety
12 | torque and power |
12 | tooth load and bending | tangential_force separating_force bending_stress stress_with_speed utilisation stress_change
13 | rack and pinion |
14 | bevel pairs |
15 | planetary sets |
16 | choosing tooth counts |
17 | measuring a gear |
17 | tolerances | least_centre_distance greatest_backlash least_backlash least_clearance backlash_swing growth_backlash worst_over_likely
18 | reviewing a design |
19 | a drive of your own |
"""


@cache
def skill_rows() -> tuple[tuple[int, str, frozenset[str]], ...]:
    """The table: number of the lesson, skill, quantities."""
    rows = ([cell.strip() for cell in row.split("|")] for row in SKILL_ROWS.strip().splitlines())
    return tuple((int(number), skill, frozenset(words.split())) for number, skill, words in rows)


def skill_of(question: Listed) -> str:
    """The skill that a question practises; of a lesson that the table does not know, its name.

    >>> from gearlab.practice.workbook.lessons import lesson
    >>> next(skill_of(question) for question in lesson("7").questions if question.id == "contact-ratio")
    'contact ratio'
    """
    rows = [row for row in skill_rows() if row[0] == int(question.lesson[:2])]
    asked = {*question.asked, *(split_side(word)[1] for word in question.asked)}
    for _, skill, words in rows:
        if words & asked:
            return skill
    return next((skill for _, skill, words in rows if not words), question.lesson[3:].replace("_", " "))


@cache
def by_skill() -> dict[str, tuple[Listed, ...]]:
    """Every question of every bank, by its skill, the easier ones first."""
    questions: dict[str, list[Listed]] = {skill: [] for _, skill, _ in skill_rows()}
    for lesson in lessons():
        for question in lesson.questions:
            questions.setdefault(skill_of(question), []).append(question)
    return {
        skill: tuple(sorted(several, key=lambda question: question.level))
        for skill, several in questions.items()
        if several
    }
