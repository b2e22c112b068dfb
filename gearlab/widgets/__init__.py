"""What is handled: living pictures, explorers, answer boxes."""

from .answerbox import AnswerBox, ask
from .explorers import (AlignmentNudge, BacklashGauge, ContactStrip, HubSection, Jaws, LineOfAction, PairExplorer, PitchStrips,
                        PlateLayout, RackAndPinion, RackCutter, RatioFinder, ReviewChecklist, ShaftStack, SpacingExplorer, StringUnwinding, SunPlanetsRing,
                        ToleranceSliders, ToothAnatomy, ToothDial, ToothForces, TrainArrows, TrainBuilder, TurnCounter, TwoCones)
from .handin import hand_in, hand_in_box
from .living import Living, living
from .prediction import look_back, predict

__all__ = ["AlignmentNudge", "AnswerBox", "BacklashGauge", "ContactStrip", "HubSection", "Jaws", "LineOfAction", "Living", "PairExplorer",
           "PitchStrips", "PlateLayout", "RackAndPinion", "RackCutter", "RatioFinder", "ReviewChecklist", "ShaftStack", "SpacingExplorer", "StringUnwinding",
           "SunPlanetsRing", "ToleranceSliders", "ToothAnatomy", "ToothDial", "ToothForces", "TrainArrows", "TrainBuilder", "TurnCounter",
           "TwoCones", "ask", "hand_in", "hand_in_box", "living", "look_back", "predict"]
