"""What is built: gears, rings and pairs, their numbers from theory, their shape from the rack.

Trains, rings, racks, bevel gears, planetary sets, the bench and its review are loaded when first asked for: a
pair of gears does without.
"""

from importlib import import_module as _load

from .gear import Gear
from .mesh import Mesh

_LATER = {
    "BevelPair": ".bevel",
    "EpicyclicTrain": ".epicyclic",
    "Hub": ".hub",
    "InternalGear": ".internal",
    "Load": ".load",
    "Planetary": ".planetary",
    "Plate": ".plate",
    "Rack": ".rack",
    "RackDrive": ".rackdrive",
    "Shaft": ".shaft",
    "Train": ".train",
}
__all__ = [
    "BevelPair",
    "EpicyclicTrain",
    "Gear",
    "Hub",
    "InternalGear",
    "Load",
    "Mesh",
    "Planetary",
    "Plate",
    "Rack",
    "RackDrive",
    "Shaft",
    "Train",
]


def __getattr__(name: str):
    if name in _LATER:
        return getattr(_load(_LATER[name], __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
