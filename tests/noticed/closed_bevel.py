"""Closed forms of bevel pairs.

The section through both axes, by coordinates; forces as arrows in that section.
"""

import math

from outside import closed_form, definition, expect
from plane import halve

PAIR = {"driver_teeth": 20, "driven_teeth": 33, "module": 2.5, "pressure_angle": 20}


def cones(shafts=90.0, one=20, two=33):
    """Half angles of the two cones.

    They touch along a line whose distances from both axes have the ratio of the teeth.
    """
    total = math.radians(shafts)
    first = halve(lambda a: math.sin(a) * two - math.sin(total - a) * one, 1e-6, total - 1e-6)
    return first, total - first


def apart(point, axis):
    """Along an axis from the apex, and away from it, of a point in the section.

    The touching line lies along the x axis.
    """
    direction = (math.cos(axis), math.sin(axis))
    along = point[0] * direction[0] + point[1] * direction[1]
    return along, abs(point[0] * direction[1] - point[1] * direction[0])


@closed_form(
    "two cones that roll on one another, in the section through both axes (Tredgold for the virtual teeth:"
    " the radius square to the cone)"
)
def pitch_cones():
    for shafts, given, features in (
        (90, {}, ()),
        (75, {"shaft_angle": 75}, ("shaft angle",)),
        (110, {"shaft_angle": 110}, ("shaft angle",)),
    ):
        one, two = cones(shafts)
        radius1, radius2 = 20 * 2.5 / 2, 33 * 2.5 / 2
        length = halve(lambda line, radius=radius1, half=one: apart((line, 0), half)[1] - radius, 1, 1000)
        assert math.isclose(apart((length, 0), two)[1], radius2, rel_tol=1e-9)
        # Square to the cone, from the large end to the axis.
        square = [
            halve(lambda t, half=half, length=length: math.atan2(t, length) - half, 0, 1e4)
            for half in (one, two)
        ]
        expect(
            "bevel pair",
            PAIR | given | {"face_width": 14},
            {
                "driver_cone_angle": math.degrees(one),
                "driven_cone_angle": math.degrees(two),
                "cone_distance": length,
                "mean_cone_distance": length - 7,
                "driver_apex_distance": apart((length, 0), one)[0],
                "driven_apex_distance": apart((length, 0), two)[0],
                "driver_virtual_teeth": 2 * square[0] / 2.5,
                "driven_virtual_teeth": 2 * square[1] / 2.5,
                "driver_mean_diameter": 2 * apart((length - 7, 0), one)[1],
            },
            rel=1e-8,
            features=features,
        )
    # Mott: a third of the cone distance
    expect("bevel pair", {"cone_distance": 45, "module": 2.5}, {"largest_face": 15})
    expect("bevel pair", {"cone_distance": 90, "module": 2.5}, {"largest_face": 25})  # or ten modules


def tips(half, side, length, addendum, tip_angle, face):
    """Tip corners of a gear in the section.

    At the large end square to the touching line, and inwards along the tips until the face is used up.
    """
    outer = (length, -side * addendum)  # away from its axis
    inner = (length - face, -side * (addendum - face * math.tan(tip_angle - half)))
    (along, away), (along2, away2) = (apart(point, side * half) for point in (outer, inner))
    return {
        "cone_outside_diameter": 2 * away,
        "crown_distance": along,
        "axial_face": along - along2,
        "inner_diameter": 2 * away2,
    }


@closed_form(
    "tooth heights square to the cone at the large end, lines from there to the apex; corners by coordinates"
)
def bevel_blanks():
    for tooth, addendum, dedendum in ((("full depth", 20.0), 2.5, 3.125), (("stub", 20.0), 2.0, 2.5)):
        one, two = cones()
        length = 25 / math.sin(one)
        up, down = math.atan2(addendum, length), math.atan2(dedendum, length)
        told = {"addendum_angle": math.degrees(up), "dedendum_angle": math.degrees(down)}
        for side, half, sign in (("driver", one, 1), ("driven", two, -1)):
            told |= {
                f"{side}_{word}": number
                for word, number in tips(half, sign, length, addendum, half + up, 14).items()
            }
            told |= {
                f"{side}_tip_cone_angle": math.degrees(half + up),
                f"{side}_root_cone_angle": math.degrees(half - down),
                f"{side}_cone_addendum": addendum,
            }
        expect("bevel pair", PAIR | {"face_width": 14}, told, rel=1e-8, tooth=tooth)


@closed_form(
    "proportions with long and short addendum: 0.54 and 0.46 over the ratio of the virtual gears, 2.188 deep"
    " (metric gear handbooks, from memory); roots parallel to the mate's tips"
)
def bevel_blanks_of_unequal_addenda():
    one, two = cones()
    length = 25 / math.sin(one)
    virtual = [halve(lambda t, half=half: math.atan2(t, length) - half, 0, 1e4) for half in (one, two)]
    short = 2.5 * (0.54 + 0.46 * virtual[0] / virtual[1])
    high = {"driven": short, "driver": 5 - short}
    deep = {side: 2.188 * 2.5 - height for side, height in high.items()}
    down = {side: math.atan2(depth, length) for side, depth in deep.items()}
    told = {}
    for side, mate, half, sign in (("driver", "driven", one, 1), ("driven", "driver", two, -1)):
        told |= {
            f"{side}_{word}": number
            for word, number in tips(half, sign, length, high[side], half + down[mate], 14).items()
        }
        told |= {
            f"{side}_cone_addendum": high[side],
            f"{side}_cone_dedendum": deep[side],
            f"{side}_dedendum_angle": math.degrees(down[side]),
            f"{side}_tip_cone_angle": math.degrees(half + down[mate]),
            f"{side}_root_cone_angle": math.degrees(half - down[side]),
        }
    expect("bevel pair", PAIR | {"face_width": 14}, told, rel=1e-8, features=("long addendum",))


@closed_form(
    "the separating force stands square to the touching line in the section; its parts along and across both"
    " axes"
)
def forces_of_a_bevel_pair():
    one, two = cones(75)
    length = 25 / math.sin(one)
    force = 4000 / apart((length - 7, 0), one)[1]
    push = force / math.cos(math.radians(20)) * math.sin(math.radians(20))
    told = {}
    for side, half, sign in (("driver", one, 1), ("driven", two, -1)):
        arrow = (0, sign * push)  # pressed towards its own axis
        along, away = apart(arrow, sign * half)
        told |= {f"{side}_thrust": along, f"{side}_cone_radial_force": away}
    expect(
        "bevel pair",
        PAIR | {"shaft_angle": 75, "face_width": 14, "driver_torque": 4000},
        told | {"mean_force": force},
        features=("shaft angle",),
    )


@closed_form("teeth pass the mesh equally")
def speed_of_a_bevel_pair():
    expect(
        "bevel pair",
        {"driver_teeth": 20, "driven_teeth": 33, "driver_speed": -66},
        {"output_speed": 66 * 20 / 33},
    )


@definition("both gears of a plain bevel pair have the addendum of their system")
def plain_bevel_addendum():
    expect("bevel pair", {"addendum": 2.5}, {"driver_cone_addendum": 2.5, "driven_cone_addendum": 2.5})
