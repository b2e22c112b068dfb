"""Conditions that the review of a design decides.

The design: pinion of 18 teeth and wheel of chosen teeth, module 2.5 mm.  By hand: 18 and 45 teeth stand 2.5
(18 + 45) / 2 = 78.75 mm apart. Collar 8.5, plate 6, washers 2.5, gear 25 and end 3 mm need a shaft of 45 mm;
40 mm is 5 mm short (common practice: lengths along a shaft add up). A set screw in a wall of (32 - 10) / 2 =
11 mm on a flat of 0.5 mm stays below the surface up to 11.5 mm.
"""

import pytest

from gearlab.practice import BankError, check_bank, load_bank

BANK = '''
[bank]
title = "Review"
lesson = "18"

[[question]]
id = "a-drive"
kind = "design"
of = "pair"
length_unit = "mm"
title = "A drive"
hints = ["What is asked?", "What is given?", "Put one into the other."]
prompt = "Choose; the ratio shall be {wanted_ratio} within 4 %."
example = { driven_teeth = 45, hole_spacing = 78.75, shaft_length = 45, screw_length = 10 }
bad_example = { driven_teeth = 45, hole_spacing = 80, shaft_length = 40, screw_length = 12 }
design = """
[design]
name = "drive"
ratio = {wanted_ratio}
ratio_within = 0.04
[plate]
length = 240
height = 170
thickness = 6
[[shaft]]
name = "crank"
x = 55
y = 85
diameter = 10
[[shaft]]
name = "vent"
x = {55 + hole_spacing}
y = 85
diameter = 10
length = {shaft_length}
behind = 8.5
end = 3
[[gear]]
name = "pinion"
shaft = "crank"
teeth = 18
module = 2.5
tooth_thinning = 0.05
face_width = 12
gap = 15.5
bore = 10
fit = "press"
[[gear]]
name = "wheel"
shaft = "vent"
teeth = {driven_teeth}
module = 2.5
tooth_thinning = 0.05
face_width = 12
gap = 2.5
bore = 10
fit = "sliding"
hub_diameter = 32
hub_projection = 13
set_screw = "M5"
screw_length = {screw_length}
flat = 0.5
[[mesh]]
driver = "pinion"
driven = "wheel"
"""
[question.givens]
wanted_ratio = { one_of = [2.5] }
[[question.fields]]
word = "driven_teeth"
from = 20
to = 90
[[question.fields]]
word = "hole_spacing"
label = "spacing of the holes"
from = 40
to = 140
[[question.fields]]
word = "shaft_length"
from = 20
to = 80
[[question.fields]]
word = "screw_length"
from = 3
to = 20
local = true
unit = "mm"
[[question.conditions]]
id = "shaft"
title = "shaft long enough"
finding = "shaft-too-short"
says = "Add up what lies along the shaft."
points = 2
[[question.conditions]]
id = "brief"
title = "shaft from the shelf"
formula = "mod(shaft_length, 5) == 0"
wanted = "a length in steps of 5 mm"
says = "Choose one that is sold."
[[question.conditions]]
id = "review"
title = "everything else of the review"
review = true
says = "One number at a time."
points = 3
'''
GOOD = {"driven_teeth": "45", "hole_spacing": "78.75", "shaft_length": "45", "screw_length": "10"}


@pytest.fixture
def judge(bank_file):
    question = load_bank(bank_file(text=BANK))["a-drive"]
    draw = question.draw("x")

    def judged(**changed):
        return question.judge(draw, GOOD | changed)

    judged.question, judged.draw = question, draw
    return judged


def kinds(verdicts):
    return {name: verdict.kind for name, verdict in verdicts.items()}


def test_the_bank_is_proven(bank_file):
    assert check_bank(bank_file(text=BANK), draws=30) == []


def test_a_sound_design_is_right(judge):
    verdicts = judge()
    assert set(kinds(verdicts).values()) == {"right"} and sum(one.points for one in verdicts.values()) == 6
    assert verdicts["shaft"].sentence == "Met. The review does not find “shaft too short”."
    assert verdicts["review"].sentence == "Met. The review finds nothing that will not work or will trouble."


