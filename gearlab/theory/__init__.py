"""What is taught: every formula once, and the way from what is given to what is asked."""

from .derivation import derive, reach
from .numbers import compile_formulas
from .quantities import QUANTITIES, Quantity, quantity
from .systems import ToothSystem, system
from .way import Derivation, Step

__all__ = ["QUANTITIES", "Derivation", "Quantity", "Step", "ToothSystem", "compile_formulas", "derive", "quantity", "reach", "system"]
