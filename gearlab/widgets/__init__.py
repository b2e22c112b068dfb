"""What is handled: living pictures, explorers, answer boxes."""

from .explorers import PairExplorer, PitchStrips, SpacingExplorer, ToothAnatomy, ToothDial, TurnCounter
from .living import Living, living

__all__ = ["Living", "PairExplorer", "PitchStrips", "SpacingExplorer", "ToothAnatomy", "ToothDial", "TurnCounter", "living"]
