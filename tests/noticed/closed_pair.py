"""Closed forms of two gears in mesh.

By coordinates of the line of action, by velocities, by the teeth laid side by side.
"""

import math

from outside import closed_form, definition, expect
from plane import Pairing, Tooth, foot, halve, tight

PLAIN = {"driver_teeth": 24, "driven_teeth": 57, "module": 2.5, "pressure_angle": 20}
APART = PLAIN | {"centre_distance": 102.1}
SHIFTED = PLAIN | {"driver_profile_shift": 0.31, "driven_profile_shift": -0.12}
REFERENCE = 101.25
SET = ("set distance",)


def plain():
    return Tooth(24, 2.5, 20), Tooth(57, 2.5, 20)


def shifted():
    return Tooth(24, 2.5, 20, 0.31), Tooth(57, 2.5, 20, -0.12)


def cases():
    """Pairs at their reference distance, further apart, and with shifts at the distance without play."""
    yield Pairing(*plain(), REFERENCE), PLAIN, ()
    yield Pairing(*plain(), 102.1), APART, SET
    yield Pairing(*shifted(), tight(*shifted())), SHIFTED, ("profile_shift",)


@closed_form("pitch circles that touch: radius and radius; a ring's less its pinion's")
def reference_distance():
    expect("pair", PLAIN, {"centre_distance": 30 + 71.25})
    expect("pair", APART, {"reference_centre_distance": 30 + 71.25, "distance_opening": 0.85}, features=SET)
    expect("internal pair", PLAIN, {"centre_distance": 71.25 - 30})


@closed_form(
    "common tangent of both base circles by coordinates: its angle, and where it crosses the line of centres"
)
def operating_circles():
    for pair, given, features in cases():
        one, two = pair.radii
        expect(
            "pair",
            given,
            {
                "driver_operating_pitch_radius": one,
                "driven_operating_pitch_radius": two,
                "tangent_point_distance": pair.length,
                "action_angle_to_centres": 90 - math.degrees(pair.angle),
            },
            rel=1e-8,
            features=features,
        )
        if features:  # else they are the reference circles
            expect(
                "pair",
                given,
                {
                    "operating_pressure_angle": math.degrees(pair.angle),
                    "driver_operating_pitch_diameter": 2 * one,
                    "driven_operating_pitch_diameter": 2 * two,
                    "operating_circular_pitch": 2 * math.pi * two / 57,
                },
                rel=1e-8,
                features=features,
            )


@closed_form(
    "distance without play of two shifted gears, by moving them together until the teeth fill the pitch"
)
def distance_of_shifted_gears():
    distance = tight(*shifted())
    expect(
        "pair",
        SHIFTED,
        {
            "centre_distance": distance,
            "operating_pressure_angle": math.degrees(Pairing(*shifted(), distance).angle),
            "shortening_for_clearance": 0.19 * 2.5 - distance + REFERENCE,
        },
        rel=1e-8,
        features=("profile_shift",),
    )


@closed_form(
    "two teeth laid out by strings, side by side on the operating circles: what they leave of the pitch"
)
def backlash_of_a_pair():
    for one, two, given, features in (
        (*plain(), APART, SET),
        (
            Tooth(24, 2.5, 20, 0.31, 0.04),
            Tooth(57, 2.5, 20, -0.12, 0.06),
            SHIFTED
            | {"centre_distance": 102.1, "driver_tooth_thinning": 0.04, "driven_tooth_thinning": 0.06},
            ("set distance", "profile_shift", "tooth_thinning"),
        ),
    ):
        pair = Pairing(one, two, 102.1)
        play, (r1, r2) = pair.backlash, pair.radii
        expect(
            "pair",
            given,
            {
                "driver_operating_thickness": one.thick(r1),
                "driven_operating_thickness": two.thick(r2),
                "backlash": play,
                "backlash_along_action": play * math.cos(pair.angle),
                "pitch_circle_backlash": play / r1 * one.pitch,
                "driver_play_angle": math.degrees(play / r1),
                "driven_play_angle": math.degrees(play / r2),
            },
            rel=1e-8,
            features=features,
        )
    # Full teeth: straight from the two angles, and back from the backlash to the angle.
    pair = Pairing(*plain(), 102.1)
    angle = math.degrees(pair.angle)
    expect(
        "pair",
        {"centre_distance": 102.1, "operating_pressure_angle": angle, "pressure_angle": 20},
        {"backlash": pair.backlash},
        rel=1e-8,
        features=SET,
    )
    expect(
        "pair",
        PLAIN | {"backlash": pair.backlash},
        {"operating_pressure_angle": angle},
        rel=1e-8,
        features=SET,
    )


