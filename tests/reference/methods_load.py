"""How the published values of power, tooth forces and the plain beam formula are worked out.

By ``Load`` and the theory of loads.

Left out: wear strength, which is not taught; the formula y = a - b/N, which the table replaces; and an idler
whose source adds two normal forces at right angles, which is no layout of meshes at right angles.
"""

import math

from methods import given

from gearlab import Gear, Mesh, Train, derive
from gearlab.parts.load import Load
from gearlab.parts.published.strength import STATIC_STRESS, form_factor, speed_constant, static_stress
from gearlab.theory.units import convert

# Some sources work with 63000 where 33000 x 12 / (2 pi) stands.
_ROUNDED = 63000 / (33000 * 12 / (2 * math.pi))


def inch_pair(teeth=20, pitch=8):
    return Mesh(Gear(teeth, diametral_pitch=pitch), Gear(40, diametral_pitch=pitch))


def metric_pair(diameter=50):
    return Mesh(Gear(diameter, module=1), Gear(100, module=1))


def power_inch(row):
    plain = given(row)
    if row["output"] == "hp":
        return Load(inch_pair(), float(plain["T"]), plain["n"]).power / _ROUNDED
    load = Load.from_power(inch_pair(round(8 * plain.get("D", 2.5))), plain["hp"], plain["n"])
    return (
        _ROUNDED
        * {
            "T": load.torque,
            "Wt": load.tangential_force,
            "Wr": load.separating_force,
            "W": load.normal_force,
        }[row["output"]]
    )


def _metric(row):
    plain = given(row)
    power = convert(plain["P"], row["inputs"]["P"]["unit"], "W")
    return Load.from_power(metric_pair(plain.get("d_mm", plain.get("d1_mm"))), power, plain["n"])


def power_si(row):
    load = _metric(row)
    value = {
        "T": load.torque,
        "Wt": load.tangential_force,
        "Wr": load.separating_force,
        "W": load.normal_force,
    }[row["output"]]
    return convert(value, "N", "kN") if row["expected"]["unit"] == "kN" else value


def idler(row):
    """Meshes at right angles, turning the way in which the parts along and apart work against each other."""
    load = _metric(row)
    bent = Train.of(20, 50, 20, module=1, line_angles=(0, 90))
    return min(math.hypot(*bent.idler_load(load.tangential_force, first_direction=way)) for way in (1, -1))


def _allowed(stress, words, **more):
    """The tangential force at which the plain beam formula gives that stress."""
    return derive(
        "tangential_force",
        words | {"stress_with_speed" if more else "bending_stress": float(stress)} | more,
        kind="load",
    ).result


def lewis_load(row):
    stress, face, form, pitch = given(row, "S", "b", "Y", "P")
    return _allowed(stress, {"face_width": float(face), "form_factor": form, "diametral_pitch": float(pitch)})


def dynamic_load(row):
    """A force raised by the speed factor: in the formula it stands beside the stress."""
    force, speed, constant = given(row, "Ft", "V", "c")
    return force * _speed_factor(speed, constant)


def _speed_factor(speed, constant, unit="ft/min"):
    length = "in" if unit == "ft/min" else "mm"
    return derive(
        "speed_factor",
        {"pitch_speed": f"{speed} {unit}", "speed_constant": speed_constant(float(constant), length)},
        length_unit=length,
    ).result


def barth(row):
    return _speed_factor(*given(row, "V", "c"))


def capacity_inch(row):
    stress, face, form, pitch, teeth, speed, constant = given(row, "S", "b", "Y", "P", "N", "n", "c")
    pair = inch_pair(teeth, pitch)
    moving = Load(pair, 1.0, speed)
    force = _allowed(
        stress,
        {"face_width": face, "form_factor": form, "diametral_pitch": float(pitch)},
        pitch_speed=moving.pitch_line_speed,
        speed_constant=speed_constant(float(constant), "in"),
    )
    if row["output"] == "Wt":
        return force
    return Load(pair, force * pair.driver.pitch_diameter / 2, speed).power / _ROUNDED


def face_width(row):
    horsepower, teeth, pitch, speed, constant = given(row, "hp", "N", "P", "n", "c")
    load = Load.from_power(inch_pair(teeth, pitch), horsepower, speed)
    return load.tangential_force * (
        1 if row["output"] == "Ft" else _speed_factor(load.pitch_line_speed, constant)
    )


def capacity_si(row):
    """The source's constant of the speed factor is 3 m/s.

    Service factor and factor of safety divide the force.
    """
    stress, face, module, form, teeth, speed, service, safety = given(
        row, "S", "b", "m", "Y", "z", "n", "Cs", "FOS"
    )
    pair = Mesh(Gear(teeth, module=module), Gear(75, module=module))
    moving = Load(pair, 1.0, speed)
    force = _allowed(
        stress,
        {"face_width": float(face), "form_factor": form, "module": float(module)},
        pitch_speed=moving.pitch_line_speed,
        speed_constant=speed_constant(3.0, "mm"),
    ) / (service * safety)
    return convert(
        Load(pair, convert(force * pair.driver.pitch_diameter / 2, "N*mm", "N*m"), speed).power, "W", "kW"
    )


def constant(row):
    """What the handbooks' rounded constants stand for, each from the part that does without it."""
    return {
        "R-8.21": lambda: Load.from_power(inch_pair(), 1.0, 1.0).torque,
        "R-8.22": lambda: Load(inch_pair(20, 20), 1.0, 1.0).pitch_line_speed,  # 1 in at 1 rpm
        "R-8.23": lambda: Load.from_power(metric_pair(), 1000.0, 1.0).torque,
        "R-8.46": lambda: speed_constant("cut", "mm"),
        "R-8.47": lambda: speed_constant("cast", "mm"),
        "R-8.48": lambda: 50 * math.sqrt(convert(1.0, "ft/min", "m/s")),
        "R-8.49": lambda: 78 * math.sqrt(convert(1.0, "ft/min", "m/s")),
    }[row["id"]]()


def material(row):
    name = given(row, "material")[0]
    assert name in STATIC_STRESS
    return static_stress(name, "psi")


def maker_form(row):
    return [form_factor(given(row, "N")[0], angle, "maker") for angle in (14.5, 20.0)]


def textbook_form(row):
    return form_factor(given(row, "N")[0])


def rack_form(row):
    both = isinstance(row["expected"]["value"], list)
    return (
        [form_factor(math.inf, angle, "maker") for angle in (14.5, 20.0)] if both else form_factor(math.inf)
    )


METHODS = {
    "power_inch": power_inch,
    "power_si": power_si,
    "idler_shigley": idler,
    "lewis_load": lewis_load,
    "dynamic_load": dynamic_load,
    "barth_factor": barth,
    "lewis_capacity_inch": capacity_inch,
    "face_width_lewis": face_width,
    "lewis_capacity_si": capacity_si,
    "load_constant": constant,
    "static_stress": material,
    "form_factor_maker": maker_form,
    "form_factor_textbook": textbook_form,
    "form_factor_rack": rack_form,
}