# 2.5 (18 + 46) / 2 = 80 mm, 46/18 is 2.2 % above 2.5
@pytest.mark.parametrize(
    "changed",
    [
        {"driven_teeth": "46", "hole_spacing": "80"},
        # 77.5 mm, 44/18 is 2.2 % below
        {"driven_teeth": "44", "hole_spacing": "7.75 cm"},
        {"shaft_length": "50"},
        {"screw_length": "8"},
    ],
)
def test_many_designs_are_right(judge, changed):
    assert set(kinds(judge(**changed)).values()) == {"right"}


@pytest.mark.parametrize(
    "changed, failing, said",
    [
        ({"shaft_length": "40"}, "shaft", "Shaft too short (shaft vent): it is 40 mm long, 5 mm short."),
        (
            {"screw_length": "12"},
            "review",
            "Screw stands out (wheel): a set screw of 12 mm projects 0.5 mm from the hub.",
        ),
        # the tips just reach each other: below 78.75 + 5 = 83.75 mm
        ({"hole_spacing": "83"}, "review", "Loose mesh (pinion with wheel): the backlash is"),
        (
            {"hole_spacing": "85"},
            "review",
            "Tips do not reach (pinion with wheel): the shafts are 85 mm apart.",
        ),
        (
            {"driven_teeth": "50", "hole_spacing": "85"},
            "review",
            "Ratio missed (the train): its ratio, driver turns per last turn, comes out as 2.78.",
        ),
    ],
)
def test_each_failure_is_named_with_its_number(judge, changed, failing, said):
    verdicts = judge(**changed)
    wrong = [name for name, verdict in verdicts.items() if not verdict.right]
    assert wrong == [failing], kinds(verdicts)
    verdict = verdicts[failing]
    assert said in verdict.sentence
    assert (verdict.kind, verdict.points) == ("not met", 0) and verdict.sentence.endswith(
        judge.question.answer(failing).table.says
    )
    assert verdict.causes and verdict.causes[0].name in verdict.read.replace(" ", "-")


def test_several_failures_are_several_causes(judge):
    verdict = judge(screw_length="12", hole_spacing="85")["review"]
    # worst first
    assert [cause.name for cause in verdict.causes] == ["tips-do-not-reach", "screw-stands-out"]
    assert "Tips do not reach" in verdict.sentence and "Screw stands out" in verdict.sentence
    assert [cause.title for cause in verdict.causes][1] == "everything else of the review: screw stands out"


def test_a_number_that_cannot_be_read_or_is_missing(judge):
    verdicts = judge(hole_spacing="")
    assert kinds(verdicts) == {"shaft": "not answered", "brief": "right", "review": "not answered"}
    assert judge(screw_length="long")["review"].kind == "cannot read"
    assert (
        judge(hole_spacing="300")["review"].sentence
        == "“spacing of the holes”: A number from 40 to 140 mm is needed here."
    )


def test_a_finding_hangs_on_the_fields_it_names_alone(bank_file):
    text = BANK.replace(
        'finding = "shaft-too-short"', 'finding = "shaft-too-short"\nhangs_on = ["shaft_length"]'
    )
    assert check_bank(bank_file(text=text), draws=20) == []
    question = load_bank(bank_file(text=text))["a-drive"]
    draw = question.draw("x")
    for length, kind in (("45", "right"), ("40", "not met")):  # whatever becomes of the others
        verdicts = question.judge(draw, {"shaft_length": length, "screw_length": "M5", "hole_spacing": ""})
        assert kinds(verdicts) == {"shaft": kind, "brief": "right", "review": "not answered"}
    found = check_bank(
        bank_file(text=text.replace('hangs_on = ["shaft_length"]', 'hangs_on = ["screw_length"]')), draws=20
    )
    assert any("hangs_on: shaft_length = " in one and "decides it too" in one for one in found), found


@pytest.mark.parametrize(
    "typed",
    ['45]\n[[gear]]\nname = "x"', '45" }', "__import__('os').system('x')", "45\ue0001", "{wanted_ratio}"],
)
def test_nothing_typed_is_part_of_the_design(judge, typed):
    verdicts = judge(hole_spacing=typed)
    assert verdicts["review"].kind in ("cannot read", "not met") and not verdicts["review"].right


