"""Measured on the cut shape.

Calipers, pins, chords and two gears rolled on each other; module 1 throughout.
"""

import math

import numpy as np
from outside import expect, measured

from gearlab.shape import Rack, ToothForm
from gearlab.shape.internal import InternalToothForm
from gearlab.shape.lewis import weakest_section
from gearlab.shape.measuring import base_pitch, span, thickness
from gearlab.shape.pins import across_tips, chord, over_pins, pin_centre
from gearlab.shape.rack import rack_contact
from gearlab.shape.rolling import Rolling

RACK = Rack(math.radians(20), 1.0, 1.25, 0.38)
CUT = "the cut tooth, generated from the basic rack without a look at theory"
PLAIN = {"teeth": 23, "module": 1, "pressure_angle": 20}
SHIFTED = PLAIN | {"profile_shift": 0.35, "tooth_thinning": 0.03, "tip_shortening": 0.05}
SHIFTS = ("profile_shift", "tooth_thinning", "tip_shortening")


def gears():
    yield ToothForm(23, RACK), PLAIN, ()
    yield ToothForm(23, RACK, 0.35, 0.03, 0.05), SHIFTED, SHIFTS


@measured(
    CUT + ": the farthest and the nearest point of its outline, and one tooth of it turned onto the next"
)
def outline_of_a_gear():
    for form, given, features in gears():
        radii = np.hypot(*form.outline(1e-9).T)
        expect(
            "gear",
            given,
            {
                "outside_diameter": 2 * radii.max(),
                "outside_radius": radii.max(),
                "root_diameter": 2 * radii.min(),
                "root_radius": radii.min(),
                "addendum": radii.max() - 11.5,
                "dedendum": 11.5 - radii.min(),
                "whole_depth": radii.max() - radii.min(),
                "pitch_angle": math.degrees(form.pitch_angle),
            },
            rel=1e-7,
            features=features,
        )
    ring = np.hypot(*InternalToothForm(60, RACK).outline(1e-9).T)
    expect(
        "internal pair",
        {"driver_teeth": 20, "driven_teeth": 60, "module": 1, "pressure_angle": 20},
        {"inside_diameter": 2 * ring.min(), "ring_root_diameter": 2 * ring.max()},
        rel=1e-7,
    )


@measured(CUT + ": arcs and chords between its flanks")
def thickness_of_a_tooth():
    for form, given, features in gears():
        across, height = chord(form, 11.5)
        expect(
            "gear",
            given,
            {
                "tooth_thickness": thickness(form, 11.5),
                "tooth_space": math.tau * 11.5 / 23 - thickness(form, 11.5),
                "chordal_thickness": across,
                "chordal_addendum": height,
                "tip_thickness": thickness(form, form.tip_radius),
            },
            rel=1e-9,
            features=features,
        )
        for radius in (11.2, 12.0):
            expect(
                "gear",
                given | {"point_radius": radius},
                {"point_thickness": thickness(form, radius)},
                features=features,
            )


@measured(CUT + ": a caliper over several teeth, over pins, over the tips")
def calipers():
    for form, given, features in gears():
        expect(
            "gear",
            given | {"span_teeth": 3},
            {"span": span(form, 3), "base_pitch": base_pitch(form)},
            rel=1e-8,
            features=features,
        )
        expect(
            "gear",
            given | {"pin_diameter": 1.728},
            {
                "over_pins": over_pins(form, 1.728),
                "pin_angle": math.degrees(math.acos(form.base_radius / pin_centre(form, 1.728))),
            },
            rel=1e-8,
            features=features,
        )
        expect("gear", given, {"across_tips": across_tips(form)}, features=features)
    expect(
        "gear",
        PLAIN | {"span": span(ToothForm(23, RACK), 3)},
        {"next_span": span(ToothForm(23, RACK), 4)},
        rel=1e-8,
    )
    expect(
        "gear",
        PLAIN | {"teeth": 24, "pin_diameter": 1.728},
        {"over_pins": over_pins(ToothForm(24, RACK), 1.728), "pin_parity": 1.0},
        rel=1e-8,
    )
    shortfall = span(ToothForm(23, RACK), 3) - span(ToothForm(23, RACK, 0.0, 0.05), 3)
    expect("gear", PLAIN | {"span_shortfall": shortfall}, {"thinning_by_span": 0.05}, rel=1e-6)


