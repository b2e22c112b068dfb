"""What is taught: every formula once, and the way from what is given to what is asked."""

from .agreeing import Agreement, symbols_of
from .asking import Deriving
from .derivation import derive, reach
from .quantities import QUANTITIES, Quantity, quantity
from .systems import ToothSystem, system
from .way import Derivation, Step

__all__ = [
    "QUANTITIES",
    "Agreement",
    "Derivation",
    "Deriving",
    "Quantity",
    "Step",
    "ToothSystem",
    "derive",
    "quantity",
    "reach",
    "symbols_of",
    "system",
]
