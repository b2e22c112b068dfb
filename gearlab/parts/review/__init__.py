"""The review of a design: a ledger of every check, with what holds, what fails and what could not be made."""

from .changes import Moved, moved
from .finding import GRADES, Edit, Finding, Held, Unmade
from .ledger import Check, Ledger
from .reviewing import CHECKS, NAMES, review

__all__ = [
    "CHECKS",
    "GRADES",
    "NAMES",
    "Check",
    "Edit",
    "Finding",
    "Held",
    "Ledger",
    "Moved",
    "Unmade",
    "moved",
    "review",
]
