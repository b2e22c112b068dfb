"""Every formula of the trade, once: equation, where it holds, source. One file a subject."""

from .relation import Relation
from .flank import FLANK_RELATIONS
from .force import FORCE_RELATIONS
from .gear import GEAR_RELATIONS
from .measuring import MEASURING_RELATIONS
from .mounting import MOUNTING_RELATIONS
from .pair import PAIR_RELATIONS
from .train import TRAIN_RELATIONS
from .workshop import WORKSHOP_RELATIONS

ALL = (GEAR_RELATIONS + FLANK_RELATIONS + MEASURING_RELATIONS + PAIR_RELATIONS + FORCE_RELATIONS + TRAIN_RELATIONS + MOUNTING_RELATIONS
       + WORKSHOP_RELATIONS)

__all__ = ["ALL", "Relation"]