@closed_form(
    "backlash of a pair opened by little, for each bit of the opening; how far the estimate by the slope"
    " stays behind"
)
def quick_backlash():
    little = 1e-4
    slope = Pairing(*plain(), REFERENCE + little).backlash / little
    expect("pair", APART, {"quick_backlash": 0.85 * slope}, rel=1e-4, features=SET)
    rise = 0.85 * 2 * foot(1, math.pi / 2 - math.radians(20)) / foot(1, math.radians(20))
    expect(
        "pair",
        APART,
        {"quick_backlash": rise, "quick_backlash_shortfall": 1 - rise / Pairing(*plain(), 102.1).backlash},
        rel=1e-7,
        features=SET,
    )


@closed_form("where the outside circles cross the line of action, by coordinates")
def path_of_contact():
    for pair, given, features in cases():
        approach, recess = pair.pitch_point - pair.start, pair.end - pair.pitch_point
        path, spacing = approach + recess, pair.one.base * pair.one.step
        expect(
            "pair",
            given,
            {
                "length_of_approach": approach,
                "length_of_recess": recess,
                "length_of_action": path,
                "contact_ratio": path / spacing,
                "two_pair_share": path / spacing - 1,
                "arc_of_contact": path / pair.one.base * pair.radii[0],
                "driven_contact_angle": math.degrees(path / pair.two.base),
                "driver_contact_angle": math.degrees(path / pair.one.base),
                "driver_start_radius": math.hypot(*pair.at(pair.start)),
                "driven_start_radius": math.dist(pair.at(pair.end), (pair.distance, 0)),
            },
            rel=1e-8,
            features=features,
        )
    pair = Pairing(*plain(), REFERENCE)
    turned = math.degrees((pair.end - pair.start) / pair.one.base)
    expect(
        "pair",
        {"length_of_action": pair.end - pair.start, "driver_base_radius": pair.one.base},
        {"driver_contact_angle": turned},
        rel=1e-8,
    )
    expect(
        "pair", {"contact_ratio": turned / 15, "driver_teeth": 24}, {"driver_contact_angle": turned}, rel=1e-8
    )


@closed_form("velocities of both flanks at a point, from the turning of the gears about their centres")
def sliding():
    for pair, given, features in cases():
        turning = 2 * math.pi * 90
        slide = [abs(a - b) for a, b in (pair.speeds(t, turning) for t in (pair.start, pair.end))]
        (a1, a2), (b1, b2) = pair.speeds(pair.start), pair.speeds(pair.end)
        expect(
            "pair",
            given | {"driver_speed": 90},
            {
                "sliding_speed_at_start": slide[0],
                "sliding_speed_at_end": slide[1],
                "driver_specific_sliding": a2 / a1 - 1,
                "driven_specific_sliding": b1 / b2 - 1,
            },
            rel=1e-7,
            features=features,
        )


@closed_form("tips against the points where the line of action touches the base circles, by coordinates")
def interference():
    for pair, given, features in cases():
        limits = [math.hypot(*pair.tangent2), math.dist(pair.tangent1, (pair.distance, 0))]
        expect(
            "pair",
            given,
            {
                "driver_interference_margin": pair.start,
                "driven_interference_margin": pair.length - pair.end,
                "driver_limit_radius": limits[0],
                "driven_limit_radius": limits[1],
                "driver_tip_margin": limits[0] - pair.one.tip,
                "driven_tip_margin": limits[1] - pair.two.tip,
            },
            rel=1e-7,
            features=features,
        )


