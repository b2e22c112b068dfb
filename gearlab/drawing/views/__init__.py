"""Builders: a part becomes a scene."""

from .aligned import aligned
from .arrows import arrows
from .backlash import backlash
from .contact import contact
from .gear import gear
from .generation import generation
from .jaws import jaws
from .idler import idler_push
from .pair import pair, pitch_circles
from .shafts import shafts
from .spaced import spaced
from .strips import strips
from .tilted import tilted
from .tooth import ANATOMY, tooth
from .train import train
from .unwinding import unwinding

__all__ = ["ANATOMY", "aligned", "arrows", "backlash", "contact", "gear", "generation", "idler_push", "jaws", "pair", "pitch_circles", "shafts", "spaced",
           "strips", "tilted", "tooth", "train", "unwinding"]
