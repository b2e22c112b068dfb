"""Mutants of the typed tables.

One number of one row one step off, the last digit that is written up or down.
"""

import importlib
import math
from contextlib import contextmanager
from dataclasses import fields, is_dataclass, replace
from types import MappingProxyType

from wrong import forget

# Every table of published numbers in theory and parts, by module and name. What is no table of a publication
# stays out: limits of what is taken, tolerances of rounding, the numbers to try roots on (worlds.STARTS).
TABLES = {
    "gearlab.theory.systems": ("ROWS",),
    "gearlab.theory.sizes": (
        "MODULES",
        "MODULES_SECOND_CHOICE",
        "COARSE_PITCHES",
        "FINE_PITCHES",
        "STOCK_PITCHES",
    ),
    "gearlab.theory.units": ("MM_PER_INCH", "NEWTON_PER_POUND", "UNITS"),
    "gearlab.theory.stated": ("_NAMES", "_READ"),
    "gearlab.theory.faults": ("_TURNING",),
    "gearlab.parts.epicyclic.members": ("SIGNS",),
    "gearlab.parts.published.fastening": (
        "_INCH_KEYS",
        "_METRIC_KEYS",
        "_INCH_SCREWS",
        "_METRIC_SCREWS",
        "_FINE",
        "_OVER_KEYS",
        "SCATTER",
        "SOFT_SHAFT",
        "LENGTHS",
    ),
    "gearlab.parts.published.fits": ("_SIZES", "_GRADES", "_NEAREST", "_FINER_SIZES", "_FINER"),
    "gearlab.parts.published.quality": ("TRADE_CLASSES", "_COMPOSITE", "_GENERAL", "_DIAMETERS", "_MODULES"),
    "gearlab.parts.published.recommended": ("RECOMMENDED_BACKLASH",),
    "gearlab.parts.published.strength": ("_TABLES", "STATIC_STRESS", "_SPEED_CONSTANTS"),
    "gearlab.parts.tolerances": ("EXPANSION",),
    "gearlab.parts.shaft": ("STOCK_STEP",),
    "gearlab.parts.gauging": ("USUAL_PIN",),
    "gearlab.parts.internal": ("USUAL_PIN",),
    "gearlab.parts.review.guards": ("REACH",),
    "gearlab.parts.review.hub": ("LEAST_RIM", "LEAST_HUB"),
    "gearlab.parts.review.contact": ("LEAST_CONTACT", "WANTED_CONTACT"),
}


def step(number):
    """What the last written digit of a number is worth.

    A fiftieth of a number that was worked out, such as a third.
    """
    text = f"{number:.12g}"
    if len(text.partition("e")[0].replace(".", "").strip("0")) > 8:
        return number / 50
    mantissa, _, power = text.partition("e")
    digits = len(mantissa.partition(".")[2])
    return 10.0 ** (int(power or 0) - digits)


def cells(table, path=()):
    """Every number of a table, and every key that is one, with the way to it."""
    if isinstance(table, bool) or table is None:
        return
    if isinstance(table, (int, float)):
        if math.isfinite(table):
            yield path, table
    elif isinstance(table, str):
        return
    elif is_dataclass(table):
        for one in fields(table):
            if one.name != "length_power":  # a unit's dimension, not its size
                yield from cells(getattr(table, one.name), (*path, one.name))
    elif hasattr(table, "items"):
        for word, cell in table.items():
            if isinstance(word, (int, float)) and math.isfinite(word):
                yield (*path, ("key", word)), word
            yield from cells(cell, (*path, word))
    elif isinstance(table, (tuple, list)):
        for place, cell in enumerate(table):
            yield from cells(cell, (*path, place))


def changed(table, path, to):
    """The table with one number changed."""
    if not path:
        return to
    here, *rest = path
    if is_dataclass(table):
        return replace(table, **{here: changed(getattr(table, here), rest, to)})
    if hasattr(table, "items"):
        if isinstance(here, tuple) and here[0] == "key" and not rest:
            return {to if word == here[1] else word: cell for word, cell in table.items()}
        new = {word: changed(cell, rest, to) if word == here else cell for word, cell in table.items()}
        return MappingProxyType(new) if isinstance(table, MappingProxyType) else new
    return tuple(changed(cell, rest, to) if place == here else cell for place, cell in enumerate(table))


def every_cell():
    """Module, table, way to the number, the number."""
    for module, names in TABLES.items():
        for name in names:
            for path, number in cells(getattr(importlib.import_module(module), name)):
                yield module, name, path, number


def says(module, name, path):
    return f"{module.removeprefix('gearlab.')}.{name}" + "".join(
        f"[{one[1] if isinstance(one, tuple) and one[0] == 'key' else one!r}]" for one in path
    )


@contextmanager
def off_by_a_step(module, name, path, number):
    """One number of a table a step of its last digit off, for as long as the block lasts."""
    room = importlib.import_module(module)
    table = getattr(room, name)
    forget()
    new = changed(table, path, round(number + step(number), 12))
    # A dict may have been handed on by name: it is changed in place.
    held = dict(table) if isinstance(table, dict) else None
    if held is not None:
        table.clear()
        table.update(new)
    else:
        setattr(room, name, new)
    try:
        yield
    finally:
        if held is not None:
            table.clear()
            table.update(held)
        else:
            setattr(room, name, table)
        forget()
