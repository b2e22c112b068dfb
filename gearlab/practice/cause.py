"""Why a wrong answer came out as it did."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Cause"]


@dataclass(frozen=True, slots=True)
class Cause:
    """Why a wrong answer came out as it did.

    Attributes
    ----------
    name, title : str
        Short name ("nohalf", "driver_outside_diameter", "twice") and title.
    sentence : str
        What to tell the student; never the number.
    credit : float
        Share of the points, 0 to 1 [-].
    kind : str
        The kind of verdict it makes.
    """

    name: str
    title: str
    sentence: str
    credit: float
    kind: str = "ordinary slip"
