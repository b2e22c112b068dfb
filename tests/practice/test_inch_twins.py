"""The inch twins of lessons 10 to 18: their keys by the formulas of an inch workshop, and their slips.

Every key is worked out here once more, in the form in which the trade writes it for diametral pitch, pounds
and horsepower (pitch diameter N/P, outside (N + 2)/P, root (N - 2.5)/P, torque 63,025 hp/n), from the drawn
numbers alone: common practice, and E. Oberg et al., Machinery's Handbook (from memory). The listed slips are
held against those of the metric question, which other tests hold against the worked answers.
"""

import math
import tomllib
from pathlib import Path

import pytest
from algebra import ALGEBRA

from gearlab.contents import content_folder
from gearlab.practice.formulas.expression import compile_formula
from gearlab.theory.units import convert

EXERCISES = content_folder("exercises")
FOLDERS = sorted(path.parent.name for path in EXERCISES.glob("1[0-8]_*/bank.toml"))
KEYS = {
    (folder, question): answers
    for folder, questions in tomllib.loads(
        (Path(__file__).parent / "data" / "inch_twins.toml").read_text(encoding="utf-8")
    ).items()
    for question, answers in questions.items()
}
DRAWS = 25
TRADE = ALGEBRA | {"up": lambda x: math.ceil(x - 1e-9)}


def tables(folder):
    """The questions of a bank as they are written."""
    read = tomllib.loads((EXERCISES / folder / "bank.toml").read_text(encoding="utf-8"))
    return {table["id"]: table for table in read["question"]}


def in_inches(table):
    return table.get("length_unit") == "in" or table["id"].endswith("-inch")


NUMBERS = [
    (folder, name)
    for folder in FOLDERS
    for name, table in tables(folder).items()
    if in_inches(table) and table["kind"] == "number"
]


@pytest.mark.parametrize("folder", FOLDERS)
def test_at_least_a_third_of_a_bank_is_also_in_inches(folder):
    inches = [in_inches(table) for table in tables(folder).values()]
    assert 3 * inches.count(True) >= inches.count(False)


def test_at_least_forty_questions_are_new():
    twins = [name for folder in FOLDERS for name in tables(folder) if name.endswith("-inch")]
    assert len(twins) >= 40 and len(set(twins)) == len(twins)


def test_every_inch_question_with_numbers_has_its_formula():
    assert set(NUMBERS) == set(KEYS)


@pytest.mark.parametrize("folder, name", NUMBERS, ids=[name for _, name in NUMBERS])
def test_the_key_is_what_the_trade_works_out(folder, name, banks):
    question = banks[folder][name]
    forms = KEYS[folder, name]
    assert list(forms) == [answer.table.asked for answer in question.answers]
    for number in range(DRAWS):
        draw = question.draw(seed="inches", number=number)
        for form, key in zip(forms.values(), draw.keys, strict=True):
            right = eval(form, TRADE, dict(draw.values))  # noqa: S307 (our own test data)
            # 63,025 is rounded: two parts in a hundred thousand
            assert key == pytest.approx(right, rel=2e-5, abs=1e-9), (draw.values, form)


METRIC = {"in": "mm", "lbf": "N", "lbf*in": "N*m", "psi": "MPa", "hp": "W", "in/min": "mm/s", "1/in": "mm"}
OTHER_METRIC = {"pitch-from-two-spans-inch": "module-from-two-spans"}
# Slips that only the inch trade has, and wrong numbers that measure something else than what is asked (square
# inches for inches), so that they depend on the unit.
OF_THEIR_OWN = {
    ("hole-table-inch", "noroot"),
    ("key-stresses-inch", "nolen"),
    ("torque-from-power-inch", "inverse"),
    ("hub-below-root-inch", "oneside"),
    ("torque-from-power-inch", "foot"),
    ("tooth-force-inch", "timesN"),
    ("stall-inch", "overP"),
    ("travel-per-turn-inch", "timesP"),
    ("length-of-the-rack-inch", "nopi"),
    ("pitch-from-two-spans-inch", "nocos"),
    ("pitch-from-two-spans-inch", "nopi"),
    ("pitch-from-two-spans-inch", "pb"),
    ("key-stresses-inch", "times"),  # a force times a length, given for a force
    ("key-stresses-inch", "feet"),
    ("torque-from-power-inch", "second"),  # 550 foot-pounds a second
    ("worst-or-likely-inch", "difference"),  # of two lengths, given for a plain number: it hangs on the unit
}
WITH_METRIC = [
    (folder, name, OTHER_METRIC.get(name, name.removesuffix("-inch")))
    for folder, name in NUMBERS
    if name.endswith("-inch") and name != "bending-inch"  # handed out before its twin, with slips of its own
]


