"""What is handled: a living picture with its controls and every number beside it, one explorer a topic."""

from .action import LineOfAction
from .alignment import AlignmentNudge
from .anatomy import ToothAnatomy
from .arrows import TrainArrows
from .backlash import BacklashGauge
from .builder import TrainBuilder
from .contact import ContactStrip
from .cutter import RackCutter
from .dial import ToothDial
from .jaws import Jaws
from .pair import PairExplorer
from .spacing import SpacingExplorer
from .strips import PitchStrips
from .turns import TurnCounter
from .unwinding import StringUnwinding

__all__ = ["AlignmentNudge", "BacklashGauge", "ContactStrip", "Jaws", "LineOfAction", "PairExplorer", "PitchStrips", "RackCutter", "SpacingExplorer", "StringUnwinding",
           "ToothAnatomy", "ToothDial", "TrainArrows", "TrainBuilder", "TurnCounter"]
