"""Drawings a workshop can work from: one part a page, in true size, with every number that it takes."""

from .gear import bore_outline, gear_drawing
from .plate import plate_drawing
from .shaft import shaft_drawing

__all__ = ["bore_outline", "gear_drawing", "plate_drawing", "shaft_drawing"]
