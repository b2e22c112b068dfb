"""Mutants: one relation of theory made wrong at a time, in this process, and everything worked out before
forgotten.

A relation is made wrong as a whole (its right-hand side 2 % too large, or another step where 2 % of nothing
is nothing), or in one of its letters (every place where that letter stands in it, 2 % too large): a radius in
the place of a diameter, a thickness halved, a term left out are all errors of a letter.
"""

import functools
import sys
import types
from contextlib import contextmanager
from dataclasses import replace

import sympy as sp

from gearlab.theory import relations
from gearlab.theory.quantities import split_side
from gearlab.theory.relations import ALL
from gearlab.theory.worlds import STARTS

STEP = sp.Rational(102, 100)
# Where 2 % of the number is no wrong step: a count that is 0 or 1, a sign.
STEPS = {
    "planetary: assembly_remainder": lambda right: right + 1,
    "planetary: goes_together": lambda right: 1 - right,
    "rack: rack_direction": lambda right: -right,
    "idler train: direction_factor": lambda right: -right,
}
# The same for single letters and written numbers: counts that stand as an exponent, or are cut off at one;
# odd and even counts, which must be whole.
LETTER_STEPS = {
    ("idler train: direction_factor", "gears_in_row"): 1,
    ("idler train: direction_factor", 1): 1,
    ("planetary: goes_together", "assembly_remainder"): 1,
    ("toothed outside: pin_parity", "teeth"): 1,
    ("external: mesh_turn", "driven_teeth"): 1,
}
_STARTED = {split_side(word)[1] for start in STARTS for word in start} | {"module", "full_turn"}
_KEPT = {"symbol"}  # a cache of letters: they stay the same letters whatever stands in the relations


def _short(relation):
    conditions = [
        f" with {' and '.join(relation.needs)}" if relation.needs else "",
        f" without {' or '.join(relation.unless)}" if relation.unless else "",
    ]
    return f"{relation.of}: {relation.left}" + "".join(conditions)


def letters(relation):
    """The words that a relation's right-hand side looks at, in order, each once."""
    seen = []

    class Looking:
        def __getattr__(self, word):
            seen.append(word)
            return sp.Symbol(word, positive=True)

    relation.right(Looking())
    return tuple(dict.fromkeys(seen))


def key(relation, among=ALL):
    """The name under which a relation stands in the map of checks: what it is of, what it gives, and when.

    Two relations that give the same in the same case are told apart by the letters they look at.
    """
    name = _short(relation)
    twins = sum(_short(other) == name for other in among if other.left == relation.left)
    return name if twins == 1 else f"{name} from {', '.join(letters(relation))}"


KEYS = {key(relation): relation for relation in ALL}


@functools.cache
def _caches(rooms):
    """Every cache of gearlab that holds what theory told; found anew when a module has come in."""
    return [
        thing
        for name in rooms
        for word, thing in vars(sys.modules[name]).items()
        if isinstance(thing, functools._lru_cache_wrapper) and thing.__module__ == name and word not in _KEPT
    ]


def forget():
    """Empty them."""
    for kept in _caches(
        tuple(
            name
            for name in sys.modules
            if name.startswith("gearlab.") and not name.startswith("gearlab.shape")
        )
    ):
        kept.cache_clear()


def enough(used):
    """These relations, and those without which some of their letters would have no number to try a root on."""  # noqa: E501
    found = set(used)
    while True:
        lefts = {split_side(relation.left)[1] for relation in found}
        bare = {split_side(word)[1] for relation in found for word in letters(relation)} - lefts - _STARTED
        more = {relation for relation in ALL if split_side(relation.left)[1] in bare} - found
        if not more:
            return [relation for relation in ALL if relation in found]
        found |= more


@contextmanager
def told_by(changed):
    """Theory with other relations than its own, for as long as the block lasts."""
    forget()
    relations.ALL = tuple(changed)
    try:
        yield
    finally:
        relations.ALL = ALL
        forget()


class _Misread:
    """What a relation sees, one letter of it changed."""

    def __init__(self, seen, letter, change):
        self._seen, self._letter, self._change = seen, letter, change

    def __getattr__(self, word):
        value = getattr(self._seen, word)
        return self._change(value) if word == self._letter else value


def mutant(name, letter=None):
    """A relation made wrong: as a whole, or in one letter."""
    relation = KEYS[name]
    right = relation.right
    if letter is not None:
        more = LETTER_STEPS.get((name, letter))
        return replace(
            relation,
            right=lambda q: right(
                _Misread(q, letter, lambda value: value * STEP if more is None else value + more)
            ),
        )
    step = STEPS.get(name, lambda number: number * STEP)
    return replace(relation, right=lambda q: step(sp.sympify(right(q))))


def figures(relation):
    """Places of the numbers written in a relation's right-hand side, 2 in ``2 * q.module`` say.

    None where it only hands on.
    """
    return tuple(
        place
        for place, number in enumerate(relation.right.__code__.co_consts)
        if isinstance(number, (int, float)) and not isinstance(number, bool) and number
    )


def misfigured(name, place):
    """A relation with one of its written numbers 2 % too large, wherever in it that number stands."""
    relation, code = KEYS[name], KEYS[name].right.__code__
    more = LETTER_STEPS.get((name, code.co_consts[place]))
    wrongly = code.co_consts[place] * 1.02 if more is None else code.co_consts[place] + more
    numbers = tuple(wrongly if where == place else number for where, number in enumerate(code.co_consts))
    right = types.FunctionType(
        code.replace(co_consts=numbers), relation.right.__globals__, closure=relation.right.__closure__
    )
    return replace(relation, right=right)


def with_mutant(name, letter=None, among=ALL):
    """The relations, one of them wrong.

    As a whole, in a letter (its word), or in a written number (its place).
    """
    wrong = misfigured(name, letter) if isinstance(letter, int) else mutant(name, letter)
    return [wrong if relation is KEYS[name] else relation for relation in among]


def noticed_by(check, name, letter=None, among=ALL):
    """True if a check fails while a relation is wrong: by the number, not by an error on the way to it."""
    with told_by(with_mutant(name, letter, among)):
        try:
            check.run()
        except AssertionError:
            return True
        except Exception:  # noqa: BLE001 - refused, or no way found: a fault of our own making, which does not count
            return False
        return False
