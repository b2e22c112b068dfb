"""What is built: gears and pairs, their numbers from theory, their shape from the rack."""

from .gear import Gear
from .mesh import Mesh
from .train import Train

__all__ = ["Gear", "Mesh", "Train"]
