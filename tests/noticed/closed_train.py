"""Closed forms of trains.

Wheels rolling step by step, shafts by coordinates, forces as arrows, whole turns counted.
"""

import math

from outside import closed_form, expect
from plane import halve

IDLER = {"first_teeth": 18, "second_teeth": 24, "third_teeth": 45}
COMPOUND = {"first_teeth": 18, "second_teeth": 45, "third_teeth": 20, "fourth_teeth": 50}


def rolled(turns, *meshes):
    """Turns of the last of a row of shafts: at each mesh as many teeth pass on both gears, the other way."""
    for driving, driven in meshes:
        turns = -(turns * driving) / driven
    return turns


@closed_form("teeth passed at each mesh, the same on both gears; each mesh reverses the direction")
def motion_of_an_idler_train():
    second, third = rolled(40, (18, 24)), rolled(40, (18, 24), (24, 45))
    expect(
        "idler train",
        IDLER,
        {"first_stage_ratio": 40 / -second, "second_stage_ratio": second / -third, "train_ratio": 40 / third},
    )
    expect("idler train", IDLER | {"first_speed": 40}, {"second_speed": second, "third_speed": third})
    expect("idler train", IDLER | {"first_turns": 40}, {"second_turns": second, "third_turns": third})
    for gears in (2, 3, 4, 5):
        expect(
            "idler train",
            {"gears_in_row": gears},
            {"direction_factor": math.copysign(1, rolled(1, *[(20, 20)] * (gears - 1)))},
        )


@closed_form("teeth passed at each mesh; two gears on one shaft turn together")
def motion_of_a_compound_train():
    middle, last = rolled(40, (18, 45)), rolled(40, (18, 45), (20, 50))
    expect(
        "compound train",
        COMPOUND,
        {"first_stage_ratio": 40 / -middle, "second_stage_ratio": middle / -last, "train_ratio": 40 / last},
    )
    expect(
        "compound train",
        COMPOUND | {"first_speed": 40},
        {"second_speed": middle, "third_speed": middle, "fourth_speed": last},
    )
    expect(
        "compound train",
        COMPOUND | {"first_turns": 40},
        {"second_turns": middle, "third_turns": middle, "fourth_turns": last},
    )
    expect("compound train", {"train_ratio": 9}, {"equal_stage_ratio": 3})


@closed_form("pitch circles that touch, laid along a line")
def distances_of_a_train():
    expect(
        "idler train",
        IDLER | {"module": 2.5},
        {
            "first_centre_distance": 22.5 + 30,
            "second_centre_distance": 30 + 56.25,
            "row_length": 22.5 + 60 + 56.25,
        },
    )
    expect(
        "compound train",
        COMPOUND | {"module": 2.5},
        {
            "first_centre_distance": 22.5 + 56.25,
            "second_centre_distance": 25 + 62.5,
            "row_length": 22.5 + 56.25 + 25 + 62.5,
        },
    )
    given = COMPOUND | {"first_stage_module": 2, "second_stage_module": 3}
    expect(
        "compound train",
        given,
        {"first_centre_distance": 18 + 45, "second_centre_distance": 30 + 75},
        features=("two modules",),
    )
    # Reverted: the last gear fills what the first stage's distance leaves beside its pinion.
    expect(
        "compound train",
        {
            "first_teeth": 18,
            "second_teeth": 45,
            "third_teeth": 15,
            "first_stage_module": 2,
            "second_stage_module": 3,
        },
        {"fourth_teeth": (18 + 45 - 15 * 1.5) / 1.5},
        features=("two modules", "reverted"),
    )


def bent(spacing=110.0, one=52.5, two=86.25):
    """The idler's place.

    On a circle round the first shaft, as far along it as the other shaft is then at its distance.
    """
    angle = halve(lambda a: math.dist((one * math.cos(a), one * math.sin(a)), (spacing, 0)) - two, 0, math.pi)
    return angle, (one * math.cos(angle), one * math.sin(angle))


@closed_form("two circles round the shafts, crossed by halving; angles from coordinates")
def place_of_the_idler():
    angle, (x, y) = bent()
    to_first, to_last = math.atan2(-y, -x), math.atan2(-y, 110 - x)
    expect(
        "idler train",
        IDLER | {"module": 2.5, "shaft_spacing": 110},
        {
            "idler_angle": math.degrees(angle),
            "idler_x": x,
            "idler_y": y,
            "idler_bend": math.degrees(abs(math.remainder(to_last - to_first, math.tau))),
        },
    )


