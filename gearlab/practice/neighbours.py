"""Quantities that stand near one another in a student's mind."""

from gearlab.theory.quantities import SIDES, split_side

__all__ = ["SIBLINGS", "alike", "met_early"]

# Quantities taken for one another, without the prefix of the gear.
SIBLINGS = (
    ("pitch_diameter", "outside_diameter", "root_diameter", "base_diameter"),
    ("pitch_radius", "outside_radius", "root_radius", "base_radius"),
    ("addendum", "dedendum"),
    ("whole_depth", "working_depth"),
    ("circular_pitch", "base_pitch"),
    ("tooth_thickness", "circular_pitch"),
    ("module", "circular_pitch"),
)

_EARLY = frozenset(
    [
        "teeth",
        "pitch_diameter",
        "base_diameter",
        "outside_diameter",
        "root_diameter",
        "pitch_radius",
        "outside_radius",
        "root_radius",
        "pitch_circumference",
        "circular_pitch",
        "base_pitch",
        "module",
        "diametral_pitch",
        "addendum",
        "dedendum",
        "whole_depth",
        "working_depth",
        "clearance",
        "tooth_thickness",
        "centre_distance",
        "ratio",
        "speed",
        "turns",
        "angle",
        "angular_speed",
        "pitch_line_speed",
        "mesh_frequency",
        "common_factor",
        "tooth_difference",
        "teeth_lowest",
        "turns_to_repeat",
        "spaces_met",
        "share_of_spaces",
    ]
)


def alike(word: str, other: str) -> bool:
    """Whether two quantities are the same of another gear, or begin with the same two words, so that one may
    be given for the other.

    >>> alike("driver_limit_radius", "driven_limit_radius"), alike("least_teeth_with_rack", "least_teeth_with_equal"), alike("addendum", "module")
    (True, True, False)
    """  # noqa: E501
    one, two = ([part for part in name.split("_") if part not in SIDES] for name in (word, other))
    return one == two or (len(one) > 2 and one[:2] == two[:2])


def met_early(word: str) -> bool:
    """Whether every student meets a quantity in the first lessons, so that a wrong answer may well be it.

    >>> met_early("driven_outside_diameter"), met_early("driver_interference_margin")
    (True, False)
    """
    return split_side(word)[1] in _EARLY
