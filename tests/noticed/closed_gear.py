"""Closed forms of one gear.

Circles, pitches, the tooth's thickness, undercut, chords, spans and pins; by coordinates.
"""

import math

from outside import closed_form, definition, expect
from plane import Pairing, Tooth, foot, halve, roll_at, string_end

PLAIN = {"teeth": 23, "module": 2.5, "pressure_angle": 20}
SHIFTED = PLAIN | {"profile_shift": 0.35, "tooth_thinning": 0.07, "tip_shortening": 0.12}
SHIFTS = ("profile_shift", "tooth_thinning", "tip_shortening")
FINE = {"teeth": 19, "diametral_pitch": 24, "pressure_angle": 20}


def plain(count=23):
    return Tooth(count, 2.5, 20)


def shifted():
    return Tooth(23, 2.5, 20, shift=0.35, thinning=0.07, shortening=0.12)


@closed_form(
    "ISO 53:1998 profile A (addendum 1, dedendum 1.25) laid on a rolling circle: one pitch of the rack a"
    " tooth, one module pi of it"
)
def circles_of_a_plain_gear():
    tooth = plain()
    # the rack's pitches lie once around the pitch circle
    assert math.isclose(2 * math.pi * tooth.pitch, 23 * math.pi * 2.5)
    expect(
        "gear",
        PLAIN,
        {
            "pitch_diameter": 57.5,
            "pitch_circumference": 23 * 7.853981633974483,
            "circular_pitch": 7.853981633974483,
            "addendum": 2.5,
            "dedendum": 3.125,
            "clearance": 0.625,
            "whole_depth": 5.625,
            "working_depth": 5.0,
            "outside_diameter": 62.5,
            "root_diameter": 51.25,
            "outside_radius": 31.25,
            "root_radius": 25.625,
            "pitch_radius": 28.75,
        },
    )


@closed_form(
    "the line of action through the pitch point leans by the pressure angle; the base circle touches it (L."
    " Euler, 1765)"
)
def base_circle():
    tooth = plain()
    # Two strings unwound from the same circle, one tooth later: they stay apart by the arc between their
    # starts.
    (x1, y1), _ = string_end(tooth.base, 0.6)
    (x2, y2), _ = string_end(tooth.base, 0.6 + tooth.step, -tooth.step)
    expect(
        "gear",
        PLAIN,
        {
            "base_radius": tooth.base,
            "base_diameter": 2 * tooth.base,
            "base_pitch": math.hypot(x2 - x1, y2 - y1),
        },
    )


@definition("one tooth, one turn, one space: shares of a whole")
def shares_of_a_turn():
    expect(
        "gear",
        PLAIN,
        {
            "pitch_angle": 360 / 23,
            "tooth_space": 7.853981633974483 / 2,
            "tooth_thickness": 7.853981633974483 / 2,
        },
    )
    expect("gear", SHIFTED, {"tooth_space": 2.5 * math.pi - shifted().thickness}, features=SHIFTS)


@closed_form(
    "a module is a pitch diameter over its count: 40 teeth of 8 to the inch are 5 in across (definition of"
    " the diametral pitch)"
)
def module_and_diametral_pitch():
    expect("gear", {"diametral_pitch": 8, "teeth": 40}, {"module": 5 / 40}, unit="in")
    expect(
        "gear",
        PLAIN | {"mate_diametral_pitch": 0.32},
        {"mate_module": 3.125, "mate_circular_pitch": 3.125 * math.pi},
    )


@closed_form(
    "the rack moved outwards by the shift: its space, at the gear's pitch line, is wider by the slope of both"
    " flanks"
)
def shifted_gear():
    tooth = shifted()
    expect(
        "gear",
        SHIFTED,
        {
            "tooth_thickness": tooth.thickness,
            "outside_radius": tooth.tip,
            "root_radius": tooth.root,
            "addendum": tooth.tip - tooth.pitch,
            "dedendum": tooth.pitch - tooth.root,
            "whole_depth": tooth.tip - tooth.root,
            "clearance": 0.625,
            "working_depth": tooth.tip - tooth.root - 0.625,
        },
        features=SHIFTS,
    )
    # Shortened tips alone: the clearance stays that of the system.
    short = Tooth(23, 2.5, 20, shortening=0.2)
    expect(
        "gear",
        PLAIN | {"tip_shortening": 0.2},
        {"clearance": 0.625, "working_depth": short.tip - short.root - 0.625},
        features=("tip_shortening",),
    )