@closed_form(
    "arrows: at each mesh a part across the line of centres and a part that pushes the shafts apart, added up"
    " for both ways of turning"
)
def forces_on_the_idler():
    pressure, push = math.radians(20), 84.0
    whole = halve(lambda size: size * math.sin(math.pi / 2 - pressure) - push, 0, 1000)
    apart = whole * math.sin(pressure)
    expect(
        "idler train",
        IDLER | {"pressure_angle": 20, "mesh_tangential_force": push},
        {
            "first_mesh_separating_force": apart,
            "second_mesh_separating_force": apart,
            "idler_tangential_push": push + push,
            "idler_radial_push": 0.0,
        },
    )
    expect(
        "idler train",
        {"first_mesh_separating_force": 41, "second_mesh_separating_force": 29},
        {"idler_radial_push": 12},
    )
    _, (x, y) = bent()
    # directions to the first and the last shaft
    ends = [(-x / 52.5, -y / 52.5), ((110 - x) / 86.25, -y / 86.25)]
    forces = []
    for way in (1, -1):
        total = [0.0, 0.0]
        # driven at the first mesh, held back at the last
        for (u, v), drives in zip(ends, (1, -1), strict=True):
            total[0] += drives * way * push * -v - apart * u
            total[1] += drives * way * push * u - apart * v
        # Turning so that the rim leaves the first mesh towards the last shaft: through the inside of the
        # bend.
        inwards = way * (-ends[0][1] * ends[1][0] + ends[0][0] * ends[1][1]) > 0
        forces.append((inwards, math.hypot(*total)))
    expect(
        "idler train",
        IDLER | {"module": 2.5, "shaft_spacing": 110, "pressure_angle": 20, "mesh_tangential_force": push},
        {
            "idler_force_one_way": next(size for inwards, size in forces if inwards),
            "idler_force_other_way": next(size for inwards, size in forces if not inwards),
        },
    )


@closed_form("work in is work out and loss: torque times turns, each mesh passing on its share")
def torque_through_a_train():
    for kind, given, last in (
        ("idler train", IDLER, rolled(40, (18, 24), (24, 45))),
        ("compound train", COMPOUND, rolled(40, (18, 45), (20, 50))),
    ):
        work = 3000 * 40 * 0.95 * 0.95
        expect(
            kind, given | {"first_torque": 3000, "mesh_efficiency": 0.95}, {"last_torque": work / abs(last)}
        )
        force, way = 3000 / 22.5, 40 * math.tau * 22.5  # on the first pitch circle
        expect(kind, {"first_torque": 3000, "first_speed": 40}, {"power": force * way})
        if kind == "idler train":
            expect(
                kind,
                {"first_torque": 3000, "first_teeth": 18, "module": 2.5},
                {"mesh_tangential_force": force},
            )
        end = {"idler train": "third_speed", "compound train": "fourth_speed"}[kind]
        expect(
            kind,
            {"last_torque": work / abs(last), end: abs(last), "mesh_efficiency": 0.95},
            {"power": force * way},
        )


@closed_form("first-shaft turns counted one by one until shafts stand as at the start")
def whole_turns_of_a_train():
    def first(*fractions):
        return next(k for k in range(1, 10**5) if all(k * over % under == 0 for over, under in fractions))

    for one, two, three in ((18, 24, 45), (16, 30, 28)):
        given = {"first_teeth": one, "second_teeth": two, "third_teeth": three}
        expect(
            "idler train",
            given,
            {
                "middle_turns_to_repeat": first((one, two)),
                "output_turns_to_repeat": first((one, three)),
                "turns_to_line_up": first((one, two), (one, three)),
            },
        )
    for one, two, three, four in ((18, 45, 20, 50), (16, 30, 21, 28)):
        given = {"first_teeth": one, "second_teeth": two, "third_teeth": three, "fourth_teeth": four}
        last = (one * three, two * four)
        expect(
            "compound train",
            given,
            {
                "middle_turns_to_repeat": first((one, two)),
                "output_turns_to_repeat": first(last),
                "turns_to_line_up": first((one, two), last),
            },
        )
