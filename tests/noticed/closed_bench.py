"""Closed forms of workshop, plate, shaft, hub and load.

Places on a line, beams in layers, work, by hand where it is a sum.
"""

import math

from outside import closed_form, definition, expect
from plane import Pairing, Tooth


@closed_form(
    "outlines by places on a line: the beam led along the drawn line takes half its width on either side"
    " of it"
)
def what_the_beam_takes():
    left, right, half = 0 + 0.09, 3.9 - 0.09, 0.09
    expect("workshop", {"drawn_thickness": 3.9, "cut_width": 0.18}, {"cut_thickness": right - left})
    expect("workshop", {"drawn_bore": 10, "cut_width": 0.18}, {"cut_bore": (10 + half) - (0 - half)})
    expect("workshop", {"cut_width": 0.18}, {"backlash_from_cut": 2 * (3.9 - (right - left))})


def slope(angle, little=1e-4):
    """Backlash opened by each bit of the centre distance, from teeth laid side by side."""
    one, two = Tooth(30, 1, angle), Tooth(60, 1, angle)
    return (Pairing(one, two, 45 + 2 * little).backlash - Pairing(one, two, 45).backlash) / (2 * little)


@closed_form("backlash of two gears moved a little, by coordinates; distances and their errors on a line")
def distance_and_backlash():
    rise = slope(20)
    expect(
        "workshop",
        {"backlash_from_cut": 0.36, "wanted_backlash": 0.1, "profile_angle": 20},
        {"closing_distance": 0.26 / rise},
        rel=1e-4,
    )
    places = [(0 + a * 0.05, 78.75 + b * 0.05) for a in (-1, 1) for b in (-1, 1)]
    distances = [two - one for one, two in places]
    expect(
        "workshop",
        {"nominal_distance": 78.75, "hole_error": 0.05},
        {
            "largest_centre_distance": max(distances),
            "least_centre_distance": min(distances),
            "distance_variation": max(distances) - 78.75,
        },
    )
    expect(
        "workshop",
        {"design_backlash": 0.3, "distance_variation": 0.1, "profile_angle": 20},
        {"least_backlash": 0.3 - 0.1 * rise, "greatest_backlash": 0.3 + 0.1 * rise},
        rel=1e-4,
    )
    expect(
        "workshop",
        {"expansion": 70e-6, "nominal_distance": 78.75, "warming": 25},
        {"distance_growth": 78.75 * (1 + 70e-6 * 25) - 78.75},
    )
    expect(
        "workshop", {"distance_growth": 0.14, "profile_angle": 20}, {"growth_backlash": 0.14 * rise}, rel=1e-4
    )


@closed_form("ISO 286-1: every hole of the limits on every shaft of the limits, tried")
def clearances_of_a_fit():
    # 10 H7/f7, 10 G7/k6
    for holes, shafts in (((0.0, 0.015), (-0.028, -0.013)), ((0.005, 0.020), (0.001, 0.010))):
        plays = [hole - shaft for hole in holes for shaft in shafts]
        expect(
            "workshop",
            {
                "hole_upper": holes[1],
                "hole_lower": holes[0],
                "shaft_upper": shafts[1],
                "shaft_lower": shafts[0],
            },
            {"largest_clearance": max(plays), "least_clearance": min(plays)},
        )


@closed_form(
    "independent contributions: all signs tried for the worst; the spread of the sum of two-valued errors for"
    " the likely"
)
def adding_contributions():
    sums = [a * 0.03 + b * 0.04 + c * 0.12 for a in (-1, 1) for b in (-1, 1) for c in (-1, 1)]
    likely = math.sqrt(sum(one * one for one in sums) / len(sums))
    expect(
        "workshop",
        {"contribution_1": 0.03, "contribution_2": 0.04, "contribution_3": 0.12},
        {"worst_case": max(sums), "likely_variation": likely, "worst_over_likely": max(sums) / likely},
    )
    assert math.isclose(likely, 0.13)  # 3, 4 and 12 are sides of right triangles


@closed_form("two holes and the outlines of two gears on a plate, by coordinates")
def a_pair_on_a_plate():
    far = complex(53.75, 60) + 78.75 * complex(math.cos(math.radians(15)), math.sin(math.radians(15)))
    expect(
        "plate",
        {
            "hole_x": 53.75,
            "hole_y": 60,
            "driver_teeth": 18,
            "driven_teeth": 45,
            "module": 2.5,
            "line_angle": 15,
        },
        {"other_hole_x": far.real, "other_hole_y": far.imag},
    )
    expect(
        "plate",
        {"hole_x": 53.75, "hole_y": 60, "other_hole_x": far.real, "other_hole_y": far.imag},
        {"centre_distance": 78.75},
    )
    # The outline from the driver's tips to the driven gear's: what the plate has more, on both sides.
    left, right = -(22.5 + 2.5), 78.75 + 56.25 + 2.5
    margin = (220 - (right - left)) / 2
    expect(
        "plate",
        {"plate_length": 220, "driver_teeth": 18, "driven_teeth": 45, "module": 2.5},
        {"end_margin": margin, "hole_x": margin - left},
    )
    expect(
        "plate",
        {"edge_distance": 21.25, "hole_diameter": 10},
        {"material_left": 16.25, "material_ratio": 1.625},
    )


