"""What only numbers settle: the row of the tooth system, the right one of two roots, the way gears turn."""

import math
import re

import numpy as np
import pytest
import sympy as sp

from gearlab import Gear, InternalGear, Mesh, derive
from gearlab.theory import settled, system
from gearlab.theory.relations import ALL

# -- the row of the tooth system -----------------------------------------------------------------------
# ANSI B6.1-1932 (withdrawn), 14.5 degree full depth: dedendum 1.157/P. By hand for 20 teeth, P = 10: (20 - 2 * 1.157)/10; at 20 degrees (20 - 2.5)/10.  # noqa: E501
ROOTS = {14.5: 1.7686, 20.0: 1.75, 25.0: 1.75}


@pytest.mark.parametrize("angle", ROOTS)
def test_the_pressure_angle_put_in_chooses_the_row(angle):
    way = derive("root_diameter", ["N", "P", "pressure_angle"])
    assert way.value(N=20, P=10, pressure_angle=angle) == pytest.approx(ROOTS[angle], abs=1e-12)
    assert derive("root_diameter", {"N": 20, "P": 10, "pressure_angle": angle}).result == pytest.approx(
        ROOTS[angle], abs=1e-12
    )


def test_arrays_of_pressure_angles_choose_row_by_row():
    way = derive("root_diameter", ["N", "P", "pressure_angle"])
    assert way.value(N=20, P=10, pressure_angle=list(ROOTS)) == pytest.approx(list(ROOTS.values()), abs=1e-12)
    grid = way.value(N=np.array([[20], [30]]), P=10, pressure_angle=np.array([14.5, 20.0]))
    assert grid == pytest.approx(np.array([[1.7686, 1.75], [2.7686, 2.75]]), abs=1e-12)


def test_a_tip_radius_that_grows_smaller_with_the_angle_is_followed():
    """By hand: the rack generates undercut below 2 (dedendum - tip radius (1 - sin)) / sin^2 teeth.

    The tip radius is at most the full round of the rack.
    """
    angles = np.array([14.5, 20.0, 25.0, 28.0, 31.0])

    def by_hand(angle):
        phi = math.radians(angle)
        rows = {14.5: (1.157, 0.209), 25.0: (1.25, 0.30)}
        dedendum, radius = rows.get(
            angle,
            (1.25, min(0.38, (math.pi / 4 - 1.25 * math.tan(phi)) * math.cos(phi) / (1 - math.sin(phi)))),
        )
        return 2 * (dedendum - radius * (1 - math.sin(phi))) / math.sin(phi) ** 2

    assert derive("least_teeth", ["pressure_angle"]).value(pressure_angle=angles) == pytest.approx(
        [by_hand(angle) for angle in angles], rel=1e-12
    )


def test_a_pressure_angle_that_follows_from_the_givens_chooses_too():
    base = 2.0 * math.cos(math.radians(14.5))
    way = derive("root_diameter", ["base_diameter", "N", "P"])
    assert way.value(base_diameter=base, N=20, P=10) == pytest.approx(1.7686, abs=1e-12)
    assert derive("root_diameter", {"base_diameter": base, "N": 20, "P": 10}).result == pytest.approx(
        1.7686, abs=1e-12
    )
    # 14.49 degrees, rounded
    assert derive(
        "root_diameter", {"base_diameter": round(base, 3), "N": 20, "P": 10}
    ).result == pytest.approx(1.7686, abs=1e-12)
    assert way.value(base_diameter=[base, 2.0 * math.cos(math.radians(20))], N=20, P=10) == pytest.approx(
        [1.7686, 1.75], abs=1e-12
    )


def test_a_row_that_was_chosen_stays_and_an_angle_without_a_row_is_refused():
    assert derive("root_diameter", ["N", "P", "phi"], tooth_system=system("full depth", 20)).value(
        N=20, P=10, phi=14.5
    ) == pytest.approx(1.75)
    with pytest.raises(ValueError, match="defined at 20 deg only"):
        derive("root_diameter", ["N", "P", "phi"], tooth_system="stub").value(N=20, P=10, phi=14.5)
    # The base circle knows no row, so no row is asked for.
    assert derive("base_diameter", ["N", "P", "phi"]).value(N=20, P=10, phi=40) == pytest.approx(
        2 * math.cos(math.radians(40))
    )


def test_which_formulas_have_a_proportion_in_them_is_seen():
    words = {relation.left: settled._words(relation) for relation in ALL}
    assert (
        "dedendum_factor" in words["dedendum"]
        and "rack_tip_radius" in words["form_radius"]
        and not words["pitch_diameter"] & settled.OF_A_ROW.keys()
    )


