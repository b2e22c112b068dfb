"""Closed forms of planetary sets, racks and the whole drive.

Rolling without slip, balances of torque and work, brute assembly.
"""

import math

from outside import closed_form, definition, expect

SET = {"sun_teeth": 24, "planet_teeth": 18}


@closed_form(
    "across the ring: a sun's radius and a planet's diameter, on both sides; rolling circles by coordinates"
)
def a_planetary_set():
    expect("planetary set", SET, {"ring_teeth": 18 + 24 + 18})
    sun, planet = 24 / 2, 18 / 2
    place = [
        ((sun + planet) * 2.5 * math.cos(k * math.tau / 3), (sun + planet) * 2.5 * math.sin(k * math.tau / 3))
        for k in range(3)
    ]
    expect(
        "planetary set",
        SET | {"module": 2.5, "planets": 3},
        {
            "carrier_radius": math.hypot(*place[0]),
            "planet_spacing": math.dist(place[0], place[1]),
            "planet_gap": math.dist(place[0], place[1]) - 2 * (planet + 1) * 2.5,
        },
    )
    expect(
        "planetary set",
        SET | {"module": 2.5, "planets": 3},
        {"planet_gap": math.dist(place[0], place[1]) - 2 * (planet + 0.8) * 2.5},
        tooth=("stub", 20.0),
    )


def speeds(sun=None, ring=None, carrier=None, radii=(12, 9, 30)):
    """Speeds of sun, planet, ring and carrier: where two circles touch both have one velocity."""
    s, p, r = radii
    if carrier is None:  # the planet's middle goes as fast as the mean of its two edges
        carrier = (sun * s + ring * r) / 2 / (s + p)
    if ring is None:
        ring = (2 * carrier * (s + p) - sun * s) / r
    planet = (ring * r - sun * s) / (2 * p)  # over its width the velocity changes by so much
    return {"sun_speed": sun, "ring_speed": ring, "carrier_speed": carrier, "planet_speed": planet}


@closed_form("velocities of the planet's two edges and its middle, rolling on sun and ring without slip")
def speeds_of_a_planetary_set():
    given = SET | {"ring_teeth": 60}
    told = speeds(sun=35, ring=8)
    expect(
        "planetary set",
        given | {"sun_speed": 35, "ring_speed": 8},
        {"carrier_speed": told["carrier_speed"], "planet_speed": told["planet_speed"]},
    )
    held = speeds(sun=35, carrier=0)
    expect(
        "planetary set",
        given | {"sun_speed": 35},
        {"ring_speed": held["ring_speed"], "planet_speed": held["planet_speed"]},
        features=("carrier held",),
    )
    ring = speeds(sun=35, ring=0)
    expect(
        "planetary set",
        given | {"sun_speed": 35},
        {
            "carrier_speed": ring["carrier_speed"],
            "reduction": 35 / ring["carrier_speed"],
            "planet_speed": ring["planet_speed"],
        },
        features=("ring held",),
    )
    expect(
        "planetary set",
        {"reduction": 35 / ring["carrier_speed"], "sun_speed": 35},
        {"carrier_speed": ring["carrier_speed"]},
        features=("ring held",),
    )
    expect("planetary set", given, {"reduction": 35 / ring["carrier_speed"]})


@closed_form("balance of a planet (equal forces at its edges, both on its pin) and of the sun")
def torques_of_a_planetary_set():
    edge = 1500 / (3 * 12)  # each of three planets takes a third of the sun's torque
    expect(
        "planetary set",
        SET | {"ring_teeth": 60, "sun_torque": 1500},
        {"ring_torque": 3 * edge * 30, "carrier_torque": 3 * 2 * edge * 21},
    )


@closed_form(
    "teeth and spaces of sun and ring laid out all round: where does another planet find both as the first"
    " did?"
)
def assembly_of_a_planetary_set():
    for sun, planet, planets, fits in (
        (24, 18, 3, 1),
        (24, 18, 4, 1),
        (24, 18, 5, 0),
        (18, 21, 3, 1),
        (20, 16, 4, 1),
        (20, 17, 4, 0),
    ):
        ring = sun + 2 * planet
        # Turning the carrier by one planet's share, ring held, turns the sun on; it must stand on whole teeth
        # then.
        sun_on = (1 / planets) * (1 + ring / sun) * sun
        assert (abs(sun_on - round(sun_on)) < 1e-9) == bool(fits)
        left = (sun + ring) - planets * math.floor((sun + ring) / planets)
        expect(
            "planetary set",
            {"sun_teeth": sun, "planet_teeth": planet, "ring_teeth": ring, "planets": planets},
            {"goes_together": fits, "assembly_remainder": left},
        )


PINION = {"teeth": 20, "module": 2.5, "pressure_angle": 20}


