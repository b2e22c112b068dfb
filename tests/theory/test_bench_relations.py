"""Theory of trains and of the bench: numbers of the vent drive, worked out apart from theory.

The expected numbers were computed from closed forms written down independently (the teaching plan's answer
for each kind of question), with the numbers of the roof-vent drive; lengths in mm, forces in N, torques in N
m, times in s; the row with a diametral pitch in in, lbf, psi and ft/min.
"""

import pytest

from gearlab.theory import derive, system
from gearlab.theory.relations import ALL
from gearlab.theory.scope import scope_for

PLATE = {"plate_length": 220, "driver_teeth": 18, "driven_teeth": 45, "module": 2.5}
STACK = {"behind_plate": 8.5, "plate_thickness": 6, "axial_gap": 1.5, "overall_length": 25, "end_length": 3}
KEY = {"shaft_torque": 4, "bore_diameter": 12, "key_width": 4, "key_height": 4, "key_length": 12}
CONES = {"driver_teeth": 20, "driven_teeth": 30, "module": 2.5}
STEPPED = {
    "first_central_teeth": 20,
    "first_planet_teeth": 40,
    "last_planet_teeth": 16,
    "last_central_teeth": 76,
    "first_mesh_sign": -1,
    "last_mesh_sign": 1,
}
VENT = {"driver_teeth": 18, "driven_teeth": 45, "module": 2.5, "vent_pinion_teeth": 20, "rack_travel": 400}
HAND = {
    "driver_teeth": 18,
    "driven_teeth": 45,
    "module": 2.5,
    "vent_pinion_teeth": 20,
    "design_force": 150,
    "efficiency": 0.92,
    "meshes": 3,
    "crank_radius": 120,
}
GUST = {
    "gust_pressure": 150e-6,
    "panel_width": 1200,
    "panel_length": 600,
    "joint_distance": 560,
    "design_force": 150,
}


def row(asked, given, expected, **more):
    return pytest.param(asked, given, expected, more, id=asked)


