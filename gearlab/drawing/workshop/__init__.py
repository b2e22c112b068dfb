"""Drawings a workshop can work from: one part a page, in true size, with every number that it takes."""

from .bevel import back_cone, bevel_drawing
from .block import Picture, fitting
from .gear import bore_outline, gear_drawing
from .plate import plate_drawing, plate_drawings
from .rack import rack_drawing
from .shaft import shaft_drawing

__all__ = [
    "Picture",
    "back_cone",
    "bevel_drawing",
    "bore_outline",
    "fitting",
    "gear_drawing",
    "plate_drawing",
    "plate_drawings",
    "rack_drawing",
    "shaft_drawing",
]
