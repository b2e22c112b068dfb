"""``derive`` as a lesson asks it: one notation and unit, kind and features found from the words."""

import ast
import json
from pathlib import Path

import pytest

from gearlab import Gear, derive
from gearlab.theory import derive as plain
from gearlab.theory.kinds import place_of
from gearlab.theory.systems import system

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
SAYS_A_FACT = {"reverted"}


def _constant(node):
    try:
        return ast.literal_eval(node)
    except ValueError:
        return None


def _calls():
    """Every call of derive in a lesson whose words stand there: asked, words given, other arguments."""
    for path in NOTEBOOKS:
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] != "code":
                continue
            for node in ast.walk(ast.parse("".join(cell["source"]))):
                if not (isinstance(node, ast.Call) and getattr(node.func, "id", "") == "derive"):
                    continue
                keywords = {word.arg: word.value for word in node.keywords}
                given = node.args[1] if len(node.args) > 1 else keywords.pop("given")
                words = (
                    [_constant(key) for key in given.keys]
                    if isinstance(given, ast.Dict)
                    else _constant(given)
                )
                if words is not None:
                    yield (
                        path.name,
                        _constant(node.args[0]),
                        words,
                        {k: _constant(v) for k, v in keywords.items()},
                    )


def test_no_call_of_a_lesson_needs_kind_features_or_unit():
    calls = list(_calls())
    assert len(calls) > 80
    for name, asked, words, others in calls:
        facts = SAYS_A_FACT & {*words, *(others.get("features") or ())}
        short = {
            key: value for key, value in others.items() if key not in ("kind", "features", "length_unit")
        }
        words = [word for word in words if word not in SAYS_A_FACT]
        told = derive.using(lengths=others.get("length_unit") or "mm")(asked, [*words, *facts], **short)
        others.pop("one_by_one", None)  # how it is shown
        features = tuple({*facts, *(others.get("features") or ())})
        full = plain(asked, words, **others | {"length_unit": told.scope.length_unit, "features": features})
        assert told.tidy == full.tidy, (name, asked)


def test_one_notation_and_unit_are_chosen_once_and_nothing_else_changes():
    mine = derive.using(notation="iso", lengths="mm")
    assert str(mine("centre_distance", ["driver_teeth", "driven_teeth", "module"]).formula) == "m*(z1 + z2)/2"
    assert str(mine("a", ["z1", "z2", "m"]).formula) == "m*(z1 + z2)/2"
    assert str(derive("C", ["N1", "N2", "P"]).formula) == "(N1 + N2)/(2*P)"
    with pytest.raises(AttributeError):
        mine.notation = "inch"
    with pytest.raises(ValueError, match="notation"):
        derive.using(notation="din")
    with pytest.raises(ValueError, match="cm"):
        derive.using(lengths="cm")


@pytest.mark.parametrize(
    ("given", "result", "unit"),
    [
        ({"tangential_force": 86}, 31.3014, "N"),  # 86 tan 20, by a table of tangents: 0.36397
        ({"tangential_force": "146.09 lbf"}, 53.17, "lbf"),  # Wentzell, Example 12.1, p. 254
        ({"tangential_force": "10 N"}, 3.6397, "N"),
    ],
)
def test_the_unit_of_a_notebook_settles_what_nothing_else_does(given, result, unit):
    way = derive.using(lengths="mm")("separating_force", given | {"pressure_angle": 20})
    assert abs(way.result - result) < 0.005 and way.unit == unit


def test_the_tooth_size_goes_before_the_unit_of_the_notebook():
    mine = derive.using(lengths="mm")
    assert (
        mine("centre_distance", {"driver_teeth": 18, "driven_teeth": 45, "diametral_pitch": 10}).result
        == 3.15
    )
    assert (
        mine("face_height", ["axial_gap", "overall_length", "face_width"]).value(
            axial_gap=1.5, overall_length=27, face_width=14
        )
        == 21.5
    )  # 1.5 + 27 - 14/2


