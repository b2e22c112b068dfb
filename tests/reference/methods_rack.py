"""How the published values of racks, bevel pairs and planetary trains are worked out by gearlab.

A planetary train whose planets carry one gear each is a ``Planetary``. The others are looked at as the sources do: seen
from the carrier they are ordinary trains (``Train``), and what the carrier turns is added.
"""

import math

from methods import given

from gearlab import BevelPair, Gear, Planetary, Rack, RackDrive, Train, derive
from gearlab.theory.units import convert, factor, to_theory


# -- racks ------------------------------------------------------------------------------------------
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
    return drive.rack_speed(rpm) / (drive.rack.circular_pitch if row["output"] == "teeth_per_min" else 1)


def rack_pinion(row):
    module, teeth, shift, height = given(row, "m", "z", "x", "H")
    pinion = Gear(teeth, module=module, profile_shift=shift)
    if row["output"] == "mounting":
        return RackDrive(pinion, Rack(40, module=module, pitch_height=height)).mounting_height
    return {"da": pinion.outside_diameter, "df": pinion.root_diameter, "ha": pinion.numbers["addendum"]}[row["output"]]


# -- bevel pairs --------------------------------------------------------------------------------------
def bevel(row):
    plain = given(row)
    size = {"diametral_pitch": plain["P"]} if "P" in plain else {"module": plain["m"]}
    pair = BevelPair(plain["z1"], plain["z2"], face_width=plain.get("F", plain.get("b")), long_addendum=row["method"] == "bevel_long_addendum", **size)
    n = pair.numbers
    words = {"gamma1": "driver_cone_angle", "gamma2": "driven_cone_angle", "R": "cone_distance", "face_max": "largest_face", "R_mean": "mean_cone_distance",
             "d2": "driven_pitch_diameter", "zv1": "driver_virtual_teeth", "da1": "driver_cone_outside_diameter", "da2": "driven_cone_outside_diameter",
             "ha1": "driver_cone_addendum", "ha2": "driven_cone_addendum", "hf1": "driver_cone_dedendum", "hf2": "driven_cone_dedendum",
             "tf1": "driver_dedendum_angle", "tf2": "driven_dedendum_angle", "da_1": "driver_tip_cone_angle", "da_2": "driven_tip_cone_angle",
             "df_1": "driver_root_cone_angle", "df_2": "driven_root_cone_angle", "X1": "driver_crown_distance", "X2": "driven_crown_distance",
             "Xb1": "driver_axial_face", "Xb2": "driven_axial_face", "di1": "driver_inner_diameter", "di2": "driven_inner_diameter",
             "theta_f": "dedendum_angle", "theta_a": "addendum_angle", "face_angle1": "driver_tip_cone_angle", "root_angle1": "driver_root_cone_angle"}
    if row["output"] == "face_nom":     # three tenths of the cone distance
        return 0.3 * n["cone_distance"]
    return n[words[row["output"]]]


def bevel_forces_pitch(row):
    """The source lets the force act at the large pitch circle, and takes a horsepower for 63000 lbf in rev/min (exactly 63025.4)."""
    power, speed, teeth, pitch, phi, gamma = given(row, "hp", "n", "z", "P", "phi", "gamma")
    torque = derive("driver_torque", {"power": to_theory(power, "hp", "in"), "driver_speed": float(speed)}, length_unit="in").result * 63000 / 63025.357
    force = derive("tangential_force", {"driver_torque": torque, "driver_teeth": teeth, "diametral_pitch": pitch}, kind="load").result
    asked = {"axial": "driver_thrust", "radial": "driver_cone_radial_force"}[row["output"]]
    return derive(asked, {"mean_force": force, "pressure_angle": phi, "driver_cone_angle": gamma}).result


def _torque(row):
    power, speed = given(row, "P", "n")
    return derive("driver_torque", {"power": to_theory(power, "W", "mm"), "driver_speed": float(speed)}, length_unit="mm").result


def bevel_forces_mean_d(row):
    """A pinion by its radius and ratio, the face a share of the cone distance; any tooth count serves."""
    radius, ratio, share = given(row, "r1", "i", "b_frac")
    pair = BevelPair(20, 20 * ratio, module=2 * radius / 20)
    extra = {"driver_torque": _torque(row), "face_width": share * pair.cone_distance}
    if row["output"] == "Ps":           # the whole separating force: both its parts together
        return math.hypot(*(pair.explain(word, **extra).result for word in ("driver_thrust", "driver_cone_radial_force")))
    return pair.explain({"Pt": "mean_force", "Pa": "driver_thrust"}[row["output"]], **extra).result


