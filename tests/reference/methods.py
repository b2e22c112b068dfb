"""How each published value is worked out by gearlab: a row's method and output, in words of theory.

A method takes a row and gives the value in the row's own unit. What the source does by arithmetic is
done here on numbers of theory, of the parts or of the cut shape; no formula of gears is written here
a second time.
"""

import math
from dataclasses import replace

from gearlab import Gear, Mesh, derive
from gearlab.parts.gauging import USUAL_PIN
from gearlab.shape import involute
from gearlab.theory import sizes, system
from gearlab.theory.derivation import explain
from gearlab.theory.functions import arcinv_number, inv_number
from gearlab.theory.scope import scope_for
from gearlab.theory.units import convert

WORDS = {
    "P": "diametral_pitch",
    "m": "module",
    "N": "teeth",
    "z": "teeth",
    "N1": "driver_teeth",
    "z1": "driver_teeth",
    "N2": "driven_teeth",
    "z2": "driven_teeth",
    "phi": "pressure_angle",
    "alpha": "pressure_angle",
    "n1": "driver_speed",
    "n2": "driven_speed",
    "p": "circular_pitch",
    "a": "centre_distance",
    "OD": "outside_diameter",
    "mG": "ratio",
    "NP": "driver_teeth",
    "k": "addendum_factor",
    "center_distance": "centre_distance",
}


def given(row, *names):
    """The row's plain inputs by symbol, or those of some symbols in order."""
    plain = {name: cell["value"] for name, cell in row["inputs"].items()}
    return [plain[name] for name in names] if names else plain


def in_words(row, leave=()):
    return {WORDS[name]: float(value) for name, value in given(row).items() if name not in leave}


def word(name):
    return WORDS.get(name, name)


def basic(row):
    """Circles, pitches and proportions, in the tooth system that the row's coefficients are those of."""
    plain = given(row)
    name = "stub" if "addendum_coef" in plain else "fine pitch" if "dedendum_coef" in plain else "full depth"
    inputs = in_words(row, leave=("addendum_coef", "dedendum_coef", "extra"))
    if row["output"] == "diametral_pitch":
        return derive("diametral_pitch", inputs, length_unit="mm").result
    return derive(
        word(row["output"]), inputs, tooth_system=name, length_unit="mm" if "m" in plain else "in"
    ).result


def pair_from_speeds(row):
    inputs = in_words(row)
    # the source states sizes; external gears turn opposite ways
    return derive("driven_teeth", inputs | {"driven_speed": -inputs["driven_speed"]}).result


def from_circular_pitch(row):
    return derive("pitch_diameter", in_words(row), length_unit="in").result


def teeth_from_centre(row):
    """A speed ratio of 0.8 is driven over driver; our ratio is driver turns per driven turn."""
    module, distance, speed_ratio = given(row, "m", "a", "i")
    return derive(
        "driven_teeth", {"module": module, "centre_distance": distance, "ratio": 1 / speed_ratio}
    ).result


def pitch_from_outside(row):
    return derive("diametral_pitch", in_words(row)).result


def divide(row):
    a, b = given(row, "a", "b")
    if row["id"] == "R-1.48":
        return convert(derive("circular_pitch", {"module": 6.0}).result, "mm", "in")
    if row["id"] == "R-5.82":
        gear = Gear(32, diametral_pitch=b)
        # the table's own entry for one tooth per inch
        assert abs(Gear(32, diametral_pitch=1).over_pins() - a) < 6e-4
        return gear.over_pins()
    assert a == USUAL_PIN and row["quantity"].startswith("wire diameter")
    return USUAL_PIN * Gear(18, diametral_pitch=b).scale


