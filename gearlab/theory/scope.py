"""A scope: the relations that hold for a gear or a pair of a given kind, as sympy equations.

The relations are written once, in their general form. A scope fixes what the plain case fixes
(no profile shift, the factors of the tooth system), shares what two equal-toothed gears share, and
writes the tooth size as 1/P or m, so that the plain case reads as it is taught.
"""

from __future__ import annotations

import threading
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache
from math import pi

import sympy as sp

from .quantities import GEAR, QUANTITIES, SIDES, TOOTH, TRAIN_GEAR, split_side
from .ranges import Bound, Range, cut_form_radius
from .relation import Relation
from .smallsteps import LETTERS, Small
from .smallsteps import letter as small_letter
from .solving import evaluate, roots
from .systems import ToothSystem
from .worlds import STARTS


@dataclass(frozen=True)
class Kind:
    """A kind of thing that has a theory: its gears, and which relations hold for which of them.

    sides: what the words of its gears begin with, in order; empty for one gear.
    holds: what a relation is ``of``, and the sides for which it is then written ("" for no side).
    features: what may go beyond its plain case.
    gear_words: of the relations of a gear, only those with these words on the left.
    """

    sides: tuple[str, ...]
    holds: dict[str, tuple[str, ...]]
    features: frozenset[str] = frozenset()
    gear_words: frozenset[str] | None = None


_TEETH = frozenset({"profile_shift", "tooth_thinning", "tip_shortening", "addendum_factor"})
_PAIR, _IDLER, _COMPOUND, _ALONE = (
    ("driver", "driven"),
    ("first", "second", "third"),
    ("first", "second", "third", "fourth"),
    ("",),
)
_SIZE = frozenset(
    [
        "module",
        "pitch_diameter",
        "pitch_radius",
        "outside_diameter",
        "outside_radius",
        "root_diameter",
        "root_radius",
        "addendum",
        "dedendum",
    ]
)
_TRAIN_WORDS = TRAIN_GEAR | {"module", "circular_pitch", "addendum", "dedendum"}


def _kind(
    sides: tuple[str, ...],
    subjects: str,
    features: frozenset[str] = frozenset(),
    gear_words: frozenset[str] | None = None,
    gears: bool = True,
) -> Kind:
    each = {"gear": sides or _ALONE, "toothed outside": sides or _ALONE} if gears else {}
    return Kind(
        sides, each | {subject.strip(): _ALONE for subject in subjects.split(",")}, features, gear_words
    )


KINDS: dict[str, Kind] = {
    "gear": _kind((), "single, driver", _TEETH),
    "pair": Kind(
        _PAIR,
        {
            "gear": _PAIR,
            "toothed outside": _PAIR,
            "driver": ("driver",),
            "meshing": _ALONE,
            "side by side": _ALONE,
            "pair": _ALONE,
            "external": _ALONE,
        },
        _TEETH | {"set distance"},
    ),
    "internal pair": Kind(
        _PAIR,
        {
            "gear": _PAIR,
            "toothed outside": ("driver",),
            "ring": ("driven",),
            "driver": ("driver",),
            "meshing": _ALONE,
            "pair": _ALONE,
            "internal": _ALONE,
        },
        frozenset({"addendum_factor"}),
    ),
    "idler train": _kind(_IDLER, "train, idler train", frozenset(), _TRAIN_WORDS),
    "compound train": _kind(
        _COMPOUND, "train, compound train", frozenset({"reverted", "two modules"}), _TRAIN_WORDS
    ),
    "workshop": _kind((), "workshop", gears=False),
    "plate": _kind(_PAIR, "meshing, side by side, plate", frozenset(), _SIZE),
    "stack": _kind((), "stack", gears=False),
    "hub": _kind((), "hub", frozenset(), _SIZE | {"whole_depth", "angular_speed"}),
    "load": _kind(_PAIR, "meshing, side by side, load", frozenset(), _SIZE | {"angular_speed"}),
    "rack and pinion": _kind(
        (),
        "rack",
        frozenset({"profile_shift", "tooth_thinning", "tip_shortening"}),
        _SIZE | {"circular_pitch", "turns", "angle"},
    ),
    "bevel pair": _kind(
        _PAIR,
        "meshing, bevel",
        frozenset({"shaft angle", "long addendum"}),
        frozenset({"module", "pitch_diameter", "pitch_radius", "addendum", "dedendum"}),
    ),
    "planetary set": _kind(
        (), "planetary", frozenset({"ring held", "sun held", "carrier held"}), frozenset({"module"})
    ),
    "drive": _kind(_PAIR, "meshing, drive", frozenset(), frozenset({"module"})),
    "epicyclic train": _kind((), "epicyclic", frozenset({"double planets", "coaxial"}), gears=False),
    "key": _kind((), "key", gears=False),
}
# With two modules a train's gears share no tooth size: of each gear only its motion is told.
_MOTION = frozenset({"turns", "angle", "angular_speed"})
FULL_TURN = sp.Symbol("full_turn", positive=True)  # 2 pi; shown as 360 degrees

