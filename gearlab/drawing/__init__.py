"""What is seen: one scene, several outputs."""

from .axes import draw
from .behind import behind
from .motion import Carry, Press, Slide, Swing, Turn
from .scene import Scene
from .shapes import Arc, Circle, Dimension, Dot, Label, Line, Outline, Strokes, Teeth
from .svg import living_svg, svg
from .views import (
    ANATOMY,
    cones,
    gear,
    idler_push,
    pair,
    pitch_circles,
    planetary,
    rack,
    shafts,
    spaced,
    strips,
    tooth,
    train,
)

__all__ = [
    "ANATOMY",
    "Arc",
    "Carry",
    "Circle",
    "Dimension",
    "Dot",
    "Label",
    "Line",
    "Outline",
    "Press",
    "Scene",
    "Slide",
    "Strokes",
    "Swing",
    "Teeth",
    "Turn",
    "behind",
    "cones",
    "draw",
    "gear",
    "idler_push",
    "living_svg",
    "pair",
    "pitch_circles",
    "planetary",
    "rack",
    "shafts",
    "spaced",
    "strips",
    "svg",
    "tooth",
    "train",
]
