"""What is built: gears, rings and pairs, their numbers from theory, their shape from the rack.

A ring is loaded when first asked for: a gear does without.
"""

from importlib import import_module as _load

from .gear import Gear
from .mesh import Mesh
from .train import Train

_LATER = {"InternalGear": ".internal"}
__all__ = ["Gear", "InternalGear", "Mesh", "Train"]


def __getattr__(name):
    if name in _LATER:
        return getattr(_load(_LATER[name], __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
