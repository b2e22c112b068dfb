"""What is taught: every formula once, and the way from what is given to what is asked."""

from .derivation import Derivation, Step, compile_formulas, derive, reach
from .quantities import QUANTITIES, Quantity, quantity
from .systems import ToothSystem, system

__all__ = ["QUANTITIES", "Derivation", "Quantity", "Step", "ToothSystem", "compile_formulas", "derive", "quantity", "reach", "system"]
