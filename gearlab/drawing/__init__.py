"""What is seen: one scene, several outputs."""

from .axes import draw
from .scene import Arc, Carry, Circle, Dimension, Dot, Label, Line, Outline, Scene, Slide, Strokes, Swing, Teeth, Turn
from .svg import living_svg, svg
from .views import ANATOMY, gear, pair, pitch_circles, spaced, strips, tooth

__all__ = ["ANATOMY", "Arc", "Carry", "Circle", "Dimension", "Dot", "Label", "Line", "Outline", "Scene", "Slide", "Strokes", "Swing", "Teeth",
           "Turn", "draw", "gear", "living_svg", "pair", "pitch_circles", "spaced", "strips", "svg", "tooth"]
