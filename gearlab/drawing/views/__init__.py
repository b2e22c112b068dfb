"""Builders: a part becomes a scene."""

from .aligned import aligned
from .arrows import arrows
from .backlash import backlash
from .cones import cones
from .contact import contact
from .drive import drive
from .forces import forces
from .gear import gear
from .generation import generation
from .hub import hub
from .idler import idler_push
from .jaws import jaws
from .limits import limits
from .mounted import mounted
from .pair import pair, pitch_circles, wished
from .planetary import planetary
from .plate import plate
from .rack import rack
from .shafts import shafts
from .spaced import spaced
from .stack import stack
from .strips import strips
from .tilted import tilted
from .tooth import ANATOMY, tooth
from .train import train
from .unwinding import unwinding

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