_GEAR_WORDS = {q.word for q in GEAR}
_TOOTH_WORDS = {q.word for q in TOOTH}
_OF_ONE_GEAR = _GEAR_WORDS | _TOOTH_WORDS
#: Of a tooth, what profile shift, thinning and shortening change.
CHANGED_BY_CUT = frozenset(
    [
        "addendum",
        "dedendum",
        "whole_depth",
        "working_depth",
        "clearance",
        "tooth_thickness",
        "tooth_space",
    ]
)
# Shared by two plain gears of one tooth system; each gear's own as soon as one of them is changed.
_SPLIT = CHANGED_BY_CUT | {"addendum_factor", "dedendum_factor", "extra_dedendum", "rack_tip_radius"}
_ATTRIBUTES = {"addendum_factor": "addendum", "dedendum_factor": "dedendum", "rack_tip_radius": "tip_radius"}
#: In a pair mounted at its reference distance these coincide.
MOUNTED_PLAINLY = {
    "reference_centre_distance": "centre_distance",
    "operating_pressure_angle": "pressure_angle",
    "operating_circular_pitch": "circular_pitch",
}
for _side in _PAIR:
    MOUNTED_PLAINLY[f"{_side}_operating_pitch_diameter"] = f"{_side}_pitch_diameter"
    MOUNTED_PLAINLY[f"{_side}_operating_thickness"] = f"{_side}_tooth_thickness"

_HELD = {"ring_speed": "ring held", "sun_speed": "sun held", "carrier_speed": "carrier held"}
# In a train of one module the stages have it too.
_ONE_MODULE = {"first_stage_module": "module", "second_stage_module": "module"}


@cache
def symbol(word: str) -> sp.Symbol:
    """The sympy symbol of a quantity's word (angles in radians), positive unless it may be negative.

    >>> symbol("teeth").is_positive
    True
    """
    try:
        signed = QUANTITIES[word].signed
    except KeyError:
        raise ValueError(f"quantity {word!r} is unknown") from None
    return sp.Symbol(word, real=True) if signed else sp.Symbol(word, positive=True)


@dataclass(frozen=True)
class Equation:
    """One relation put into a scope.

    ``left = right`` in symbols, written for one gear (``side``) where it has several.
    """

    left: sp.Symbol
    right: sp.Expr
    relation: Relation = field(compare=False)
    side: str = field(default="", compare=False)

    @cached_property
    def symbols(self) -> tuple[sp.Symbol, ...]:
        letters = (self.right.free_symbols | {self.left}) - {FULL_TURN}
        return tuple(sorted(letters, key=lambda s: s.name))

    @cached_property
    def key(self) -> str:
        """Orders equations whatever order the relations came in."""
        return f"{self.left.name} = {self.right}"