def constant(row):
    """Coefficients of formulas, each found as a difference or quotient of numbers of theory at one module."""

    def one(asked, **more):
        return derive(asked, {"module": 1.0} | more).result

    # the clearance of the 14.5 degree system: a tenth of the tooth thickness
    tenth = one("tooth_thickness") / 10
    return {
        "R-1.136": lambda: one("addendum") + tenth,
        "R-1.137": lambda: one("working_depth") + tenth,
        "R-1.138": lambda: one("addendum") / one("circular_pitch"),
        "R-1.139": lambda: one("working_depth") / one("circular_pitch"),
        "R-1.140": lambda: (one("working_depth") + tenth) / one("circular_pitch"),
        "R-6.04": lambda: opening(14.5) / opening(20.0),
    }[row["id"]]()


def table(row):
    series = {
        "R-1.141": sizes.MODULES,
        "R-1.142": sizes.MODULES_SECOND_CHOICE,
        "R-1.143": sizes.COARSE_PITCHES,
        "R-1.144": sizes.FINE_PITCHES,
    }
    return list(series[row["id"]])


def involute_function(row):
    angle = math.radians(given(row, "phi")[0])
    # theory and shape, written apart
    assert math.isclose(inv_number(angle), float(involute.inv(angle)), rel_tol=1e-13)
    return inv_number(angle)


def involute_inverse(row):
    value = given(row, "inv_value")[0]
    assert math.isclose(arcinv_number(value), float(involute.arcinv(value)), rel_tol=1e-13)
    return math.degrees(arcinv_number(value))


def one_tooth(row):
    """One involute drives another through a full turn.

    Its string is a whole turn long; at the pitch point, half of it.
    """
    base = given(row, "base_diameter")[0] / 2
    point, _ = involute.unwind(base, math.pi)
    radius = math.hypot(*point)
    return math.degrees(math.acos(base / radius)) if row["output"] == "phi_deg" else 2 * math.pi * radius


_CONTACT = {
    "path": "length_of_action",
    "approach": "length_of_approach",
    "recess": "length_of_recess",
    "contact_ratio": "contact_ratio",
    "pinion_angle": "driver_contact_angle",
    "gear_angle": "driven_contact_angle",
    "arc": "arc_of_contact",
    "gs1max": "driver_specific_sliding",
    "gs2max": "driven_specific_sliding",
}


def contact(row):
    plain = given(row)
    angle = plain.get("alpha", plain.get("phi", 20.0))
    size = {"module": plain["m"]} if "m" in plain else {"diametral_pitch": plain["P"]}
    teeth = [plain.get(f"z{i}", plain.get(f"N{i}")) for i in (1, 2)]
    # an addendum below one module is a shortened tip
    cut = [plain["m"] - plain[f"ha{i}"] if f"ha{i}" in plain else 0.0 for i in (1, 2)]
    gears = [Gear(n, **size, pressure_angle=angle, tip_shortening=k) for n, k in zip(teeth, cut, strict=True)]
    number = Mesh(*gears).numbers[_CONTACT[row["output"]]]
    return -number if row["output"] == "gs2max" else number  # the source counts the driven gear's as negative


def contact_internal(row):
    """The path inside a ring whose addenda are its own.

    From circles, not from a tooth system; the source takes the flank to start at the base circle.
    """
    plain = given(row)
    half = {
        f"{side}_base_radius": plain["m"] * plain[z] / 2 * math.cos(math.radians(plain["alpha"]))
        for side, z in (("driver", "z1"), ("driven", "z2"))
    }
    circles = half | {
        "driver_outside_radius": plain["m"] * plain["z1"] / 2 + plain["ha1"],
        "inside_diameter": plain["m"] * plain["z2"] - 2 * plain["ha2"],
        "centre_distance": plain["m"] * (plain["z2"] - plain["z1"]) / 2,
        "pressure_angle": plain["alpha"],
        "driver_form_radius": half["driver_base_radius"],
    }
    return derive("length_of_action", list(circles), kind="internal pair", length_unit="mm").value(**circles)


