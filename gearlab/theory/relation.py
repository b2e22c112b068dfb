"""What a relation is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from .benchtables import BENCH
from .ranges import Range
from .smallsteps import Way

# Features: what a gear or pair may have beyond the plain case. A relation may ask for some (needs) or hold
# only in the absence of some (unless). "set distance": the centre distance is a given number of its own;
# without it a pair is mounted at the distance its teeth call for. "mixed systems": the two gears of a pair
# have teeth of different systems; a scope sees that by itself. "addendum_factor": the addendum factor is
# given as a number instead of taken from the tooth system. "reverted": the last shaft of a compound train
# lies on the axis of the first. "two modules": its stages have modules of their own. "shaft angle": the
# shafts of a bevel pair do not stand square. "ring held" and so on: that member of a planetary set stands
# still. "double planets": first and last gear of an epicyclic train mesh with planets of their own, which
# mesh with each other. "coaxial": the counts of its last mesh are made to stand on the axis of the first.
FEATURES = (
    "profile_shift",
    "tooth_thinning",
    "tip_shortening",
    "set distance",
    "addendum_factor",
    "reverted",
    "two modules",
    "shaft angle",
    "ring held",
    "sun held",
    "carrier held",
    "long addendum",
    "double planets",
    "coaxial",
)
# What a relation may hold for; ``scope.KINDS`` tells which of them a kind takes in, and for which gears.
HOLDS_OF = (
    "gear",
    "toothed outside",
    "ring",
    "meshing",
    "side by side",
    "pair",
    "external",
    "internal",
    "single",
    "driver",
    "idler train",
    "compound train",
    "train",
    *BENCH,
)


@dataclass(frozen=True)
class Relation:
    """One formula of the trade: ``left = right(q)``.

    left: word of the quantity on the left.
    right: takes a namespace ``q`` of sympy symbols by word and gives the right-hand side. Angles in radians,
        one length unit (there the module is 1/P), times in minutes.
    says: the formula as a sentence, for a reader.
    holds: where it holds: a range of ``ranges``, whose conditions run, or a sentence as it goes on after "It
        holds" where ``needs`` and ``unless`` see to it, or where it is a convention; "always", also where
        ``says`` tells it.
    source: publication, or 'common practice'.
    of: one of ``HOLDS_OF``: "gear" (holds for each gear), "toothed outside" (each gear but a ring), "ring",
        "meshing" (wherever two gears mesh), "side by side" (two gears toothed outside), "pair", "external" or
        "internal" (kinds of pair), "single" (a gear alone), "driver" (each gear alone; in a pair the driver),
        "idler train", "compound train" or "train" (both), or a subject of the bench: "workshop" (cutting,
        fits and tolerances), "plate", "stack", "hub", "load", "rack", "bevel", "planetary", "drive",
        "epicyclic", "key".
    needs, unless: features it asks for, features that forbid it.
    one_way: true if it can only be worked out from right to left (a common factor, say).
    way: the small steps that lead to it, where it is a jump; see ``smallsteps``.
    detour: true if another way, though a step or two longer, is the one that is taught.

    >>> from gearlab.theory.relations import ALL
    >>> next(r for r in ALL if r.left == "pitch_diameter").says
    'Every tooth adds one module (or 1/P) to the pitch diameter.'
    """

    left: str
    right: Callable
    says: str
    source: str
    holds: str | Range = "always"
    of: str = "gear"
    needs: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    one_way: bool = False
    way: Way | None = field(default=None, compare=False)
    detour: bool = field(default=False, compare=False)

    @property
    def where(self) -> str:
        """Where it holds as a sentence, empty if always.

        >>> from gearlab.theory.relations import ALL
        >>> next(r for r in ALL if r.left == "across_tips").where
        'It holds for an odd count.'
        """
        return f"It holds {self.range}." if self.range else ""

    @property
    def condition(self) -> Range:
        """Where it holds, as conditions that run; ValueError where a sentence tells it."""
        if isinstance(self.holds, Range):
            return self.holds
        raise ValueError(f"nothing runs to tell whether {self.left} holds: {self.holds}")

    @property
    def range(self) -> str:
        """Where it holds, as it goes on after "It holds".

        Empty if always, and of a nominal size, which only the cut tooth may not have.
        """
        return (
            ""
            if self.holds == "always" or (isinstance(self.holds, Range) and self.holds.alone)
            else str(self.holds)
        )
