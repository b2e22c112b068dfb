"""Closed forms of epicyclic trains.

Pitch circles that roll on each other in a plane, virtual work, planets tried all round.
"""

import itertools
import math
from fractions import Fraction

from outside import closed_form, expect

# First gear, planet in it, planet in the last, last gear; whether first and last are rings.
TRAINS = (
    ((24, 18, 18, 60), (False, True)),
    ((20, 30, 14, 64), (False, True)),
    ((75, 45, 90, 30), (False, False)),
    ((64, 28, 26, 62), (True, True)),
    ((90, 20, 25, 45), (True, False)),
)


def words(counts, rings):
    """The train in theory's words; a sign tells which way a mesh turns, and a ring turns with its planet."""
    named = dict(
        zip(
            ("first_central_teeth", "first_planet_teeth", "last_planet_teeth", "last_central_teeth"),
            counts,
            strict=True,
        )
    )
    return named | {
        "first_mesh_sign": math.copysign(1, rolled(1.0, 10, 8, rings[0])),
        "last_mesh_sign": math.copysign(1, rolled(1.0, 10, 8, rings[1])),
    }


def rolled(turns, driving, driven, ring):
    """Turns of a circle on which another rolls, both axes at rest.

    The touching points go the same way equally fast.
    """
    # velocity, upwards, of a point on the right of a wheel; the other lies to the right of it, or around it
    touching = turns * driving
    return touching / driven if ring else touching / -driven


def laid_out(central, planet, ring):
    """Places on the line through both axes.

    The common axis at 0, the planet's axis, and where the pitch circles touch.
    """
    touch = central
    return (touch - planet if ring else touch + planet), touch


def motion(counts, rings, first, carrier):
    """Speeds of planet and last gear.

    The planet is a rigid body, whose middle goes with the carrier and whose edge with the gear.
    """
    z_first, p_first, p_last, z_last = counts
    middle, touch = laid_out(z_first, p_first, rings[0])
    # velocities of its edge and its middle, over their distance
    planet = (first * touch - carrier * middle) / (touch - middle)
    # the other mesh has the module that brings its planet to the same pin
    share = middle / laid_out(z_last, p_last, rings[1])[0]
    touch = laid_out(z_last, p_last, rings[1])[1] * share
    return planet, (carrier * middle + planet * (touch - middle)) / touch


@closed_form("pitch circles rolling on each other, the carrier at rest; teeth that pass at each mesh")
def values_of_the_meshes():
    for counts, rings in TRAINS:
        first = rolled(1.0, counts[0], counts[1], rings[0])
        last = rolled(1.0, counts[2], counts[3], rings[1])
        expect(
            "epicyclic train",
            words(counts, rings),
            {"first_mesh_value": first, "last_mesh_value": last, "train_value": first * last},
        )
    between = rolled(1.0, 28, 17, False)
    given = words((25, 33, 15, 73), (False, True)) | {
        "inner_planet_teeth": 28,
        "outer_planet_teeth": 17,
        "planet_mesh_sign": math.copysign(1, between),
    }
    turned = rolled(rolled(rolled(1.0, 25, 33, False), 28, 17, False), 15, 73, True)
    expect(
        "epicyclic train",
        given,
        {"planet_mesh_value": between, "train_value": turned},
        features=("double planets",),
    )


@closed_form(
    "velocities of a rigid planet: its middle goes round with the carrier, its edges with the gears they"
    " touch; what is seen from the carrier are turns past its arm"
)
def speeds_of_an_epicyclic_train():
    for counts, rings in TRAINS:
        for first, carrier in ((43.0, 9.0), (0.0, -100.0), (-29.0, 13.0), (35.0, 0.0)):
            planet, last = motion(counts, rings, first, carrier)
            past = {
                "first_relative_speed": first - carrier,
                "last_relative_speed": last - carrier,
                "planet_relative_speed": planet - carrier,
            }
            given = words(counts, rings) | {"first_central_speed": first, "carrier_speed": carrier}
            expect("epicyclic train", given, {"last_central_speed": last, "planet_speed": planet} | past)
    expect(
        "epicyclic train", {"first_relative_speed": 34.0, "carrier_speed": 9.0}, {"first_central_speed": 43.0}
    )


