"""What is given: numbers and forms are taken as they are or refused with the reason; and values near a refused one that work.

Lengths are in modules, angles in radians.
"""

import math
from numbers import Real

import numpy as np

# How finely and how far a working value is looked for [modules].
_STEP, _REACH = 0.01, 3.0


def number(name, value, unit="modules", above=-math.inf):
    """A finite number, or ValueError.

    Parameters
    ----------
    name : str
        What it is called in a message [-].
    value : float
        The number [unit].
    unit : str
        As a message writes it [-].
    above : float
        The number must be larger than this [unit].

    Returns
    -------
    float
        [unit]

    Raises
    ------
    ValueError
        If it is no number, not finite or too small.

    Examples
    --------
    >>> number("centre_distance", 31.5)
    31.5
    >>> number("radius", 0, above=0.0)
    Traceback (most recent call last):
    ValueError: radius = 0 modules is out of range. Give a finite number above 0 modules.

    Source: definition.
    """
    real = isinstance(value, (Real, np.number)) and not isinstance(value, (bool, np.bool_))
    if not real or not math.isfinite(value) or not value > above:
        more = "" if above == -math.inf else f" above {above:g} {unit}"
        raise ValueError(f"{name} = {value!r} {unit} is out of range. Give a finite number{more}.")
    return float(value)


def numbers(name, value, unit="rad"):
    """Finite numbers as an array, or ValueError.

    Parameters
    ----------
    name : str
        What they are called in a message [-].
    value : float or array
        The numbers [unit].
    unit : str
        As a message writes it [-].

    Returns
    -------
    array
        Of the shape of value [unit].

    Raises
    ------
    ValueError
        If one is no finite number.

    Examples
    --------
    >>> numbers("driver_angle", [0.0, 0.1]).tolist()
    [0.0, 0.1]

    Source: definition.
    """
    try:
        found = np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        raise ValueError(f"{name} = {value!r} {unit} is not a number. Give finite numbers.") from None
    if not np.isfinite(found).all():
        raise ValueError(f"{name} = {found[~np.isfinite(found)].flat[0]} {unit} is out of range. Give finite numbers.")
    return found


def external(name, form):
    """Refuse anything but the form of an external gear.

    Parameters
    ----------
    name : str
        What it is called in a message [-].
    form : ToothForm
        The tooth (lengths in modules) [-].

    Returns
    -------
    ToothForm
        The form itself [-].

    Raises
    ------
    ValueError
        If it is a ring's form or none at all.

    Examples
    --------
    >>> external("driver", None)
    Traceback (most recent call last):
    ValueError: driver = None is no tooth form. Give a ToothForm.

    Source: definition.
    """
    if not hasattr(form, "internal"):
        raise ValueError(f"{name} = {form!r} is no tooth form. Give a ToothForm.")
    if form.internal:
        raise ValueError(f"The {name} is an internal gear; rolling turns the pinion. Give the pinion as driver and the ring as driven: contact and play are the same.")
    return form


def remedy(given, name, works):
    """The nearest working value of one length, the others as given, and the limit before it.

    Parameters
    ----------
    given : dict
        What does not work, by name [modules].
    name : str
        The length to change [-]; profile_shift may be negative, the others not.
    works : callable
        Takes the given numbers, one of them changed, and tells whether they work [-].

    Returns
    -------
    str
        A clause for a message with limit and value [modules]; empty where no value works.

    Examples
    --------
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