@definition("a print at scale k makes a line of 100 into 97: k times 97 over 100 is to be 1")
def scale_of_a_print():
    expect("plate", {"check_line": 100, "check_line_measured": 97}, {"print_scale": 100 / 97})


@closed_form("pieces laid one after another along the shaft, by their ends")
def along_the_shaft():
    plate = (0.0, 6.0)
    gear = (plate[1] + 1.5, plate[1] + 1.5 + 25)
    ends = (plate[0] - 8.5, gear[1] + 3)
    length = ends[1] - ends[0]
    expect(
        "stack",
        {"behind_plate": 8.5, "plate_thickness": 6, "axial_gap": 1.5, "overall_length": 25, "end_length": 3},
        {"shaft_length": length},
    )
    for long in (length, 49.5, 50.0):
        expect(
            "stack",
            {"shaft_length": long, "stock_step": 5},
            {"stock_length": next(stock for stock in range(0, 500, 5) if stock >= long)},
        )
    # where the face lies, hub towards the plate and hub outwards
    hub_first, face_first = (gear[1] - 12, gear[1]), (gear[0], gear[0] + 12)
    heights = [sum(face) / 2 - plate[1] for face in (hub_first, face_first)]
    given = {"axial_gap": 1.5, "overall_length": 25, "face_width": 12}
    expect(
        "stack",
        given,
        {
            "face_height": heights[0],
            "outward_face_height": heights[1],
            "hub_projection": hub_first[0] - gear[0],
            "moment_drop": 1 - heights[1] / heights[0],
        },
    )
    expect(
        "stack",
        given | {"other_overall_length": 21, "other_face_width": 10},
        {"other_gap": heights[0] - (21 - 10 + 5)},
    )
    expect("stack", given | {"shaft_force": 91}, {"overhung_moment": 91 * heights[0]})


@closed_form("hub, bore and root circle on one radius, by places from the centre")
def across_a_hub():
    surface, bore, root, tips = 14.0, 6.0, 22.5 - 3.125, 25.0
    gear = {"teeth": 18, "module": 2.5}
    expect(
        "hub",
        {"hub_diameter": 28, "bore_diameter": 12},
        {
            "hub_wall": surface - bore,
            "hub_ratio": surface / bore,
            "least_drill_depth": surface - bore,
            "greatest_drill_depth": surface + bore,
        },
    )
    expect(
        "hub",
        {"hub_diameter": 28, "bore_diameter": 12, "keyway_depth": 1.8},
        {"wall_over_keyway": surface - (bore + 1.8)},
    )
    expect(
        "hub",
        {"hub_diameter": 28, "bore_diameter": 12, "flat_depth": 0.5},
        {"screw_room": surface - (bore - 0.5)},
    )
    expect("hub", gear | {"hub_room": 2}, {"largest_hub": 2 * (root - 2)})
    expect(
        "hub",
        gear | {"bore_diameter": 12, "keyway_depth": 1.8},
        {"rim_over_keyway": root - (bore + 1.8), "rim_ratio": (root - bore - 1.8) / (tips - root)},
    )
    expect("hub", gear | {"hub_diameter": 28, "drill_depth": 13}, {"chuck_reach": tips - (surface - 13)})
    expect(
        "hub",
        {"thread_length": 9, "runout_pitches": 4, "screw_pitch": 0.8},
        {"tapped_depth": 9 + sum(0.8 for _ in range(4))},
    )


@closed_form(
    "ISO 68-1 thread: one pitch less leaves 77 % of the thread's depth of 0.6495 pitches (ISO 724: minor"
    " diameter = D - 1.0825 p)"
)
def tap_drills():
    # ISO 2306 (from memory)
    for diameter, pitch, drill in (
        (3, 0.5, 2.5),
        (4, 0.7, 3.3),
        (5, 0.8, 4.2),
        (6, 1.0, 5.0),
        (10, 1.5, 8.5),
    ):
        depth = (diameter - drill) / (2 * 0.64952 * pitch)
        assert 0.75 < depth < 0.80
        expect("hub", {"screw_diameter": diameter, "screw_pitch": pitch}, {"tap_drill": drill})