# -- planetary trains ---------------------------------------------------------------------------------
def train_value(num, den, sign):
    """Turns of the last member for each turn of the first, the carrier held; the source says which way."""
    middle = [(back, on) for back, on in zip(den[:-1], num[1:], strict=True)]
    return sign / Train.of(num[0], *middle, den[-1], module=1).ratio


def from_carrier(value, first=None, last=None, arm=None):
    """The speed left out of three, by motion seen from the carrier (R. Willis, 1841)."""
    if arm is None:
        return (last - value * first) / (1 - value)
    return arm + value * (first - arm) if last is None else arm + (last - arm) / value


def willis(row):
    plain = given(row)
    num, den, sign = plain["num"], plain["den"], plain["sign"]
    speeds = {name: plain.get(f"n_{name}") for name in ("first", "last", "arm")}
    one, two = sorted((num[0], den[0]))
    if len(num) == 1 and sign == -1 and (two - one) % 2 == 0 and two - one >= 12:       # sun and ring
        sun, ring = ("first", "last") if num[0] == one else ("last", "first")
        made = Planetary(one, (two - one) // 2, module=1, planets=1, held=None)
        members = {"sun": speeds[sun], "ring": speeds[ring], "carrier": speeds["arm"]}
        found = made.speeds(**{member: speed for member, speed in members.items() if speed is not None})
        return next(found[member] for member, speed in members.items() if speed is None)
    return from_carrier(train_value(num, den, sign), **speeds)


def willis_two_step(row):
    """One carrier, two trains from the same first member: the first train gives the carrier, the second the output."""
    plain = given(row)
    arm = from_carrier(train_value(plain["num1"], plain["den1"], plain["sign1"]), first=plain["n_first"], last=plain["n_fixed"])
    if row["output"] == "arm":
        return arm
    return from_carrier(train_value(plain["num2"], plain["den2"], plain["sign2"]), first=plain["n_first"], arm=arm)


def epicyclic(row):
    """Rows whose quantity names the counts: two trains on a carrier, and two rings about one axis."""
    if row["id"] == "R-10.78":          # first member fixed, the carrier turns once
        return 1 / from_carrier(train_value([27, 21], [30, 24], 1), first=0, arm=1)
    if row["id"] == "R-10.123":         # both rings stand at the carrier's radius from their planets
        distance = derive("centre_distance", {"driver_teeth": 30, "driven_teeth": 72, "module": 2.0}, kind="internal pair").result
        return derive("driven_teeth", {"centre_distance": distance, "driver_teeth": 14, "module": 2.0}, kind="internal pair").result
    assert row["id"] == "R-10.125"      # sun and ring of the carrier, which drives on by a pair
    return abs(Train.of(50, 80, module=1).speeds(from_carrier(train_value([40, 30], [20, 90], -1), first=400, last=0))[-1])


def planetary_ratio(row):
    """Which member is held: ring (planetary), sun (solar), carrier (star); the ratio there is output over input speed."""
    sun, ring = given(row, "za", "zc")
    held, driver, driven = {"planetary": ("ring", "sun", "carrier"), "solar": ("sun", "ring", "carrier"), "star": ("carrier", "sun", "ring")}[row["output"]]
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
    """What holds the fixed member: output torque less input torque."""
    plain = given(row)
    torques = [derive("driver_torque", {"power": to_theory(power, "W", "mm"), "driver_speed": float(speed)}, length_unit="mm").result * factor("N*mm", "N*m")
               for power, speed in ((plain["P"], plain["n_in"]), (plain["P"] * plain.get("eta", 1.0), plain["n_out"]))]
    return torques[1] - torques[0]


METHODS = {"rack_travel_inch": rack_travel, "rack_speed": rack_speed, "rack_pinion": rack_pinion, "bevel": bevel, "bevel_long_addendum": bevel,
           "bevel_forces_pitch": bevel_forces_pitch, "bevel_forces_mean_d": bevel_forces_mean_d, "willis": willis,
           "willis_two_step": willis_two_step, "planetary_ratio": planetary_ratio, "planet_teeth": planet_teeth, "planetary_teeth": planetary_teeth,
           "planetary_assembly": planetary_assembly, "planetary_times": planetary_times, "epicyclic": epicyclic, "torque_balance": torque_balance}
