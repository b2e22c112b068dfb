"""Checking what a part is given: each number is named with its limits, and nothing is clamped."""

from __future__ import annotations

import functools
import inspect
import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

from gearlab.shape.given import LARGEST, as_numbers, is_number

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

SMALLEST = 1 / LARGEST  # of a number that must be above 0
F = TypeVar("F", bound=Callable[..., Any])
#: What a part of a kind is called, and what to give; by the name of its class.
KINDS = {
    "Gear": ("gear", "a Gear, such as Gear(18, module=2.5)"),
    "Toothed": ("gear", "a Gear or an InternalGear, such as Gear(18, module=2.5)"),
    "Mesh": ("mesh", "a Mesh, such as Mesh(Gear(18, module=2.5), Gear(45, module=2.5))"),
    "Train": ("train", "a Train, such as Train.of(18, 30, 45, module=2.5)"),
    "Rack": ("rack", "a Rack, such as Rack(54, module=2.5)"),
}


def whole(name: str, value: float, low: int, high: int) -> int:
    """A whole number within limits [-], or ValueError with the limits.

    name: what it is called in a message.
    value: [-]; a float is taken if it is whole.
    low, high: limits, both allowed [-].

    >>> whole("teeth", 18.0, 6, 500)
    18
    >>> whole("teeth", 18.5, 6, 500)
    Traceback (most recent call last):
    ValueError: teeth = 18.5 is out of range: give a whole number from 6 to 500
    """
    if not is_number(value) or not low <= value <= high or value != int(value):
        raise ValueError(f"{name} = {value!r} is out of range: give a whole number from {low} to {high}")
    return int(value)


def finite(name: str, value: ArrayLike, unit: str) -> np.ndarray:
    """Finite numbers as an array [unit], or ValueError.

    name: what they are called in a message.
    value: [unit]
    unit: as a message writes it.

    >>> finite("driver_angle", "east", "deg")
    Traceback (most recent call last):
    ValueError: driver_angle = 'east' is not a number: give one in deg
    """
    numbers = as_numbers(value)
    if numbers is None:
        raise ValueError(f"{name} = {value!r} is not a number: give one in {unit}")
    sound = np.abs(numbers) <= LARGEST
    if not sound.all():
        worst = numbers[~sound].flat[0]
        raise ValueError(
            f"{name} = {worst} {unit} is out of range: give a"
            f" {f'number from {-LARGEST:g} to {LARGEST:g} {unit}' if np.isfinite(worst) else 'finite number'}"
        )
    return numbers


def within(name: str, value: float, low: float, high: float, unit: str, above: bool = False) -> float:
    """A finite number within limits [unit], or ValueError with the limits.

    name: what it is called in a message.
    value: [unit]
    low, high: limits, both allowed [unit]; ``math.inf`` for none but the largest number of any machine, 1e12.
    unit: as a message writes it.
    above: true if the lower limit itself is not allowed.

    >>> within("face_width", 14, 0.0, math.inf, "mm", above=True)
    14.0
    >>> within("face_width", 0, 0.0, math.inf, "mm", above=True)
    Traceback (most recent call last):
    ValueError: face_width = 0 mm is out of range: give a finite number above 0 mm
    """
    if not is_number(value):
        raise ValueError(
            f"{name} = {value!r} is not a number: give {f'one in {unit}' if unit else 'a plain one'}"
        )
    try:
        number = float(value)
    except OverflowError:  # a whole number with more digits than a float holds
        number = math.inf if value > 0 else -math.inf
    # no machine has it, and its square would be no number any more
    if math.isfinite(number) and abs(number) > LARGEST:
        low, high = max(low, -LARGEST), min(high, LARGEST)
    if above and low == 0.0 < number < SMALLEST:  # nor its inverse
        low = SMALLEST
    if not math.isfinite(number) or not low <= number <= high or (above and number == low):
        space = f" {unit}" if unit else ""
        start = f"above {low:g}" if above else f"from {low:g}"
        limits = (
            "finite number"
            if low == -math.inf
            else (
                f"finite number {start}{space}{'' if above else ' up'}"
                if high == math.inf
                else f"number {start} to {high:g}{space}"
            )
        )
        raise ValueError(f"{name} = {number:g}{space} is out of range: give a {limits}")
    return number


def several(name: str, value: Any, wanted: str) -> None:
    """Refuse what is no list, tuple or array.

    name: what it is called in a message.
    wanted: what to give.

    >>> several("line_angles", 7, "one angle for each mesh [deg]")
    Traceback (most recent call last):
    ValueError: line_angles = 7 is no list: give one angle for each mesh [deg]
    """
    if isinstance(value, str) or not hasattr(value, "__len__") or not hasattr(value, "__iter__"):
        raise ValueError(f"{name} = {value!r} is no list: give {wanted}")


def part(name: str, value: Any, kinds: str) -> None:
    """Refuse what is no part of the kinds wanted.

    name: what it is called in a message.
    kinds: as an annotation says it, "Mesh" or "Mesh | Train".

    >>> part("mesh", 7, "Mesh | Train")
    Traceback (most recent call last):
    ValueError: mesh = 7 is no mesh or train: give a Mesh, such as Mesh(Gear(18, module=2.5), Gear(45,
    module=2.5)), or a Train, such as Train.of(18, 30, 45, module=2.5)
    """
    wanted = kinds.split(" | ")
    if not any(each.__name__ in wanted for each in type(value).__mro__):
        words, given = zip(*(KINDS[kind] for kind in wanted), strict=True)
        raise ValueError(f"{name} = {value!r} is no {' or '.join(words)}: give {', or '.join(given)}")


def takes_parts(function: F) -> F:
    """Refuse a part of another kind than an argument's annotation names."""
    wanted = {
        name: (place, kinds)
        for place, (name, kinds) in enumerate(
            (each.name, each.annotation) for each in inspect.signature(function).parameters.values()
        )
        if isinstance(kinds, str) and set(kinds.split(" | ")) <= KINDS.keys()
    }

    @functools.wraps(function)
    def checked(*values: Any, **named: Any) -> Any:
        for name, (place, kinds) in wanted.items():
            if name in named:
                part(name, named[name], kinds)
            elif place < len(values):
                part(name, values[place], kinds)
        return function(*values, **named)

    return checked  # type: ignore[return-value]
