"""Epicyclic trains of any meshes on any carriers, with exact speeds and torques."""

from .train import EpicyclicTrain

__all__ = ["EpicyclicTrain"]
