"""How the published values of keys, set screws, hubs and their shafts are worked out by gearlab."""

import math
from fractions import Fraction

from methods import given

from gearlab.parts.hub import Hub
from gearlab.parts.published.fastening import SOFT_SHAFT, key, set_screw, set_screw_over
from gearlab.theory import derive


def inches(text):
    """A length written as in a shop table: 5/16, 1 1/4."""
    return float(sum(Fraction(part) for part in str(text).split()))


# -- keys ----------------------------------------------------------------------------------------------
def square_key(row):
    """The same width over the whole row: just above its lower limit, and at its upper one."""
    low, high = (inches(one) for one in given(row, "shaft_over", "shaft_to"))
    found = {key(math.nextafter(low, high), "in").width, key(high, "in").width}
    assert len(found) == 1
    return found.pop()


def keyseat(row):
    """Half of the key's height, by theory and in the table; the key itself is found by its shaft."""
    height = given(row, "H")[0]
    one = next(one for one in (key(shaft, "in") for shaft in (0.375, 1.5, 2.0)) if one.height == height)
    assert (
        one.shaft_depth
        == one.hub_depth
        == derive("half_key_depth", {"key_height": height}, length_unit="in").result
    )
    return one.shaft_depth


def parallel_key(row):
    low, high = (float(one) for one in given(row, "shaft_range")[0].split("-"))
    one = key(high)
    assert key(math.nextafter(low, high)) == one
    return [one.width, one.height, one.shaft_depth, one.hub_depth]


def keyway_bottom(row):
    """Across the shaft or across the bore, to the bottom of the keyway."""
    shaft, one = given(row, "d")[0], key(given(row, "d")[0])
    assert (one.hub_depth, one.shaft_depth) == tuple(given(row, "t2", "t4"))
    if row["output"] == "d_minus_t4":
        return derive(
            "shaft_over_keyway",
            {"bore_diameter": float(shaft), "shaft_keyway_depth": one.shaft_depth},
            length_unit="mm",
        ).result
    across = derive(
        "bore_over_keyway", {"bore_diameter": float(shaft), "keyway_depth": one.hub_depth}, length_unit="mm"
    ).result
    hub = Hub(3 * shaft, shaft, 10, 10, keyway_depth=one.hub_depth)
    # what is left of a wide hub, from outside
    assert math.isclose(across, hub.diameter - hub.wall - hub.wall_over_keyway)
    return across


def key_rule_length(row):
    """The source's factor is the rule's."""
    shaft, times = given(row, "a", "b")
    assert times == 1.5
    return derive("rule_key_length", {"bore_diameter": float(shaft)}, length_unit="mm").result


def key_length(row):
    """The stress that the source allows is its material's strength over a safety factor."""
    plain = given(row)
    known = {
        "shaft_torque": float(plain["T"]),
        "bore_diameter": float(plain["D"]),
        "key_width": float(plain["W"]),
    }
    word, strength = {"L_shear": ("key_shear", "S_shear"), "L_comp": ("key_bearing", "S_comp")}[row["output"]]
    known |= {word: plain[strength] / plain.get("SF", 1)} | (
        {"key_height": float(plain["W"])} if word == "key_bearing" else {}
    )
    return derive("key_length", known, length_unit="in").result


def equal_strength(row):
    """As high as shear and bearing are borne at one load (whatever the length).

    As long as the shaft is strong.
    """
    diameter, width, shear, bearing = (float(one) for one in given(row, "d", "b", "tau", "sigma_c"))
    if row["output"] == "l":
        return derive(
            "key_length",
            {"bore_diameter": diameter, "key_width": width, "key_shear": shear, "shaft_shear": shear},
            length_unit="mm",
        ).result
    return derive(
        "key_height",
        {"key_width": width, "key_length": 100.0, "key_shear": shear, "key_bearing": bearing},
        length_unit="mm",
    ).result


# -- shafts and hubs -----------------------------------------------------------------------------------
def shaft_torsion(row):
    diameter, stress = given(row, "D", "s")
    return derive(
        "shaft_torque", {"bore_diameter": float(diameter), "shaft_shear": stress}, length_unit="in"
    ).result


def shaft_diameter(row):
    power, speed, overload, stress = (float(one) for one in given(row, "P_kW", "n", "overload", "tau"))
    torque = derive("driver_torque", {"power": f"{power} kW", "driver_speed": speed}, length_unit="mm").result
    return derive(
        "bore_diameter", {"shaft_torque": torque * overload, "shaft_shear": stress}, length_unit="mm"
    ).result


def hub_of_diameters(row):
    bore, times = given(row, "a", "b")
    return Hub(times * bore, bore, 10, 10).wall


# -- set screws ----------------------------------------------------------------------------------------
def screw_over_key(row):
    return [set_screw_over(key(inches(given(row, "shaft")[0].split("-")[-1]), "in")).size]


def screw_table(row):
    """Seating torque, and the table's axial power.

    Our guess for a soft shaft is a share of it, to either side.
    """
    screw = set_screw(given(row, "size")[0])
    return [screw.seating_torque, round(sum(screw.holding_force()) / 2 / SOFT_SHAFT, 9)]


def seating_torque(row):
    return set_screw(given(row, "size")[0].split("-")[0]).seating_torque


def held_torque(row):
    force, shaft = (float(one) for one in given(row, "axial", "shaft_d"))
    return derive("holding_torque", {"holding_force": force, "bore_diameter": shaft}, length_unit="in").result


def screw_diameter(row):
    return set_screw(f"#{given(row, 'number')[0]}").diameter


def tap_drill(row):
    plain = given(row)
    known = {
        "screw_diameter": float(plain.get("D", plain.get("d"))),
        "screw_pitch": 1 / plain["tpi"] if "tpi" in plain else plain["pitch"],
    }
    return derive("tap_drill", known, length_unit=row["expected"]["unit"]).result


METHODS = {
    "square_key": square_key,
    "keyseat_half": keyseat,
    "parallel_key": parallel_key,
    "metric_key_hub": keyway_bottom,
    "key_length": key_length,
    "key_rule_length": key_rule_length,
    "key_equal_strength": equal_strength,
    "shaft_torsion": shaft_torsion,
    "shaft_diameter": shaft_diameter,
    "hub_of_diameters": hub_of_diameters,
    "screw_over_key": screw_over_key,
    "screw_table": screw_table,
    "seating_torque": seating_torque,
    "set_screw_torsion": held_torque,
    "screw_number_diameter": screw_diameter,
    "tap_drill_inch": tap_drill,
    "metric_tap_drill": tap_drill,
}
