"""Every formula of the trade, once: equation, where it holds, source. One file a subject."""

from ..relation import Relation
from .bevel import BEVEL_RELATIONS
from .drive import DRIVE_RELATIONS
from .epicyclic import EPICYCLIC_RELATIONS
from .flank import FLANK_RELATIONS
from .force import FORCE_RELATIONS
from .gear import GEAR_RELATIONS
from .hub import HUB_RELATIONS
from .key import KEY_RELATIONS
from .load import LOAD_RELATIONS
from .measuring import MEASURING_RELATIONS
from .mounting import MOUNTING_RELATIONS
from .pair import PAIR_RELATIONS
from .planetary import PLANETARY_RELATIONS
from .plate import PLATE_RELATIONS
from .rack import RACK_RELATIONS
from .stack import STACK_RELATIONS
from .train import TRAIN_RELATIONS
from .workshop import WORKSHOP_RELATIONS

ALL = (
    GEAR_RELATIONS
    + FLANK_RELATIONS
    + MEASURING_RELATIONS
    + PAIR_RELATIONS
    + FORCE_RELATIONS
    + TRAIN_RELATIONS
    + MOUNTING_RELATIONS
    + WORKSHOP_RELATIONS
    + PLATE_RELATIONS
    + STACK_RELATIONS
    + HUB_RELATIONS
    + LOAD_RELATIONS
    + RACK_RELATIONS
    + BEVEL_RELATIONS
    + PLANETARY_RELATIONS
    + DRIVE_RELATIONS
    + EPICYCLIC_RELATIONS
    + KEY_RELATIONS
)

__all__ = ["ALL", "Relation"]
