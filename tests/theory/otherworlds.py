"""Consistent numbers of made-up gears, pairs and trains, from other starting numbers than theory itself tries
roots with.

Each world starts from numbers drawn here; everything else is worked out from the relations by mpmath
(reference library), and what stands in ``OWN`` is worked out once more by formulas written here, from the
drawn numbers alone.
"""

import math
import random

import mpmath
import sympy as sp

from gearlab.theory.quantities import QUANTITIES, split_side
from gearlab.theory.scope import FULL_TURN, Scope
from gearlab.theory.worlds import STARTS

# Lengths in modules, angles in degrees; whole numbers are drawn whole. What is not here lies between 0.7 and
# 1.4 times the number of a world of theory. Up to 23 degrees the rack of full depth keeps the tip radius of
# its row.
DRAWN = {
    "teeth": (18, 70),
    "driver_teeth": (18, 40),
    "driven_teeth": (41, 90),
    "first_teeth": (15, 30),
    "second_teeth": (24, 60),
    "third_teeth": (14, 32),
    "fourth_teeth": (35, 70),
    "sun_teeth": (15, 40),
    "planet_teeth": (14, 30),
    "planets": (3, 5),
    "meshes": (2, 4),
    "gears_in_row": (2, 7),
    "span_teeth": (2, 6),
    "vent_pinion_teeth": (14, 30),
    "pressure_angle": (18.0, 23.0),
    "shaft_angle": (65.0, 105.0),
    "profile_shift": (0.02, 0.3),
    "pin_diameter": (1.65, 1.75),
    "spare_teeth": (2, 4),
}


def drawn(word: str, rng: random.Random, module: float) -> float | None:
    """A number for a quantity that no relation gives; None where theory has none to go by."""
    base = split_side(word)[1]
    name = word if word in DRAWN else base
    start = STARTS[0].get(word, STARTS[0].get(base))
    if name in DRAWN:
        low, high = DRAWN[name]
        number = rng.randint(low, high) if isinstance(low, int) else rng.uniform(low, high)
    elif start is None:
        return None
    elif QUANTITIES[word].whole or name in ("pinion_side",):
        return start
    else:
        number = start * rng.uniform(0.7, 1.4)
        if QUANTITIES[word].dimension == "length":
            number *= 7 * module  # the first world of theory has seven teeth to the unit of length
        return number if name not in ("efficiency", "mesh_efficiency") else rng.uniform(0.85, 0.98)
    dimension = QUANTITIES[word].dimension
    return (
        math.radians(number)
        if dimension == "angle"
        else number * module
        if dimension == "length"
        else float(number)
    )


def world(scope: Scope, seed: int) -> dict[sp.Symbol, float] | None:
    """Consistent numbers for every symbol of a scope.

    None where some relation has no real number, or two disagree.
    """
    rng = random.Random(seed)
    module = rng.uniform(0.08, 0.3) if scope.length_unit == "in" else rng.uniform(1.0, 6.0)
    defined = {equation.left.name for equation in scope.equations}
    values: dict[sp.Symbol, float] = {FULL_TURN: 2 * math.pi}
    for one in sorted(scope.symbols, key=lambda s: s.name):
        if one.name == "diametral_pitch":
            values[one] = 1 / module
        elif one.name == "module":
            values[one] = module
        elif one.name not in defined and (number := drawn(one.name, rng, module)) is not None:
            values[one] = number
    one, two = (next((s for s in values if s.name == f"{side}_teeth"), None) for side in ("driver", "driven"))
    # a wheel that drives its pinion: no world of theory does that
    if one and two and scope.kind != "internal pair" and rng.random() < 0.3:
        values[one], values[two] = values[two], values[one]
    remaining = list(scope.equations)
    while ready := [e for e in remaining if e.right.free_symbols <= values.keys()]:
        for equation in ready:
            remaining.remove(equation)
            try:
                number = _precise(equation.right, values)
            except (ValueError, TypeError, ZeroDivisionError):
                return None
            if equation.left not in values:
                values[equation.left] = number
            elif abs(values[equation.left] - number) > 1e-9 * max(1.0, abs(number)):
                return None  # one of them does not hold for such numbers
    return values if not remaining and all(map(math.isfinite, values.values())) else None