def in_metric(question, metric, values):
    """The drawn numbers as the metric question would show them."""
    given = {}
    for word, value in values.items():
        unit = question.unit(word) if word in question.known_names else "1"
        if word == "diametral_pitch":
            given["module"] = 25.4 / value
        elif word in question.known_names and unit in METRIC:
            given[word] = convert(value, unit, metric.unit(word))
        else:
            given[word] = convert(value, "in", "mm") if word == "bore" else value
    return given


@pytest.mark.parametrize("folder, name, twin", WITH_METRIC, ids=[name for _, name, _ in WITH_METRIC])
def test_a_slip_is_as_wrong_as_its_metric_one(folder, name, twin, banks):
    question, metric = banks[folder][name], banks[folder][twin]
    written, slips = tables(folder)[name]["answers"], tables(folder)[twin]["answers"]
    for number in range(6):
        draw = question.draw(seed="slips", number=number)
        given = in_metric(question, metric, {word: draw.values[word] for word in question.shown_names})
        for place, (inch, other) in enumerate(zip(written, slips, strict=True)):
            wrongs = {slip["name"]: slip["formula"] for slip in other.get("slips", [])}
            for slip in inch.get("slips", []):
                if (name, slip["name"]) in OF_THEIR_OWN:
                    continue
                wrong = compile_formula(slip["formula"], question.shown_names)(
                    *(draw.values[word] for word in question.shown_names)
                )
                same = compile_formula(wrongs[slip["name"]], list(given))(*given.values())
                unit, theirs = question.answers[place].shown_unit, metric.answers[place].shown_unit
                if unit in METRIC and unit != "1/in":
                    wrong = convert(wrong, unit, theirs)
                assert wrong == pytest.approx(same, rel=1e-6, abs=1e-9), (slip["name"], draw.values)


@pytest.mark.parametrize("folder, name", NUMBERS, ids=[name for _, name in NUMBERS])
def test_a_listed_slip_is_named(folder, name, banks):
    question = banks[folder][name]
    for answer, written in zip(question.answers, tables(folder)[name]["answers"], strict=True):
        for slip in written.get("slips", []):
            tried = 0
            for number in range(40):
                draw = question.draw(seed="named", number=number)
                shown = [draw.values[word] for word in question.shown_names]
                if not all(
                    compile_formula(one, question.shown_names)(*shown) for one in slip.get("where", [])
                ):
                    continue
                tried += 1
                if tried > 10:
                    break
                wrong = compile_formula(slip["formula"], question.shown_names)(*shown)
                verdict = question.judge(draw, {answer.id: f"{wrong:.7g}"})[answer.id]
                assert not verdict.right and verdict.points < verdict.out_of, (slip["name"], draw.values)
                assert verdict.kind in ("wrong sign", "wrong unit") or slip["name"] in [
                    cause.name for cause in verdict.causes
                ], (slip["name"], draw.values, verdict)
            assert tried >= 4, slip["name"]


# What an inch workshop has: widths of square keys for a shaft up to so much (ANSI B17.1, table 1, as in
# a shop reference), threads of set screws (ASME B1.1: a number screw is 0.060 + 0.013 n thick), number drills
# (ASME B94.11M, from memory).
SQUARE_KEYS = [(0.4375, 0.09375), (0.5625, 0.125), (0.875, 0.1875), (1.25, 0.25)]
NUMBER_DRILLS = {"#16": 0.177, "#21": 0.159, "#25": 0.1495, "#29": 0.136}


@pytest.mark.parametrize("name", ["wall-over-keyway-inch", "key-stresses-inch"])
def test_a_key_is_the_square_one_of_the_table(name, banks):
    for number in range(DRAWS):
        values = banks["11_hub_bore_key"][name].draw(seed="keys", number=number).values
        key = next(width for upto, width in SQUARE_KEYS if values["bore_diameter"] <= upto)
        assert values["key_height"] == values.get("key_width", key) == key
        assert values.get("keyway_depth", key / 2) == key / 2


def test_the_set_screws_have_threads_that_are_sold(banks):
    sold = {(0.060 + 0.013 * 8, 32), (0.060 + 0.013 * 10, 32), (1 / 4, 20), (3 / 8, 16)}
    seen = set()
    for number in range(60):
        values = banks["11_hub_bore_key"]["tap-and-drill-inch"].draw(seed="threads", number=number).values
        seen.add((round(values["screw_diameter"], 6), values["threads"]))
        assert values["screw_pitch"] * values["threads"] == 1
    assert seen == {(round(size, 6), threads) for size, threads in sold}


# What comes from a table, a pair of gears or a caliper, and so in thousandths; lesson 17 is all about those.
IN_THOUSANDTHS = {"flat_depth", "screw_diameter", "screw_pitch", "centre_distance"}
BUILT = [(folder, name) for folder, name in NUMBERS if name.endswith("-inch") and folder[:2] != "17"]


