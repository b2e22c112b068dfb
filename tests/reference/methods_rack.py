"""How the published values of racks, bevel pairs and planetary trains are worked out by gearlab.

A plain planetary set is a ``Planetary``, every other train on a carrier an ``EpicyclicTrain`` of the meshes
that the source names. Where a row gives the way round only as a sign, the kinds of its meshes are chosen to
have it.
"""

import math

from methods import given

from gearlab import BevelPair, EpicyclicTrain, Gear, Planetary, Rack, RackDrive, Train, derive
from gearlab.parts import working
from gearlab.theory import system
from gearlab.theory.scope import scope_for
from gearlab.theory.units import convert


# -- racks ---------------------------------------------------------------------------------------------
def rack_travel(row):
    teeth, pitch = given(row, "N", "P")
    return RackDrive(Gear(teeth, diametral_pitch=pitch), Rack(40, diametral_pitch=pitch)).travel_per_turn


def rack_speed(row):
    speed, one, two, pinion, pitch = given(row, "n", "z_drive", "z_driven", "z_pinion", "pitch")
    rpm = Train.of(12 * one, 12 * two, module=1).speeds(-speed)[-1]
    if row["output"] == "rpm":
        return rpm
    module = derive("module", {"circular_pitch": float(pitch)}).result
    drive = RackDrive(Gear(pinion, module=module), Rack(40, module=module))
    return convert(drive.rack_speed(rpm), "m/s", "mm/min") / (
        drive.rack.circular_pitch if row["output"] == "teeth_per_min" else 1
    )


def rack_pinion(row):
    module, teeth, shift, height = given(row, "m", "z", "x", "H")
    pinion = Gear(teeth, module=module, profile_shift=shift)
    if row["output"] == "mounting":
        return RackDrive(pinion, Rack(40, module=module, pitch_height=height)).mounting_height
    return {"da": pinion.outside_diameter, "df": pinion.root_diameter, "ha": pinion.numbers["addendum"]}[
        row["output"]
    ]


# -- bevel pairs ---------------------------------------------------------------------------------------
def bevel(row):
    plain = given(row)
    size = {"diametral_pitch": plain["P"]} if "P" in plain else {"module": plain["m"]}
    pair = BevelPair(
        plain["z1"],
        plain["z2"],
        face_width=plain.get("F", plain.get("b")),
        long_addendum=row["method"] == "bevel_long_addendum",
        **size,
    )
    n = pair.numbers
    words = {
        "gamma1": "driver_cone_angle",
        "gamma2": "driven_cone_angle",
        "R": "cone_distance",
        "face_max": "largest_face",
        "R_mean": "mean_cone_distance",
        "d2": "driven_pitch_diameter",
        "zv1": "driver_virtual_teeth",
        "da1": "driver_cone_outside_diameter",
        "da2": "driven_cone_outside_diameter",
        "ha1": "driver_cone_addendum",
        "ha2": "driven_cone_addendum",
        "hf1": "driver_cone_dedendum",
        "hf2": "driven_cone_dedendum",
        "tf1": "driver_dedendum_angle",
        "tf2": "driven_dedendum_angle",
        "da_1": "driver_tip_cone_angle",
        "da_2": "driven_tip_cone_angle",
        "df_1": "driver_root_cone_angle",
        "df_2": "driven_root_cone_angle",
        "X1": "driver_crown_distance",
        "X2": "driven_crown_distance",
        "Xb1": "driver_axial_face",
        "Xb2": "driven_axial_face",
        "di1": "driver_inner_diameter",
        "di2": "driven_inner_diameter",
        "theta_f": "dedendum_angle",
        "theta_a": "addendum_angle",
        "face_angle1": "driver_tip_cone_angle",
        "root_angle1": "driver_root_cone_angle",
    }
    if row["output"] == "face_nom":  # three tenths of the cone distance
        return 0.3 * n["cone_distance"]
    return n[words[row["output"]]]


def bevel_forces_pitch(row):
    """The source lets the force act at the large pitch circle, and takes a horsepower for 63000 lbf in
    rev/min (exactly 63025.4).
    """
    power, speed, teeth, pitch, phi, gamma = given(row, "hp", "n", "z", "P", "phi", "gamma")
    torque = (
        derive("driver_torque", {"power": f"{power} hp", "driver_speed": float(speed)}).result
        * 63000
        / 63025.357
    )
    force = derive(
        "tangential_force",
        {"driver_torque": torque, "driver_teeth": teeth, "diametral_pitch": pitch},
        kind="load",
    ).result
    asked = {"axial": "driver_thrust", "radial": "driver_cone_radial_force"}[row["output"]]
    return derive(
        asked, {"mean_force": force, "pressure_angle": phi, "driver_cone_angle": gamma}, length_unit="in"
    ).result


def _torque(row):
    power, speed = given(row, "P", "n")
    return derive(
        "driver_torque", {"power": float(power), "driver_speed": float(speed)}, length_unit="mm"
    ).result


