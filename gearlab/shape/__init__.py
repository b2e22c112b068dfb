"""What is cut: exact tooth outlines, and measurements taken on them."""

from gearlab.shape.involute import arcinv, inv
from gearlab.shape.rack import Rack
from gearlab.shape.tooth import ToothForm

__all__ = ["Rack", "ToothForm", "arcinv", "inv"]