# -- which of two roots --------------------------------------------------------------------------------
def test_two_answers_that_both_hold_are_both_told():
    # By hand: contributions 1, 2, 3 add up to 6 and, squared, to 14. Given one of 3, the other two may be 1
    # and 2 or 2 and 1.
    way = derive(
        "contribution_2",
        ["worst_case", "likely_variation", "contribution_3"],
        kind="workshop",
        length_unit="mm",
    )
    numbers = {"worst_case": 6.0, "likely_variation": math.sqrt(14), "contribution_3": 3.0}
    with pytest.raises(ValueError, match="more than one answer") as caught:
        way.value(**numbers)
    assert "1 and 2" in str(caught.value) and "give one more quantity" in str(caught.value)
    with pytest.raises(ValueError, match="more than one answer"):
        derive("contribution_2", numbers, kind="workshop", length_unit="mm")
    assert np.isnan(way.value(**{word: [number] for word, number in numbers.items()})).all()


def test_a_root_that_makes_no_sense_is_no_answer():
    # By hand: contributions that add up to 5 and, squared, to 26 would be (5 +- sqrt 27)/2: one of them is
    # below 0 either way.
    numbers = {"worst_case": 8.0, "likely_variation": math.sqrt(35), "contribution_3": 3.0}
    with pytest.raises(ValueError, match="no such gears"):
        derive("contribution_2", numbers, kind="workshop", length_unit="mm")


def test_a_negative_number_on_the_way_is_no_gear():
    # By hand: a driver of 2 in at a centre distance of 0.5 in leaves the driven gear a diameter of -1 in.
    with pytest.raises(ValueError, match="below zero"):
        derive(
            "driven_outside_diameter",
            {"driver_pitch_diameter": 2.0, "centre_distance": 0.5, "diametral_pitch": 1},
        )


def test_a_division_by_zero_is_no_number_of_an_array():
    # An idler train of ratio 1: both distances are equal then, and leave the idler any size.
    givens = ["first_teeth", "train_ratio", "first_centre_distance", "second_centre_distance"]
    way = derive("second_pitch_diameter", givens, kind="idler train", length_unit="mm")
    assert np.isnan(
        way.value(first_teeth=20, train_ratio=[1.0], first_centre_distance=50.0, second_centre_distance=50.0)
    ).all()
    # By hand: 20, 30 and 40 teeth of module 2 stand 50 and 70 mm apart.
    assert way.value(
        first_teeth=20, train_ratio=[2.0], first_centre_distance=50.0, second_centre_distance=70.0
    ) == pytest.approx([60.0])


# -- the way gears turn --------------------------------------------------------------------------------
OPPOSITE, SAME, SHAFT = (
    "two external gears turn opposite ways",
    "a gear and the ring around it turn the same way",
    "two gears on one shaft turn the same way",
)


@pytest.mark.parametrize(
    ("asked", "numbers", "kind", "said"),
    [
        ("driven_teeth", {"driver_teeth": 18, "driver_speed": 15, "driven_speed": 6}, "pair", OPPOSITE),
        ("ratio", {"driver_speed": 15, "driven_speed": 6}, "pair", OPPOSITE),
        ("ratio", {"driver_turns": -2, "driven_angle": -30}, "pair", OPPOSITE),
        # would come out as 0.5 in
        (
            "centre_distance",
            {"driver_pitch_diameter": "2 in", "driver_speed": 15, "driven_speed": 30},
            "pair",
            OPPOSITE,
        ),
        (
            "driver_pitch_diameter",
            {"driver_teeth": 18, "driven_teeth": 45, "module": 2.5, "driver_speed": 15, "driven_speed": 6},
            "pair",
            OPPOSITE,
        ),
        ("ratio", {"driver_speed": 15, "driven_speed": -6}, "internal pair", SAME),
        (
            "third_teeth",
            {"first_teeth": 18, "first_speed": 15, "third_speed": -6},
            "idler train",
            "after two meshes",
        ),
        ("second_teeth", {"first_teeth": 18, "first_speed": 15, "second_speed": 6}, "idler train", OPPOSITE),
        ("train_ratio", {"first_speed": 15, "fourth_speed": -6}, "compound train", "after two meshes"),
        (
            "train_ratio",
            {"first_speed": 18, "second_speed": -5, "third_speed": 5, "fourth_speed": 2},
            "compound train",
            SHAFT,
        ),
    ],
)
def test_a_speed_against_the_mesh_is_told_why(asked, numbers, kind, said):
    with pytest.raises(ValueError, match=re.escape(said)) as caught:
        derive(asked, numbers, kind=kind)
    text = str(caught.value)
    assert text.count(said) == 1 and "counter-clockwise is positive" in text


