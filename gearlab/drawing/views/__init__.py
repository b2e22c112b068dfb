"""Builders: a part becomes a scene."""

from .backlash import backlash
from .contact import contact
from .gear import gear
from .pair import pair, pitch_circles
from .spaced import spaced
from .strips import strips
from .tilted import tilted
from .tooth import ANATOMY, tooth
from .unwinding import unwinding

__all__ = ["ANATOMY", "backlash", "contact", "gear", "pair", "pitch_circles", "spaced", "strips", "tilted", "tooth", "unwinding"]
