"""A part's numbers from theory: usual units outside, theory's inside."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from gearlab.theory.boundary import check_number, inward, outward_all
from gearlab.theory.numbers import Told, all_numbers, follow
from gearlab.theory.scope import Scope

if TYPE_CHECKING:
    from .toothed import Toothed


def worked_out(scope: Scope, givens: Mapping[str, float]) -> Told:
    """Every number that follows from a part's givens, by word, as far as the formulas hold.

    scope: the relations that hold for the part.
    givens: its independent numbers by word [usual units].

    >>> from gearlab.theory import system
    >>> from gearlab.theory.scope import scope_for
    >>> worked_out(scope_for("gear", "mm", (system(),)), {"teeth": 18.0, "module": 2.5})["root_diameter"]
    38.75
    """
    for word, number in givens.items():
        check_number(word, number, several=False)
    kept = _worked_out(scope, tuple(givens), *givens.values())
    worked = Told(kept | dict(givens))
    worked.refused, worked.beyond = dict(kept.refused), dict(kept.beyond)
    return worked


@lru_cache(maxsize=1024, typed=True)
def _worked_out(scope: Scope, words: tuple[str, ...], *numbers: float) -> Told:
    """What a review or a page asks again of the same gears is worked out once; the caller gets a copy."""
    unit = scope.length_unit
    told = all_numbers(scope, words)(*(inward(word, number, unit) for word, number in zip(words, numbers)))
    worked = Told(outward_all(told, unit))
    worked.refused, worked.beyond = told.refused, outward_all(told.beyond, unit)
    return worked


def followed(scope: Scope, known: Mapping[str, float], words: Collection[str]) -> dict[str, float]:
    """Numbers of some words that follow when numbers are known of a part, measured ones among them.

    scope: the relations that hold for the part.
    known: by word [usual units].
    words: those asked for; a word whose formula has no value, or does not hold, is left out.

    >>> from gearlab.theory import system
    >>> from gearlab.theory.scope import scope_for
    >>> followed(
    ...     scope_for("pair", "mm", (system(), system())),
    ...     {"length_of_action": 9.0, "base_pitch": 6.0},
    ...     ["contact_ratio"],
    ... )
    {'contact_ratio': 1.5}
    """
    unit = scope.length_unit
    return outward_all(
        follow(scope, {word: inward(word, number, unit) for word, number in known.items()}, words), unit
    )


class Numbers(Mapping):
    """Numbers by word, of which some are worked out only when they are asked for.

    told: what is known.
    late: words, and the function that gives their numbers as a dict; it may leave some out.

    >>> numbers = Numbers({"ratio": 2.5}, [(frozenset({"backlash"}), lambda: {"backlash": 0.1})])
    >>> numbers["backlash"], len(numbers)
    (0.1, 2)
    """

    def __init__(
        self,
        told: Mapping[str, float],
        late: Sequence[tuple[frozenset[str], Callable[[], Mapping[str, float]]]] = (),
    ):
        self._known, self._late = dict(told), list(late)

    def add(self, words: frozenset[str], function: Callable[[], Mapping[str, float]]) -> None:
        """More that is worked out only when it is asked for."""
        self._late.append((words, function))

    def _work_out(self, word: str | None = None) -> None:
        for group in [group for group in self._late if word is None or word in group[0]]:
            self._late.remove(group)
            for name, number in group[1]().items():
                self._known.setdefault(name, number)

    def __getitem__(self, word: str) -> float:
        if word not in self._known:
            self._work_out(word)
        return self._known[word]

    def __iter__(self) -> Iterator[str]:
        self._work_out()
        return iter(self._known)

    def __len__(self) -> int:
        self._work_out()
        return len(self._known)

    def __or__(self, more: Mapping[str, float]) -> dict[str, float]:
        return dict(self) | dict(more)

    def __repr__(self) -> str:
        return repr(dict(self))


def pair_givens(driver: Toothed, driven: Toothed) -> dict[str, float]:
    """The independent numbers of two gears in mesh, by word [usual units]; of a ring those of a plain one.

    >>> from gearlab import Gear
    >>> pair_givens(Gear(18, module=2.5), Gear(45, module=2.5))
    {'module': 2.5, 'pressure_angle': 20.0, 'driver_teeth': 18.0, 'driven_teeth': 45.0}
    """
    givens = {
        word: number
        for word, number in driver.givens.items()
        if word in ("diametral_pitch", "module", "pressure_angle")
    }
    for side, gear in (("driver", driver), ("driven", driven)):
        givens[f"{side}_teeth"] = float(gear.teeth)
        for word in () if driven.internal else sorted(driver.features | driven.features):
            givens[f"{side}_{word}"] = float(getattr(gear, word))
    return givens