def test_the_solution_reviews_the_banks_own_choice(judge):
    text = judge.question.solution(judge.draw, "text")
    assert (
        "spacing of the holes: 78.75 mm" in text
        and "everything else of the review: met. The review finds nothing" in text
    )
    assert judge.question.solution(judge.draw, "html").count("met.") == 3
    assert [key.text for key in judge.question.keys(judge.draw).values()] == [
        "no finding shaft-too-short",
        "mod(shaft_length, 5) == 0",
        "nothing else found that is worse than worth knowing",
    ]


def test_marking_is_quick(judge, processor_time):
    spacings = iter(range(40))

    def judged():
        for _ in range(10):
            judge(hole_spacing=f"{78.75 + next(spacings) / 1000}")

    assert processor_time(judged, 4) / 10 < 0.05  # s; some 3 ms


@pytest.mark.parametrize(
    "old, new, problem",
    [
        (
            'finding = "shaft-too-short"',
            'finding = "shaft-to-short"',
            "finding: 'shaft-to-short' is not a finding of the review; near: shaft-too-short",
        ),
        (
            "review = true\n",
            'review = true\nfinding = "undercut"\n',
            "give one of formula, review = true and finding, not review = true and finding",
        ),
        (
            "review = true\n",
            'review = true\nhangs_on = ["shaft_length"]\n',
            "hangs_on: belongs to a condition with a finding",
        ),
        (
            'finding = "shaft-too-short"',
            'finding = "shaft-too-short"\nhangs_on = ["shaft_lenght"]',
            "hangs_on: 'shaft_lenght' is no field; near: shaft_length",
        ),
        ("review = true\n", "", "give one of formula, review = true and finding, not none"),
        (
            "review = true\n",
            'review = true\nshows = "driven_teeth"\n',
            "shows: belongs to a condition with a formula",
        ),
        (
            "teeth = {driven_teeth}",
            "teeth = {driven_teth}",
            "design: {driven_teth}: 'driven_teth' is no field and no shown given; near: driven_teeth",
        ),
        ("teeth = {driven_teeth}", "teeth = {driven_teeth +}", "design: 'driven_teeth +'"),
        ("teeth = {driven_teeth}", 'teeth = "{driven_teeth}"', "design: is no TOML"),
        ("length = 240", "lenght = 240", "example: does not meet"),
        ("from = 40\nto = 140", "from = -1000\nto = 140", None),
        (
            "screw_length = {screw_length}",
            "screw_length = 10",
            "fields.screw_length: stands neither in the design nor in a formula",
        ),
        (
            "screw_length = {screw_length}",
            "screw_length = {screw_length - 5}",
            "fields.screw_length: with 3 no design can be made",
        ),
        (
            "example = { driven_teeth = 45, hole_spacing = 78.75",
            "example = { driven_teeth = 45, hole_spacing = 78",
            "example: does not meet review",
        ),
        (
            "hole_spacing = 80, shaft_length = 40, screw_length = 12",
            "hole_spacing = 78.8, shaft_length = 45, screw_length = 8",
            "bad_example: meets every condition",
        ),
    ],
)
def test_banks_that_do_not_fit(bank_file, old, new, problem):
    assert old in BANK
    found = check_bank(bank_file(text=BANK.replace(old, new, 1)), draws=5)
    if problem is None:  # a plate with a hole far beside it is a design all the same: the review says so
        assert found == []
    else:
        assert any(problem in one for one in found), found


def test_a_design_belongs_to_conditions_that_review_it(bank_file):
    with pytest.raises(BankError, match="design: no condition has review = true"):
        load_bank(
            bank_file(
                text=BANK.replace('finding = "shaft-too-short"', 'formula = "shaft_length >= 44"').replace(
                    "review = true", 'formula = "driven_teeth < 80"'
                )
            )
        )
    head, _, rest = BANK.partition('design = """')
    with pytest.raises(BankError, match="needs the design, as TOML"):
        load_bank(bank_file(text=head + rest.partition('"""\n')[2]))