def sliding(row):
    plain = given(row)
    pair = Mesh(*(Gear(plain[f"z{i}"], module=plain["m"], pressure_angle=plain["alpha"]) for i in (1, 2)))
    motion = (
        {"pitch_line_speed": f"{plain['v']} m/s"} if "v" in plain else {"driver_speed": float(plain["n1"])}
    )
    way = pair.explain(
        {"start": "sliding_speed_at_start", "end": "sliding_speed_at_end"}[row["output"]], **motion
    )
    return convert(way.result, way.unit, "mm/s")


def _outside_for(approach, base_radius, angle):
    """Outside radius whose circle cuts the line of action a given length from the pitch point."""
    return derive(
        "driven_outside_radius",
        {"length_of_approach": approach, "driven_base_radius": base_radius, "pressure_angle": angle},
        length_unit="mm",
    ).result


def half_path(row):
    """Approach and recess are each half of what the tangent points allow."""
    module, z1, z2, angle = given(row, "m", "z1", "z2", "alpha")
    pitch = [derive("pitch_radius", {"teeth": z, "module": module}).result for z in (z1, z2)]
    base = [
        derive("base_radius", {"teeth": z, "module": module, "pressure_angle": angle}).result
        for z in (z1, z2)
    ]
    to_tangent = [math.sqrt(r**2 - b**2) for r, b in zip(pitch, base, strict=True)]
    halves = [length / 2 for length in to_tangent]
    tips = {
        "add_gear": _outside_for(halves[0], base[1], angle) - pitch[1],
        "add_pinion": _outside_for(halves[1], base[0], angle) - pitch[0],
    }
    if row["output"] in tips:
        return tips[row["output"]]
    path = sum(halves)
    return path if row["output"] == "path" else _arc(path, angle)


def _arc(path, angle):
    return derive(
        "arc_of_contact", {"length_of_action": path, "pressure_angle": angle}, length_unit="mm"
    ).result


def addendum_for_arc(row):
    module, teeth, angle, arc = given(row, "m", "z", "alpha", "arc_in_pitches")
    pitch = derive("circular_pitch", {"module": module}).result
    path = derive(
        "length_of_action", {"arc_of_contact": arc * pitch, "pressure_angle": angle}, length_unit="mm"
    ).result
    base = derive("base_radius", {"teeth": teeth, "module": module, "pressure_angle": angle}).result
    return (
        _outside_for(path / 2, base, angle)
        - derive("pitch_radius", {"teeth": teeth, "module": module}).result
    ) / pitch


def _set_apart(length_unit, angle):
    row = system("full depth", angle)
    return scope_for("pair", length_unit, (row, row), frozenset({"set distance"}))


def operating(row):
    plain = given(row)
    if row["output"] in ("phi_new", "aw"):
        names = ("C", "C_new", "phi") if "C" in plain else ("a0", "a", "alpha_t")
        reference, distance, angle = (float(plain[name]) for name in names)
        givens = {
            "reference_centre_distance": reference,
            "centre_distance": distance,
            "pressure_angle": angle,
        }
        return explain(_set_apart("in", 20.0), givens, "operating_pressure_angle", "inch").result
    asked = {"d1_new": "driver_operating_pitch_diameter", "d2_new": "driven_operating_pitch_diameter"}[
        row["output"]
    ]
    givens = {
        "driver_pitch_diameter": float(plain["d1"]),
        "driven_pitch_diameter": float(plain["d2"]),
        "centre_distance": plain["C_new"],
    }
    return explain(_set_apart("in", 20.0), givens, asked, "inch").result