@closed_form(
    "shear in a round shaft grows with the radius: torque added up ring by ring (C. A. Coulomb, 1784)"
)
def shear_of_a_shaft():
    rings, radius = 4000, 6.0
    per_stress = sum(
        ((k + 0.5) / rings) * math.tau * ((k + 0.5) * radius / rings) ** 2 * radius / rings
        for k in range(rings)
    )
    expect("hub", {"shaft_torque": 4000, "bore_diameter": 12}, {"shaft_shear": 4000 / per_stress}, rel=1e-6)


@closed_form(
    "moment about the shaft's axis: the key's force at the shaft's surface, over the areas that bear it"
)
def a_key():
    force = 4000 / 6.0
    expect(
        "hub",
        {"shaft_torque": 4000, "bore_diameter": 12, "key_width": 4, "key_height": 4.5, "key_length": 13},
        {"key_force": force, "key_shear": force / 4 / 13, "key_bearing": force / 13 / 2.25},
    )


@closed_form("moment of the screw's force about the shaft's axis")
def a_set_screw():
    expect(
        "hub",
        {"holding_force": 1200, "bore_diameter": 10, "shaft_torque": 3000},
        {"holding_torque": 1200 * 5.0, "holding_safety": 2.0},
    )


@closed_form("work in a minute: force times way of the pitch line, torque times angle")
def power_and_torque():
    way = 15 * math.tau * 22.5
    expect("load", {"driver_torque": 1900, "driver_speed": 15}, {"power": 1900 / 22.5 * way})
    expect(
        "load",
        {"driver_teeth": 18, "module": 2.5, "driver_torque": 1900},
        {"tangential_force": 1900 * math.tau * 15 / way},
    )
    expect(
        "load",
        {"driver_teeth": 18, "module": 2.5, "driver_speed": 15},
        {"pitch_line_speed": way, "pitch_speed": way},
    )
    for speed in ("pitch_line_speed", "pitch_speed"):
        expect("load", {"tangential_force": 1900 / 22.5, speed: way}, {"power": 1900 / 22.5 * way})
    turned = 15 * 18 / 45
    expect(
        "load",
        {"driver_torque": 1900, "driver_teeth": 18, "driven_teeth": 45, "efficiency": 0.95},
        {"driven_torque": 0.95 * 1900 * 15 / turned},
    )
    expect("load", {"driver_teeth": 18, "driven_teeth": 45, "driver_speed": 15}, {"driven_speed": turned})


@closed_form("work in a minute: the force at the surface of a shaft, or of a sun, times its way")
def power_of_a_shaft():
    expect("hub", {"shaft_torque": 4000, "speed": 15}, {"power": 4000 / 6.0 * (15 * math.tau * 6.0)})
    expect(
        "planetary set", {"sun_torque": 1500, "sun_speed": 35}, {"power": 1500 / 30 * (35 * math.tau * 30)}
    )
    expect(
        "bevel pair", {"driver_torque": 4000, "driver_speed": 40}, {"power": 4000 / 25 * (40 * math.tau * 25)}
    )


@closed_form(
    "a beam of rectangular section, bending added up in layers: W. Lewis's factor is 2/3 of thickness^2 / (4"
    " height module) (Shigley, section 14-1)"
)
def the_beam_formula():
    thick, high, face, module, force = 4.6, 5.1, 12.0, 2.5, 86.0
    layers = 4000
    section = sum(
        2 * abs((k + 0.5) / layers - 0.5) * face * thick * abs((k + 0.5) / layers - 0.5) * thick / layers
        for k in range(layers)
    )
    stress = force * high / section
    form = 2 / 3 * (thick**2 / 4 / high) / module
    expect(
        "load",
        {"tangential_force": force, "face_width": face, "module": module, "form_factor": form},
        {"bending_stress": stress},
        rel=1e-6,
    )
    # All grown in proportion but face and torque: force less, tooth thicker, longer, by the factor.
    grown = force / 1.25 * (high * 1.25) / (section * 1.25**2)
    expect("load", {"size_factor": 1.25}, {"stress_change": grown / stress}, rel=1e-9)


@closed_form(
    "C. G. Barth (Shigley, section 14-2): cut teeth at 1200 ft/min are taken for twice as loaded, at 600 for"
    " half as much again"
)
def speed_factor():
    for speed, factor in ((1200, 2.0), (600, 1.5), (240, 1.2)):
        expect(
            "load",
            {"pitch_speed": 12.0 * speed, "speed_constant": 14400},
            {"speed_factor": factor},
            unit="in",
        )
    expect("load", {"bending_stress": 50, "speed_factor": 1.5}, {"stress_with_speed": 75})


@definition("use of a material: half of what it bears is a half")
def share_of_what_is_borne():
    expect("load", {"bending_stress": 10, "allowable_stress": 20}, {"utilisation": 0.5})
