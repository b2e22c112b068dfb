"""What is handled: a living picture with its controls and every number beside it, one explorer a topic."""

from .anatomy import ToothAnatomy
from .dial import ToothDial
from .pair import PairExplorer
from .spacing import SpacingExplorer
from .strips import PitchStrips
from .turns import TurnCounter

__all__ = ["PairExplorer", "PitchStrips", "SpacingExplorer", "ToothAnatomy", "ToothDial", "TurnCounter"]
