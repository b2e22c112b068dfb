"""Every formula of the trade, once: equation, where it holds, source. One file a subject."""

from .relation import Relation
from .gear import GEAR_RELATIONS
from .measuring import MEASURING_RELATIONS
from .mounting import MOUNTING_RELATIONS
from .pair import PAIR_RELATIONS
from .train import TRAIN_RELATIONS

ALL = GEAR_RELATIONS + MEASURING_RELATIONS + PAIR_RELATIONS + TRAIN_RELATIONS + MOUNTING_RELATIONS

__all__ = ["ALL", "Relation"]
