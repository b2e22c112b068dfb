"""What is handled: a living picture with its controls and every number beside it, one explorer a topic."""

from .action import LineOfAction
from .alignment import AlignmentNudge
from .anatomy import ToothAnatomy
from .arrows import TrainArrows
from .backlash import BacklashGauge
from .builder import TrainBuilder
from .cones import TwoCones
from .contact import ContactStrip
from .cutter import RackCutter
from .dial import ToothDial
from .drive import DriveExplorer
from .forces import ToothForces
from .hub import HubSection
from .jaws import Jaws
from .pair import PairExplorer
from .planetary import SunPlanetsRing
from .plate import PlateLayout
from .rack import RackAndPinion
from .ratios import RatioFinder
from .review import ReviewChecklist
from .spacing import SpacingExplorer
from .stack import ShaftStack
from .strips import PitchStrips
from .tolerances import ToleranceSliders
from .turns import TurnCounter
from .unwinding import StringUnwinding

__all__ = [
    "AlignmentNudge",
    "BacklashGauge",
    "ContactStrip",
    "DriveExplorer",
    "HubSection",
    "Jaws",
    "LineOfAction",
    "PairExplorer",
    "PitchStrips",
    "PlateLayout",
    "RackAndPinion",
    "RackCutter",
    "RatioFinder",
    "ReviewChecklist",
    "ShaftStack",
    "SpacingExplorer",
    "StringUnwinding",
    "SunPlanetsRing",
    "ToleranceSliders",
    "ToothAnatomy",
    "ToothDial",
    "ToothForces",
    "TrainArrows",
    "TrainBuilder",
    "TurnCounter",
    "TwoCones",
]
