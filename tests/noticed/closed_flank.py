"""Closed forms of the flank and of the tooth force: the string laid out by coordinates, forces as arrows."""

import math

from outside import closed_form, expect
from plane import Pairing, Tooth, foot, halve, roll_at, string_end, turned_at

PLAIN = {"teeth": 23, "module": 2.5, "pressure_angle": 20}


def corner(one, middle, two):
    """Angle at the middle of three points, in degrees."""
    a, b = (math.atan2(p[1] - middle[1], p[0] - middle[0]) for p in (one, two))
    return abs(math.degrees(math.remainder(a - b, math.tau)))


@closed_form(
    "the end of an unwinding string by coordinates (C. Huygens, 1673): what its length, radius and angles are"
    " there"
)
def points_of_the_flank():
    tooth = Tooth(23, 2.5, 20)
    for roll in (0.25, 0.4, 0.55):
        point, leaves = string_end(tooth.base, roll)
        radius = math.hypot(*point)
        told = {
            "free_string": math.dist(point, leaves),
            "point_radius": radius,
            "point_pressure_angle": corner(point, (0, 0), leaves),
        }
        expect(
            "gear",
            PLAIN | {"roll_angle": math.degrees(roll)},
            told | {"point_thickness": tooth.thick(radius)},
        )
        expect(
            "gear",
            {"base_radius": tooth.base, "roll_angle": math.degrees(roll)},
            {"point_pressure_angle": told["point_pressure_angle"]},
        )
        expect(
            "gear",
            PLAIN | {"point_radius": radius},
            {"point_pressure_angle": told["point_pressure_angle"], "point_thickness": tooth.thick(radius)},
        )
    # each of the two ways to the pressure angle, alone
    expect("gear", {"roll_angle": 30}, {"point_pressure_angle": corner((1, 0), (0, 0), (1, math.pi / 6))})
    expect(
        "gear",
        {"base_radius": 10, "point_radius": 12},
        {"point_pressure_angle": corner((12, 0), (0, 0), (100 / 12, 10 * math.sqrt(1 - (10 / 12) ** 2)))},
    )


@closed_form("the end of the unwinding string where it crosses the pitch circle")
def the_flank_at_the_pitch_circle():
    tooth = Tooth(23, 2.5, 20)
    roll = roll_at(tooth.base, tooth.pitch)
    expect(
        "gear",
        PLAIN,
        {
            "involute_angle": math.degrees(turned_at(tooth.base, tooth.pitch)),
            "pitch_roll_angle": math.degrees(roll),
            "pitch_curvature_radius": tooth.base * roll,
        },
    )


@closed_form("the end of the unwinding string at the outside circle; the two flanks of a tooth there")
def the_tip():
    for given, features, tooth in (
        (PLAIN, (), Tooth(23, 2.5, 20)),
        (
            PLAIN | {"profile_shift": 0.3, "tooth_thinning": 0.05},
            ("profile_shift", "tooth_thinning"),
            Tooth(23, 2.5, 20, 0.3, 0.05),
        ),
    ):
        roll = roll_at(tooth.base, tooth.tip)
        end, leaves = string_end(tooth.base, roll)
        expect(
            "gear",
            given,
            {
                "tip_pressure_angle": corner(end, (0, 0), leaves),
                "tip_roll_angle": math.degrees(roll),
                "tip_thickness": tooth.thick(tooth.tip),
            },
            features=features,
        )


@closed_form("a rack's tip line and a gear's outside circle on the line of action, by coordinates")
def contact_with_a_rack():
    # flanks reach as deep as the rack's tips
    for tooth, addendum, shift in (
        (("full depth", 25.0), 1.0, 0.0),
        (("stub", 20.0), 0.8, 0.0),
        (("full depth", 25.0), 1.0, 0.2),
        (("stub", 20.0), 0.8, -0.3),
    ):
        gear, angle = Tooth(30, 2.0, tooth[1], addendum=addendum, shift=shift), math.radians(tooth[1])

        # from the pitch point, at the lowest point of the pitch circle, up to the gear and down into the rack
        def at(t, gear=gear, angle=angle):
            return (t * math.cos(angle), -gear.pitch + t * math.sin(angle))

        # the rack's tips reach so far up, less where it stands further off
        begin = halve(lambda t, reach=addendum - shift: at(t)[1] - (-gear.pitch + reach * 2.0), 0, 30)
        end = halve(lambda t: math.hypot(*at(-t)) - gear.tip, 0, 30)
        spacing = gear.base * gear.step
        expect(
            "gear",
            {"teeth": 30, "module": 2, "pressure_angle": tooth[1]}
            | ({"profile_shift": shift} if shift else {}),
            {"rack_contact_ratio": (begin + end) / spacing},
            tooth=tooth,
            features=("profile_shift",) if shift else (),
        )


@closed_form("the two circles drawn: from some count on the root circle lies outside the base circle")
def root_and_base_circle():
    for tooth, dedendum in (
        (("full depth", 20.0), 1.25),
        (("stub", 20.0), 1.0),
        (("full depth", 14.5), 1.157),
    ):
        count = halve(
            lambda z, tooth=tooth, dedendum=dedendum: z / 2 - dedendum - foot(z / 2, math.radians(tooth[1])),
            1,
            200,
        )
        expect("gear", {"pressure_angle": tooth[1]}, {"teeth_root_outside_base": count}, tooth=tooth)


def parts(force, angle):
    """Across and along the line of centres of a force that leans from the tangent.

    Found from its part across.
    """
    whole = halve(lambda size: size * math.sin(math.pi / 2 - angle) - force, 0, 10 * force)
    return (
        whole,
        math.hypot(whole * math.cos(angle), whole * math.sin(angle)),
        whole * math.cos(math.pi / 2 - angle),
    )


@closed_form(
    "the force drawn as an arrow in the line of action: its parts across and along the line of centres"
)
def tooth_force_of_one_gear():
    whole, _, along = parts(84, math.radians(25))
    expect(
        "gear",
        {"pressure_angle": 25, "tangential_force": 84},
        {"normal_force": whole, "separating_force": along},
    )
    expect(
        "gear",
        {"pressure_angle": 20, "other_pressure_angle": 25},
        {"separating_force_increase": parts(1, math.radians(25))[2] / parts(1, math.radians(20))[2] - 1},
    )


@closed_form("the force drawn as an arrow in the common tangent of the base circles of two gears")
def tooth_force_of_a_pair():
    one, two = Tooth(18, 2.5, 20), Tooth(45, 2.5, 20)
    for distance, given, features in ((78.75, {}, ()), (79.3, {"centre_distance": 79.3}, ("set distance",))):
        pair = Pairing(one, two, distance)
        whole, _, along = parts(84, pair.angle)
        expect(
            "pair",
            {
                "driver_teeth": 18,
                "driven_teeth": 45,
                "module": 2.5,
                "pressure_angle": 20,
                "tangential_force": 84,
            }
            | given,
            {"normal_force": whole, "separating_force": along, "force_angle": math.degrees(pair.angle)},
            features=features,
        )