_TWINS = {
    "inv": lambda x: mpmath.tan(x) - x,
    "common_factor": lambda a, b: math.gcd(round(a), round(b)),
    "common_multiple": lambda a, b: math.lcm(round(a), round(b)),
    "odd_factor": lambda n: mpmath.cos(mpmath.pi / 2 / n) if round(n) % 2 else 1,
    "even_factor": lambda n: 1 - round(n) % 2,
    "remainder": lambda a, b: a - b * math.floor(a / b + 1e-12),
    "next_multiple": lambda a, b: math.ceil(a / b - 1e-9) * b,
    "smaller": min,
    "arcinv": lambda y: mpmath.findroot(lambda x: mpmath.tan(x) - x - y, (3 * y) ** (mpmath.mpf(1) / 3)),
    "best_ratio_error": lambda i: min(
        abs(two / one / i - 1) for one in range(18, 31) for two in range(18, 73)
    ),
    "opened_angle": lambda start, share: mpmath.findroot(
        lambda x: mpmath.tan(x) - x - start - share * mpmath.cos(x), (3 * start) ** (mpmath.mpf(1) / 3)
    ),
}
_COMPILED: dict = {}


def _precise(expression: sp.Expr, values: dict[sp.Symbol, float]) -> float:
    names = sorted(expression.free_symbols, key=lambda s: s.name)
    if expression not in _COMPILED:
        _COMPILED[expression] = sp.lambdify(names, expression, modules=[_TWINS, "mpmath"])
    number = _COMPILED[expression](*(mpmath.mpf(values[one]) for one in names))
    if mpmath.im(number):
        raise ValueError("no real number")
    return float(number)


def own(
    kind: str, features: tuple[str, ...], length_unit: str, numbers: dict[str, float]
) -> dict[str, float]:
    """Formulas written here, from the numbers drawn.

    Handbook forms of what a world holds, for plain kinds.
    """
    get = numbers.get
    m = get("module") or (1 / numbers["diametral_pitch"] if "diametral_pitch" in numbers else None)
    if features or m is None and kind != "planetary set":
        return {}
    if kind == "gear":
        z, a = numbers["teeth"], numbers["pressure_angle"]
        tip = math.acos(z * math.cos(a) / (z + 2))
        return {
            "pitch_diameter": m * z,
            "outside_diameter": m * (z + 2),
            "root_diameter": m * (z - 2.5),
            "base_pitch": math.pi * m * math.cos(a),
            # E. Buckingham, Analytical Mechanics of Gears, chapter 4: thickness at a radius
            "tip_thickness": m * (z + 2) * (math.pi / 2 / z + math.tan(a) - a - math.tan(tip) + tip),
            "span": m * math.cos(a) * (math.pi * (numbers["span_teeth"] - 0.5) + z * (math.tan(a) - a)),
            "pitch_line_speed": math.pi * m * z * numbers["speed"],
        }
    if kind == "pair":
        z, y, a = numbers["driver_teeth"], numbers["driven_teeth"], numbers["pressure_angle"]
        path = [math.sqrt((n / 2 + 1) ** 2 - (n / 2 * math.cos(a)) ** 2) for n in (z, y)]
        return {
            "centre_distance": m * (z + y) / 2,
            "ratio": y / z,
            "driven_speed": -numbers["driver_speed"] * z / y,
            # R. L. Mott, Machine Elements in Mechanical Design, section 8-5
            "contact_ratio": (sum(path) - (z + y) / 2 * math.sin(a)) / (math.pi * math.cos(a)),
            "driver_interference_margin": m * ((z + y) / 2 * math.sin(a) - path[1]),
            "driver_turns_to_repeat": y / math.gcd(round(z), round(y)),
            "least_teeth_with_rack": 2 / math.sin(a) ** 2,
        }
    if kind == "internal pair":
        z, y = numbers["driver_teeth"], numbers["driven_teeth"]
        return {
            "centre_distance": m * (y - z) / 2,
            "inside_diameter": m * (y - 2),
            "driven_speed": numbers["driver_speed"] * z / y,
        }
    if kind == "idler train":
        a, b, c = (numbers[f"{side}_teeth"] for side in ("first", "second", "third"))
        return {
            "train_ratio": c / a,
            "third_speed": numbers["first_speed"] * a / c,
            "row_length": m * (a + 2 * b + c) / 2,
        }
    if kind == "compound train":
        a, b, c, d = (numbers[f"{side}_teeth"] for side in ("first", "second", "third", "fourth"))
        return {"train_ratio": b * d / a / c, "fourth_speed": numbers["first_speed"] * a * c / b / d}
    if kind == "bevel pair":
        z, y = numbers["driver_teeth"], numbers["driven_teeth"]
        return {
            "driver_cone_angle": math.atan2(z, y),
            "driven_cone_angle": math.atan2(y, z),
            "cone_distance": m * math.hypot(z, y) / 2,
        }
    if kind == "rack and pinion":
        return {"travel": math.pi * m * numbers["teeth"] * numbers["turns"]}
    if kind == "planetary set":
        s, p = numbers["sun_teeth"], numbers["planet_teeth"]
        return {
            "ring_teeth": s + 2 * p,
            "carrier_speed": (
                (s * numbers["sun_speed"] + (s + 2 * p) * numbers["ring_speed"]) / (2 * s + 2 * p)
            ),
        }
    return {}
