"""gearlab: a teaching workbook on how spur gears mesh.

The names a notebook uses; nothing else happens here. Pictures and widgets are loaded when first asked
for (``from gearlab.widgets import ...``), and so are the parts that few lessons need, so that importing
gearlab stays quick.
"""

from importlib import import_module as _load

from gearlab.parts import Gear, Mesh
from gearlab.theory import Deriving

_LATER = {
    "BevelPair": "gearlab.parts.bevel",
    "Design": "gearlab.parts.design",
    "Hub": "gearlab.parts.hub",
    "InternalGear": "gearlab.parts.internal",
    "Load": "gearlab.parts.load",
    "EpicyclicTrain": "gearlab.parts.epicyclic",
    "Planetary": "gearlab.parts.planetary",
    "Plate": "gearlab.parts.plate",
    "Rack": "gearlab.parts.rack",
    "RackDrive": "gearlab.parts.rackdrive",
    "Shaft": "gearlab.parts.shaft",
    "Train": "gearlab.parts.train",
    "agree": "gearlab.practice.agreeing",
    "formula_sheet": "gearlab.practice.glossary",
    "glossary": "gearlab.practice.glossary",
    "read_design": "gearlab.parts.design",
    "review": "gearlab.parts.review",
    "roll": "gearlab.parts.turning",
}
#: Finds the way from what is given to what is asked; ``derive.using(...)`` chooses notation and unit once.
derive = Deriving()
__version__ = "0.1.0"
__all__ = [
    "BevelPair",
    "Design",
    "EpicyclicTrain",
    "Gear",
    "Hub",
    "InternalGear",
    "Load",
    "Mesh",
    "Planetary",
    "Plate",
    "Rack",
    "RackDrive",
    "Shaft",
    "Train",
    "agree",
    "derive",
    "formula_sheet",
    "glossary",
    "read_design",
    "review",
    "roll",
]


def __getattr__(name):
    if name in _LATER:
        return getattr(_load(_LATER[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