@measured(CUT + ": the shift at which undercut begins, by halving; where the flank runs into the fillet")
def undercut_of_a_tooth():
    for rack, tooth in (
        (RACK, ("full depth", 20.0)),
        (Rack(math.radians(14.5), 1.0, 1.157, 0.209), ("full depth", 14.5)),
        (Rack(math.radians(20), 0.8, 1.0, 0.3), ("stub", 20.0)),
    ):
        low, high = -0.5, 1.0
        for _ in range(40):
            middle = (low + high) / 2
            low, high = (middle, high) if ToothForm(12, rack, middle).undercut else (low, middle)
        given = {"teeth": 12, "module": 1, "pressure_angle": tooth[1]}
        expect("gear", given, {"least_shift": high}, rel=1e-7, tooth=tooth)
        expect(
            "gear",
            given | {"profile_shift": high},
            {"least_teeth": 12},
            rel=1e-7,
            tooth=tooth,
            features=("profile_shift",),
        )
    for form, given, features in gears():
        expect("gear", given, {"form_radius": form.form_radius}, rel=1e-8, features=features)


def rolled():
    one, two = ToothForm(24, RACK, 0.0, 0.02), ToothForm(57, RACK, 0.0, 0.03)
    pair = {"driver_teeth": 24, "driven_teeth": 57, "module": 1, "pressure_angle": 20}
    yield Rolling(ToothForm(24, RACK), ToothForm(57, RACK), 40.5), pair, (), 40.5
    yield (
        Rolling(ToothForm(24, RACK), ToothForm(57, RACK), 40.75),
        pair | {"centre_distance": 40.75},
        ("set distance",),
        40.75,
    )
    yield (
        Rolling(one, two, 40.7),
        pair | {"centre_distance": 40.7, "driver_tooth_thinning": 0.02, "driven_tooth_thinning": 0.03},
        ("set distance", "tooth_thinning"),
        40.7,
    )


@measured(CUT + ": two of them rolled on each other, the way of the point of contact")
def the_path_of_contact_rolled():
    for pair, given, features, distance in rolled():
        path, pitch = pair.path(), np.array((distance * 24 / 81, 0.0))
        turned = path.end_turn - path.start_turn
        approach, recess = math.dist(path.start, pitch), math.dist(path.end, pitch)
        lean = math.atan2(*(abs(np.array(path.end) - np.array(path.start))))
        expect(
            "pair",
            given,
            {
                "length_of_approach": approach,
                "length_of_recess": recess,
                "length_of_action": approach + recess,
                "contact_ratio": pair.contact_ratio(),
                "two_pair_share": pair.contact_ratio() - 1,
                "driver_contact_angle": math.degrees(turned),
                "driven_contact_angle": math.degrees(turned) * 24 / 57,
                "arc_of_contact": turned * pitch[0],
                "driver_start_radius": math.hypot(*path.start),
                "driven_start_radius": math.dist(path.end, (distance, 0)),
                "action_angle_to_centres": 90 - math.degrees(lean),
            },
            rel=1e-7,
            features=features,
        )
        expect(
            "pair",
            {"contact_ratio": pair.contact_ratio(), "driver_teeth": 24},
            {"driver_contact_angle": math.degrees(turned)},
            rel=1e-7,
        )
        if features:
            expect(
                "pair", given, {"operating_pressure_angle": math.degrees(lean)}, rel=1e-7, features=features
            )


@measured(
    CUT + ": two of them rolled on each other, the slip of both flanks at the ends of the path by small turns"
)
def sliding_rolled():
    for pair, given, features, distance in rolled():
        path, small = pair.path(), 1e-6
        along = (np.array(path.end) - np.array(path.start)) / math.dist(path.start, path.end)
        slips = []
        for x, y in (path.start, path.end):
            one, two = np.array((-y, x)) * small, -np.array((-y, x - distance)) * small * 24 / 57
            slips.append([abs(v[0] * along[1] - v[1] * along[0]) for v in (one, two, one - two)])
        (a1, a2, a), (b1, b2, b) = slips
        rate = math.tau * 90 / small
        expect(
            "pair",
            given | {"driver_speed": 90},
            {
                "sliding_speed_at_start": a * rate,
                "sliding_speed_at_end": b * rate,
                "driver_specific_sliding": a2 / a1 - 1,
                "driven_specific_sliding": b1 / b2 - 1,
            },
            rel=1e-6,
            features=features,
        )