@pytest.mark.parametrize("folder, name", BUILT, ids=[name for _, name in BUILT])
def test_stock_sizes_are_thirty_seconds(folder, name, banks):
    question = banks[folder][name]
    lengths = {word for word in question.grids if question.unit(word) == "in"} - IN_THOUSANDTHS
    if name == "bending-inch":
        lengths.remove("face_width")  # handed out before, with faces in tenths
    for word in lengths:
        assert all(value * 32 == round(value * 32) for value in question.grids[word].values), word


def right_options(banks, folder, name):
    return [option.text for option in banks[folder][name].table.options if option.right]


def test_the_longest_set_screw_from_the_list(banks):
    room = (1 - 3 / 8) / 2 + 0.020
    lengths = {"1/4 in": 1 / 4, "5/16 in": 5 / 16, "3/8 in": 3 / 8, "1/2 in": 1 / 2}
    longest = max((length, text) for text, length in lengths.items() if length <= room)
    question = banks["11_hub_bore_key"]["screw-from-the-list-inch"]
    assert {option.text for option in question.table.options} == set(lengths)
    assert right_options(banks, "11_hub_bore_key", "screw-from-the-list-inch") == [longest[1]]


def test_the_drill_nearest_to_the_one_pitch_rule(banks):
    wanted = (0.060 + 0.013 * 10) - 1 / 24
    nearest = min(NUMBER_DRILLS, key=lambda drill: abs(NUMBER_DRILLS[drill] - wanted))
    question = banks["11_hub_bore_key"]["number-drill-inch"]
    assert [option.text for option in question.table.options] == [
        f"{drill}, {size:g} in" for drill, size in NUMBER_DRILLS.items()
    ]
    (right,) = right_options(banks, "11_hub_bore_key", "number-drill-inch")
    assert right.startswith(nearest + ",")


def test_the_lines_of_the_inch_sheet_that_fail(banks):
    root, wall = (18 - 2.5) / 12, (1.125 - 0.375) / 2
    broken = {
        "no undercut": 18 < 17.1,  # 2/sin^2 20 deg: common practice
        "centre distance": abs(2 + 11 / 16 - (18 + 45) / (2 * 12)) > 0.008,
        "hub below the root circle": (root - 1.125) / 2 < 1 / 16,
        "screw below the surface": wall < 7 / 16,
        "faces level": 0.020 > 1 / 32,
    }
    question = banks["18_design_review"]["which-lines-fail-inch"]
    assert {option.text: option.right for option in question.table.options} == broken


def test_the_formula_with_the_diametral_pitch_is_accepted(banks):
    question = banks["16_choosing_tooth_counts"]["pair-for-a-plate-formula-inch"]
    draw = question.draw(seed="formula")
    (answer,) = question.answers
    for text in ("2 C P / (1 + i)", "2 C P / (i + 1)"):
        assert question.judge(draw, {answer.id: text})[answer.id].right, text
    assert not question.judge(draw, {answer.id: "2 C / (P (1 + i))"})[answer.id].right


def test_a_hunting_pair_of_the_trade_meets_every_condition(banks):
    question = banks["16_choosing_tooth_counts"]["design-a-hunting-pair-inch"]
    for number in range(12):
        draw = question.draw(seed="design", number=number)
        wanted = draw.values["wanted_ratio"]
        good = [
            (one, total - one)
            for total in (63, 64, 65)  # (N1 + N2)/20 from 3.125 to 3.275 in
            for one in range(18, 40)
            if math.gcd(one, total) == 1 and abs((total - one) / one / wanted - 1) <= 0.06
        ]
        assert good
        for one, other in good:
            verdicts = question.judge(draw, {"driver_teeth": str(one), "driven_teeth": str(other)})
            assert all(verdict.right for verdict in verdicts.values()), (one, other, wanted)


def test_a_drive_to_the_inch_brief_by_a_rule_and_a_pencil(banks):
    question = banks["18_design_review"]["design-brief-inch"]
    draw = question.draw(seed="design")
    wheel = math.floor(19 * draw.values["wanted_ratio"] + 0.5)
    along = 5 / 16 + 1 / 4 + 3 / 32 + 15 / 16 + 1 / 8
    chosen = {
        "driver_teeth": 19,
        "driven_teeth": wheel,
        "hole_spacing": (19 + wheel) / 24,
        "plate_length": 7,
        "shaft_length": math.ceil(along * 4) / 4,
        "screw_length": math.floor(((7 / 8 - 3 / 8) / 2 + 0.020) * 16) / 16,
    }
    verdicts = question.judge(draw, {name: f"{value:.6g}" for name, value in chosen.items()})
    assert all(verdict.right for verdict in verdicts.values()), verdicts
    for field, value, fails in (
        ("shaft_length", 1.5, "shaft"),
        ("screw_length", 0.375, "screw"),
        ("plate_length", 8, "plate"),
        ("hole_spacing", (19 + wheel) / 24 + 0.02, "spacing"),
    ):
        verdicts = question.judge(draw, {n: f"{v:.6g}" for n, v in (chosen | {field: value}).items()})
        assert not verdicts[fails].right, fails
