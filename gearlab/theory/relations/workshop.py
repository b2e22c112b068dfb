"""Formulas of the workshop: what a cut takes away, fits, tolerances, warmth."""

from sympy import Rational, sqrt, tan

from .. import ranges
from ..relation import Relation

_PRACTICE = "common practice"
_ISO_FIT = "ISO 286-1:2010, limits and fits: largest and least clearance"
_OPENING = "Each bit of opening adds twice the tangent of the pressure angle of it to the backlash."


def _small(what: str, word: str) -> ranges.Range:
    return ranges.small(
        what, lambda q: getattr(q, word), "centre distance", Rational(1, 100), lambda q: q.nominal_distance
    )


_SMALL_MOVE = _small("small distances", "closing_distance")
_SMALL_VARIATION = _small("small variations", "distance_variation")
_SMALL_GROWTH = _small("gears that hardly grow and a distance that grows little", "distance_growth")

# A row is read as a row.
# fmt: off
WORKSHOP_RELATIONS = (
    Relation("cut_thickness", lambda q: q.drawn_thickness - q.cut_width, "On either flank the beam, led along the line, takes away half its width.", _PRACTICE, of="workshop"),
    Relation("cut_bore", lambda q: q.drawn_bore + q.cut_width, "Around the bore the beam, led along the line, takes away half its width on either side.", _PRACTICE, of="workshop"),
    Relation("backlash_from_cut", lambda q: 2 * q.cut_width, "Both gears have lost one width of the cut from each tooth.", _PRACTICE, "at the reference centre distance", of="workshop"),
    Relation("closing_distance", lambda q: (q.backlash_from_cut - q.wanted_backlash) / (2 * tan(q.profile_angle)),
             "Moving the shafts closer takes away twice the tangent of the pressure angle of backlash for each bit of the way.", _PRACTICE, _SMALL_MOVE, of="workshop"),
    Relation("largest_centre_distance", lambda q: q.nominal_distance + 2 * q.hole_error, "At worst both holes are off outwards.", _PRACTICE, of="workshop"),
    Relation("least_centre_distance", lambda q: q.nominal_distance - 2 * q.hole_error, "At worst both holes are off inwards.", _PRACTICE, of="workshop"),
    Relation("distance_variation", lambda q: 2 * q.hole_error, "The errors of both holes add up at worst.", _PRACTICE, of="workshop"),
    Relation("least_backlash", lambda q: q.design_backlash - 2 * q.distance_variation * tan(q.profile_angle), _OPENING, _PRACTICE, _SMALL_VARIATION, of="workshop"),
    Relation("greatest_backlash", lambda q: q.design_backlash + 2 * q.distance_variation * tan(q.profile_angle), _OPENING, _PRACTICE, _SMALL_VARIATION, of="workshop"),
    Relation("largest_clearance", lambda q: q.hole_upper - q.shaft_lower, "The largest hole on the smallest shaft.", _ISO_FIT, of="workshop"),
    Relation("least_clearance", lambda q: q.hole_lower - q.shaft_upper, "The smallest hole on the largest shaft.", _ISO_FIT, of="workshop"),
    Relation("distance_growth", lambda q: q.expansion * q.nominal_distance * q.warming, "A warmed plate grows in every direction, and its holes move apart with it.", _PRACTICE, of="workshop"),
    Relation("growth_backlash", lambda q: 2 * q.distance_growth * tan(q.profile_angle), _OPENING, _PRACTICE, _SMALL_GROWTH, of="workshop"),
    Relation("worst_case", lambda q: q.contribution_1 + q.contribution_2 + q.contribution_3, "At worst all contributions go the same way.", _PRACTICE, of="workshop"),
    Relation("likely_variation", lambda q: sqrt(q.contribution_1**2 + q.contribution_2**2 + q.contribution_3**2),
             "Independent contributions seldom go the same way: they add up like the sides of right triangles.", "root-sum-square of independent contributions (common practice)", of="workshop"),
    Relation("worst_over_likely", lambda q: q.worst_case / q.likely_variation, "How much wider the worst case is.", "definition", of="workshop"),
)
# fmt: on