def bevel_forces_mean_d(row):
    """A pinion by its radius and ratio, the face a share of the cone distance; any tooth count serves."""
    radius, ratio, share = given(row, "r1", "i", "b_frac")
    pair = BevelPair(20, 20 * ratio, module=2 * radius / 20)
    extra = {"driver_torque": _torque(row), "face_width": share * pair.cone_distance}
    if row["output"] == "Ps":  # the whole separating force: both its parts together
        return math.hypot(
            *(pair.explain(word, **extra).result for word in ("driver_thrust", "driver_cone_radial_force"))
        )
    return pair.explain({"Pt": "mean_force", "Pa": "driver_thrust"}[row["output"]], **extra).result


# -- planetary trains ----------------------------------------------------------------------------------
def line(first, num, den, sign, last, tag=""):
    """Meshes from a train's first member to its last over planets on "arm", and who is carried.

    The sign of the source says whether the last is a ring.
    """
    if len(num) == 1 and sign == -1 and num[0] != den[0]:  # sun and ring over an idler of any count
        large, small = (
            ((first, num[0]), (last, den[0])) if num[0] > den[0] else ((last, den[0]), (first, num[0]))
        )
        planet = "planet" + tag
        return [(*small, planet, 4), (*large, planet, 4, "internal")], {planet: "arm"}
    if len(num) == 1:  # a planet is the last itself
        return [(first, num[0], last, den[0], "internal" if sign == 1 else "external")], {last: "arm"}
    planet = "planet" + tag
    kinds = ("external", "external") if sign == 1 else ("external", "internal")
    return [(first, num[0], planet, den[0], kinds[0]), (last, den[1], planet, num[1], kinds[1])], {
        planet: "arm"
    }


# Rows whose last member is the planet itself: an external pair, or planet and ring.
PLANETS = {"R-10.46", "R-10.53", "R-10.54", "R-10.85", "R-10.127"}
# Rows in which first and last stand inside rings, or carry bevel teeth: as the source draws them.
DRAWN = {
    "R-10.60": ("internal", "internal"),
    "R-10.61": ("internal", "internal"),
    "R-10.124": ("internal", "internal"),
    "R-10.77": ("internal", "internal"),
    "R-10.73": ("bevel left", "bevel right"),
    "R-10.86": ("bevel left", "bevel left"),
}


def by_formulas(meshes, planet, speeds, asked):
    """The same from theory's formulas for first gear, planet shaft and last gear.

    The planet may be the last itself.
    """
    gears = {
        ("arm", "speed"): "carrier_speed",
        ("first", "teeth"): "first_central_teeth",
        ("first", "speed"): "first_central_speed",
        ("last", "teeth"): "last_central_teeth",
        ("last", "speed"): "planet_speed" if planet == "last" else "last_central_speed",
    }
    known = {gears[name, "speed"]: speed for name, speed in speeds.items()}
    for (name, teeth, _, planet_teeth, *kind), side in zip(sorted(meshes), ("first", "last"), strict=False):
        known |= {
            gears[name, "teeth"]: float(teeth),
            f"{side}_planet_teeth": float(planet_teeth),
            f"{side}_mesh_sign": 1.0 if kind in (["internal"], ["bevel right"]) else -1.0,
        }
    if asked == "arm":  # several formulas at once
        return derive("carrier_speed", known, length_unit="mm").result
    return working.worked_out(scope_for("epicyclic train", "mm", (system(),)), known)[gears[asked, "speed"]]