@closed_form(
    "counts for which the mate's tips just reach the tangent point, found by trying (law of cosines by"
    " coordinates)"
)
def least_counts():
    for tooth, addendum in ((("full depth", 20.0), 1.0), (("stub", 20.0), 0.8), (("full depth", 14.5), 1.0)):
        angle = math.radians(tooth[1])

        def overreach(one, two, addendum=addendum, angle=angle):
            base = foot(one / 2, angle)
            touch = (base * math.cos(angle), base * math.sin(angle))
            return math.dist(touch, ((one + two) / 2, 0)) - (two / 2 + addendum)

        rack = halve(
            lambda z, addendum=addendum, angle=angle: z / 2 - foot(z / 2, angle) * math.cos(angle) - addendum,
            1,
            100,
        )
        given = {"pressure_angle": tooth[1]}
        expect(
            "pair",
            given,
            {
                "least_teeth_with_rack": rack,
                "least_teeth_with_equal": halve(lambda z: overreach(z, z), 2, 100),
            },
            tooth=tooth,
        )
        for ratio in (1.0, 2.5):
            expect(
                "pair",
                given | {"ratio": ratio},
                {"least_teeth_for_ratio": halve(lambda z, ratio=ratio: overreach(z, ratio * z), 2, 100)},
                tooth=tooth,
            )
        count = round(0.9 * rack)
        expect(
            "pair",
            given | {"driver_teeth": count},
            {"largest_mate_teeth": halve(lambda z, count=count: overreach(count, z), 3, 1000)},
            tooth=tooth,
        )


@closed_form("tips and roots on the line of centres")
def clearance_on_the_line_of_centres():
    one, two = plain()
    expect(
        "pair",
        {"centre_distance": REFERENCE, "driver_outside_radius": one.tip, "driven_root_radius": two.root},
        {"clearance": REFERENCE - one.tip - two.root},
    )
    expect(
        "pair",
        {"centre_distance": 100, "driver_outside_radius": 40, "driven_root_radius": 59.5},
        {"clearance": 0.5},
    )


@closed_form("a ring's tips and a pinion's tips on the common tangent of the base circles, by coordinates")
def path_inside_a_ring():
    # whose tips stay on the pinion's flank
    pinion, ring, angle = Tooth(40, 2.5, 25), Tooth(120, 2.5, 25), math.radians(25)
    given = {"driver_teeth": 40, "driven_teeth": 120, "module": 2.5, "pressure_angle": 25}
    inner, distance = ring.pitch - 2.5, ring.pitch - pinion.pitch
    across, along = (math.cos(angle), math.sin(angle)), (math.sin(angle), -math.cos(angle))

    def at(t):  # from the ring's tangent point; the ring's centre at the origin, the pinion's on the x axis
        return (ring.base * across[0] + t * along[0], ring.base * across[1] + t * along[1])

    pinions = distance * math.sin(angle)  # its tangent point lies so far on
    first = halve(lambda t: math.hypot(*at(t)) - inner, 0, 100)
    last = halve(lambda t: math.dist(at(t), (distance, 0)) - pinion.tip, pinions, 100)
    path = last - first
    expect(
        "internal pair",
        given,
        {"inside_diameter": 2 * inner, "ring_root_diameter": 2 * ring.pitch + 2 * 3.125},
        tooth=("full depth", 25.0),
    )
    expect(
        "internal pair",
        given,
        {"length_of_action": path, "contact_ratio": path / (pinion.base * pinion.step)},
        rel=1e-8,
        tooth=("full depth", 25.0),
    )


@closed_form(
    "wheels that roll without slip: equal arcs at the pitch point; outside the other way, inside the same way"
)
def motion_of_a_pair():
    turns = (30 * 2 * 1.5) / (71.25 * 2)  # the same arc on both pitch circles
    for kind, sense in (("pair", -1), ("internal pair", 1)):
        expect(kind, PLAIN, {"ratio": 71.25 / 30, "tooth_difference": 33})
        expect(
            kind,
            {"driver_teeth": 24, "driven_teeth": 57, "driver_speed": 1.5},
            {"driven_speed": sense * turns},
        )
        expect(
            kind,
            {"driver_teeth": 24, "driven_teeth": 57, "driver_turns": 1.5},
            {"driven_turns": sense * turns},
        )
        expect(
            kind,
            {"driver_teeth": 24, "driven_teeth": 57, "driver_angle": 540},
            {"driven_angle": sense * 360 * turns},
        )