@closed_form(
    "ANSI B6.7, fine pitch: dedendum 1.2/P + 0.002 in; ANSI B6.1, stub: addendum 0.8/P, dedendum 1/P"
)
def other_systems():
    fine, stub = ("fine pitch", 20.0), ("stub", 20.0)
    expect(
        "gear",
        FINE,
        {
            "dedendum": 1.2 / 24 + 0.002,
            "clearance": 0.2 / 24 + 0.002,
            "root_diameter": 19 / 24 - 2 * (1.2 / 24 + 0.002),
        },
        unit="in",
        tooth=fine,
    )
    for feature in ("profile_shift", "tip_shortening"):
        expect(
            "gear",
            FINE | {feature: 0.01},
            {"clearance": 0.2 / 24 + 0.002},
            unit="in",
            tooth=fine,
            features=(feature,),
        )
    expect(
        "gear", PLAIN, {"addendum": 2.0, "dedendum": 2.5, "clearance": 0.5, "working_depth": 4.0}, tooth=stub
    )
    for feature in ("profile_shift", "tip_shortening"):
        expect("gear", PLAIN | {feature: 0.01}, {"clearance": 0.5}, tooth=stub, features=(feature,))


# Proportions of the rack and, in the fine-pitch system, what its dedendum has more than 1.2/P, in modules.
RACKS = {
    ("full depth", 20.0): (1, 1.25, 0.38, 0),
    ("stub", 20.0): (0.8, 1.0, 0.30, 0),
    ("fine pitch", 20.0): (1, 1.2, 0.25, 0.002 * 24),
}


def straight_depth(tooth, shift):
    """How deep below the pitch line the rack's flank is straight.

    Its round touches tip line and flank [modules].
    """
    _, dedendum, radius, extra = RACKS[tooth]
    sine = math.sin(math.radians(tooth[1]))
    # centre of the round, and from there square to the flank
    return dedendum + extra - radius + radius * sine - shift


@closed_form(
    "generation by a rack: undercut begins where the end of the straight flank passes the point at which the"
    " line of action touches the base circle"
)
def undercut_limit():
    for tooth in RACKS:

        def room(count, shift, depth=None, tooth=tooth):
            angle = math.radians(tooth[1])
            base = foot(count / 2, angle)
            # tangent point below the pitch line
            return (
                count / 2
                - base * math.cos(angle)
                - (straight_depth(tooth, shift) if depth is None else depth)
            )

        for shift in (0.0, 0.24):
            given = FINE | ({"profile_shift": shift} if shift else {})
            expect(
                "gear",
                given,
                {"least_teeth": halve(lambda count, shift=shift: room(count, shift), 1, 60)},
                unit="in",
                tooth=tooth,
                features=("profile_shift",) if shift else (),
            )
        expect(
            "gear",
            FINE,
            {
                "least_shift": halve(lambda shift: room(19, shift), -3, 3),
                "least_shift_for_rack": halve(lambda shift: room(19, 0, RACKS[tooth][0] - shift), -3, 3),
            },
            unit="in",
            tooth=tooth,
        )


@closed_form(
    "the end of the rack's straight flank, brought along the line of action, is the flank's lowest point"
)
def form_circle():
    for tooth, shift in (
        (("full depth", 20.0), 0.0),
        (("full depth", 20.0), 0.3),
        (("fine pitch", 20.0), 0.15),
        (("stub", 20.0), 0.1),
    ):
        angle, pitch = math.radians(20), 30 / 24 / 2
        depth = straight_depth(tooth, shift) / 24
        point = (pitch - depth, depth * math.cos(angle) / math.sin(angle))  # on the line of action, that deep
        expect(
            "gear",
            FINE | {"teeth": 30} | ({"profile_shift": shift} if shift else {}),
            {"form_radius": math.hypot(*point)},
            unit="in",
            tooth=tooth,
            features=("profile_shift",) if shift else (),
        )


