"""Which kind of thing a question is about, and what of it goes beyond the plain case, told from its words.

A question of theory is asked in words; the words tell the kind (a hub, a pair, a rack and pinion) and the
features (a distance of its own, profile shift). What no word tells, a *fact* among the givens does:
"reverted", "ring held", "internal pair".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import combinations

import sympy as sp

from ..schema import near
from .quantities import PAIR, QUANTITIES, split_side
from .relation import FEATURES
from .scope import KINDS, MOUNTED_PLAINLY, scope_for, symbol
from .systems import ToothSystem

# Motion that a single gear has too.
_PAIR_WORDS = {q.word for q in PAIR} - {
    "duration",
    "pitch_line_speed",
    "mesh_frequency",
    "action_speed",
    "tangential_force",
    "separating_force",
    "normal_force",
}
# Kinds of the bench by whose words are named; the first that fits.
_OF_THE_BENCH = {
    "epicyclic": "epicyclic train",
    "key": "key",
    "drive": "drive",
    "planetary": "planetary set",
    "bevel": "bevel pair",
    "rack": "rack and pinion",
    "load": "load",
    "plate": "plate",
    "hub": "hub",
    "stack": "stack",
    "workshop": "workshop",
}
# Trains of two stages, on three shafts.
_COMPOUND_WORDS = {"equal_stage_ratio", "first_stage_module", "second_stage_module", "output_turns_to_repeat"}
#: What may stand among the givens without being a quantity: a kind, or what goes beyond its plain case.
FACTS = frozenset({*KINDS, *FEATURES} - QUANTITIES.keys())


def known_kind(kind: str) -> str:
    """A kind that theory has; ValueError with all of them for any other.

    >>> known_kind("pair")
    'pair'
    """
    if isinstance(kind, str) and kind in KINDS:
        return kind
    raise ValueError(f"kind {kind!r} is unknown{near(str(kind), KINDS)}; give one of {', '.join(KINDS)}")


def rows_of(kind: str, row: ToothSystem) -> tuple[ToothSystem, ...]:
    """The rows of the tooth system that a scope of the kind asks for: one a gear."""
    known_kind(kind)
    return (row, row) if len(KINDS[kind].sides) == 2 else (row,)


def kind_of(words: Iterable[str]) -> str:
    """The kind that words speak of by whose they are; the plainest if they are of any gear.

    >>> kind_of(["teeth", "module"]), kind_of(["driver_teeth", "ratio"]), kind_of(["bore_diameter"])
    ('gear', 'pair', 'hub')
    """
    words = set(words)
    owners = {QUANTITIES[word].owner for word in words}
    sides = {split_side(word)[0] for word in words}
    if "train" in owners or sides & {"first", "second", "third", "fourth"}:
        return "compound train" if "fourth" in sides or words & _COMPOUND_WORDS else "idler train"
    for owner, kind in _OF_THE_BENCH.items():
        if owner in owners:
            return kind
    return "pair" if words & _PAIR_WORDS or sides & {"driver", "driven"} else "gear"


def part_facts(given: Iterable[str]) -> tuple[str, frozenset[str]]:
    """The kind ("" for none) and the features that are named among givens.

    >>> part_facts(["ring_teeth", "ring held"])
    ('', frozenset({'ring held'}))
    """
    facts = {name for name in given if name in FACTS}
    kinds = sorted(facts & KINDS.keys())
    if len(kinds) > 1:
        raise ValueError(f"{' and '.join(kinds)} stand among the givens: name one kind")
    return (kinds[0] if kinds else ""), frozenset(facts - KINDS.keys())


def place_of(
    words: frozenset[str],
    length_unit: str,
    row: ToothSystem,
    kind: str,
    features: frozenset[str],
    formula: Callable[[str, frozenset[str]], sp.Expr | None],
) -> tuple[str, frozenset[str]]:
    """The smallest kind, with the fewest features beyond those named, in which every word exists.

    words: of the givens and of what is asked.
    kind: the kind named, or "" to find it.
    features: those named; a reader may name more than are needed.
    formula: the closed form found in a kind with features, None where there is none.
    ValueError where two kinds, or two features, give different formulas: it names them.
    """
    told = kind or kind_of(words)
    if _has(words, told, features, length_unit, row):
        return told, features
    possible = _bringing(words, KINDS[told].features) - features
    for number in (1, 2):
        more = [
            (told, features | set(extra))
            for extra in combinations(sorted(possible, key=_plainest), number)
            if not (kind_clash := {"ring held", "sun held", "carrier held"} & {*extra, *features})
            or len(kind_clash) < 2
        ]
        if fitting := [candidate for candidate in more if _has(words, *candidate, length_unit, row)]:
            return _the_one(fitting, formula)
    if kind:
        return told, features
    others = [
        (other, features)
        for other in KINDS
        if features <= KINDS[other].features and _has(words, other, features, length_unit, row)
    ]
    others.sort(
        key=lambda candidate: len(
            scope_for(candidate[0], length_unit, rows_of(candidate[0], row), features).symbols
        )
    )
    return _the_one(others, formula) if others else (told, features)


def _bringing(words: frozenset[str], features: frozenset[str]) -> frozenset[str]:
    """The features that bring one of the words along; all of them where none is known to."""
    from .relations import ALL  # read when first needed: importing gearlab stays quick

    brought: set[str] = set()
    for relation in ALL:
        if relation.needs and relation.left in words:
            brought |= set(relation.needs)
    for word in words:
        base = split_side(word)[1]
        brought |= {base, base.replace("_", " ")}
        if word in MOUNTED_PLAINLY:
            brought |= {"set distance", "profile_shift"}
    return frozenset(brought & features) or features


def _plainest(feature: str) -> tuple[bool, str]:
    """A distance of its own is the plainest thing that may go beyond a pair's plain case."""
    return feature != "set distance", feature


def _has(
    words: frozenset[str], kind: str, features: frozenset[str], length_unit: str, row: ToothSystem
) -> bool:
    if not features <= KINDS[kind].features:
        return False
    letters = scope_for(kind, length_unit, rows_of(kind, row), features).symbols
    return all(symbol(word) in letters or split_side(word)[1] == "form_radius" for word in words)


def _the_one(
    fitting: list[tuple[str, frozenset[str]]], formula: Callable[[str, frozenset[str]], sp.Expr | None]
) -> tuple[str, frozenset[str]]:
    forms: dict[sp.Expr, tuple[str, frozenset[str]]] = {}
    for place in fitting:
        form = formula(*place)
        if form is not None:
            forms.setdefault(form, place)
    if len(forms) > 1:
        names = sorted({", ".join(sorted(place[1])) or place[0] for place in forms.values()})
        raise ValueError(
            f"these words are read in several ways, with different formulas: {' / '.join(names)}; put the one"
            f' meant among the givens, such as given=[..., "{names[0]}"]'
        )
    return next(iter(forms.values()), fitting[0])