def test_speeds_that_go_with_the_mesh_pass():
    assert derive("ratio", {"driver_speed": 15, "driven_speed": -6}).result == 2.5
    assert derive("ratio", {"driver_speed": 15, "driven_speed": 6}, kind="internal pair").result == 2.5
    assert derive(
        "third_teeth", {"first_teeth": 18, "first_speed": 15, "third_speed": 6}, kind="idler train"
    ).result == pytest.approx(45)
    assert derive("driven_turns", {"driver_turns": 0, "ratio": 2}).result == 0


def test_values_and_parts_are_told_too():
    way = derive("ratio", ["driver_speed", "driven_speed"])
    with pytest.raises(ValueError, match=OPPOSITE):
        way.value(driver_speed=15, driven_speed=6)
    assert np.isnan(way.value(driver_speed=15, driven_speed=[-6, 6, -3])).tolist() == [False, True, False]
    # A negative pitch diameter on the way would make a centre distance that looks sound.
    middle = derive(
        "centre_distance", ["driver_pitch_diameter", "driver_speed", "driven_speed"], length_unit="in"
    )
    assert np.isnan(
        middle.value(driver_pitch_diameter=2.0, driver_speed=15.0, driven_speed=[30.0, -30.0])
    ).tolist() == [True, False]
    with pytest.raises(ValueError, match=OPPOSITE):
        Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).explain("duration", driver_speed=15, driven_turns=6)
    with pytest.raises(ValueError, match=SAME):
        Mesh(Gear(18, module=2.5), InternalGear(72, module=2.5, tip_shortening=0.75)).explain(
            "duration", driver_speed=15, driven_turns=-6
        )


# -- forms as they are taught --------------------------------------------------------------------------
@pytest.mark.parametrize(
    "asked", ["driver_cone_outside_diameter", "driver_virtual_teeth", "driver_mean_diameter"]
)
def test_a_cone_angle_found_on_the_way_keeps_its_letter(asked):
    way = derive(
        asked, ["module", "driver_teeth", "driven_teeth", "face_width"], kind="bevel pair", notation="iso"
    )
    for text, root in ((way.text(), "sqrt"), (way.markdown(), r"\sqrt"), (way.mathml(), "msqrt")):
        assert root not in text
    assert "δ_1" in way.lines("text")[-1].math
    numbers = {"module": 2.5, "driver_teeth": 20.0, "driven_teeth": 30.0, "face_width": 12.0}
    delta = math.atan2(20, 30)
    expected = {
        "driver_cone_outside_diameter": 2.5 * (20 + 2 * math.cos(delta)),
        "driver_virtual_teeth": 20 / math.cos(delta),
        "driver_mean_diameter": 50 - 12 * math.sin(delta),
    }[asked]
    assert way.value(**numbers) == pytest.approx(expected)  # the closed form is in the givens still
    put = {
        sp.Symbol(one.name, positive=True): value
        for one, value in ((s, numbers.get(s.name, delta)) for s in way.told.free_symbols)
    }
    assert float(way.told.subs(put)) == pytest.approx(expected)


def test_what_is_plain_in_the_givens_stays_plain():
    way = derive(
        "driver_apex_distance", ["module", "driver_teeth", "driven_teeth"], kind="bevel pair", notation="iso"
    )
    assert str(way.formula) == "m*z2/2" and "cos" not in way.lines("text")[-1].math


@pytest.mark.parametrize("numbers", [True, False])
def test_the_factor_of_an_odd_count_is_said_in_words(numbers):
    givens = {"teeth": 19, "module": 2.5, "pressure_angle": 20, "pin_diameter": 4.5}
    way = derive("over_pins", givens if numbers else list(givens))
    for text in (way.text(), way.mathml(), way.markdown()):
        assert "for an odd count, 1 for an even one" in text and "odd factor" not in text
        assert re.search(r"90(°|\^\\circ).{0,40} for an odd count", text)


def test_no_cotangent_is_left():
    way = derive(
        "driver_base_radius",
        [
            "action_angle_to_centres",
            "driver_interference_margin",
            "driven_outside_radius",
            "driven_base_radius",
        ],
    )
    assert not re.search(r"(?<![a-z])(cot|sec|csc)(?![a-z])", way.text() + way.markdown() + way.mathml())
    by_tangent = derive("separating_force", ["action_angle_to_centres", "tangential_force"], length_unit="mm")
    # By hand: at 70 degrees to the line of centres the pressure angle is 20, and 100 tan 20 = 36.397.
    assert by_tangent.value(action_angle_to_centres=70.0, tangential_force=100.0) == pytest.approx(
        36.397, abs=1e-3
    )
    assert by_tangent.value(action_angle_to_centres=[70.0], tangential_force=100.0)[0] == pytest.approx(
        36.397, abs=1e-3
    )