@closed_form("virtual work: torques that balance do no work, whichever way the train moves")
def torques_of_an_epicyclic_train():
    for counts, rings in TRAINS:
        # once the carrier at rest; once all of it as one piece
        one, two = motion(counts, rings, 1.0, 0.0)[1], motion(counts, rings, 1.0, 1.0)[1]
        assert math.isclose(two, 1.0)
        for last in (-37.0, 2300.0):
            first = -last * one / 1.0
            carrier = -(first * 1.0 + last * two) / 1.0
            expect(
                "epicyclic train",
                words(counts, rings) | {"last_outer_torque": last},
                {"first_outer_torque": first, "carrier_outer_torque": carrier},
            )


@closed_form("pitch circles that touch, laid along a line; pins on a circle by coordinates")
def places_of_the_planets():
    for counts, rings in TRAINS:
        z_first, p_first, p_last, z_last = counts
        near, far = (laid_out(z_first, p_first, rings[0])[0], laid_out(z_last, p_last, rings[1])[0])
        expect(
            "epicyclic train", words(counts, rings), {"first_radius_teeth": near, "last_radius_teeth": far}
        )
        radius = laid_out(z_first * 2.5 / 2, p_first * 2.5 / 2, rings[0])[0]
        pins = [(radius * math.cos(k * math.tau / 3), radius * math.sin(k * math.tau / 3)) for k in range(3)]
        apart = math.dist(*pins[:2])
        expect(
            "epicyclic train",
            words(counts, rings) | {"first_mesh_module": 2.5, "planets": 3, "largest_planet_diameter": 20.0},
            {"carrier_radius": radius, "planet_spacing": apart, "planet_gap": apart - 10.0 - 10.0},
        )
        last = laid_out(z_last * 2.0 / 2, p_last * 2.0 / 2, rings[1])[0]
        expect(
            "epicyclic train",
            {
                "last_central_teeth": z_last,
                "last_planet_teeth": p_last,
                "last_mesh_sign": words(counts, rings)["last_mesh_sign"],
                "last_mesh_module": 2.0,
            },
            {"carrier_radius": last},
            features=("coaxial",),
        )


def places(counts, rings):
    """Where another planet, equal to the first, finds teeth and spaces of both gears as the first did.

    Shares of a turn.

    The pin stands at a share of a turn, and the planet is turned on it. In both meshes whole teeth must have
    passed: of the gear by the share, and of the planet, outside against it and in a ring with it.
    """
    (z_first, p_first, p_last, z_last), ways = counts, [-1 if ring else 1 for ring in rings]
    found = set()
    for one, two in itertools.product(
        range(-p_first, z_first + p_first + 1), range(-p_last, z_last + p_last + 1)
    ):
        # z_first * share + way * p_first * turned = one;  z_last * share + way * p_last * turned = two
        size = z_first * ways[1] * p_last - z_last * ways[0] * p_first
        share, turned = (
            Fraction(one * ways[1] * p_last - two * ways[0] * p_first, size),
            Fraction(z_first * two - z_last * one, size),
        )
        if 0 <= share < 1 and 0 <= turned < 1:
            found.add(share)
    return found


@closed_form(
    "places all round at which another planet goes in, found one by one; equally spaced planets must stand on"
    " them"
)
def equal_spacing():
    for counts, rings in (
        ((24, 18, 18, 60), (False, True)),
        ((9, 12, 8, 30), (False, True)),
        ((12, 8, 9, 20), (False, True)),
        ((32, 12, 9, 14), (True, False)),
    ):
        where = places(counts, rings)
        number = len(where)
        given = words(counts, rings)
        # theory counts round the other way where the ring comes first; a count has no sign
        sense = 1 if rings[1] else -1
        expect("epicyclic train", given, {"equal_spacing_number": sense * number})
        for planets in (2, 3, 4, 5, 7):
            goes = all(Fraction(k, planets) in where for k in range(planets))
            left = next(one for one in range(planets) if (sense * number - one) % planets == 0)
            assert goes == (left == 0)
            expect("epicyclic train", given | {"planets": planets}, {"equal_spacing_remainder": left})
