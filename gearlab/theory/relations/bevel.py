"""Formulas of two cones: straight bevel pairs, mitre pairs among them."""

from collections.abc import Callable

import sympy as sp
from sympy import atan, cos, pi, sin, tan

from .. import ranges
from ..functions import smaller
from ..relation import Relation
from . import ways

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 8-9"
_PRACTICE = "common practice"

# Proportions that share the addenda by the ratio: a long one for the pinion, a short one for the wheel, the
# root cone parallel to the mate's tips.
_SHARED = "straight bevel proportions with long and short addendum, as in metric gear handbooks (from memory)"
_LONG = ("long addendum",)


def _own(side: str, word: str) -> Callable[[ranges.Terms], sp.Expr]:
    return lambda q: getattr(q, f"{side}_{word}")


def _long_addendum(side: str, mate: str) -> tuple[Relation, ...]:
    """What is told of either gear where the addenda are shared by the ratio."""
    cone, addendum, dedendum, angle, diameter = (
        _own(side, word)
        for word in ("cone_angle", "cone_addendum", "cone_dedendum", "dedendum_angle", "pitch_diameter")
    )
    return (
        Relation(
            f"{side}_cone_dedendum",
            lambda q: sp.Rational("2.188") * q.module - addendum(q),
            "Addendum and dedendum together are the whole depth.",
            _SHARED,
            of="bevel",
            needs=_LONG,
        ),
        Relation(
            f"{side}_dedendum_angle",
            lambda q: atan(dedendum(q) / q.cone_distance),
            "Root and pitch cone share the apex; at the large end they are one dedendum apart.",
            "geometry",
            of="bevel",
            needs=_LONG,
        ),
        Relation(
            f"{side}_tip_cone_angle",
            lambda q: cone(q) + _own(mate, "dedendum_angle")(q),
            "The tips run parallel to the roots of the mate, so that the clearance is the same all along.",
            _SHARED,
            of="bevel",
            needs=_LONG,
        ),
        Relation(
            f"{side}_root_cone_angle",
            lambda q: cone(q) - angle(q),
            "The root cone lies inside the pitch cone.",
            "geometry",
            of="bevel",
            needs=_LONG,
        ),
        Relation(
            f"{side}_cone_outside_diameter",
            lambda q: diameter(q) + 2 * addendum(q) * cos(cone(q)),
            "The addendum is square to the cone, not to the axis.",
            _MOTT,
            of="bevel",
            needs=_LONG,
        ),
    )


def _each(side: str, mate: str) -> tuple[Relation, ...]:
    """What is told of either gear alike; the mate's numbers where its teeth decide."""
    cone, addendum, tip, outside, apart = (
        _own(side, word)
        for word in (
            "cone_angle",
            "cone_addendum",
            "tip_cone_angle",
            "cone_outside_diameter",
            "apex_distance",
        )
    )
    return (
        *_long_addendum(side, mate),
        Relation(
            f"{side}_cone_addendum",
            lambda q: q.addendum,
            "Both gears have the addendum of their tooth system.",
            "definition",
            of="bevel",
            unless=_LONG,
        ),
        Relation(
            f"{side}_crown_distance",
            lambda q: apart(q) - addendum(q) * sin(cone(q)),
            "The addendum, square to the cone, leans towards the apex.",
            "geometry",
            of="bevel",
        ),
        Relation(
            f"{side}_axial_face",
            lambda q: q.face_width * cos(tip(q)) / cos(tip(q) - cone(q)),
            "The face is measured along the pitch cone; the tips lean a little more.",
            "geometry",
            of="bevel",
        ),
        Relation(
            f"{side}_inner_diameter",
            lambda q: outside(q) - 2 * q.face_width * sin(tip(q)) / cos(tip(q) - cone(q)),
            "Going in along the tips, the radius shrinks by the sine of the tip cone angle.",
            "geometry",
            of="bevel",
        ),
    )