@pytest.mark.parametrize(
    ("asked", "given", "expected", "more"),
    [
        row(
            "other_hole_x", {"hole_x": 53.75, "centre_distance": 78.75, "line_angle": 15}, 129.81665882026414
        ),
        row("other_hole_y", {"hole_y": 60, "centre_distance": 78.75, "line_angle": 15}, 80.38199980182351),
        row("hole_x", PLATE, 53.75),
        row("end_margin", PLATE, 28.75),
        row("material_left", {"edge_distance": 21.25, "hole_diameter": 10}, 16.25),
        row("material_ratio", {"edge_distance": 21.25, "hole_diameter": 10}, 1.625),
        row(
            "centre_distance",
            {"hole_x": 53.75, "hole_y": 60, "other_hole_x": 129.82, "other_hole_y": 80.38},
            78.7527097946477,
            kind="plate",
        ),
        row("print_scale", {"check_line": 100, "check_line_measured": 97}, 1.0309278350515464),
        row("plate_length", {"end_margin": 12, "driver_teeth": 18, "driven_teeth": 45, "module": 2.5}, 186.5),
        row("hub_projection", {"overall_length": 25, "face_width": 12}, 13),
        row("shaft_length", STACK, 44),
        row("stock_length", {**STACK, "stock_step": 5}, 45),
        row("face_height", {"axial_gap": 1.5, "overall_length": 25, "face_width": 12}, 20.5),
        row(
            "other_gap",
            {
                "axial_gap": 1.5,
                "overall_length": 27,
                "face_width": 14,
                "other_overall_length": 25,
                "other_face_width": 11,
            },
            2,
        ),
        row(
            "overhung_moment",
            {"shaft_force": 91, "axial_gap": 1.5, "overall_length": 25, "face_width": 12},
            1.8655,
        ),
        row("moment_drop", {"axial_gap": 1.5, "overall_length": 25, "face_width": 12}, 0.6341463414634146),
        row("hub_wall", {"hub_diameter": 28, "bore_diameter": 10}, 9),
        row("largest_hub", {"teeth": 18, "module": 2.5, "hub_room": 2}, 34.75),
        row("wall_over_keyway", {"hub_diameter": 28, "bore_diameter": 12, "keyway_depth": 1.8}, 6.2),
        row(
            "rim_over_keyway", {"teeth": 18, "module": 2.5, "bore_diameter": 12, "keyway_depth": 1.8}, 11.575
        ),
        row(
            "rim_ratio",
            {"teeth": 18, "module": 2.5, "bore_diameter": 12, "keyway_depth": 1.8},
            2.0577777777777775,
        ),
        row("greatest_drill_depth", {"hub_diameter": 28, "bore_diameter": 10}, 19),
        row("screw_room", {"hub_diameter": 28, "bore_diameter": 10, "flat_depth": 0.5}, 9.5),
        row("tap_drill", {"screw_diameter": 5, "screw_pitch": 0.8}, 4.2),
        row("tapped_depth", {"thread_length": 9, "runout_pitches": 4, "screw_pitch": 0.8}, 12.2),
        row("key_force", KEY, 666.6666666666666),
        row("key_shear", KEY, 13.88888888888889),
        row("key_bearing", KEY, 27.77777777777778),
        row("holding_torque", {"holding_force": 1200, "bore_diameter": 10}, 6),
        row("holding_safety", {"holding_force": 1200, "bore_diameter": 10, "shaft_torque": 3}, 2),
        row("chuck_reach", {"teeth": 45, "module": 2.5, "hub_diameter": 32, "drill_depth": 13}, 55.75 - 0.0),
        row(
            "driven_torque",
            {"driver_torque": 1.9, "driver_teeth": 18, "driven_teeth": 45, "efficiency": 0.95},
            4.5125,
        ),
        row("driver_torque", {"power": 3, "driver_speed": 15}, 1.9098593171027443),
        row(
            "tangential_force",
            {"driver_torque": 1.9, "driver_teeth": 18, "module": 2.5},
            84.44444444444444,
            kind="load",
        ),
        row(
            "separating_force",
            {"power": 3, "driver_speed": 15, "driver_teeth": 18, "module": 2.5, "pressure_angle": 20},
            30.89475302495,
            kind="load",
        ),
        row(
            "bending_stress",
            {"tangential_force": 86, "face_width": 12, "module": 2.5, "form_factor": 0.309},
            9.277238403451996,
        ),
        row(
            "stress_with_speed",
            {
                "tangential_force": 17,
                "face_width": 0.5,
                "diametral_pitch": 10,
                "form_factor": 0.309,
                "pitch_speed": 120,
                "speed_constant": 1200,
            },
            1210.3559870550162,
        ),
        row(
            "utilisation",
            {
                "driver_torque": 10,
                "driver_teeth": 18,
                "module": 2.5,
                "face_width": 12,
                "form_factor": 0.309,
                "allowable_stress": 20,
            },
            2.39721922569819,
        ),
        row("stress_change", {"size_factor": 1.25}, 0.64),
        row("travel_per_turn", {"teeth": 20, "module": 2.5}, 157.07963267948966),
        row("turns", {"travel": 400, "teeth": 20, "module": 2.5}, 2.5464790894703255),
        row("rack_speed", {"teeth": 20, "module": 2.5, "speed": 6}, 0.015707963267948966),
        row("rack_force", {"pinion_torque": 3.75, "teeth": 20, "module": 2.5}, 150),
        row(
            "rack_separating_force",
            {"pinion_torque": 3.75, "teeth": 20, "module": 2.5, "pressure_angle": 20},
            54.59553513993035,
        ),
        row("mounting_height", {"rack_pitch_height": 12.5, "teeth": 20, "module": 2.5}, 37.5),
        row("rack_teeth", {"travel": 400, "spare_teeth": 3, "module": 2.5}, 54),
        row("toothed_length", {"travel": 400, "spare_teeth": 3, "module": 2.5}, 424.11500823462205),
        row("double_travel", {"turns": 2, "teeth": 20, "module": 2.5}, 628.3185307179587),
        row("travel", {"angle": 90, "teeth": 20, "module": 2.5}, 39.269908169872416),
        row("driver_cone_angle", {"driver_teeth": 20, "driven_teeth": 30}, 33.690067525979785),
        row("driven_cone_angle", {"driver_teeth": 20, "driven_teeth": 30}, 56.309932474020215),
        row("cone_distance", CONES, 45.069390943299865),
        row("largest_face", CONES, 15.023130314433288),
        row(
            "driver_cone_outside_diameter",
            {"driver_teeth": 20, "driven_teeth": 20, "module": 2.5},
            53.53553390593274,
        ),
        row("driver_apex_distance", CONES, 37.5),
        row("driven_apex_distance", CONES, 25),
        row(
            "driver_thrust",
            {"mean_force": 80, "pressure_angle": 20, "driver_cone_angle": 33.5},
            16.071090707536904,
        ),
        row(
            "driver_cone_radial_force",
            {"mean_force": 80, "pressure_angle": 20, "driver_cone_angle": 33.5},
            24.280769440724153,
        ),
        row("output_speed", {"driver_teeth": 20, "driven_teeth": 20, "driver_speed": 6}, 6),
        row("ring_teeth", {"sun_teeth": 24, "planet_teeth": 18}, 60),
        row("reduction", {"sun_teeth": 24, "ring_teeth": 60}, 3.5),
        row(
            "carrier_speed", {"sun_teeth": 24, "ring_teeth": 60, "sun_speed": 35}, 10, features=("ring held",)
        ),
        row(
            "planet_speed",
            {"ring_teeth": 60, "planet_teeth": 18, "carrier_speed": 10},
            -23.333333333333336,
            features=("ring held",),
        ),
        row("carrier_torque", {"sun_torque": 1.5, "sun_teeth": 24, "ring_teeth": 60}, 5.25),
        row("ring_torque", {"sun_torque": 1.5, "sun_teeth": 24, "ring_teeth": 60}, 3.75),
        row("assembly_remainder", {"sun_teeth": 24, "ring_teeth": 60, "planets": 3}, 0),
        row(
            "planet_spacing",
            {"planets": 3, "sun_teeth": 24, "planet_teeth": 18, "module": 2.5},
            90.93266739736605,
        ),
        row(
            "planet_gap",
            {"planets": 3, "sun_teeth": 24, "planet_teeth": 18, "module": 2.5},
            40.932667397366046,
        ),
        row("train_value", STEPPED, -2 / 19),
        row("carrier_speed", {**STEPPED, "first_central_speed": 21, "last_central_speed": 0}, 2),
        row("last_central_speed", {**STEPPED, "first_central_speed": 0, "carrier_speed": 19}, 21),
        row(
            "planet_speed",
            {**STEPPED, "first_central_speed": 21, "carrier_speed": 2},
            -7.5,
            kind="epicyclic train",
        ),
        row(
            "train_value",
            {
                "first_central_teeth": 24,
                "first_planet_teeth": 20,
                "inner_planet_teeth": 20,
                "outer_planet_teeth": 23,
                "last_planet_teeth": 23,
                "last_central_teeth": 76,
                "first_mesh_sign": -1,
                "planet_mesh_sign": -1,
                "last_mesh_sign": 1,
            },
            24 / 76,
            features=("double planets",),
        ),
        row("last_outer_torque", {**STEPPED, "first_outer_torque": 1.5}, 14.25, length_unit="mm"),
        row("carrier_outer_torque", {**STEPPED, "first_outer_torque": 1.5}, -15.75, length_unit="mm"),
        row(
            "carrier_radius",
            {**STEPPED, "first_mesh_module": 1.5},
            45,
            kind="epicyclic train",
            length_unit="mm",
        ),
        row(
            "last_central_teeth",
            {word: STEPPED[word] for word in STEPPED if word != "last_central_teeth"}
            | {"first_mesh_module": 1.5, "last_mesh_module": 1.5},
            76,
            features=("coaxial",),
            length_unit="mm",
        ),
        row(
            "planet_gap",
            {"carrier_radius": 45, "planets": 3, "largest_planet_diameter": 63},
            45 * 3**0.5 - 63,
            kind="epicyclic train",
            length_unit="mm",
        ),
        row("equal_spacing_number", STEPPED, 420),
        row("equal_spacing_remainder", {**STEPPED, "planets": 8}, 4),
        row("rule_key_width", {"bore_diameter": 12}, 3, kind="key", length_unit="mm"),
        row("rule_square_height", {"bore_diameter": 12}, 3, length_unit="mm"),
        row("rule_flat_height", {"bore_diameter": 12}, 2, length_unit="mm"),
        row("half_key_depth", {"key_height": 5}, 2.5, length_unit="mm"),
        row("rule_key_length", {"bore_diameter": 12}, 18, length_unit="mm"),
        row("shaft_over_keyway", {"bore_diameter": 12, "shaft_keyway_depth": 2.5}, 9.5, length_unit="mm"),
        row("bore_over_keyway", {"bore_diameter": 12, "keyway_depth": 1.8}, 13.8, length_unit="mm"),
        row("crank_turns", VENT, 6.366197723675814),
        row("opening_time", {**VENT, "crank_speed": 15}, 25.464790894703256),
        row("vent_torque", HAND, 3.75),
        row("crank_torque", HAND, 1.92631708720309),
        row("hand_force", HAND, 16.052642393359086),
        row("opening_angle", {"rack_travel": 400, "joint_distance": 560}, 41.849664855276636),
        row("hinge_moment", GUST, 32.4),
        row("gust_force", GUST, 57.85714285714285),
        row("gust_factor", GUST, 0.3857142857142856),
        row(
            "idler_angle",
            {"first_teeth": 18, "second_teeth": 24, "third_teeth": 45, "module": 2.5, "shaft_spacing": 110},
            50.04537564291964,
        ),
    ],
)
def test_numbers_of_the_vent_drive(asked, given, expected, more):
    settled = {} if "diametral_pitch" in given else {"length_unit": "mm"}
    assert derive(asked, given, **settled | more).result == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    "word",
    [
        "bending_stress",
        "stress_with_speed",
        "utilisation",
        "shaft_shear",
        "key_shear",
        "key_bearing",
        "holding_torque",
    ],
)
def test_a_strength_number_is_labelled_in_its_derivation(word):
    relation = next(one for one in ALL if one.left == word)
    assert relation.says.endswith("An estimate for teaching.")
    shown = derive(
        word,
        [
            symbol.name
            for symbol in (
                scope_for(relation.of, "mm", (system(),) * (2 if relation.of == "load" else 1))
                .equation(word)
                .right.free_symbols
            )
        ],
        kind=relation.of,
    )
    assert "An estimate for teaching." in shown.markdown()


