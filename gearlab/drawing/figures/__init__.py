"""Figures with the letters of a derivation on them."""

from .figure import Figure, figure

__all__ = ["Figure", "figure"]
