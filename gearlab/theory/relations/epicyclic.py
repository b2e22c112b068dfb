"""Formulas of an epicyclic train on one carrier.

First gear, planet shaft, last gear, whatever stands outside or inside.

A mesh has a sign: -1 where the two gears turn opposite ways seen from the carrier (teeth outside on both; of
two bevel gears that stand on either side of a planet, the left one), 1 where they turn the same way (a ring;
the bevel gear on the right).
"""

from sympy import pi, sin

from ..functions import common_factor, remainder
from ..relation import Relation

_WILLIS = "R. Willis, Principles of Mechanism, 1841: motion seen from the carrier"
_BALANCE = "balance of torques, and of power"
_ASSEMBLY = (
    "phases of the meshes, worked out from one planet to the next; for a plain set the rule in R. L. Mott,"
    " Machine Elements in Mechanical Design, 4th ed., section 8-12"
)

# A row is read as a row.
# fmt: off
EPICYCLIC_RELATIONS = (
    Relation("first_mesh_value", lambda q: q.first_mesh_sign * q.first_central_teeth / q.first_planet_teeth,
             "With the carrier held the planet is an ordinary gear in mesh with the first: its turns are inversely as the teeth.", _WILLIS, of="epicyclic"),
    Relation("last_mesh_value", lambda q: q.last_mesh_sign * q.last_planet_teeth / q.last_central_teeth,
             "With the carrier held the last gear is an ordinary gear in mesh with the planet: its turns are inversely as the teeth.", _WILLIS, of="epicyclic"),
    Relation("planet_mesh_value", lambda q: q.planet_mesh_sign * q.inner_planet_teeth / q.outer_planet_teeth,
             "With the carrier held the two planets are an ordinary pair.", _WILLIS, of="epicyclic", needs=("double planets",)),
    Relation("train_value", lambda q: q.first_mesh_value * q.last_mesh_value, "With the carrier held this is an ordinary train: the values of its meshes multiply.",
             _WILLIS, of="epicyclic", unless=("double planets",)),
    Relation("train_value", lambda q: q.first_mesh_value * q.planet_mesh_value * q.last_mesh_value,
             "With the carrier held this is an ordinary train: the values of its meshes multiply.", _WILLIS, of="epicyclic", needs=("double planets",)),
    Relation("first_relative_speed", lambda q: q.first_central_speed - q.carrier_speed, "Seen from the carrier: its speed is subtracted.", _WILLIS, of="epicyclic"),
    Relation("last_relative_speed", lambda q: q.train_value * q.first_relative_speed, "Seen from the carrier the train is an ordinary one.", _WILLIS, of="epicyclic"),
    Relation("last_central_speed", lambda q: q.last_relative_speed + q.carrier_speed, "Back on the bench: the speed of the carrier is added again.", _WILLIS, of="epicyclic"),
    Relation("planet_relative_speed", lambda q: q.first_mesh_value * q.first_relative_speed, "Seen from the carrier the planet and the first gear are an ordinary pair.", _WILLIS, of="epicyclic"),
    Relation("planet_speed", lambda q: q.planet_relative_speed + q.carrier_speed, "Back on the bench: the speed of the carrier is added again.", _WILLIS, "for a planet whose pin lies along the common axis", of="epicyclic"),
    Relation("first_outer_torque", lambda q: -q.train_value * q.last_outer_torque, "Seen from the carrier no power is lost between first and last gear.", _BALANCE,
             "without losses", of="epicyclic"),
    Relation("carrier_outer_torque", lambda q: -q.first_outer_torque - q.last_outer_torque, "What acts on the train from outside must balance.", _BALANCE, of="epicyclic"),
    Relation("first_radius_teeth", lambda q: q.first_central_teeth - q.first_mesh_sign * q.first_planet_teeth,
             "The distance of the axes is half of this many modules: the sum of the teeth outside, the difference in a ring.", "geometry", "for parallel axes", of="epicyclic"),
    Relation("last_radius_teeth", lambda q: q.last_central_teeth - q.last_mesh_sign * q.last_planet_teeth,
             "The distance of the axes is half of this many modules: the sum of the teeth outside, the difference in a ring.", "geometry", "for parallel axes", of="epicyclic"),
    Relation("carrier_radius", lambda q: q.first_mesh_module * q.first_radius_teeth / 2, "A planet is as far from the common axis as from the first gear.", "geometry",
             "for parallel axes", of="epicyclic"),
    Relation("carrier_radius", lambda q: q.last_mesh_module * q.last_radius_teeth / 2, "First and last gear share the axis: a planet is equally far from both.", "geometry",
             "for parallel axes", of="epicyclic", needs=("coaxial",)),
    Relation("planet_spacing", lambda q: 2 * q.carrier_radius * sin(pi / q.planets), "Neighbouring planets are the ends of a chord of the circle of their pins.", "geometry",
             "for parallel axes", of="epicyclic"),
    Relation("planet_gap", lambda q: q.planet_spacing - q.largest_planet_diameter, "What is left between two tip circles.", "geometry", of="epicyclic"),
    Relation("equal_spacing_number", lambda q: (q.last_mesh_sign * q.first_central_teeth * q.last_planet_teeth - q.first_mesh_sign * q.last_central_teeth * q.first_planet_teeth)
             / common_factor(q.first_planet_teeth, q.last_planet_teeth), "This many steps of a tooth lie once around; from planet to planet there must be a whole number of them.",
             _ASSEMBLY, of="epicyclic", one_way=True, unless=("double planets",)),
    Relation("equal_spacing_remainder", lambda q: remainder(q.equal_spacing_number, q.planets),
             "Equal planets equally spaced go in only if nothing is left over.", _ASSEMBLY, of="epicyclic", one_way=True, unless=("double planets",)),
)
# fmt: on
