"""Names of mounted parts that explain themselves, on a pattern of our own, and back again.

``pinion_18T_m2p5_bore10_L27`` is a pinion of 18 teeth, module 2.5, with a bore of 10 and 27 long over all; p
stands for the decimal point, P10 for a diametral pitch of 10. The first word says what it is for.
"""

from __future__ import annotations

import math
import re

from .checks import whole, within
from .naming import digits

_PATTERN = re.compile(
    r"([a-z][a-z0-9]*)_(\d+)T_([mP])(\d+(?:p\d+)?)(?:_bore(\d+(?:p\d+)?))?(?:_L(\d+(?:p\d+)?))?", re.ASCII
)


def write(
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
    bore, length: bore, and length over all [mm or in].

    >>> write("pinion", 18, module=2.5, bore=10, length=27)
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


def read(name: str) -> dict[str, float]:
    """What a name says of its part, by word [mm or in, 1/in, -].

    ValueError if it does not follow the pattern; the pattern is given.

    >>> read("wheel_45T_m2p5_bore10_L25")
    {'teeth': 45.0, 'module': 2.5, 'bore': 10.0, 'length': 25.0}
    """
    found = _PATTERN.fullmatch(name) if isinstance(name, str) else None
    if not found:
        raise ValueError(
            f"name {name!r} cannot be read: write it like pinion_18T_m2p5_bore10_L27 (p is the decimal point)"
        )
    _, teeth, letter, size, bore, length = found.groups()
    said = {
        "teeth": teeth,
        "module" if letter == "m" else "diametral_pitch": size,
        "bore": bore,
        "length": length,
    }
    return {word: float(text.replace("p", ".")) for word, text in said.items() if text is not None}