@closed_form("teeth counted past the mesh, one by one, until the same two meet again")
def counting_teeth():
    for one, two in ((24, 57), (18, 45), (20, 50), (17, 40)):
        passed, met = 0, set()
        while True:
            if passed % one == 0:
                met.add(passed % two)
            passed += 1
            if passed % one == 0 and passed % two == 0:
                break
        factor = max(k for k in range(1, one + 1) if one % k == 0 and two % k == 0)
        given = {"driver_teeth": one, "driven_teeth": two}
        expect(
            "pair",
            given,
            {
                "common_factor": factor,
                "driver_teeth_lowest": passed // two,
                "driven_teeth_lowest": passed // one,
                "driver_turns_to_repeat": passed // one,
                "driven_turns_to_repeat": passed // two,
                "spaces_met": len(met),
                "share_of_spaces": len(met) / two,
            },
        )
        expect("pair", {"common_factor": factor, "driven_teeth": two}, {"driven_teeth_lowest": passed // one})
        expect(
            "pair", {"common_factor": factor, "driver_teeth": one}, {"driven_turns_to_repeat": passed // two}
        )
        expect(
            "pair",
            {"driver_teeth_lowest": passed // two, "ratio": two / one},
            {"driven_teeth_lowest": passed // one},
        )
        expect(
            "pair",
            {"driver_turns_to_repeat": passed // one, "ratio": two / one},
            {"driven_turns_to_repeat": passed // two},
        )


@closed_form(
    "teeth and spaces laid out one by one around both gears: a tooth of one meets a space of the other on the"
    " line of centres"
)
def lining_up():
    for one, two, line, mark in (
        (24, 57, 35.0, 10.0),
        (18, 45, -20.0, 3.0),
        (20, 30, 70.0, 44.0),
        (19, 30, 35.0, 3.5),
    ):
        # The driver's mark must turn so far until it looks along the line; the driven gear turns the other
        # way in the meantime.
        back = -(line - mark) * one / two
        # its teeth when a space looks at the driver, turned back
        places = [(line + 180 + (k + 0.5) * 360 / two - back) % (360 / two) for k in range(two)]
        assert max(places) - min(places) < 1e-9
        expect(
            "pair",
            {"driver_teeth": one, "driven_teeth": two, "line_angle": line, "driver_mark_angle": mark},
            {"driven_mark_angle": places[0]},
        )
    for two in (57, 45, 30, 50):
        teeth = [k * 360 / two for k in range(two)]
        # the tooth nearest to looking back
        away = min(abs((tooth - 180 + 180) % 360 - 180) for tooth in teeth)
        expect("pair", {"driver_teeth": 18, "driven_teeth": two}, {"mesh_turn": 180 / two - away})


@closed_form("whole counts tried one by one")
def choosing_counts():
    expect("pair", {"driver_teeth": 18, "wanted_ratio": 2.6}, {"ideal_driven_teeth": 46.8})
    for wanted in (2.39, 1.618033988749895, 3.7):
        least = min(abs(two / one - wanted) / wanted for one in range(18, 31) for two in range(18, 73))
        expect("pair", {"wanted_ratio": wanted}, {"smallest_ratio_error": least}, rel=1e-8)


@definition("an error as a share of what was wanted: 2.5 for 2.4 is a twenty-fourth too much")
def error_of_a_ratio():
    expect("pair", {"driver_teeth": 18, "driven_teeth": 45, "wanted_ratio": 2.4}, {"ratio_error": 1 / 24})


@closed_form("two pins in two holes on a line, their near and far sides by coordinates")
def holes_by_caliper():
    near, far = (0 + 3.0, 78.9 - 4.0), (0 - 3.0, 78.9 + 4.0)
    expect(
        "pair",
        {"hole_spacing": 78.9, "hole_pin_1": 6, "hole_pin_2": 8, "centre_distance": 78.75},
        {
            "reading_over_pins": far[1] - far[0],
            "reading_between_pins": near[1] - near[0],
            "spacing_miss": 0.15,
        },
    )
