"""Builders: a part becomes a scene."""

from .action import contact, tilted
from .aligned import aligned
from .backlash import backlash, limits
from .cones import cones
from .drive import drive
from .gear import ANATOMY, forces, gear, strips, tooth
from .generation import generation, unwinding
from .hub import hub, stack
from .jaws import jaws
from .pair import pair, pitch_circles, spaced, wished
from .planetary import planetary
from .plate import mounted, plate
from .rack import rack
from .shafts import arrows, shafts
from .train import idler_push, train

__all__ = [
    "ANATOMY",
    "aligned",
    "arrows",
    "backlash",
    "cones",
    "contact",
    "drive",
    "forces",
    "gear",
    "generation",
    "hub",
    "idler_push",
    "jaws",
    "limits",
    "mounted",
    "pair",
    "pitch_circles",
    "planetary",
    "plate",
    "rack",
    "shafts",
    "spaced",
    "stack",
    "strips",
    "tilted",
    "tooth",
    "train",
    "unwinding",
    "wished",
]
