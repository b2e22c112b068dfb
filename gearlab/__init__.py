"""gearlab: a teaching workbook on how spur gears mesh.

The names a notebook uses; nothing else happens here. Pictures and widgets are loaded when first asked
for (``from gearlab.widgets import ...``), and so are the parts that few lessons need, so that importing
gearlab stays quick.
"""

from difflib import get_close_matches as _close
from importlib import import_module as _load

from gearlab.parts import Gear, Mesh
from gearlab.theory import Deriving, symbols_of

# What lessons use besides: the name here, then file and, where it differs, name there.
_LATER = {
    "BevelPair": "parts.bevel",
    "Design": "parts.design",
    "EpicyclicTrain": "parts.epicyclic",
    "Hub": "parts.hub",
    "InternalGear": "parts.internal",
    "Load": "parts.load",
    "Planetary": "parts.planetary",
    "Plate": "parts.plate",
    "RECOMMENDED_BACKLASH": "parts.published.recommended",
    "Rack": "parts.rack",
    "RackDrive": "parts.rackdrive",
    "Shaft": "parts.shaft",
    "Train": "parts.train",
    "agree": "practice.workbook.agreeing",
    "backlash_budget": "parts.tolerances",
    "begin_design": "parts.design:begin",
    "bench_sheets": "course.bench.sheets",
    "content_folder": "contents",
    "convergents": "parts.convergents",
    "convert": "theory.units",
    "distance_for_backlash": "parts.tolerances",
    "formula_sheet": "practice.workbook.glossary",
    "general_tolerance": "parts.published.quality",
    "glossary": "practice.workbook.glossary",
    "key_size": "parts.published.fastening:key",
    "lab_board": "course.lab",
    "lesson_bank": "contents",
    "load_bank": "practice",
    "plate_margins": "drawing.views.plate:margins",
    "read_design": "parts.design",
    "recommended_backlash": "parts.published.recommended",
    "review": "parts.review",
    "roll": "parts.turning",
    "second_hole": "drawing.views.plate",
    "set_screw": "parts.published.fastening",
    "set_screw_over": "parts.published.fastening",
    "shift_from_span": "parts.identify",
    "thickness_from_span": "parts.identify",
    "tooth_count_pairs": "parts.choosing:pairs",
    "tooth_tolerances": "parts.published.quality",
    "two_stages": "parts.choosing",
    "what_changed": "parts.review:moved",
    "which_gear": "parts.identify",
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
    "convert",
    "derive",
    "formula_sheet",
    "glossary",
    "read_design",
    "review",
    "roll",
    "symbols_of",
]


def __getattr__(name):
    if name in _LATER:
        file, _, there = _LATER[name].partition(":")
        return getattr(_load(f"gearlab.{file}"), there or name)
    near = _close(name.lower(), [known.lower() for known in (*__all__, *_LATER)], 1, 0.7)
    hint = next((f"; did you mean {known}?" for known in (*__all__, *_LATER) if known.lower() in near), "")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}{hint}")


def __dir__():
    return sorted({*globals(), *_LATER})