@closed_form("DIN 3960, practical limit (from memory): a shift of 2/17 for 12 teeth, none for 14, 7/17 for 7")
def practical_shift():
    expect("gear", PLAIN | {"teeth": 12}, {"practical_least_shift": 2 / 17})
    expect("gear", PLAIN | {"teeth": 7}, {"practical_least_shift": 7 / 17})


@closed_form("chord and height by the coordinates of the two flanks at the pitch circle")
def chords():
    for tooth, given, features in ((plain(), PLAIN, ()), (shifted(), SHIFTED, SHIFTS)):
        half = tooth.thickness / 2 / tooth.pitch
        flanks = [
            (tooth.pitch * math.cos(side * half), tooth.pitch * math.sin(side * half)) for side in (1, -1)
        ]
        expect(
            "gear",
            given,
            {"chordal_thickness": math.dist(*flanks), "chordal_addendum": tooth.tip - flanks[0][0]},
            features=features,
        )


@closed_form(
    "parallel jaws touch two strings that unwind from one base circle towards each other: the arc between"
    " their starts (string construction)"
)
def spans():
    for tooth, given, features, touch in ((plain(), PLAIN, (), 0.0), (shifted(), SHIFTED, SHIFTS, 0.35)):

        def width(count, tooth=tooth):
            return tooth.base * ((count - 1) * tooth.step + 2 * tooth.half_base)

        expect("gear", given | {"span_teeth": 4}, {"span": width(4)}, features=features)
        # The jaws stand square to the line that touches the base circle, half of the span to either side of
        # where it touches.
        radius = tooth.pitch + touch * 2.5
        full = Tooth(23, 2.5, 20, shift=touch)  # the usual number of teeth is told for full teeth
        ideal = halve(
            lambda count, full=full, radius=radius: (
                math.hypot(full.base, full.base * ((count - 1) * full.step + 2 * full.half_base) / 2) - radius
            ),
            0.1,
            12,
        )
        expect("gear", given, {"ideal_span_teeth": ideal}, features=features)
    expect("gear", PLAIN | {"span": 25.0}, {"next_span": 25.0 + plain().base * plain().step})
    thin = Tooth(23, 2.5, 20, thinning=0.08)
    expect(
        "gear",
        PLAIN | {"span_shortfall": 2 * plain().base * (plain().half_base - thin.half_base)},
        {"thinning_by_span": 0.08},
        rel=1e-8,
    )


@closed_form(
    "a pin between two flanks: its centre is as far from the nearest point of the flank as it is thick"
)
def pins():
    for tooth, given, features, touch in ((plain(), PLAIN, (), 0.0), (shifted(), SHIFTED, SHIFTS, 0.35)):
        centre = tooth.pin_centre(4.4)
        even_or_odd = math.dist(
            (centre, 0),
            (centre * math.cos(math.pi - math.pi / 23), centre * math.sin(math.pi - math.pi / 23)),
        )
        expect(
            "gear",
            given | {"pin_diameter": 4.4},
            {
                "pin_angle": math.degrees(math.acos(tooth.base / centre)),
                "pin_parity": even_or_odd / 2 / centre,
                "over_pins": even_or_odd + 4.4,
            },
            rel=1e-8,
            features=features,
        )
        expect(
            "gear",
            given,
            {
                "space_half_angle": math.degrees(tooth.step / 2 - tooth.half_base),
                "ideal_pin": tooth.pin_touching(tooth.pitch + touch * 2.5),
            },
            features=features,
        )
    even = plain(24)
    expect(
        "gear",
        PLAIN | {"teeth": 24, "pin_diameter": 4.4},
        {"pin_parity": 1.0, "over_pins": 2 * even.pin_centre(4.4) + 4.4},
        rel=1e-8,
    )