def willis(row):
    plain = given(row)
    num, den, sign = plain["num"], plain["den"], plain["sign"]
    speeds = {name: float(plain[f"n_{name}"]) for name in ("first", "last", "arm") if f"n_{name}" in plain}
    asked = next(name for name in ("first", "last", "arm") if name not in speeds)
    one, two, plain_set = *sorted((num[0], den[0])), None
    # sun and ring
    if len(num) == 1 and sign == -1 and row["id"] not in PLANETS and (two - one) % 2 == 0 and two - one >= 12:
        sun, ring = ("first", "last") if num[0] == one else ("last", "first")
        made = Planetary(one, (two - one) // 2, module=1, planets=1, held=None)
        names = {sun: "sun", ring: "ring", "arm": "carrier"}
        plain_set = made.speeds(**{names[name]: speed for name, speed in speeds.items()})[names[asked]]
    if row["id"] in PLANETS:
        meshes, carried = (
            [("first", num[0], "last", den[0], "internal" if sign == 1 else "external")],
            {"last": "arm"},
        )
    elif row["id"] in DRAWN:
        meshes = [
            ("first", num[0], "planet", den[0], DRAWN[row["id"]][0]),
            ("last", den[1], "planet", num[1], DRAWN[row["id"]][1]),
        ]
        carried = {"planet": "arm"}
    else:
        meshes, carried = line("first", num, den, sign, "last")
    train = EpicyclicTrain(meshes, carried)
    value = train.speeds(**speeds)[asked]
    # both parts tell the same
    assert plain_set is None or math.isclose(plain_set, value, rel_tol=1e-12, abs_tol=1e-9)
    assert math.isclose(train.explain(asked, **speeds).result, value, rel_tol=1e-12)
    assert abs(by_formulas(meshes, next(iter(carried)), speeds, asked) - value) <= row["tolerance"]
    return value


def willis_two_step(row):
    """Two trains on one carrier from the same first member.

    The first ends at the fixed member, the second at the output.
    """
    plain = given(row)
    meshes, carried = line("first", plain["num1"], plain["den1"], plain["sign1"], "fixed", " 1")
    more, others = line("first", plain["num2"], plain["den2"], plain["sign2"], "out", " 2")
    train = EpicyclicTrain(meshes + more, carried | others)
    return train.speeds(first=float(plain["n_first"]), fixed=float(plain["n_fixed"]))[row["output"]]


def epicyclic(row):
    """Rows whose quantity names the counts."""
    if row["id"] == "R-10.78":  # first member fixed, the carrier turns once
        return EpicyclicTrain.stepped(("A", 27), (30, 21), ("D", 24), held="A").ratio("carrier", "D")
    if row["id"] == "R-10.123":  # both rings stand at the carrier's radius from their planets
        return derive(
            "last_central_teeth",
            {
                "first_central_teeth": 72,
                "first_planet_teeth": 30,
                "first_mesh_sign": 1,
                "last_planet_teeth": 14,
                "last_mesh_sign": 1,
                "first_mesh_module": 2.0,
                "last_mesh_module": 2.0,
            },
            features=("coaxial",),
        ).result
    # stepped planets between H and the fixed ring; the carrier's wheel drives on, on an axle of its own
    assert row["id"] == "R-10.125"
    meshes = [("H", 40, "planet", 20), ("C", 90, "planet", 30, "internal"), ("arm", 50, "output", 80)]
    return abs(EpicyclicTrain(meshes, {"planet": "arm", "output": "frame"}, held="C").speeds(H=400)["output"])


def planetary_ratio(row):
    """Which member is held.

    Ring (planetary), sun (solar), carrier (star); the ratio there is output over input speed.
    """
    sun, ring = given(row, "za", "zc")
    held, driver, driven = {
        "planetary": ("ring", "sun", "carrier"),
        "solar": ("sun", "ring", "carrier"),
        "star": ("carrier", "sun", "ring"),
    }[row["output"]]
    return 1 / Planetary(sun, (ring - sun) // 2, module=1, planets=4, held=held).ratio(driver, driven)


def planet_teeth(row):
    ring, sun = given(row, "ring", "sun")
    return derive("planet_teeth", {"ring_teeth": float(ring), "sun_teeth": float(sun)}).result


def planetary_teeth(row):
    sun, planet = given(row, "sun", "planet")
    return Planetary(sun, planet, module=1, planets=1).ring_teeth


def planetary_assembly(row):
    """How many tooth steps lie between neighbouring planets: whole, if the set goes together."""
    sun, ring, planets = given(row, "za", "zc", "N")
    made = Planetary(sun, (ring - sun) // 2, module=1, planets=planets)
    assert made.fits
    return (made.sun_teeth + made.ring_teeth) / made.planets


def planetary_times(row):
    a, b = (float(value) for value in given(row, "a", "b"))
    if row["id"] == "R-10.71":
        return derive("ring_teeth", {"sun_teeth": a, "reduction": b + 1}).result
    if row["id"] == "R-10.117":
        return derive("pitch_diameter", {"teeth": a, "module": b}).result
    sun = 16
    assert row["id"] == "R-10.130"
    made = Planetary(sun, round((b * sun - sun) / 2), module=1, planets=1)
    return made.torques(a)["ring"]


def torque_balance(row):
    """What holds the fixed member, so that all torques from outside balance.

    The source's efficiency is one of the whole train.
    """
    plain = given(row)
    first, out = (
        derive(
            "driver_torque", {"power": float(power), "driver_speed": float(speed)}, length_unit="mm"
        ).result
        for power, speed in (
            (plain["P"], plain["n_in"]),
            (plain["P"] * plain.get("eta", 1.0), plain["n_out"]),
        )
    )
    return derive(
        "last_outer_torque", {"first_outer_torque": first, "carrier_outer_torque": -out}, length_unit="mm"
    ).result


METHODS = {
    "rack_travel_inch": rack_travel,
    "rack_speed": rack_speed,
    "rack_pinion": rack_pinion,
    "bevel": bevel,
    "bevel_long_addendum": bevel,
    "bevel_forces_pitch": bevel_forces_pitch,
    "bevel_forces_mean_d": bevel_forces_mean_d,
    "willis": willis,
    "willis_two_step": willis_two_step,
    "planetary_ratio": planetary_ratio,
    "planet_teeth": planet_teeth,
    "planetary_teeth": planetary_teeth,
    "planetary_assembly": planetary_assembly,
    "planetary_times": planetary_times,
    "epicyclic": epicyclic,
    "torque_balance": torque_balance,
}
