"""Where numbers enter and leave theory.

Given in the usual units of a metric or an inch design, or with a unit of their own.

Inside, theory works in one length unit, minutes and radians (``units``); outside, every dimension has one
unit for a metric and one for an inch design (``units.USUAL``). Only this file carries numbers from the one to
the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from numbers import Real
from typing import Any

import numpy as np

from .quantities import PLAUSIBLE, QUANTITIES, Quantity
from .stated import read
from .units import UNITS, N, factor, theory_unit, usual_unit, written

#: A number or several, and what a reader may give for it: with a unit, as text.
Number = float | np.ndarray
Given = Number | str
#: The words that tell a tooth size, and with it the unit of every length: P is teeth per inch, a module is
#: millimetres.
TOOTH_SIZE = {
    "diametral_pitch": "in",
    "mate_diametral_pitch": "in",
    "module": "mm",
    "mate_module": "mm",
    "first_stage_module": "mm",
    "second_stage_module": "mm",
    "first_mesh_module": "mm",
    "last_mesh_module": "mm",
}


def unit_of(word: str, length_unit: str) -> str:
    """Unit in which a quantity is given and told ("" where it has none).

    >>> (
    ...     unit_of("pitch_diameter", "mm"),
    ...     unit_of("pressure_angle", "in"),
    ...     unit_of("teeth", "in"),
    ...     unit_of("power", "in"),
    ... )
    ('mm', 'deg', '', 'hp')
    """
    entry = QUANTITIES[word]
    if entry.unit:
        return "" if entry.unit == "1" else entry.unit
    dimension = entry.dimension
    return "" if dimension in ("count", "number", "turns") else usual_unit(dimension, length_unit)


@lru_cache(maxsize=4)
def _sizes(length_unit: str) -> dict[str, tuple[float, float]]:
    """Size of the usual unit and of theory's, by word, where they differ."""
    differing = {}
    for word, entry in QUANTITIES.items():
        sizes = (
            UNITS[usual_unit(entry.dimension, length_unit)].size,
            UNITS[theory_unit(entry.dimension, length_unit)].size,
        )
        if sizes[0] != sizes[1]:
            differing[word] = sizes
    return differing


# No length, force, speed or stress of a machine is larger, in any unit; its cube is still a number.
LARGEST = 1e15


def check_number(word: str, number: Given, several: bool = True) -> None:
    """Raise ValueError for anything but a finite real number or (``several``) an array of them.

    Texts, truth values, complex numbers, None [usual unit].
    """
    if type(number) is float and -LARGEST <= number <= LARGEST:
        return
    meaning = QUANTITIES[word].meaning
    if isinstance(number, (Real, np.integer, np.floating)) and not isinstance(number, (bool, np.bool_)):
        sound = bool(abs(number) <= LARGEST)
    else:
        try:
            array = np.asarray(number)
        except ValueError:  # rows of unlike length
            array = np.asarray(None)
        if array.dtype.kind not in "iuf" or not (several and array.ndim):
            raise ValueError(
                f"{meaning} ({word} = {number!r}) is not a number: give"
                f" {'a plain one' if several else 'a single one'}"
            )
        sound = bool(np.all(np.abs(array) <= LARGEST))
    if not sound:
        raise ValueError(
            f"{meaning} ({word} = {number!s:.80}) is out of range: give a finite number, at most {LARGEST:g}"
            " in size"
        )


def inward(word: str, number: N, length_unit: str) -> N:
    """A number [usual unit] as theory computes with it [theory's unit, rad]; floats or arrays.

    >>> inward("driver_torque", 1.9, "mm"), inward("duration", 30, "in")
    (1900.0, 0.5)
    """
    check_number(word, number)
    sizes = _sizes(length_unit).get(word)
    converted: Any = number * 1.0 if sizes is None else number * sizes[0] / sizes[1]
    return converted


