"""What is built: gears, rings and pairs, their numbers from theory, their shape from the rack.

Rings, racks, bevel gears and planetary sets are loaded when first asked for: a pair of gears does without.
"""

from importlib import import_module as _load

from .gear import Gear
from .mesh import Mesh
from .train import Train

_LATER = {"BevelPair": ".bevel", "InternalGear": ".internal", "Planetary": ".planetary", "Rack": ".rack", "RackDrive": ".rackdrive"}
__all__ = ["BevelPair", "Gear", "InternalGear", "Mesh", "Planetary", "Rack", "RackDrive", "Train"]


def __getattr__(name):
    if name in _LATER:
        return getattr(_load(_LATER[name], __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
