"""Names of parts that explain themselves, on a pattern of our own: written from the part, read back into it.

``gear_18T_m2p5`` has 18 teeth of module 2.5, ``ring_72T_m2p5`` is a ring of 72; p stands for the decimal
point, P10 for a diametral pitch of 10. What differs from the usual gear follows: ``a`` pressure angle, ``x``
profile shift, ``t`` tooth thinning, ``k`` tip shortening, ``f`` face width, and the tooth system by name.

``pinion_18T_m2p5_bore10_L27`` is a mounted pinion with a bore of 10 and 27 long: its first word says what
it is for. Shafts and plates tell their sizes: ``shaft_d10_L50``, ``plate_220x160x6``; inches end in
``in``.
"""

from __future__ import annotations

import math
import re
from decimal import Decimal
from typing import TYPE_CHECKING

from .checks import whole, within

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
#: A number as it stands in a name, for the patterns.
NUMBER = r"(\d+(?:p\d+)?)"
_GEAR = rf"(gear|ring)_(\d+)T_([mP]){NUMBER}(?:_(stub|fine))?((?:_[axtkf]-?\d+(?:p\d+)?)*)"
_MOUNTED = rf"([a-z][a-z0-9]*)_(\d+)T_([mP]){NUMBER}(?:_bore{NUMBER})?(?:_L{NUMBER})?"


# -- gears and rings -----------------------------------------------------------------------------------
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


def read(name: str, kind: str = "gear") -> dict[str, float | str]:
    """What a name says of a gear, or of a ``kind`` "ring", by the words of ``Gear``.

    ValueError if the name does not follow the pattern; the pattern is given.

    >>> read("gear_45T_P10_a14p5")
    {'teeth': 45, 'diametral_pitch': 10.0, 'pressure_angle': 14.5}
    """
    match = matched(_GEAR, name, "gear_18T_m2p5 or gear_45T_P10_a14p5")
    what, count, letter, size, system, rest = match.groups()
    if what != kind:
        raise ValueError(
            f"name {name!r} is that of a {what}, not of a {kind}: read it with"
            f" {'InternalGear' if what == 'ring' else 'Gear'}.from_name"
        )
    letters = [part[0] for part in rest.split("_") if part]
    twice = next((letter for letter in letters if letters.count(letter) > 1), None)
    if twice:
        raise ValueError(f"name {name!r} says {_LETTERS[twice]} ({twice}) twice: leave one of them")
    options: dict[str, float | str] = {
        "teeth": int(count),
        "module" if letter == "m" else "diametral_pitch": number(size),
    }
    options |= {_LETTERS[part[0]]: number(part[1:]) for part in rest.split("_") if part}
    return options | ({"tooth_system": _SYSTEMS[system]} if system else {})


# -- mounted gears -------------------------------------------------------------------------------------
def write_mounted(
    kind: str,
    teeth: int,
    *,
    module: float | None = None,
    diametral_pitch: float | None = None,
    bore: float | None = None,
    length: float | None = None,
) -> str:
    """The name of a mounted gear.

    kind: what it is for, a word in small letters.
    teeth: number of teeth [-].
    module, diametral_pitch: one of them [mm, 1/in].
    bore, length: bore, and overall length [mm or in].

    >>> write_mounted("pinion", 18, module=2.5, bore=10, length=27)
    'pinion_18T_m2p5_bore10_L27'
    """
    if (module is None) == (diametral_pitch is None):
        raise ValueError("give module or diametral_pitch, one of them")
    if not re.fullmatch(r"[a-z][a-z0-9]*", kind):
        raise ValueError(
            f"kind {kind!r} cannot stand in a name: use small letters and digits, such as pinion"
        )
    teeth = whole("teeth", teeth, 1, 10_000)
    for word, value, unit in (
        ("module", module, "mm"),
        ("diametral_pitch", diametral_pitch, "1/in"),
        ("bore", bore, "mm (or in)"),
        ("length", length, "mm (or in)"),
    ):
        if value is not None:
            within(word, value, 0.0, math.inf, unit, above=True)
    parts = [
        kind,
        f"{teeth}T",
        f"m{digits(module)}" if module is not None else f"P{digits(diametral_pitch or 0.0)}",
    ]
    parts += [f"bore{digits(bore)}"] if bore is not None else []
    parts += [f"L{digits(length)}"] if length is not None else []
    return "_".join(parts)


def read_mounted(name: str) -> dict[str, float]:
    """What a name says of its part, by word [mm or in, 1/in, -].

    ValueError if it does not follow the pattern; the pattern is given.

    >>> read_mounted("wheel_45T_m2p5_bore10_L25")
    {'teeth': 45.0, 'module': 2.5, 'bore': 10.0, 'length': 25.0}
    """
    match = matched(_MOUNTED, name, "pinion_18T_m2p5_bore10_L27")
    _, teeth, letter, size, bore, length = match.groups()
    texts = {
        "teeth": teeth,
        "module" if letter == "m" else "diametral_pitch": size,
        "bore": bore,
        "length": length,
    }
    return {word: number(text) for word, text in texts.items() if text is not None}


# -- numbers in names ----------------------------------------------------------------------------------
def digits(value: float) -> str:
    """A number as it stands in a name, to ten digits and never with an exponent.

    >>> digits(2.5), digits(-0.1), digits(1e-5), digits(1e12)
    ('2p5', '-0p1', '0p00001', '1000000000000')
    """
    text = format(Decimal(f"{value:.10g}"), "f")
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace(".", "p")


def number(text: str) -> float:
    """The number [its own unit] that stands in a name."""
    return float(text.replace("p", "."))


def matched(pattern: str, name: str, like: str) -> re.Match[str]:
    """A name held against a pattern; ValueError that shows names that follow it."""
    match = re.fullmatch(pattern, name, re.ASCII) if isinstance(name, str) else None
    if not match:
        raise ValueError(f"name {name!r} cannot be read: write it like {like} (p is the decimal point)")
    return match