@pytest.mark.parametrize("word", ["pitch_line_speed", "pitch_speed"])
def test_power_is_force_times_pitch_line_speed(word):
    """33,000 foot-pounds a minute are a horsepower (J. Watt), a newton metre a second a watt; of gears:
    R. L. Mott, Machine Elements in Mechanical Design, section 9-3, Wt = 33 000 P / vt (from memory)."""
    inch, metric = {word: "750 ft/min"}, {word: "4.5 m/s"}
    assert derive("power", {"tangential_force": "440 lbf"} | inch).result == pytest.approx(10)
    assert derive("power", {"tangential_force": "400 N"} | metric).result == pytest.approx(1800)
    assert derive("tangential_force", {"power": "10 hp"} | inch).result == pytest.approx(440)
    assert derive("tangential_force", {"power": "1.8 kW"} | metric).result == pytest.approx(400)
    assert derive(word, {"power": "10 hp", "tangential_force": "440 lbf"}).result == pytest.approx(750)
    # 20 teeth, P = 8, 1150 rpm: d = 2.5 in, v = pi 2.5 1150 / 12 ft/min; T = F d / 2
    pinion = {"driver_teeth": 20, "diametral_pitch": 8}
    speed = 3.141592653589793 * 2.5 * 1150 / 12
    assert derive(word, pinion | {"driver_speed": 1150}, kind="load").result == pytest.approx(speed)
    torque = derive("driver_torque", pinion | {"power": 5, word: f"{speed} ft/min"}).result
    assert torque == pytest.approx(33000 * 5 / speed * 1.25)
    with pytest.raises(ValueError, match="contradict"):
        derive("power", {"tangential_force": "440 lbf", "driver_torque": "10 lbf in"} | pinion | inch)


