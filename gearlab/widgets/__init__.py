"""What is handled: living pictures, explorers, answer boxes."""

from .answerbox import AnswerBox, ask
from .explorers import (AlignmentNudge, BacklashGauge, ContactStrip, Jaws, LineOfAction, PairExplorer, PitchStrips, RackCutter, SpacingExplorer, StringUnwinding,
                        ToothAnatomy, ToothDial, TrainArrows, TrainBuilder, TurnCounter)
from .handin import hand_in, hand_in_box
from .living import Living, living
from .prediction import look_back, predict

__all__ = ["AlignmentNudge", "AnswerBox", "BacklashGauge", "ContactStrip", "Jaws", "LineOfAction", "Living", "PairExplorer", "PitchStrips", "RackCutter",
           "SpacingExplorer", "StringUnwinding", "ToothAnatomy", "ToothDial", "TrainArrows", "TrainBuilder", "TurnCounter", "ask", "hand_in", "hand_in_box",
           "living", "look_back", "predict"]
