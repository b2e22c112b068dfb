"""Designs written by somebody who had not read the review: read from two lists, one in each unit.

A line is a table of a design file: its first word says which, what follows are its fields in the order of
``_FIRST``, then further ones by name, the long names shortened as in ``_SHORT``.
"""

from pathlib import Path
from typing import Any

from gearlab.parts.design import Design

_FIRST = {
    "plate": ("length", "height", "thickness", "material"),
    "shaft": ("name", "x", "y", "diameter"),
    "gear": ("name", "shaft", "teeth", "face_width", "bore"),
    "mesh": ("driver", "driven"),
}
_SHORT = {
    "m": "module",
    "dp": "diametral_pitch",
    "angle": "pressure_angle",
    "shift": "profile_shift",
    "system": "tooth_system",
    "thin": "tooth_thinning",
    "hub": "hub_diameter",
    "proj": "hub_projection",
    "side": "hub_side",
    "screw": "set_screw",
    "long": "screw_length",
    "drill": "drill_depth",
    "key": "keyway_depth",
    "on": "keyway_on",
    "bears": "allowable_stress",
}
_SEVERAL = {"shaft", "gear", "mesh"}


def _value(field: str, text: str) -> Any:
    if field == "teeth" and "/" in text:
        return [int(count) for count in text.split("/")]
    if text in ("true", "false"):
        return text == "true"
    for number in (int, float):
        try:
            return number(text)
        except ValueError:
            pass
    return text.replace("_", " ")


def _table(kind: str, words: list[str]) -> dict[str, Any]:
    named = [word.split("=", 1) for word in words if "=" in word]
    first = zip(_FIRST.get(kind, ()), (word for word in words if "=" not in word))
    fields = [*first, *((_SHORT.get(name, name), text) for name, text in named)]
    return {field: _value(field, text) for field, text in fields}


def _design(name: str, unit: str, lines: list[str]) -> Design:
    tables: dict[str, Any] = {"design": {"name": name, "unit": unit}}
    for kind, *words in (line.split() for line in lines):
        table = _table(kind, words)
        if kind in _SEVERAL:
            tables.setdefault(kind, []).append(table)
        else:
            tables[kind] = {**tables.get(kind, {}), **table}
    return Design(**tables)


def _read(unit: str) -> dict[str, Design]:
    text = (Path(__file__).parent / f"elsewhere_{unit}.txt").read_text(encoding="utf-8")
    designs = {}
    for part in text.replace("\n    ", " ").split("\n== ")[1:]:
        head, *lines = part.strip().splitlines()
        name = head.split(":")[0]
        designs[name] = _design(name, unit, lines)
    return designs


SOUND: dict[str, Design] = _read("mm") | _read("in")


def edit_of(text: str) -> dict[str, Any]:
    """The edit that a line tells: tables by their kind and name, with fields; ``none`` takes out.

    >>> edit_of("gear p teeth=48 hub_diameter=none; load none")
    {'gear': {'p': {'teeth': 48, 'hub_diameter': None}}, 'load': None}
    """
    edit: dict[str, Any] = {}
    for part in text.split(";"):
        kind, *words = part.split()
        if words == ["none"]:
            edit[kind] = None
            continue
        fields = {
            field: None if value is None or value == "none" else value
            for field, value in _table(kind, [word for word in words if "=" in word]).items()
        }
        if kind in _SEVERAL:
            edit.setdefault(kind, {})[words[0]] = fields
        else:
            edit[kind] = fields
    return edit