def test_a_fact_stands_among_the_givens():
    counts = ["first_teeth", "second_teeth", "third_teeth"]
    with pytest.raises(ValueError, match="also needs"):
        derive("fourth_teeth", counts)
    fourth = derive("fourth_teeth", [*counts, "reverted"])
    # back on the first axis: 12 + 72 = 21 + 63 (R. L. Norton, Machine Design, a reverted train of ratio 18)
    assert fourth.value(first_teeth=12, second_teeth=72, third_teeth=21) == 63
    assert (
        derive("fourth_teeth", dict(zip(counts, (12, 72, 21), strict=True)) | {"reverted": True}).result == 63
    )
    with pytest.raises(ValueError, match="'reverted': True"):
        derive("fourth_teeth", dict(zip(counts, (12, 72, 21), strict=True)) | {"reverted": 1})
    ring = derive("centre_distance", ["driver_teeth", "driven_teeth", "module", "internal pair"])
    assert ring.value(driver_teeth=18, driven_teeth=72, module=2) == 54  # (72 - 18) 2 / 2
    with pytest.raises(ValueError, match="feature 'reverted' is none of a gear"):
        derive("pitch_diameter", ["teeth", "module", "reverted"])


def test_words_that_exist_beyond_the_plain_case_find_it():
    assert derive("distance_opening", ["quick_backlash", "pressure_angle"]).scope.features == {"set distance"}
    assert "profile_shift" in derive("outside_diameter", ["teeth", "module", "profile_shift"]).scope.features
    with pytest.raises(ValueError, match="several ways.*among the givens"):
        words = frozenset({"operating_pressure_angle", "driver_teeth"})
        formulas = iter(range(9))
        place_of(words, "mm", system("full depth", 20.0), "", frozenset(), lambda kind, more: next(formulas))


def test_a_part_explains_itself_in_the_notation_chosen():
    gear = Gear(18, module=2.5)
    assert derive.using(notation="inch").explain(gear, "d").lines("text")[0].math.startswith("d = m·N")
    assert derive.using(notation="iso").explain(gear, "d").lines("text")[0].math.startswith("d = m·z")


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: derive(), 'derive("centre_distance", given=['),
        (lambda: derive("C"), 'given={"module": 2.5'),
        (
            lambda: derive("ratio", driver_teeth=18, driven_teeth=45),
            '"driver_teeth": 18, "driven_teeth": 45})',
        ),
        (
            lambda: derive("C", {"P": 10}, N1=20, N2="40"),
            'derive("C", given={"P": 10, "N1": 20, "N2": \'40\'})',
        ),
        (lambda: derive("C", ["m", "N1", "N2"], onebyone=True), "has no 'onebyone': write one_by_one="),
        (lambda: derive("C", ["m", "N1", "N2"], colour=1), "has no 'colour': quantity 'colour' is unknown"),
    ],
)
def test_a_call_that_lacks_something_is_told_what_to_write(call, told):
    with pytest.raises(TypeError) as refused:
        call()
    assert told in str(refused.value)


def test_a_given_with_a_value_keeps_it():
    """a = m (z1 + z2)/2 and T = P/omega, by hand."""
    way = derive("a", {"m": 2, "z1": 20, "z2": 40}, notation="iso")
    assert way.value() == way.result == 60 and way.value(z2=50) == 70
    assert way.value(z2=[40, 50]).tolist() == [60, 70]
    assert derive("C", {"P": 10, "N1": 20, "N2": 40}).value(P="5/in") == 6
    shaft = derive("T", {"P_w": "2 kW", "n": "1500 rpm"})
    assert shaft.value(n="750 rpm") == pytest.approx(2 * shaft.result)
    with pytest.raises(ValueError, match="not one of the givens"):
        way.value(pressure_angle=20)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: derive(5, ["m"]), "quantity 5 is no word"),
        (lambda: derive("C", [5]), "quantity 5 is no word"),
        (lambda: derive("C", 5), "given = 5 holds no words"),
        (
            lambda: derive("a", {"m": 2, "z1": 20, "z2": 40}),
            "it is driver_teeth: write N1, or the word",
        ),
        (lambda: derive("d_a", ["N", "P"], notation="iso"), "it is teeth: write z"),
        (lambda: derive("bananas", ["N", "P"]), "lists the words"),
    ],
)
def test_a_name_that_is_none_is_told_what_it_may_be(call, told):
    """Symbols: m, z, d, a of ISO 21771 and P, N, d, C of AGMA (common practice)."""
    with pytest.raises(ValueError, match="quantity|given") as refused:
        call()
    assert told in str(refused.value)