def profile_shift(row):
    """The source shortens the tips so that the clearance stays that of the tooth system."""
    module, angle, *counts_and_shifts = given(row, "m", "alpha", "z1", "z2", "x1", "x2")
    z1, z2, x1, x2 = counts_and_shifts
    full = Mesh(
        Gear(z1, module=module, pressure_angle=angle, profile_shift=x1),
        Gear(z2, module=module, pressure_angle=angle, profile_shift=x2),
    )
    y = (full.centre_distance - full.reference_centre_distance) / module
    pair = Mesh(
        *(replace(gear, tip_shortening=(x1 + x2 - y) * module) for gear in (full.driver, full.driven))
    )
    one, two = pair.driver, pair.driven
    return {
        "inv_aw": lambda: inv_number(math.radians(pair.operating_pressure_angle)),
        "aw": lambda: pair.operating_pressure_angle,
        "y": lambda: y,
        "a": lambda: pair.centre_distance,
        "dw1": lambda: pair.operating_pitch_diameters[0],
        "dw2": lambda: pair.operating_pitch_diameters[1],
        "ha1": lambda: one.addendum,
        "ha2": lambda: two.addendum,
        "h": lambda: one.whole_depth,
        "da1": lambda: one.outside_diameter,
        "da2": lambda: two.outside_diameter,
        "df1": lambda: one.root_diameter,
        "df2": lambda: two.root_diameter,
    }[row["output"]]()


def profile_shift_sum(row):
    module, angle, z1, z2, distance = given(row, "m", "alpha", "z1", "z2", "a")
    reference = derive("centre_distance", {"module": module, "driver_teeth": z1, "driven_teeth": z2}).result
    if row["output"] == "y":
        return (distance - reference) / module
    rack = system("full depth", angle)
    scope = scope_for("pair", "mm", (rack, rack), frozenset({"profile_shift"}))
    givens = {
        "module": float(module),
        "pressure_angle": float(angle),
        "driver_teeth": float(z1),
        "driven_teeth": float(z2),
        "centre_distance": distance,
        "driven_profile_shift": 0.0,
    }  # the whole sum on the driver
    return explain(scope, givens, "driver_profile_shift", "iso").result


def min_teeth(row):
    factor, angle = given(row, "k", "phi")
    kind, _, rounded = row["output"].partition("_")
    asked = {
        "rack": "least_teeth_with_rack",
        "equal": "least_teeth_with_equal",
        "ratio": "least_teeth_for_ratio",
    }[kind]
    name = next(name for name in ("full depth", "stub") if system(name, 20.0).addendum == factor)
    givens = {"pressure_angle": float(angle)} | (
        {"ratio": float(given(row, "mG")[0])} if kind == "ratio" else {}
    )
    number = derive(asked, givens, tooth_system=name, kind="pair").result
    return math.ceil(number) if rounded else number


def largest_gear(row):
    teeth, angle = given(row, "NP", "phi")
    number = derive("largest_mate_teeth", {"driver_teeth": teeth, "pressure_angle": angle}).result
    return math.floor(number) if row["output"].endswith("floor") else number


def least_angle(row):
    addendum, radius = given(row, "addendum", "r")
    teeth = derive("teeth", {"pitch_radius": radius, "module": addendum}).result
    return derive("pressure_angle", {"least_teeth_with_rack": teeth}).result


def approach_teeth(row):
    """The longest approach reaches the tangent point.

    Its arc is one pitch where it is one base pitch long.
    """
    gear = Gear(60, module=1, pressure_angle=given(row, "phi")[0])
    to_tangent = math.sqrt(gear.pitch_diameter**2 - gear.base_diameter**2) / 2
    return gear.teeth * gear.base_pitch / to_tangent


def max_addendum(row):
    module, z1, z2, angle = given(row, "m", "z1", "z2", "alpha")
    base = {
        f"{side}_base_radius": (
            derive("base_radius", {"teeth": z, "module": module, "pressure_angle": angle}).result
        )
        for side, z in (("driver", z1), ("driven", z2))
    }
    asked, margin, teeth = {
        "pinion": ("driver_outside_radius", "driven_interference_margin", z1),
        "gear": ("driven_outside_radius", "driver_interference_margin", z2),
    }[row["output"]]
    rack = system("full depth", angle)
    tip = explain(
        scope_for("pair", "mm", (rack, rack)),
        base | {"pressure_angle": float(angle), margin: 0.0},
        asked,
        "iso",
    ).result
    return tip - derive("pitch_radius", {"teeth": teeth, "module": module}).result