def test_power_at_a_rack():
    """Force times speed and torque times angular speed, by hand: 1000 N at 0.5 m/s are 500 W; 1 hp is 33,000
    foot-pounds a minute; 5 N m at 10 rad/s are 50 W, and 250 N at a pitch radius of 20 mm."""
    assert derive("power", {"rack_force": "1 kN", "rack_speed": "0.5 m/s"}).result == pytest.approx(500)
    one = derive("rack_force", {"power": "1 hp", "rack_speed": "33 ft/min"}, length_unit="in")
    assert one.result == pytest.approx(1000) and one.unit == "lbf"
    pinion = {"teeth": 20, "module": 2, "pinion_torque": "5 N m", "power": "50 W"}
    assert derive("rack_speed", pinion).result == pytest.approx(0.2)
    assert derive("speed", {"pinion_torque": "5 N m", "power": "50 W"}).result == pytest.approx(
        95.493, rel=1e-4
    )


def test_the_tooth_force_of_a_motor_is_taught_by_its_torque():
    """Power to torque to force (Mott, section 9-3), though power over pitch-line speed would be shorter."""
    way = derive(
        "tangential_force", {"power": "20 W", "driver_speed": 145, "driver_teeth": 18, "module": 2.5}
    )
    assert way.result == pytest.approx(20 / (145 / 60 * 2 * 3.141592653589793) / 0.0225)
    assert "driver_torque" in way.numbers and "pitch_line_speed" not in way.numbers
