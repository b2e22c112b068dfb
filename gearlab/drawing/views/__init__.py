"""Builders: a part becomes a scene."""

from .gear import gear
from .pair import pair, pitch_circles
from .spaced import spaced
from .strips import strips
from .tooth import ANATOMY, tooth

__all__ = ["ANATOMY", "gear", "pair", "pitch_circles", "spaced", "strips", "tooth"]