def outward(word: str, number: N, length_unit: str) -> N:
    """A number of theory [theory's unit, rad] as it is told [usual unit]; floats or arrays.

    >>> outward("driver_torque", 3750.0, "mm"), round(outward("pressure_angle", 0.3490658503988659, "in"), 9)
    (3.75, 20.0)
    """
    sizes = _sizes(length_unit).get(word)
    converted: Any = number if sizes is None else number * sizes[1] / sizes[0]
    return converted


def outward_all(numbers: Mapping[str, float], length_unit: str) -> dict[str, float]:
    """Numbers of theory by word [theory's units, rad], as they are told [usual units]."""
    sizes = _sizes(length_unit)
    return {
        word: number * sizes[word][1] / sizes[word][0] if word in sizes else number
        for word, number in numbers.items()
    }


def told(word: str, number: float, length_unit: str) -> str:
    """A number with its usual unit, for a message.

    >>> told("centre_distance", 78.75, "mm"), told("teeth", 18, "mm")
    ('78.75 mm', '18')
    """
    name = unit_of(word, length_unit)
    return f"{number:g} {name if name == 'deg' else written(name)}".strip()


def unit_fact(word: str, length_unit: str) -> str:
    """How the usual unit of a quantity goes over into the one that theory computes in.

    >>> unit_fact("power", "in"), unit_fact("duration", "mm"), unit_fact("diametral_pitch", "mm")
    ('1 hp = 396000 lbf·in/min', '1 min = 60 s', '1 in = 25.4 mm')
    """
    dimension = QUANTITIES[word].dimension
    usual, inside = usual_unit(dimension, length_unit), theory_unit(dimension, length_unit)
    if dimension == "pitch":
        usual, inside = usual[2:], inside[2:]
    if factor(usual, inside) < 1:
        usual, inside = inside, usual
    return f"1 {written(usual)} = {_spelt(factor(usual, inside), inside)}"


def check_plausible(entry: Quantity, number: Number, length_unit: str) -> None:
    """Raise ValueError with the limits if a given [theory's unit], or any of an array, is of a size that no
    such thing has.
    """
    limits = PLAUSIBLE.get(entry.dimension)
    if limits is None:
        return
    low, high, name = limits
    shown = usual_unit(entry.dimension, length_unit)
    scale = factor(theory_unit(entry.dimension, length_unit), name)
    sizes = np.asarray(number, dtype=float) * scale
    if entry.signed and entry.dimension != "temperature":
        low = -high
    wrong = ~((sizes >= low) & (sizes <= high))
    if np.any(wrong):
        worst = float(sizes.flat[int(np.argmax(wrong))]) if sizes.ndim else float(sizes)
        back = factor(name, shown)
        raise ValueError(
            f"{entry.meaning} {worst * back:.6g} {written(shown)} is out of range: no gear drive has such a"
            f" size; give a value between {low * back:.4g} and {high * back:.4g} {written(shown)}"
        )


@dataclass(frozen=True)
class Taken:
    """Givens as they were taken.

    length_unit: the unit of every length of the way, "in" or "mm".
    bare: the system in which bare numbers are read: "in" or "mm"; "" where nothing settles it, "both" where
        two things do.
    values: numbers by word [usual units of the way]; empty for givens without values.
    converted: how a number that was stated in another unit reads in the usual one.
    """

    length_unit: str
    bare: str
    values: dict
    converted: tuple[str, ...]


def take(
    words: Iterable[str], values: Mapping[str, Given], asked: str, notation: str, length_unit: str | None
) -> Taken:
    """Take givens: find the length unit of the way, and every value in its usual unit.

    words: words of the givens.
    values: numbers, arrays, or text with a unit, by word; may be empty.
    asked, notation: word asked; "inch" or "iso".
    length_unit: as asked for.
    ValueError for text that cannot be read, and for a bare number whose unit nothing settles.
    """
    words = list(words)
    size = next(
        (TOOTH_SIZE[word] for word in ("diametral_pitch", "module", *TOOTH_SIZE) if word in words), ""
    )
    if length_unit is not None:
        usual_unit("length", length_unit)  # raises for a unit that theory does not work in
    unit_here = (
        length_unit
        or size
        or _system_of(values)
        or TOOTH_SIZE.get(asked)
        or ("mm" if notation == "iso" else "in")
    )
    bare = (
        "both"
        if size and length_unit and size != length_unit
        else length_unit or size or TOOTH_SIZE.get(asked, "")
    )
    numbers, converted = take_values(values, unit_here, bare)
    return Taken(unit_here, bare, numbers, converted)


