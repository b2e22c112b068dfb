"""``derive`` as a notebook asks it: with one notation and one length unit, chosen at its top."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Protocol

from .. import completing
from .boundary import TOOTH_SIZE
from .derivation import derive as _derive
from .derivation import words_of
from .kinds import FACTS, kind_of
from .quantities import QUANTITIES, check_notation, quantity
from .stated import read
from .units import usual_unit

if TYPE_CHECKING:
    from .systems import ToothSystem
    from .way import Derivation


_WHAT_IS_GIVEN = (
    'given=[...] with words, or given={...} with values, such as given={"module": 2.5, "driver_teeth": 18,'
    ' "driven_teeth": 45}'
)
OPTIONS = ("given", "notation", "one_by_one", "tooth_system", "kind", "length_unit", "features")


class Explained(Protocol):
    """A part whose numbers explain themselves."""

    def explain(self, word: str, /, notation: str | None = None, **extra: Any) -> Any: ...


@dataclass(frozen=True)
class Deriving:
    """Find the way from what is given to what is asked, in any direction.

    ``derive("centre_distance", given=["driver_teeth", "driven_teeth", "module"])`` shows the steps; with a
    mapping of values it works the numbers out too. See :meth:`using` for the first cell of a notebook.

    notation: "inch" (P, N, d, C) or "iso" (m, z, d, a).
    lengths: the unit of every length that neither a tooth size nor a written unit settles: "mm", "in", or ""
        for what the notation goes with.

    >>> derive = Deriving().using(notation="iso", lengths="mm")
    >>> way = derive("separating_force", {"tangential_force": 86, "pressure_angle": 20})
    >>> print(way.lines("text")[0].math)
    F_r = F_t·tan(α) = 86 N·tan(20°) = 31.3014 N
    """

    notation: str = "inch"
    lengths: str = ""

    def using(self, notation: str | None = None, lengths: str | None = None) -> Deriving:
        """The same, with the notation and the length unit of a notebook; nothing else changes.

        ValueError for an unknown notation or unit.

        >>> Deriving().using(notation="iso", lengths="mm")("d", given=["m", "z"]).formula
        m*z
        """
        if notation is not None:
            check_notation(notation)
        if lengths:
            usual_unit("length", lengths)
        changes = {"notation": notation, "lengths": lengths}
        return replace(self, **{name: value for name, value in changes.items() if value is not None})

    def __call__(
        self,
        asked: str = "",
        given: Iterable[str] | Mapping[str, float | str] | None = None,
        notation: str | None = None,
        *,
        one_by_one: bool = False,
        tooth_system: str | ToothSystem = "full depth",
        kind: str | None = None,
        length_unit: str | None = None,
        features: Iterable[str] = (),
        **by_name: Any,
    ) -> Derivation:
        """Find the way from what is given to what is asked.

        asked: a quantity's word ("centre_distance"), or its symbol in the notation.
        given: words or symbols, or a mapping with values: bare numbers, or text with a unit ("2 hp"). A fact
            may stand among them: "reverted", "ring held", "internal pair".
        one_by_one: true to hide each step until it is asked for.
        tooth_system: "full depth", "stub" or "fine pitch".
        notation, kind, length_unit, features: seldom needed; see ``gearlab.theory.derive``.
        TypeError where nothing is asked or given, or givens stand outside of ``given``: with what to write.
        """
        if not asked or given is None or by_name:
            raise TypeError(_how_to_ask(asked, given, by_name, notation or self.notation))
        given = [given] if isinstance(given, str) else given
        if not isinstance(given, Iterable):
            raise ValueError(f"given = {given!r} holds no words: {_WHAT_IS_GIVEN}")
        given = given if isinstance(given, Mapping) else tuple(given)
        notation = notation or self.notation
        if length_unit is None and self.lengths:
            length_unit = self._length_unit(asked, given, notation)
        way = _derive(asked, given, notation, tooth_system, kind, length_unit, features)
        return way.hidden() if one_by_one else way

    def explain(self, part: Explained, asked: str, /, *, one_by_one: bool = False, **extra: Any) -> Any:
        """Where a number of a part comes from, in the notation chosen.

        part: a gear, a mesh, a train ...
        asked: a word, or a symbol of the notation.
        **extra: what the part asks for besides, such as ``driver_speed=15``.

        >>> from gearlab.parts import Gear
        >>> derive = Deriving().using(notation="inch")
        >>> print(derive.explain(Gear(18, module=2.5), "pitch_diameter").lines("text")[0].math)
        d = m·N = 2.5 mm·18 = 45 mm
        """
        way = part.explain(asked, notation=self.notation, **extra)
        return way.hidden() if one_by_one else way

    def _length_unit(
        self, asked: str, given: tuple[str, ...] | Mapping[str, float | str], notation: str
    ) -> str | None:
        """The notebook's unit, or None where a tooth size, or every unit written, tells it."""
        words = {quantity(name, notation).word: name for name in [asked, *given] if name not in FACTS}
        if words.keys() & TOOTH_SIZE.keys():
            return None
        if not isinstance(given, Mapping):
            return self.lengths
        systems = set()
        for word, name in words.items():
            entry = QUANTITIES[word]
            if name not in given or usual_unit(entry.dimension, "in") == usual_unit(entry.dimension, "mm"):
                continue
            value = given[name]
            if not isinstance(value, str):
                return self.lengths
            systems.add(read(value, entry.meaning, entry.dimension).system)
        systems.discard("")
        return None if len(systems) == 1 else self.lengths


def _how_to_ask(asked: str, given: Any, by_name: Mapping[str, Any], notation: str) -> str:
    """What to write, where something is missing, a given stands by itself (C=100) or an option is none."""
    if not asked:
        return (
            'say what is asked and what is given, such as derive("centre_distance",'
            ' given=["driver_teeth", "driven_teeth", "module"]); Tab inside the quotes offers the words'
        )
    for name in by_name:
        try:
            quantity(name, notation)
        except ValueError as unknown:
            near = difflib.get_close_matches(name, OPTIONS, 1, 0.6)
            return (
                f"derive has no {name!r}: write {near[0]}=" if near else f"derive has no {name!r}: {unknown}"
            )
    if not by_name:
        return f"say what {asked} is to follow from: {_WHAT_IS_GIVEN}"
    values = {**(given if isinstance(given, Mapping) else {}), **by_name}
    told = ", ".join(f'"{name}": {value!r}' for name, value in values.items())
    return f'what is given stands together: write derive("{asked}", given={{{told}}})'


def _words(before: str) -> list[str]:
    """Words inside ``derive("``: those that go with what stands there already come first."""
    named = [word for word in re.findall(r"\w+", before) if word in QUANTITIES]
    near = words_of(kind_of(named)) if named else ()
    facts = sorted(FACTS) if named else []
    return [word for word in dict.fromkeys([*near, *QUANTITIES, *facts]) if word not in named]


for _name in ("derive", "explain", "figure", "quantity"):
    completing.offer(_name, _words)
