"""The checks that do not come from our own output, by name: published rows, measurements, closed forms.

A check is a function without arguments that works numbers out through gearlab and holds them against the
outside value; it raises AssertionError where they differ. pytest runs each as a test;
``tests/bench/noticed.py`` runs those that touch a relation while that relation is wrong.
"""

import importlib
import math
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import gearlab.parts.tolerances  # noqa: F401 - every part is there to be watched
from gearlab.parts import working
from gearlab.theory import derivation, system
from gearlab.theory.boundary import inward, outward
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.scope import KINDS, scope_for, symbol
from gearlab.theory.search import everything_forward

REFERENCE = Path(__file__).resolve().parents[1] / "reference"
PRINT, MEASURED, CLOSED, DEFINITION = "print", "measurement", "closed form", "definition"


@dataclass
class Check:
    """A comparison with the outside.

    Its kind, its source, what it runs, and how sure a published value is.
    """

    name: str
    kind: str
    source: str
    run: Callable[[], None]
    confidence: str = ""
    uses: set = field(default_factory=set)  # relations its numbers rest on, found by `traced`


CHECKS: dict[str, Check] = {}


def _enter(kind, source):
    def enter(function):
        name = function.__name__.replace("_", " ")
        assert name not in CHECKS, f"two checks are called {name!r}"
        CHECKS[name] = Check(name, kind, source, function)
        return function

    return enter


def closed_form(source):
    """Geometry, statics or counting written out in the check, by a route of its own, with the source of that
    route.
    """
    return _enter(CLOSED, source)


def measured(source):
    """Measured on the cut shape, which never looks at theory."""
    return _enter(MEASURED, source)


def definition(source):
    """No more than what a word means: what anybody would write down for it."""
    return _enter(DEFINITION, source)


# -- numbers of theory ---------------------------------------------------------------------------------
def scope_of(kind, features=(), unit="mm", tooth=("full depth", 20.0), mate=None):
    """The relations for a kind of thing, as the parts ask for them."""
    rows = (system(*tooth),) if len(KINDS[kind].sides) != 2 else (system(*tooth), system(*(mate or tooth)))
    return scope_for(kind, unit, rows, frozenset(features))


def _crossing(way, word, number, unit):
    """A number over the boundary of theory; angles are in degrees on both sides here."""
    return number if QUANTITIES[word].dimension == "angle" else way(word, number, unit)


def expect(kind, given, expected, rel=1e-9, features=(), unit="mm", tooth=("full depth", 20.0), mate=None):
    """Numbers that follow from the givens, each against its outside value.

    Parameters
    ----------
    kind : a kind of ``scope.KINDS``
    given, expected : dict of word to number [units in which theory computes; angles in degrees]; taken and told in usual units, converted here
    rel : how far off they may be, as a share (and by 1e-11 at the least)
    features, unit, tooth, mate : as for a scope; ``mate`` is the tooth system of the driven gear
    """  # noqa: E501
    found = working.worked_out(
        scope_of(kind, features, unit, tooth, mate),
        {word: _crossing(outward, word, float(number), unit) for word, number in given.items()},
    )
    for word, number in expected.items():
        assert word in found, f"{word} of a {kind} is not told from {', '.join(given)}"
        told = _crossing(inward, word, found[word], unit)
        assert abs(told - number) <= max(rel * abs(number), 1e-11), (
            f"{word} of a {kind}: theory tells {told!r}, outside {number!r}"
        )


# -- which relations a check rests on ------------------------------------------------------------------
class _Watched(dict):
    """A part's numbers that note which of them are looked at."""

    note = staticmethod(lambda words: None)

    def _with(self, other):
        both = _Watched(other)
        both.note = self.note
        return both

    def __getitem__(self, word):
        self.note((word,))
        return super().__getitem__(word)

    def get(self, word, default=None):
        self.note((word,))
        return super().get(word, default)

    def items(self):
        self.note(tuple(self))
        return super().items()

    def values(self):
        self.note(tuple(self))
        return super().values()

    def __or__(self, other):
        return self._with({**super().copy(), **other})

    def copy(self):
        return self._with(super().copy())


_WAYS: dict = {}


def _rested_on(scope, given, words):
    """The relations by which these words are reached from the givens."""
    if (scope, given) not in _WAYS:
        _WAYS[scope, given] = {
            link.unknown.name: link.equation
            for link in everything_forward(scope, [symbol(word) for word in given])
        }
    by, done = _WAYS[scope, given], {}

    def visit(word):
        if word in by and word not in done:
            done[word] = by[word].relation
            for other in by[word].symbols:
                visit(other.name)

    for word in words:
        visit(word)
    return done.values()


def traced(check):
    """Run a check once with right relations and keep which of them its numbers rest on."""
    used, worked_out, derived = set(), working.worked_out, derivation._derivation

    def watching(scope, givens):
        found = worked_out(scope, givens)
        seen = _Watched(found)
        for word, thing in getattr(found, "__dict__", {}).items():  # what a dict of numbers carries besides
            setattr(seen, word, thing)
        seen.note = lambda words: used.update(_rested_on(scope, tuple(givens), words))
        return seen

    def deriving(*question):
        way = derived(*question)
        used.update(step.relation for step in way.steps if step.relation is not None)
        return way

    rooms = [
        module
        for name, module in list(sys.modules.items())
        if name.startswith("gearlab.parts.") and getattr(module, "worked_out", None) is worked_out
    ]
    for room in rooms:
        room.worked_out = watching
    derivation._derivation = deriving
    try:
        check.run()
    finally:
        for room in rooms:
            room.worked_out = worked_out
        derivation._derivation = derived
    check.uses = used
    return used


# -- published rows ------------------------------------------------------------------------------------
def _row_check(methods, row):
    def run():
        value, expected = methods[row["method"]](row), row["expected"]["value"]
        if isinstance(expected, list):
            assert value == expected, row["source"]
        else:
            assert math.isfinite(value) and abs(value - expected) <= row["tolerance"], (
                f"{row['quantity']}: {value!r} against {expected} ({row['source']})"
            )

    return run


def load():
    """Every check there is, by name; published rows under their id."""
    if str(REFERENCE) not in sys.path:
        sys.path.insert(0, str(REFERENCE))
    reference = importlib.import_module("test_reference")
    for file in sorted(Path(__file__).parent.glob("*.py")):
        if file.stem.startswith(("closed_", "measured_", "defined")):
            importlib.import_module(file.stem)
    for row in reference.ROWS:
        CHECKS.setdefault(
            row["id"],
            Check(row["id"], PRINT, row["source"], _row_check(reference.METHODS, row), row["confidence"]),
        )
    return CHECKS