@closed_form("coordinates of the tips of an odd count: two beside the line of measurement, one opposite")
def across_the_tips_of_an_odd_count():
    tooth = plain()
    half, corner = math.pi / 23, math.pi / 23 - tooth.half_angle(tooth.tip)
    middles = tooth.tip + tooth.tip * math.cos(half)  # the one opposite lies on the line
    expect(
        "gear",
        PLAIN,
        {
            "across_tip_middles": middles,
            "tip_reading_shortfall": 2 * tooth.tip - middles,
            "across_tips": tooth.tip + tooth.tip * math.cos(corner),
        },
    )
    expect(
        "gear",
        {"teeth": 23, "outside_diameter": 62.5, "tip_thickness": 1.9},
        {"across_tips": 31.25 + math.sqrt(31.25**2 - (31.25 * math.sin(math.pi / 23 - 0.95 / 31.25)) ** 2)},
        features=("tip_shortening",),
    )


@closed_form(
    "an eccentric pitch circle against a fixed point, and the play of a pair whose distance follows it"
    " (numbers, by a small offset)"
)
def an_offset_bore():
    distances = [math.hypot(28.75 + 0.04 * math.cos(turn), 0) for turn in (0.0, math.pi)]
    expect("gear", PLAIN | {"bore_offset": 0.04}, {"indicator_swing": abs(distances[0] - distances[1])})
    one, two, offset = plain(), plain(41), 1e-4
    reference = one.pitch + two.pitch
    swing = Pairing(one, two, reference + 2 * offset).backlash - Pairing(one, two, reference).backlash
    # a chord for the slope
    expect("gear", PLAIN | {"bore_offset": offset}, {"backlash_swing": swing}, rel=1e-4)


@closed_form(
    "counting pitches side by side (22 teeth of one rule, 1.1 % off, stand half a tooth out of step)"
)
def two_pitches_side_by_side():
    mine, other = math.pi * 2.5, math.pi / 0.41
    steps = 0
    while abs((steps + 1) * mine - (steps + 1) * other) < mine / 4:  # half a tooth thickness
        steps += 1
    expect(
        "gear",
        PLAIN | {"mate_diametral_pitch": 0.41},
        {"pitch_mismatch": mine - other, "mate_module": 1 / 0.41, "mate_circular_pitch": other},
    )
    expect(
        "gear", PLAIN | {"mate_diametral_pitch": 0.41}, {"pitches_out_of_step": (mine / 4) / (mine - other)}
    )
    assert steps == math.floor((mine / 4) / (mine - other))
    expect("gear", PLAIN | {"pitches_counted": 11}, {"counted_length": sum(mine for _ in range(11))})


@closed_form("a plate with margins: what is left is filled by pitch circle and both addenda")
def the_largest_gear_on_a_plate():
    # 30 + 2 modules of 2.5 are 80
    expect(
        "gear", PLAIN | {"plate_height": 96, "edge_margin": 8}, {"fitting_diameter": 80, "fitting_teeth": 30}
    )
    expect(
        "gear",
        {"module": 2.5, "pressure_angle": 20, "plate_height": 95, "edge_margin": 8},
        {"fitting_teeth": (95 - 8 - 8 - 2.0 - 2.0) / 2.5},
        tooth=("stub", 20.0),
    )


@definition("turns, angles and speeds of one gear: a turn is 360 degrees or 2 pi radians")
def turning():
    expect(
        "gear",
        PLAIN | {"speed": 90, "duration": 0.5},
        {"turns": 45, "angle": 45 * 360, "angular_speed": 90 * 6.283185307179586},
    )


@closed_form(
    "a point of the rim goes around once in a turn; string unwound in a turn; teeth counted past a mark"
)
def motion_of_a_gear():
    expect(
        "gear",
        PLAIN | {"speed": 90},
        {
            "pitch_line_speed": 90 * math.tau * plain().pitch,
            "action_speed": 90 * math.tau * plain().base,
            "mesh_frequency": sum(1 for _ in range(23)) * 90,
        },
    )
    assert roll_at(plain().base, plain().tip) < 1