def min_shift(row):
    if row["output"] == "x_practical":  # a rule for 20 deg only: the angle does not go in
        return derive("practical_least_shift", in_words(row, leave=("alpha",)), kind="gear").result
    return derive("least_shift", in_words(row), length_unit="mm").result


def chordal(row):
    plain = given(row)
    size = {"diametral_pitch": 1.0} if row["expected"]["unit"] == "in" else {"module": plain.get("m", 1.0)}
    gear = Gear(
        plain["z"], **size, pressure_angle=plain.get("alpha", 20.0), profile_shift=plain.get("x", 0.0)
    )
    if "ha" in plain:
        assert math.isclose(gear.addendum, plain["ha"])
    if row["output"] == "theta_deg":
        return math.degrees(gear.tooth_thickness / gear.pitch_diameter)
    return {
        "s": gear.tooth_thickness,
        "chordal_thickness": gear.chordal_thickness,
        "chordal_addendum": gear.chordal_addendum,
    }[row["output"]]


def span(row):
    plain = given(row)
    return Gear(plain["z"], module=plain["m"], profile_shift=plain.get("x", 0.0)).span(plain["k"])


def span_teeth(row):
    plain = given(row)
    return Gear(plain["z"], module=1, profile_shift=plain["x"]).numbers["ideal_span_teeth"]


def ideal_pin(row):
    numbers = Gear(given(row, "z")[0], module=1, pressure_angle=given(row, "alpha")[0]).numbers
    return numbers["ideal_pin"] if row["output"] == "dp" else math.radians(numbers["space_half_angle"])


def over_pins(row):
    gear = Gear(given(row, "z")[0], module=1, pressure_angle=given(row, "alpha")[0])
    pin = given(row, "d_pin")[0]
    if row["output"] == "M":
        return gear.over_pins(pin)
    angle = gear.explain("pin_angle", pin_diameter=pin).result
    return angle if row["output"] == "phi_pin" else inv_number(math.radians(angle))


def opening(angle):
    """How far the centres open for one unit of backlash, from two gears moved a little apart."""
    gears = Gear(30, module=1, pressure_angle=angle), Gear(60, module=1, pressure_angle=angle)
    distance, little = Mesh(*gears).centre_distance, 1e-5
    return little / Mesh(*gears, centre_distance=distance + little).backlash


def backlash(row):
    return opening(given(row, "phi")[0])


METHODS = {
    "basic_inch": basic,
    "basic_module": basic,
    "pair_from_speeds": pair_from_speeds,
    "pitch_diameter_from_circular_pitch": from_circular_pitch,
    "teeth_from_centre": teeth_from_centre,
    "diametral_pitch_from_od": pitch_from_outside,
    "divide": divide,
    "constant": constant,
    "table": table,
    "involute": involute_function,
    "involute_inverse": involute_inverse,
    "one_tooth_involute": one_tooth,
    "contact_module": contact,
    "contact_inch": contact,
    "contact_internal": contact_internal,
    "sliding_velocity": sliding,
    "addenda_half_max_path": half_path,
    "addendum_for_arc": addendum_for_arc,
    "operating": operating,
    "profile_shift": profile_shift,
    "profile_shift_sum": profile_shift_sum,
    "min_teeth": min_teeth,
    "largest_gear": largest_gear,
    "least_pressure_angle_rack": least_angle,
    "arc_of_approach_teeth": approach_teeth,
    "max_addendum": max_addendum,
    "min_shift": min_shift,
    "chordal": chordal,
    "span": span,
    "span_teeth": span_teeth,
    "ideal_pin": ideal_pin,
    "over_pins": over_pins,
    "backlash": backlash,
}