def _system_of(values: Mapping[str, Given]) -> str:
    """The system of the units that are written.

    Of the first length, or else of the first given that has one.
    """
    texts = sorted(
        ((word, value) for word, value in values.items() if isinstance(value, str)),
        key=lambda pair: QUANTITIES[pair[0]].dimension not in ("length", "pitch"),
    )
    return next(
        (
            system
            for word, value in texts
            if (system := read(value, QUANTITIES[word].meaning, QUANTITIES[word].dimension).system)
        ),
        "",
    )


def take_values(values: Mapping[str, Given], length_unit: str, bare: str) -> tuple[dict, tuple[str, ...]]:
    """Values by word [usual units of the length unit], and how those stated in another unit read in it."""
    numbers: dict[str, Number] = {}
    converted = []
    for word, value in values.items():
        entry = QUANTITIES[word]
        mine = usual_unit(entry.dimension, length_unit)
        if isinstance(value, str):
            stated = read(value, entry.meaning, entry.dimension)
            size = UNITS[mine].size
            number = stated.number if stated.size == size else stated.number * stated.size / size
            if number != stated.number:
                converted.append(f"{_spelt(stated.number, stated.unit)} = {_spelt(number, mine)}")
            numbers[word] = number
            continue
        check_number(word, value)
        numbers[word] = value
        if word in TOOTH_SIZE and entry.dimension == "length" and length_unit == "in":
            numbers[word] = _numbers(value) * factor("mm", "in")
            converted.append(
                f"{_spelt(float(value), 'mm')} = {_spelt(float(numbers[word]), 'in')}"
                if np.ndim(value) == 0
                else f"a {entry.meaning} is given in mm, and 1 in = 25.4 mm"
            )
        elif (
            word not in TOOTH_SIZE
            and np.any(value)  # nothing is nothing in every unit
            and usual_unit(entry.dimension, "in") != usual_unit(entry.dimension, "mm")
            and bare != length_unit
        ):
            raise ValueError(_unsettled(entry, value, bare))
    return numbers, tuple(converted)


def _numbers(value: Number) -> Number:
    return np.asarray(value, dtype=float) if np.ndim(value) else float(value)


def _spelt(number: float, name: str) -> str:
    name = (
        written(name[1:] if name.startswith("1/") else name) if name in UNITS else name.replace("*", "\u00b7")
    )
    return f"{number:.6g}{'' if name.startswith(('/', '%', chr(176))) else ' '}{name}"


def _unsettled(entry: Quantity, value: Given, bare: str) -> str:
    inch, metric = (usual_unit(entry.dimension, system) for system in ("in", "mm"))
    number = f"{value:g}" if isinstance(value, (int, float)) else f"{value}"
    start = f"{entry.meaning} {number} has no unit, and "
    say = f'write it as text with its unit, "{number} {written(metric)}" or "{number} {written(inch)}"'
    if np.ndim(value):
        say = "write numbers of one unit and settle it"
    if bare == "both":
        return (
            f"{start}the tooth size and length_unit speak of different ones, {written(inch)} and"
            f" {written(metric)}: {say}, or leave length_unit out"
        )
    return (
        f'{start}nothing here settles one: {say}, or give length_unit="mm" ({written(metric)}) or'
        f' length_unit="in" ({written(inch)}), or the tooth size (a module is millimetres, a diametral pitch'
        " inches)"
    )