# A row is read as a row.
# fmt: off
BEVEL_RELATIONS = (
    Relation("driver_cone_angle", lambda q: atan(sin(q.shaft_angle) / (q.ratio + cos(q.shaft_angle))), "The cones roll on each other: their angles share the shaft angle so that the radii have the ratio of the teeth.",
             _MOTT, ranges.NOT_HOLLOW, of="bevel", way=ways.CONES),
    Relation("driven_cone_angle", lambda q: q.shaft_angle - q.driver_cone_angle, "Both cone angles together are the shaft angle.", _MOTT, of="bevel"),
    Relation("cone_distance", lambda q: q.driver_pitch_radius / sin(q.driver_cone_angle), "From the apex to the large pitch circle, along the cone.", _MOTT, of="bevel"),
    Relation("largest_face", lambda q: smaller(q.cone_distance / 3, 10 * q.module), "A third of the cone distance, not above ten modules: further in the teeth grow too small.", _MOTT, of="bevel", one_way=True),
    Relation("driver_cone_outside_diameter", lambda q: q.driver_pitch_diameter + 2 * q.addendum * cos(q.driver_cone_angle), "The addendum is square to the cone, not to the axis.", _MOTT, of="bevel", unless=_LONG),
    Relation("driven_cone_outside_diameter", lambda q: q.driven_pitch_diameter + 2 * q.addendum * cos(q.driven_cone_angle), "The addendum is square to the cone, not to the axis.", _MOTT, of="bevel", unless=_LONG),
    Relation("driver_apex_distance", lambda q: q.cone_distance * cos(q.driver_cone_angle), "The large pitch circle is square to its axis.", "geometry", of="bevel"),
    Relation("driven_apex_distance", lambda q: q.cone_distance * cos(q.driven_cone_angle), "The large pitch circle is square to its axis.", "geometry", of="bevel"),
    Relation("driver_virtual_teeth", lambda q: q.driver_teeth / cos(q.driver_cone_angle), "Seen square to its cone a bevel gear is part of a larger spur gear.", "T. Tredgold's approximation, as in Shigley, section 13-9", of="bevel"),
    Relation("driven_virtual_teeth", lambda q: q.driven_teeth / cos(q.driven_cone_angle), "Seen square to its cone a bevel gear is part of a larger spur gear.", "T. Tredgold's approximation, as in Shigley, section 13-9", of="bevel"),
    Relation("mean_cone_distance", lambda q: q.cone_distance - q.face_width / 2, "The middle of the face lies half a face nearer to the apex.", _MOTT, of="bevel"),
    Relation("addendum_angle", lambda q: atan(q.addendum / q.cone_distance), "Tip and pitch cone share the apex; at the large end they are one addendum apart.", "geometry", of="bevel", unless=_LONG),
    Relation("dedendum_angle", lambda q: atan(q.dedendum / q.cone_distance), "Root and pitch cone share the apex; at the large end they are one dedendum apart.", "geometry", of="bevel", unless=_LONG),
    Relation("driver_tip_cone_angle", lambda q: q.driver_cone_angle + q.addendum_angle, "The tip cone lies outside the pitch cone.", "geometry", of="bevel", unless=_LONG),
    Relation("driven_tip_cone_angle", lambda q: q.driven_cone_angle + q.addendum_angle, "The tip cone lies outside the pitch cone.", "geometry", of="bevel", unless=_LONG),
    Relation("driver_root_cone_angle", lambda q: q.driver_cone_angle - q.dedendum_angle, "The root cone lies inside the pitch cone.", "geometry", of="bevel", unless=_LONG),
    Relation("driven_root_cone_angle", lambda q: q.driven_cone_angle - q.dedendum_angle, "The root cone lies inside the pitch cone.", "geometry", of="bevel", unless=_LONG),
    Relation("driver_mean_diameter", lambda q: q.driver_pitch_diameter - q.face_width * sin(q.driver_cone_angle), "Going in along the cone by half a face, the radius shrinks by the sine of the cone angle.", _MOTT, of="bevel"),
    Relation("power", lambda q: 2 * pi * q.driver_torque * q.driver_speed, "Power is torque times the angle turned in a unit of time.", "definition", of="bevel"),
    Relation("mean_force", lambda q: 2 * q.driver_torque / q.driver_mean_diameter, "The torque acts on the teeth at the middle of the face.", _MOTT, of="bevel"),
    Relation("driver_thrust", lambda q: q.mean_force * tan(q.pressure_angle) * sin(q.driver_cone_angle), "Of the separating force, square to the cone, this part goes along the axis.", _MOTT, of="bevel"),
    Relation("driver_cone_radial_force", lambda q: q.mean_force * tan(q.pressure_angle) * cos(q.driver_cone_angle), "Of the separating force, square to the cone, this part goes across the axis.", _MOTT, of="bevel"),
    Relation("driven_thrust", lambda q: q.mean_force * tan(q.pressure_angle) * sin(q.driven_cone_angle), "Of the separating force, square to the cone, this part goes along the axis.", _MOTT, of="bevel"),
    Relation("driven_cone_radial_force", lambda q: q.mean_force * tan(q.pressure_angle) * cos(q.driven_cone_angle), "Of the separating force, square to the cone, this part goes across the axis.", _MOTT, of="bevel"),
    Relation("output_speed", lambda q: abs(q.driver_speed) / q.ratio, "Teeth pass the mesh equally; the direction depends on the side on which the second gear is.", _MOTT, of="bevel", one_way=True),
    Relation("driven_cone_addendum", lambda q: q.module * (sp.Rational("0.54") + sp.Rational("0.46") * q.driver_teeth * cos(q.driven_cone_angle) / (q.driven_teeth * cos(q.driver_cone_angle))),
             "The wheel gets the shorter teeth, the more so the larger the ratio.", _SHARED, of="bevel", needs=_LONG, one_way=True),
    Relation("driver_cone_addendum", lambda q: 2 * q.module - q.driven_cone_addendum, "Both addenda together are two modules.", _SHARED, of="bevel", needs=_LONG),
    *_each("driver", "driven"),
    *_each("driven", "driver"),
)
# fmt: on
