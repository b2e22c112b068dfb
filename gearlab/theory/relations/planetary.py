"""Formulas of a planetary set: sun, planets, ring and carrier."""

from sympy import pi, sin

from ..functions import remainder, smaller
from ..relation import Relation
from . import ways

_MOTT = "R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 8-12"
_WILLIS = "R. Willis, Principles of Mechanism, 1841: motion seen from the carrier"

# A row is read as a row.
# fmt: off
PLANETARY_RELATIONS = (
    Relation("ring_teeth", lambda q: q.sun_teeth + 2 * q.planet_teeth, "Across the ring are the sun's radius and a planet's diameter, on both sides.", _MOTT, "for gears of one module without profile shift", of="planetary", way=ways.RING),
    Relation("carrier_speed", lambda q: (q.sun_teeth * q.sun_speed + q.ring_teeth * q.ring_speed) / (q.sun_teeth + q.ring_teeth),
             "Seen from the carrier, sun and ring turn opposite ways, with speeds in the inverse ratio of their teeth.", _WILLIS, of="planetary", unless=("carrier held",), way=ways.CARRIER),
    Relation("ring_speed", lambda q: -q.sun_speed * q.sun_teeth / q.ring_teeth, "With the carrier held, the planets are idlers between sun and ring: these turn opposite ways, with speeds in the inverse ratio of their teeth.",
             _WILLIS, of="planetary", needs=("carrier held",)),
    Relation("planet_speed", lambda q: q.carrier_speed - (q.sun_speed - q.carrier_speed) * q.sun_teeth / q.planet_teeth, "Seen from the carrier, sun and planet are a plain external pair.", _WILLIS, of="planetary"),
    Relation("reduction", lambda q: 1 + q.ring_teeth / q.sun_teeth, "With the ring held, the carrier follows the sun this many times slower, the same way.", _MOTT, of="planetary"),
    Relation("carrier_speed", lambda q: q.sun_speed / q.reduction, "With the ring held, the carrier follows the sun this many times slower, the same way.", _MOTT, of="planetary", needs=("ring held",)),
    Relation("carrier_torque", lambda q: q.sun_torque * (1 + q.ring_teeth / q.sun_teeth), "Without losses the torques balance: the carrier takes both the sun's and the ring's.", "balance of torques", of="planetary"),
    Relation("ring_torque", lambda q: q.sun_torque * q.ring_teeth / q.sun_teeth, "A planet presses equally on sun and ring; the ring's radius is the larger.", "balance of torques", "without losses", of="planetary"),
    Relation("power", lambda q: 2 * pi * q.sun_torque * q.sun_speed, "Power is torque times the angle turned in a unit of time.", "definition", of="planetary"),
    Relation("assembly_remainder", lambda q: remainder(q.sun_teeth + q.ring_teeth, q.planets), "Equally spaced planets can be assembled only if their number divides the sum of sun and ring teeth.", _MOTT, of="planetary", one_way=True),
    Relation("goes_together", lambda q: 1 - smaller(q.assembly_remainder, 1), "With nothing left over every planet finds its teeth; else the last one meets tooth on tooth.", _MOTT, of="planetary", one_way=True),
    Relation("carrier_radius", lambda q: q.module * (q.sun_teeth + q.planet_teeth) / 2, "From the middle across half the sun and half a planet.", "geometry", of="planetary"),
    Relation("planet_spacing", lambda q: q.module * (q.sun_teeth + q.planet_teeth) * sin(pi / q.planets), "Neighbouring planets are the ends of a chord of the carrier circle.", "geometry", of="planetary"),
    Relation("planet_gap", lambda q: q.planet_spacing - q.module * (q.planet_teeth + 2 * q.addendum_factor), "What is left between two tip circles.", "geometry", of="planetary"),
)
# fmt: on
