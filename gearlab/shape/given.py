"""What is given: numbers and forms are taken as they are or refused with the reason.

And values near a refused one that work.

Lengths are in modules, angles in radians.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from numbers import Real
from typing import TYPE_CHECKING, Any, TypeGuard

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from gearlab.shape.form import Form

# How finely and how far a working value is looked for [modules].
_STEP, _REACH = 0.01, 3.0
# No length, force, speed or stress of a machine is larger, in any unit; squares and cubes of it are still
# numbers.
LARGEST = 1e12


def is_number(value: Any) -> TypeGuard[float]:
    """Whether a value is one real number, finite or not: no text, truth value, complex number, list or array.

    value: anything at all.

    >>> import numpy
    >>> [is_number(value) for value in (2, 2.5, numpy.float32(2), numpy.int64(2), float("nan"))]
    [True, True, True, True, True]
    >>> [is_number(value) for value in ("2", True, numpy.bool_(True), None, 2j, [2], numpy.array([2.0]))]
    [False, False, False, False, False, False, False]

    Source: definition.
    """
    if type(value) is float:  # nearly always, and asked often
        return True
    return isinstance(value, (Real, np.integer, np.floating)) and not isinstance(value, (bool, np.bool_))


def as_numbers(value: Any) -> np.ndarray | None:
    """One real number or an array of them as floats, None where anything else is among them (texts, truth
    values, complex numbers).

    value: anything at all.

    >>> as_numbers([1, 2.5]).tolist()
    [1.0, 2.5]
    >>> (
    ...     as_numbers("2"),
    ...     as_numbers([True]),
    ...     as_numbers([1, None]),
    ...     as_numbers([1j]),
    ...     as_numbers([[1], [1, 2]]),
    ... )
    (None, None, None, None, None)

    Source: definition.
    """
    try:
        array = np.asarray(value)
        if array.dtype.kind == "O" and all(is_number(item) for item in array.flat):
            array = array.astype(float)
    except (TypeError, ValueError, OverflowError):
        return None
    return array.astype(float) if array.dtype.kind in "iuf" else None


def number(name: str, value: float, unit: str = "modules", above: float = -math.inf) -> float:
    """A finite number, or ValueError [unit].

    name: what it is called in a message.
    value: the number [unit].
    unit: as a message writes it.
    above: the number must be larger than this [unit].
    ValueError if it is no number, not finite, too small or too large.

    >>> number("centre_distance", 31.5)
    31.5
    >>> number("radius", 0, above=0.0)
    Traceback (most recent call last):
    ValueError: radius = 0 modules is out of range. Give a finite number above 0 modules.

    Source: definition.
    """
    if not is_number(value) or not abs(value) <= LARGEST or not value > above:
        more = "" if above == -math.inf else f" above {above:g} {unit}"
        if is_number(value) and abs(value) > LARGEST:
            more += f"{' and' if more else ','} at most {LARGEST:g}"
        raise ValueError(f"{name} = {value!r} {unit} is out of range. Give a finite number{more}.")
    return float(value)


def numbers(name: str, value: ArrayLike, unit: str = "rad") -> np.ndarray:
    """Finite numbers as an array, or ValueError.

    name: what they are called in a message.
    value: the numbers [unit].
    unit: as a message writes it.
    ValueError if one is no finite number, or too large.

    >>> numbers("driver_angle", [0.0, 0.1]).tolist()
    [0.0, 0.1]

    Source: definition.
    """
    array = as_numbers(value)
    if array is None:
        raise ValueError(f"{name} = {value!r} {unit} is not a number. Give finite numbers.")
    sound = np.abs(array) <= LARGEST
    if not sound.all():
        raise ValueError(
            f"{name} = {array[~sound].flat[0]} {unit} is out of range. Give finite numbers, at most"
            f" {LARGEST:g}."
        )
    return array


def external(name: str, form: Form) -> Form:
    """Refuse anything but the form of an external gear.

    name: what it is called in a message.
    ValueError if it is a ring's form or none at all.

    >>> external("driver", None)
    Traceback (most recent call last):
    ValueError: driver = None is no tooth form. Give a ToothForm.

    Source: definition.
    """
    if not hasattr(form, "internal"):
        raise ValueError(f"{name} = {form!r} is no tooth form. Give a ToothForm.")
    if form.internal:
        raise ValueError(
            f"The {name} is an internal gear; rolling turns the pinion. Give the pinion as driver and the"
            " ring as driven: contact and play are the same."
        )
    return form


def remedy(given: dict[str, float], name: str, works: Callable[..., bool]) -> str:
    """The nearest working value of one length, the others as given, and the limit before it.

    given: what does not work, by name [modules].
    name: the length to change; profile_shift may be negative, the others not.
    works: takes the given numbers, one of them changed, and tells whether they work.
    Returns a clause for a message with limit and value [modules]; empty where no value works.

    >>> remedy({"thinning": 1.0}, "thinning", lambda thinning: thinning < 0.25)
    'thinning must lie below 0.2500 modules (0.24 works)'

    Source: trying.
    """
    least = -_REACH if name == "profile_shift" else 0.0
    start = round(given[name] / _STEP)
    candidates = [(start + sign * k) * _STEP for k in range(1, round(2 * _REACH / _STEP)) for sign in (1, -1)]
    for candidate in candidates:
        good = round(candidate, 2)
        if least <= good <= _REACH and works(**{**given, name: good}):
            break
    else:
        return ""
    bad, inside = given[name], good
    for _ in range(40):
        middle = (bad + inside) / 2
        if works(**{**given, name: middle}):
            inside = middle
        else:
            bad = middle
    side = "below" if good < given[name] else "above"
    return f"{name} must lie {side} {bad:.4f} modules ({good:.2f} works)"
