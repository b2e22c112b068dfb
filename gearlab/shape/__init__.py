"""What is cut: exact tooth outlines, and measurements taken on them.

Rings (``internal``) and rolling (``rolling``) are imported from their own modules: a gear needs neither.
"""

from gearlab.shape.involute import arcinv, inv
from gearlab.shape.rack import Rack
from gearlab.shape.tooth import ToothForm

__all__ = ["Rack", "ToothForm", "arcinv", "inv"]