@closed_form("a circle of the pinion's pitch radius rolls along a line")
def a_rack_and_its_pinion():
    around = math.tau * 25
    expect("rack and pinion", PINION, {"travel_per_turn": around})
    expect(
        "rack and pinion",
        PINION | {"turns": 1.75},
        {"travel": 1.75 * around, "double_travel": 2 * 1.75 * around},
    )
    expect("rack and pinion", PINION | {"angle": 90}, {"turns": 0.25, "travel": around / 4})
    expect("rack and pinion", PINION | {"speed": 6}, {"rack_speed": 6 * around})
    expect("rack and pinion", PINION | {"rack_pitch_height": 12.5}, {"mounting_height": 37.5})
    expect(
        "rack and pinion",
        PINION | {"rack_pitch_height": 12.5, "profile_shift": 0.4},
        {"mounting_height": 38.5},
        features=("profile_shift",),
    )


@closed_form("work: torque times angle is force times way; the force in the line of action by its parts")
def forces_on_a_rack():
    force = 3750 * math.radians(5) / (25 * math.radians(5))
    expect(
        "rack and pinion",
        PINION | {"pinion_torque": 3750},
        {
            "rack_force": force,
            "rack_separating_force": force / math.sin(math.radians(70)) * math.cos(math.radians(70)),
        },
    )


@closed_form("work in a minute: force times the way of the rack, on a circle of the pinion's pitch radius")
def power_of_a_rack():
    way = 6 * math.tau * 25
    expect("rack and pinion", {"rack_force": 150, "rack_speed": way}, {"power": 150 * way})
    expect("rack and pinion", {"pinion_torque": 150 * 25, "speed": 6}, {"power": 150 * way})


@closed_form("pitches laid end to end until the travel is covered, then the spare teeth")
def length_of_a_rack():
    for travel, spare in ((400, 3), (157, 2), (158, 4)):
        teeth, pitch = 0, math.pi * 2.5
        while teeth * pitch < travel - 1e-9:
            teeth += 1
        expect(
            "rack and pinion",
            PINION | {"travel": travel, "spare_teeth": spare},
            {"rack_teeth": teeth + spare, "toothed_length": (teeth + spare) * pitch},
        )
    expect(
        "rack and pinion",
        PINION | {"rack_teeth": 54, "spare_teeth": 3},
        {"largest_travel": 51 * math.pi * 2.5},
    )


@closed_form(
    "velocity of the point of a turning circle that touches the rack: below it goes one way, above it the"
    " other"
)
def direction_of_a_rack():
    for side in (1, -1):  # the pinion above or below
        # counter-clockwise: speed to the right is -omega times the height of the point, which lies on the
        # rack's side
        velocity = -(1.0 * -side * 25)
        right = math.copysign(1, velocity)
        expect("rack and pinion", PINION | {"pinion_side": side}, {"rack_direction": right})
        expect(
            "rack and pinion", PINION | {"rack_direction": right, "travel": 12.0}, {"rack_move": 12.0 * right}
        )


VENT = {"driver_teeth": 18, "driven_teeth": 45, "module": 2.5, "vent_pinion_teeth": 20}


@closed_form("rolling without slip and work, step by step from the rack back to the hand")
def the_whole_drive():
    turns = 0.4e3 / (math.tau * 25)
    crank = turns * 45 / 18
    expect(
        "drive",
        VENT | {"rack_travel": 400, "crank_speed": 15},
        {"vent_shaft_turns": turns, "crank_turns": crank, "opening_time": crank / 15},
    )
    work, through = 150 * 400, 0.92 * 0.92 * 0.92
    expect(
        "drive",
        VENT | {"design_force": 150, "efficiency": 0.92, "meshes": 3, "crank_radius": 120},
        {
            "vent_torque": work / (math.tau * turns),
            "crank_torque": work / through / (math.tau * crank),
            "hand_force": work / through / (crank * math.tau * 120),
        },
    )


@closed_form(
    "a joint that swings round the hinge, by coordinates; pressure added up in strips over the panel"
)
def the_vent_and_its_hinge():
    angle = 0.73
    chord = math.dist((560, 0), (560 * math.cos(angle), 560 * math.sin(angle)))
    expect("drive", {"rack_travel": chord, "joint_distance": 560}, {"opening_angle": math.degrees(angle)})
    strips = 1000
    moment = sum(150e-6 * 1200 * (600 / strips) * ((k + 0.5) * 600 / strips) for k in range(strips))
    expect(
        "drive",
        {
            "gust_pressure": 150e-6,
            "panel_width": 1200,
            "panel_length": 600,
            "joint_distance": 560,
            "design_force": 150,
        },
        {"hinge_moment": moment, "gust_force": moment / 560, "gust_factor": moment / 560 / 150},
    )


@definition("the same words said the other way")
def shares_of_the_drive():
    expect("drive", {"gust_force": 75, "design_force": 150}, {"gust_factor": 0.5})
    expect("drive", {"crank_turns": 9, "crank_speed": 15}, {"opening_time": 0.6})