class _Namespace:
    """What a relation's right-hand side sees: symbols and fixed numbers by word."""

    def __init__(self, scope: Scope, side: str = ""):
        self._scope, self._side = scope, side

    def __getattr__(self, word: str):
        return small_letter(word) if word in LETTERS else self._scope.term(word, self._side)


class Scope:
    """The equations that hold for a kind of gear or pair.

    kind: one of ``KINDS``.
    length_unit: "in" (the tooth size is written 1/P) or "mm" (written m).
    systems: one, or two (driver, driven) for a pair.
    features: what goes beyond the plain case; see ``relation.FEATURES``.
    relations: defaults to all of them.

    >>> from gearlab.theory.systems import system
    >>> plain = Scope("gear", "in", (system(),))
    >>> str(plain.equation("addendum").right)
    '1/diametral_pitch'
    """

    def __init__(
        self,
        kind: str,
        length_unit: str,
        systems: tuple[ToothSystem, ...],
        features: frozenset[str] = frozenset(),
        relations: Iterable[Relation] | None = None,
    ):
        if kind not in KINDS:
            raise ValueError(f"kind {kind!r} is unknown: use one of {', '.join(KINDS)}")
        self.kind, self.length_unit, self.features = kind, length_unit, frozenset(features)
        self.about = KINDS[kind]
        if alien := self.features - self.about.features:
            known = (
                f"use of {', '.join(sorted(self.about.features))}" if self.about.features else "it has none"
            )
            raise ValueError(f"feature {sorted(alien)[0]!r} is none of a {kind}: {known}")
        if len(held := self.features & set(_HELD.values())) > 1:
            raise ValueError(
                f"{' and '.join(sorted(held))}: with two members held nothing can turn; hold one"
            )
        self.systems = systems if len(systems) == 2 else systems * 2
        self.split = bool(self.features & _TEETH - {"addendum_factor"}) or self.systems[0] != self.systems[1]
        # A pair runs at its reference distance unless a distance is set or profile shift calls for another.
        self.coincide = (
            {}
            if self.features & {"set distance", "profile_shift", "two modules"}
            else MOUNTED_PLAINLY | _ONE_MODULE
        )
        self.lock = threading.RLock()
        self._terms: dict[tuple[str, str], sp.Expr] = {}
        self._isolated: dict = {}
        self._bounds: dict[tuple[Equation, frozenset[str]], tuple[Bound, ...]] = {}
        if relations is None:
            # read when the first scope is built: importing gearlab stays quick
            from .relations import ALL

            relations = ALL
        self.equations = self._build(relations)

    # -- building --------------------------------------------------------------------------------------
    def term(self, word: str, side: str = ""):
        """The symbol, or fixed number, that a word stands for seen from one gear of the pair or train."""
        if (word, side) not in self._terms:
            self._terms[word, side] = self._term(word, side)
        return self._terms[word, side]

    def _term(self, word: str, side: str) -> sp.Expr:
        if word == "full_turn":
            return FULL_TURN
        if word not in MOUNTED_PLAINLY:
            own, word = split_side(word)
            side = own or side
        word = self.coincide.get(word, word)
        fixed = self._fixed(word, side)
        if fixed is not None:
            return fixed
        if word == "module" and self.length_unit == "in":
            return 1 / symbol("diametral_pitch")
        return symbol(self.word(word, side))

    def word(self, word: str, side: str = "") -> str:
        """The word under which a quantity goes in this scope, for one gear of the pair or train."""
        word = self.coincide.get(word, word)
        own, base = split_side(word)
        if own and base in _TOOTH_WORDS and not (self.split and base in _SPLIT):
            word = base
        sides = self.about.sides
        if not sides or word not in _OF_ONE_GEAR:
            return word
        if word in _GEAR_WORDS or (self.split and word in _SPLIT):
            return f"{side or sides[-1]}_{word}"
        return word

    def _fixed(self, word: str, side: str):
        row = self.systems[1] if side == "driven" else self.systems[0]
        if word in ("profile_shift", "tooth_thinning", "tip_shortening"):
            return None if word in self.features else sp.Integer(0)
        if word == "shaft_angle" and "shaft angle" not in self.features:
            return sp.pi / 2
        if word in _HELD and _HELD[word] in self.features:
            return sp.Integer(0)
        if word == "extra_dedendum":
            return _exact(row.extra(self.length_unit))
        attribute = _ATTRIBUTES.get(word)
        return None if attribute is None or word in self.features else _exact(getattr(row, attribute))

    def _build(self, relations: Iterable[Relation]) -> tuple[Equation, ...]:
        built: dict[str, dict[Equation, None]] = {}
        features = self.features | ({"mixed systems"} if self.systems[0] != self.systems[1] else set())
        for relation in relations:
            for side in self.about.holds.get(relation.of, ()) if self._holds(relation, features) else ():
                if relation.left == "module":
                    left, right = symbol("module"), relation.right(_Namespace(self))
                else:
                    left, right = (
                        symbol(self.word(relation.left, side)),
                        sp.sympify(relation.right(_Namespace(self, side))),
                    )
                # Nothing is said where a quantity is the zero of the plain case, or stands for itself.
                if left not in right.free_symbols and right != 0 and self._fixed(relation.left, side) is None:
                    built.setdefault(left.name, {}).setdefault(Equation(left, right, relation, side))
        # The order of Equation.key; writing out a right-hand side is slow, so only those are written that
        # share a left-hand side.
        return tuple(
            equation
            for name in sorted(built)
            for equation in (
                sorted(built[name], key=lambda e: e.key) if len(built[name]) > 1 else built[name]
            )
        )

    def _holds(self, relation: Relation, features: frozenset[str]) -> bool:
        if not features.issuperset(relation.needs) or not features.isdisjoint(relation.unless):
            return False
        if relation.left in self.coincide and relation.left != "reference_centre_distance":
            return False
        if relation.of in ("gear", "toothed outside") and self.about.gear_words is not None:
            return relation.left in (_MOTION if "two modules" in self.features else self.about.gear_words)
        return True

    # -- using -----------------------------------------------------------------------------------------
    def equation(self, word: str) -> Equation:
        """The first equation that has a quantity on its left."""
        return next(e for e in self.equations if e.left.name == word)

    def bounds(self, equation: Equation, given: frozenset[str] = frozenset()) -> tuple[Bound, ...]:
        """What must hold for an equation to hold, in symbols.

        ``given`` are words of measured radii that need no formula.

        A form radius that is not given stands as ``ranges.cut_form_radius``, which knows of undercut.
        """
        key = (equation, frozenset(word for word in given if word.endswith("form_radius")))
        if key not in self._bounds:
            self._bounds[key] = self._bound(equation, key[1])
        return self._bounds[key]

    def _bound(self, equation: Equation, given: frozenset[str]) -> tuple[Bound, ...]:
        span, sides = equation.relation.holds, self.about.sides
        if not isinstance(span, Range) or (span.alone and sides):
            return ()  # a pair uses a nominal size as it is
        q, bounds = _Namespace(self, equation.side), []
        gear = f"the {SIDES[equation.side][1][4:]}" if equation.side else "the gear"
        for condition in span.conditions:
            number, limit, where = (
                self._with_forms(sp.sympify(side(q)) if side else sp.Integer(0), given)
                for side in (condition.number, condition.limit, condition.where)
            )
            bounds.append(
                Bound(
                    condition,
                    condition.what,
                    condition.otherwise.replace("the gear", gear),
                    number,
                    limit,
                    where,
                )
            )
        return tuple(bounds)

    def _with_forms(self, expression: sp.Expr, given: frozenset[str]) -> sp.Expr:
        put = {}
        for letter in expression.free_symbols:
            side, base = split_side(letter.name)
            if (
                base == "form_radius"
                and letter.name not in given
                and not (side == "driven" and "internal" in self.about.holds)
            ):
                put[letter] = cut_form_radius(_Namespace(self, side))
        return expression.subs(put) if put else expression

    def small_steps(self, equation: Equation) -> list[tuple[Small, sp.Expr, sp.Expr]]:
        """The small steps that lead to an equation, with both sides in symbols.

        A step that says nothing in this scope (where two quantities coincide, say), or says the same as the
        one before it, is left out.
        """
        steps: list[tuple[Small, sp.Expr, sp.Expr]] = []
        way, q = equation.relation.way, _Namespace(self, equation.side)
        for small in way.steps if way else ():
            left, right = sp.sympify(small.left(q)), sp.sympify(small.right(q))
            if left != right and (left, right) != (steps[-1][1:] if steps else None):
                steps.append((small, left, right))
        return steps

    @cached_property
    def _places(self) -> dict[sp.Symbol, tuple[int, ...]]:
        places: dict[sp.Symbol, list[int]] = {}
        for number, equation in enumerate(self.equations):
            for letter in equation.symbols:
                places.setdefault(letter, []).append(number)
        return {letter: tuple(numbers) for letter, numbers in places.items()}

    def standing_in(self, letter: sp.Symbol) -> tuple[int, ...]:
        """Numbers of the equations in which a symbol stands."""
        return self._places.get(letter, ())

    @cached_property
    def symbols(self) -> frozenset[sp.Symbol]:
        """Every symbol of the scope."""
        return frozenset(s for e in self.equations for s in e.symbols)

    @cached_property
    def worlds(self) -> list[dict[sp.Symbol, float]]:
        """Consistent numbers of two real gears or pairs, for every symbol."""
        return [self._world(start) for start in STARTS]

    def _world(self, start: dict[str, float]) -> dict[sp.Symbol, float]:
        scale = 1.0 if self.length_unit == "in" else 25.4
        values: dict[sp.Symbol, float] = {FULL_TURN: 2 * pi}
        defined = {e.left for e in self.equations}
        for letter in self.symbols:
            number = start.get(letter.name, start.get(split_side(letter.name)[1]))
            if number is None or (letter in defined and letter.name not in ("module", "diametral_pitch")):
                continue
            dimension = QUANTITIES[letter.name].dimension
            values[letter] = (
                number * scale
                if dimension == "length"
                else number / scale
                if dimension == "pitch"
                else number
            )
        if self.length_unit == "mm" and symbol("diametral_pitch") in values:
            values[symbol("module")] = 1 / values[symbol("diametral_pitch")]
        remaining = list(self.equations)
        while remaining:
            ready = [e for e in remaining if all(s in values for s in e.symbols if s is not e.left)]
            if not ready:
                break
            for equation in ready:
                values.setdefault(equation.left, evaluate(equation.right, values))
            done = set(map(id, ready))
            remaining = [e for e in remaining if id(e) not in done]
        return values

    def isolated(self, equation: Equation, unknown: sp.Symbol) -> sp.Expr | None:
        """An equation rearranged for one of its symbols; None where that cannot be done."""
        roots = self.roots(equation, unknown)
        return roots[0] if roots else None

    def roots(self, equation: Equation, unknown: sp.Symbol) -> tuple[sp.Expr, ...]:
        """The same, with what else solves the equation after it."""
        # the scope keeps its equations; hashing their algebra would take longer than all else
        key = (id(equation), unknown)
        if key not in self._isolated:
            if equation.relation.one_way and unknown != equation.left:
                self._isolated[key] = ()
            else:
                self._isolated[key] = roots(equation.left, equation.right, unknown, self.worlds)
        return self._isolated[key]


def _exact(number: float) -> sp.Rational:
    return number if isinstance(number, sp.Expr) else sp.Rational(repr(round(number, 12)))


@lru_cache(maxsize=64)
def scope_for(
    kind: str, length_unit: str, systems: tuple[ToothSystem, ...], features: frozenset[str] = frozenset()
) -> Scope:
    """A scope, built once for each combination."""
    return Scope(kind, length_unit, systems, features)
