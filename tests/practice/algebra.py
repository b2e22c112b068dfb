"""The algebra of the closed forms of the collected answers: a second evaluator, not gearlab's.

`nearest` rounds a half up; a whole number is not moved by its last bits.
"""

import math


def arcinv(y: float) -> float:
    """Angle whose involute function is y, by halving."""
    low, high = 0.0, 1.5
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if math.tan(middle) - middle < y else (low, middle)
    return low


ALGEBRA = {
    "__builtins__": {},
    "pi": math.pi,
    "cos": math.cos,
    "sin": math.sin,
    "tan": math.tan,
    "acos": math.acos,
    "asin": math.asin,
    "atan": math.atan,
    "Min": min,
    "max": max,
    "sqrt": math.sqrt,
    "rad": math.radians,
    "deg": math.degrees,
    "inv": lambda angle: math.tan(angle) - angle,
    "arcinv": arcinv,
    "Abs": abs,
    "Mod": lambda a, b: a % b,
    "Eq": lambda a, b: a == b,
    "Ne": lambda a, b: a != b,
    "floor": lambda x: math.floor(x + 1e-9),
    "ceiling": lambda x: math.ceil(x - 1e-9),
    "nearest": lambda x: math.floor(x + 0.5),
    "GCD": lambda a, b: math.gcd(int(a), int(b)),
    "LCM": lambda a, b: math.lcm(int(a), int(b)),
    # the smallest error of a ratio by whole counts, every one of them tried
    "besterr": lambda r: min(100 * abs(b / a - r) / r for a in range(18, 31) for b in range(1, 73)),
}


def worked_out(text: str, numbers: dict) -> float:
    """The value of a closed form for numbers by its symbols."""
    return eval(text, ALGEBRA, numbers)  # noqa: S307  (the project's own file, restricted names)
