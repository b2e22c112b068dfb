"""The review of a design: everything that can be wrong with it, worst first."""

from .changes import moved
from .finding import GRADES, NAMES, Finding, Findings
from .reviewing import review

__all__ = ["GRADES", "NAMES", "Finding", "Findings", "moved", "review"]
