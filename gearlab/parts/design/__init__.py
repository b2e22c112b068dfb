"""A design: a drive from its first shaft to its last member, on a plate or without one."""

from .beginning import begin
from .design import Design
from .drive import Link
from .reading import design_of, read_design
from .tables import (
    BevelTable,
    GearTable,
    GuardTable,
    Head,
    LoadTable,
    MeasuredTable,
    MeshTable,
    PlanetaryTable,
    PlateTable,
    RackTable,
    ShaftTable,
)

__all__ = [
    "BevelTable",
    "Design",
    "GearTable",
    "GuardTable",
    "Head",
    "Link",
    "LoadTable",
    "MeasuredTable",
    "MeshTable",
    "PlanetaryTable",
    "PlateTable",
    "RackTable",
    "ShaftTable",
    "begin",
    "design_of",
    "read_design",
]
