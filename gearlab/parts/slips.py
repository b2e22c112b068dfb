"""Natural slips in naming a part's numbers: each is answered with the right word."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from typing import TYPE_CHECKING, Any

from ..theory import QUANTITIES
from ..theory.othernames import called_here
from ..theory.quantities import NOTATIONS

#: Letters and short words for what a part takes; names of quantities in other books are theory's.
MEANT = {
    "m": "module",
    "z": "teeth",
    "N": "teeth",
    "n": "teeth",
    "P": "diametral_pitch",
    "alpha": "pressure_angle",
    "phi": "pressure_angle",
    "angle": "pressure_angle",
    "x": "profile_shift",
    "center_distance": "centre_distance",
    "spacing": "centre_distance",
    "C": "centre_distance",
    "a": "centre_distance",
    "pinion": "driver",
    "wheel": "driven",
    "gear": "driven",
    "i": "ratio",
    "thickness": "tooth_thickness",
}


class Named:
    """A part whose slips in names are answered: of its values, and of what is read from it."""

    if not TYPE_CHECKING:  # to a checker of types names stay strict

        def __new__(cls, *values, **named):
            # unpickling and copying give no values
            if len(values) > 1 or not named.keys() <= cls.__dict__.get("__dataclass_fields__", named).keys():
                check_named(cls, values, named)
            return super().__new__(cls)

        def __getattr__(self, name):
            fault = f"{type(self).__name__!r} object has no attribute {name!r}"
            if name.startswith("_"):
                raise AttributeError(fault)
            hint = attribute_hint(self, name)
            raise AttributeError(f"{fault}: {hint}" if hint else fault)


def check_named(cls: type, by_place: tuple[Any, ...], by_name: Mapping[str, Any]) -> None:
    """Raise TypeError with the right word where a part is made with values that it does not take so."""
    if not is_dataclass(cls):
        return
    lines = [line for line in fields(cls) if line.init]
    placed = [line.name for line in lines if not line.kw_only]
    known = [line.name for line in lines]
    if len(by_place) > len(placed):
        value = by_place[len(placed)]
        if "module" in known and isinstance(value, (int, float)):
            raise TypeError(
                f"{cls.__name__} takes only {' and '.join(placed)} by place; write {value:g} with its name:"
                f" module={value:g} (mm of diameter a tooth) or diametral_pitch={value:g} (teeth an inch)"
            )
        raise TypeError(
            f"{cls.__name__} takes {len(placed)} values by place ({', '.join(placed)}); write the others with"
            f" their names, such as {next((line.name for line in lines if line.kw_only), placed[-1])}="
        )
    for name in by_name:
        if name not in known:
            if "driver" in known and (size := MEANT.get(name, name)) in ("module", "diametral_pitch"):
                example = f"{size}={by_name[name]}"
                raise TypeError(
                    f"{cls.__name__} has no {name!r}: its gears have it, such as"
                    f" {cls.__name__}(Gear(18, {example}), Gear(45, {example}))"
                )
            told = (
                f"{name!r} follows from what {cls.__name__} takes; do not give it"
                if name in QUANTITIES and hasattr(cls, name)
                else f"{cls.__name__} has no {name!r}"
            )
            raise TypeError(f"{told}{_did_you_mean(name, known)}")


def _did_you_mean(name: str, known: Iterable[str]) -> str:
    known = list(known)
    meant = [word for word in _meant(name) if word in known]
    # another quantity of the subject is no slip of the pen
    near = meant or ([] if name in QUANTITIES else difflib.get_close_matches(name, known, 1, 0.6))
    return f": write {near[0]}=" if near else f"; it takes {', '.join(known)}"


def _meant(name: str) -> tuple[str, ...]:
    """The words here for what people call otherwise."""
    return (MEANT[name],) if name in MEANT else called_here(name) or ()


def attribute_hint(part: Any, name: str) -> str:
    """What to write for a number that a part does not have under this name; "" where nothing is near."""
    own = {each for each in (*dir(type(part)), *getattr(part, "__dataclass_fields__", ())) if each[:1] != "_"}
    if name in QUANTITIES and name in getattr(part, "numbers", {}):
        return f'write .numbers["{name}"]'
    if meant := _meant(name):
        if mine := [word for word in meant if word in own]:
            return f"{'say which:' if len(mine) > 1 else 'write'} {', '.join('.' + word for word in mine)}"
        name = meant[0]
    if name in ("centre_distance", "ratio", "backlash", "contact_ratio") and name not in own:
        return f"it belongs to two gears: Mesh(driver, driven).{name}"
    ends = [each for each in QUANTITIES if each.endswith(f"_{name}") and each in own]
    if ends:
        return f"say which: {', '.join('.' + each for each in ends)}"
    if name == "radius" and (of := attribute_hint(part, "diameter")):
        return f"take half of a diameter and {of}"
    for notation in NOTATIONS:
        for word, entry in QUANTITIES.items():
            if entry.symbol(notation) == name and word in own:
                return f"write .{word}"
    if name in QUANTITIES and "driver" in own and hasattr(type(part.driver), name):
        return f"each gear has its own: write .driver.{name} or .driven.{name}"
    if name in QUANTITIES and "explain" in own:
        return f'ask .explain("{name}"), with what else it hangs on by name'
    near = difflib.get_close_matches(name, sorted(own), 1, 0.7)
    return f"did you mean .{near[0]}?" if near else ""