@measured(CUT + ": two of them turned against each other until they touch on either side")
def play_of_a_rolled_pair():
    for pair, given, features, distance in rolled():
        if not features:
            continue
        play, radius = pair.play(), distance * 57 / 81
        lean = math.atan2(*(abs(np.array(pair.path().end) - np.array(pair.path().start))))
        expect(
            "pair",
            given,
            {
                "backlash": pair.backlash(radius),
                "driven_play_angle": math.degrees(play),
                "driver_play_angle": math.degrees(play) * 57 / 24,
                "backlash_along_action": play * radius * math.cos(lean),
                "pitch_circle_backlash": pair.backlash(28.5),
            },
            rel=1e-6,
            features=features,
        )
    opened = Rolling(ToothForm(24, RACK), ToothForm(57, RACK), 40.75)
    expect(
        "pair",
        {
            "driver_teeth": 24,
            "driven_teeth": 57,
            "module": 1,
            "pressure_angle": 20,
            "backlash": opened.backlash(40.75 * 57 / 81),
        },
        {"operating_pressure_angle": math.degrees(math.acos(40.5 * math.cos(math.radians(20)) / 40.75))},
        rel=1e-7,
        features=("set distance",),
    )
    slope = Rolling(ToothForm(24, RACK), ToothForm(57, RACK), 40.5001).backlash(28.5) / 1e-4
    expect(
        "pair",
        {"driver_teeth": 24, "driven_teeth": 57, "module": 1, "pressure_angle": 20, "centre_distance": 40.75},
        {"quick_backlash": 0.25 * slope},
        rel=1e-3,
        features=("set distance",),
    )
    expect(
        "workshop",
        {"distance_growth": 0.14, "profile_angle": 20},
        {"growth_backlash": 0.14 * slope},
        rel=1e-3,
    )
    expect(
        "workshop",
        {"design_backlash": 0.3, "distance_variation": 0.1, "profile_angle": 20},
        {"least_backlash": 0.3 - 0.1 * slope, "greatest_backlash": 0.3 + 0.1 * slope},
        rel=1e-3,
    )
    expect(
        "workshop",
        {"backlash_from_cut": 0.36, "wanted_backlash": 0.1, "profile_angle": 20},
        {"closing_distance": 0.26 / slope},
        rel=1e-3,
    )
    expect("gear", PLAIN | {"bore_offset": 0.01}, {"backlash_swing": 2 * 0.01 * slope}, rel=1e-3)


@measured(CUT + ": two shifted gears moved together until they have no play")
def distance_without_play():
    one, two = ToothForm(24, RACK, 0.31), ToothForm(57, RACK, -0.12)
    low, high = 40.6, 41.1
    for _ in range(45):
        middle = (low + high) / 2
        low, high = (middle, high) if Rolling(one, two, middle).play() < 0 else (low, middle)
    radii = [high * share / 81 for share in (24, 57)]
    expect(
        "pair",
        {
            "driver_teeth": 24,
            "driven_teeth": 57,
            "module": 1,
            "pressure_angle": 20,
            "driver_profile_shift": 0.31,
            "driven_profile_shift": -0.12,
        },
        {
            "centre_distance": high,
            "operating_pressure_angle": math.degrees(math.acos((one.base_radius + two.base_radius) / high)),
            "driver_operating_thickness": thickness(one, radii[0]),
            "driven_operating_thickness": thickness(two, radii[1]),
            "shortening_for_clearance": 0.19 - high + 40.5,
            "operating_circular_pitch": math.tau * radii[0] / 24,
        },
        rel=1e-7,
        features=("profile_shift",),
    )


