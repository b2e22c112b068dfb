"""What a workshop makes of a design: one record a part, and its block of tooth data."""

from .part import (
    BevelPart,
    Body,
    BoughtPart,
    Flat,
    GearPart,
    Keyway,
    Limits,
    Part,
    PartsList,
    PlateHole,
    PlatePart,
    RackPart,
    ScrewHole,
    ShaftPart,
    Spacing,
)
from .parts_of import gear_part, parts_of, plate_part, rack_part, shaft_part
from .toothdata import Measure, ToothData, data_of, tooth_data, wanted_backlash

__all__ = [
    "BevelPart",
    "Body",
    "BoughtPart",
    "Flat",
    "GearPart",
    "Keyway",
    "Limits",
    "Measure",
    "Part",
    "PartsList",
    "PlateHole",
    "PlatePart",
    "RackPart",
    "ScrewHole",
    "ShaftPart",
    "Spacing",
    "ToothData",
    "data_of",
    "gear_part",
    "parts_of",
    "plate_part",
    "rack_part",
    "shaft_part",
    "tooth_data",
    "wanted_backlash",
]
