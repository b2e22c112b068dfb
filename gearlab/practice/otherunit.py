"""The right number in a unit that was not asked for."""

from __future__ import annotations

from gearlab.practice.answer import Answer
from gearlab.practice.cause import Cause
from gearlab.practice.reading import Reading
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import UNITS

__all__ = ["dimension_cause", "unit_causes"]

UNIT_CREDIT = 0.75  # the right number with a wrong unit typed
OTHER_UNIT_CREDIT = 0.5  # the right number in a unit nobody asked for, none typed

# Units in which the right number is worth recognising although another was asked.
_OTHERS = {
    "length": ("in", "mm", "cm", "m", "ft", "um"),
    "pitch": ("1/in", "1/mm"),
    "angle": ("deg", "rad"),
    "speed": ("rpm", "rev/s"),
    "angular speed": ("rad/s", "rad/min", "deg/s"),
    "linear speed": ("m/s", "mm/s", "m/min", "mm/min", "ft/min", "in/min", "in/s"),
    "frequency": ("Hz", "1/min"),
    "time": ("s", "min"),
    "number": ("1", "%"),
    "force": ("N", "kN", "lbf"),
    "torque": ("N*m", "N*mm", "lbf*in", "lbf*ft"),
}
_A = {
    "length": "a length",
    "pitch": "a pitch in teeth per length",
    "angle": "an angle",
    "speed": "a speed of turning",
    "angular speed": "an angular speed",
    "linear speed": "a linear speed",
    "frequency": "a frequency",
    "time": "a time",
    "count": "a count",
    "number": "a plain number",
    "turns": "a number of turns",
    "force": "a force",
    "torque": "a torque",
    "temperature": "a difference of temperature",
    "stress": "a stress",
    "power": "a power",
    "expansion": "a coefficient of expansion",
}


_SPOKEN = {
    "in": "in inches",
    "mm": "in millimetres",
    "cm": "in centimetres",
    "m": "in metres",
    "ft": "in feet",
    "1/in": "in teeth per inch",
    "1/mm": "in teeth per millimetre",
    "deg": "in degrees",
    "rad": "in radians",
    "%": "in percent",
    "s": "in seconds",
    "min": "in minutes",
    "1": "as a plain number",
    "teeth": "in teeth",
    "turns": "in turns",
    "pitches": "in pitches",
    "N": "in newtons",
    "kN": "in kilonewtons",
    "lbf": "in pounds-force",
    "N*m": "in newton metres",
    "N*mm": "in newton millimetres",
    "lbf*in": "in pound-force inches",
    "lbf*ft": "in pound-force feet",
    "um": "in micrometres",
    "K": "in kelvins",
}


def _in_unit(name: str) -> str:
    return _SPOKEN.get(name, f"in {name}")


def dimension_cause(answer: Answer, reading: Reading, right: bool) -> Cause:
    """A unit of another dimension was typed; `right` says whether the number would be right."""
    typed = UNITS[reading.unit]
    wanted = _in_unit(answer.shown_unit)
    sentence = (
        f"The number is right, but {reading.unit} is a unit of {_A[typed.dimension].split(' ', 1)[1]}: the"
        f" {QUANTITIES[answer.asked].meaning} is {_A[answer.dimension]}, {wanted}."
        if right
        else (
            f"{reading.unit} measures {_A[typed.dimension]}, but the {QUANTITIES[answer.asked].meaning} is"
            f" {_A[answer.dimension]}, {wanted}."
        )
    )
    return Cause("dimension", "a unit of another kind", sentence, UNIT_CREDIT if right else 0.0, "wrong unit")


def unit_causes(
    answer: Answer, reading: Reading, value: float, key: float, period: float = 0.0
) -> tuple[Cause, ...]:
    """The number would be right in another unit of the same dimension."""
    asked = UNITS[answer.shown_unit]
    if reading.unit and reading.unit != answer.shown_unit:  # typed a unit: was it only the wrong name?
        number = reading.value or 0.0
        plain = abs(number) if answer.table.size_only else number
        if answer.accepts(plain, key, period):
            return (
                Cause(
                    "unit name",
                    "right number, wrong unit typed",
                    f"The number is right {_in_unit(answer.shown_unit)}, but the unit typed behind it is"
                    f" “{reading.unit}”.",
                    UNIT_CREDIT,
                    "wrong unit",
                ),
            )
        return ()
    for name in _OTHERS.get(answer.dimension, ()):
        unit = UNITS[name]
        if unit.dimension == asked.dimension and name != answer.shown_unit:
            scale = unit.size / asked.size
            if 0.9999 < scale < 1.0001:
                continue
            turned = answer.signed and answer.accepts(-value * scale, key)
            if answer.accepts(value * scale, key) or turned:
                shown, wanted = _in_unit(name), _in_unit(answer.shown_unit)
                return (
                    Cause(
                        f"in {name}",
                        f"answer {shown}",
                        f"Your number is the {QUANTITIES[answer.asked].meaning} {shown}; the question asks"
                        f" for it {wanted}.{' And the sign is not right.' if turned else ''}",
                        UNIT_CREDIT if reading.unit else OTHER_UNIT_CREDIT,
                        "wrong unit",
                    ),
                )
    return ()
