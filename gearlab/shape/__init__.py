"""What is cut: exact tooth outlines, and measurements taken on them."""

from gearlab.shape.internal import InternalToothForm
from gearlab.shape.involute import arcinv, inv
from gearlab.shape.rack import Rack
from gearlab.shape.rolling import Rolling
from gearlab.shape.tooth import ToothForm

__all__ = ["InternalToothForm", "Rack", "Rolling", "ToothForm", "arcinv", "inv"]