@measured(
    CUT
    + ": two of them rolled on each other, how far the driven gear turns and which way; where its teeth then"
    " stand"
)
def turning_rolled():
    pair = Rolling(ToothForm(24, RACK), ToothForm(57, RACK), 40.5)
    turned = math.degrees(float(np.subtract(*pair.driven_angle([0.7, 0.2]))))
    given = {"driver_teeth": 24, "driven_teeth": 57}
    expect("pair", given | {"driver_angle": math.degrees(0.5)}, {"driven_angle": turned}, rel=1e-8)
    expect("pair", given | {"driver_turns": 3}, {"driven_turns": 3 * turned / math.degrees(0.5)}, rel=1e-8)
    expect("pair", given | {"driver_speed": 90}, {"driven_speed": 90 * turned / math.degrees(0.5)}, rel=1e-8)
    expect("pair", given, {"ratio": -pair.contact(0.1).ratio}, rel=1e-8)
    for line, mark in ((35.0, 10.0), (-20.0, 3.0)):
        centre, _ = pair.free_window(math.radians(mark - line))
        expect(
            "pair",
            given | {"line_angle": line, "driver_mark_angle": mark},
            {"driven_mark_angle": (math.degrees(centre) + line) % (360 / 57)},
            rel=1e-6,
        )
    for count in (57, 56):
        centre, _ = Rolling(ToothForm(24, RACK), ToothForm(count, RACK), (24 + count) / 2).free_window(0.0)
        pitch = 360 / count
        expect(
            "pair",
            {"driver_teeth": 24, "driven_teeth": count},
            {"mesh_turn": min(math.degrees(centre) % pitch, -math.degrees(centre) % pitch)},
            rel=1e-6,
        )
    ring = Rolling(ToothForm(24, RACK), InternalToothForm(60, RACK, 0.0, 0.0, 0.3), 18.0)
    inside = math.degrees(float(np.subtract(*ring.driven_angle([0.7, 0.2]))))
    given = {"driver_teeth": 24, "driven_teeth": 60}
    expect("internal pair", given | {"driver_angle": math.degrees(0.5)}, {"driven_angle": inside}, rel=1e-8)
    expect(
        "internal pair",
        given | {"driver_turns": 3},
        {"driven_turns": 3 * inside / math.degrees(0.5)},
        rel=1e-8,
    )
    expect(
        "internal pair",
        given | {"driver_speed": 90},
        {"driven_speed": 90 * inside / math.degrees(0.5)},
        rel=1e-8,
    )


@measured(CUT + ": a pinion rolled in a ring")
def the_path_in_a_ring_rolled():
    # at 20 degrees the ring's tips pass below the pinion's flank
    rack = Rack(math.radians(25), 1.0, 1.25, 0.30)
    pair = Rolling(ToothForm(40, rack), InternalToothForm(120, rack), 40.0)
    path = pair.path()
    assert (path.start_by, path.end_by) == ("driven tip", "driver tip")
    expect(
        "internal pair",
        {"driver_teeth": 40, "driven_teeth": 120, "module": 1, "pressure_angle": 25},
        {
            "contact_ratio": pair.contact_ratio(),
            "length_of_action": math.dist(path.start, path.end),
            "centre_distance": 40.0,
        },
        rel=1e-7,
        tooth=("full depth", 25.0),
    )


@measured(CUT + ": thickness and height of its weakest section, bent as a beam in layers")
def stress_at_the_foot():
    foot = weakest_section(ToothForm(23, RACK))
    # moment over the section modulus of a rectangle
    stress = 86.0 * foot.height / (12.0 * foot.thickness**2 / 6)
    expect(
        "load",
        {"tangential_force": 86, "face_width": 12, "module": 1, "form_factor": foot.form_factor},
        {"bending_stress": stress},
    )


@measured(CUT + ": the ends of its flank and of the rack's straight flank on the line of action")
def contact_of_gear_and_rack():
    for rack, tooth in (
        (Rack(math.radians(25), 1.0, 1.25, 0.30), ("full depth", 25.0)),
        (Rack(math.radians(20), 0.8, 1.0, 0.3), ("stub", 20.0)),
    ):
        for shift in (0.0, 0.2, -0.2):
            form = ToothForm(30, rack, shift)
            given = {"teeth": 30, "module": 1, "pressure_angle": tooth[1]} | (
                {"profile_shift": shift} if shift else {}
            )
            expect(
                "gear",
                given,
                {"rack_contact_ratio": rack_contact(form, rack) / base_pitch(form)},
                rel=1e-7,
                tooth=tooth,
                features=("profile_shift",) if shift else (),
            )
