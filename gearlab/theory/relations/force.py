"""Formulas of the tooth force: along the line of action, across it, and against the shafts."""

from sympy import cos, tan

from ..relation import Relation
from . import ways

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 9-3"
_SAME = "The flanks press on each other along the line of action; "

# A row is read as a row.
# fmt: off
FORCE_RELATIONS = (
    Relation("separating_force", lambda q: q.tangential_force * tan(q.pressure_angle), _SAME + "the part along the line of centres pushes the shafts apart.", _MOTT, of="single", way=ways.SEPARATING),
    Relation("normal_force", lambda q: q.tangential_force / cos(q.pressure_angle), _SAME + "only the part across the line of centres turns the gear.", _MOTT, of="single", way=ways.NORMAL),
    Relation("separating_force_increase", lambda q: tan(q.other_pressure_angle) / tan(q.pressure_angle) - 1,
             "For one tangential force, the separating force goes with the tangent of the pressure angle.", _MOTT, of="single"),
    Relation("separating_force", lambda q: q.tangential_force * tan(q.operating_pressure_angle), _SAME + "the part along the line of centres pushes the shafts apart.", _MOTT, of="side by side", way=ways.SEPARATING_OPERATING),
    Relation("normal_force", lambda q: q.tangential_force / cos(q.operating_pressure_angle), _SAME + "only the part across the line of centres turns the gears.", _MOTT, of="side by side", way=ways.NORMAL_OPERATING),
    Relation("force_angle", lambda q: q.operating_pressure_angle, "The tooth force lies in the line of action, which leans from the common tangent by the pressure angle.", _MOTT, of="side by side"),
)
# fmt: on
