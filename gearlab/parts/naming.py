"""Names of gears and rings: written from the gear, read back into it.

``gear_18T_m2p5`` has 18 teeth of module 2.5, ``ring_72T_m2p5`` is a ring of 72; p stands for the decimal
point. What differs from the usual gear follows: ``a`` pressure angle, ``x`` profile shift, ``t`` tooth
thinning, ``k`` tip shortening, ``f`` face width, and the tooth system by name.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .toothed import Toothed

_LETTERS = {
    "a": "pressure_angle",
    "x": "profile_shift",
    "t": "tooth_thinning",
    "k": "tip_shortening",
    "f": "face_width",
}
_USUAL = {
    "pressure_angle": 20.0,
    "profile_shift": 0.0,
    "tooth_thinning": 0.0,
    "tip_shortening": 0.0,
    "face_width": None,
}
_SYSTEMS = {"stub": "stub", "fine": "fine pitch"}
_PATTERN = re.compile(
    r"(gear|ring)_(\d+)T_([mP])(\d+(?:p\d+)?)(?:_(stub|fine))?((?:_[axtkf]-?\d+(?:p\d+)?)*)", re.ASCII
)


def write(gear: Toothed) -> str:
    """The name of a gear.

    >>> from gearlab import Gear
    >>> write(Gear(18, module=2.5, tooth_system="stub", profile_shift=-0.1))
    'gear_18T_m2p5_stub_x-0p1'
    """
    size = f"m{digits(gear.module)}" if gear.module is not None else f"P{digits(gear.diametral_pitch or 0.0)}"
    parts = ["ring" if gear.internal else "gear", f"{gear.teeth}T", size]
    parts += [short for short, name in _SYSTEMS.items() if name == gear.tooth_system]
    parts += [
        letter + digits(getattr(gear, word))
        for letter, word in _LETTERS.items()
        if getattr(gear, word) != _USUAL[word]
    ]
    return "_".join(parts)


def read(name: str, kind: str = "gear") -> dict[str, object]:
    """What a name says of a gear, or of a ``kind`` "ring", by the words of ``Gear``.

    ValueError if the name does not follow the pattern; the pattern is given.

    >>> read("gear_45T_P10_a14p5")
    {'teeth': 45, 'diametral_pitch': 10.0, 'pressure_angle': 14.5}
    """
    found = _PATTERN.fullmatch(name) if isinstance(name, str) else None
    if not found:
        raise ValueError(
            f"name {name!r} cannot be read: write it like gear_18T_m2p5 or gear_45T_P10_a14p5 (p is the"
            " decimal point)"
        )
    what, count, letter, size, system, rest = found.groups()
    if what != kind:
        raise ValueError(
            f"name {name!r} is that of a {what}, not of a {kind}: read it with"
            f" {'InternalGear' if what == 'ring' else 'Gear'}.from_name"
        )
    letters = [part[0] for part in rest.split("_") if part]
    twice = next((letter for letter in letters if letters.count(letter) > 1), None)
    if twice:
        raise ValueError(f"name {name!r} says {_LETTERS[twice]} ({twice}) twice: leave one of them")
    options: dict[str, object] = {
        "teeth": int(count),
        "module" if letter == "m" else "diametral_pitch": _number(size),
    }
    options |= {_LETTERS[part[0]]: _number(part[1:]) for part in rest.split("_") if part}
    return options | ({"tooth_system": _SYSTEMS[system]} if system else {})


def digits(value: float) -> str:
    """A number as it stands in a name, to ten digits and never with an exponent.

    >>> digits(2.5), digits(-0.1), digits(1e-5), digits(1e12)
    ('2p5', '-0p1', '0p00001', '1000000000000')
    """
    text = format(Decimal(f"{value:.10g}"), "f")
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace(".", "p")


def _number(text: str) -> float:
    return float(text.replace("p", "."))
