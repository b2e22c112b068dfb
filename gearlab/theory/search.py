"""Finding the way from what is given to what is asked.

1. *Forward*: an equation with one unknown left gives it. The cheapest way to every quantity is found
   by a shortest-path search over equations (Knuth's generalisation of Dijkstra's algorithm).
2. *Carrying an unknown*: where no equation has just one unknown left, one unknown is carried along as
   a letter, as a student does. Either it cancels from what is asked (the driven speed from d1, C and n1
   needs no pitch), or an equation whose quantities are then all known closes the loop and gives it
   (C, P and the ratio give both tooth counts). Both are tested by numbers in a consistent world.

A search has so many steps (``solving.Effort``); when they are spent, or where numbers determine what is asked
and no formula is found, it gives up (``GaveUp``) instead of trying on.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

import sympy as sp

from .quantities import place, side_order
from .scope import Equation, Scope
from .solving import (
    STEPS,
    Effort,
    OutOfSteps,
    evaluate,
    may_be_solved,
    occurrences,
    put_in,
    roots,
    size,
    size_with,
    tidy,
)

_NUDGE = 1.0037  # how far a carried unknown is moved to see whether a result depends on it
_CARRY_COST = 4.0
_LARGEST = 160  # nodes of either side of an equation that closes a loop


class GaveUp(Exception):
    """The givens determine what is asked, but no formula was found within the steps of a search."""


@dataclass(frozen=True)
class Link:
    """One step of the way: a quantity, the equation it comes from, and that equation rearranged.

    ``role`` is "direct", "rearranged", "carried" (a letter for now) or "closed" (the carried letter found).
    """

    unknown: sp.Symbol
    equation: Equation | None
    expression: sp.Expr
    role: str
    others: tuple[sp.Expr, ...] = ()  # what else solves the equation


#: What a step costs in place of 1, by a relation that leads past the way that is taught.
DETOUR = 3.0


class _Reached:
    """What a set of known symbols leads to: cost and equation for each; grows by :meth:`add`."""

    def __init__(self, scope: Scope):
        self.scope = scope
        self.cost: dict[sp.Symbol, float] = {}
        self.by: dict[sp.Symbol, Equation] = {}
        self._unknown_left = [len(equation.symbols) for equation in scope.equations]

    def add(self, start: dict[sp.Symbol, float]) -> _Reached:
        """Make more symbols known, each at a price; follow each equation with one unknown left."""
        scope, cost, left = self.scope, self.cost, self._unknown_left
        queue = [(price, -1, _name_order(letter), letter) for letter, price in start.items()]
        heapq.heapify(queue)
        while queue:
            price, number, _, letter = heapq.heappop(queue)
            if letter in cost:
                continue
            cost[letter] = price
            if number >= 0:
                self.by[letter] = scope.equations[number]
            for other in scope.standing_in(letter):
                left[other] -= 1
                if left[other] == 1:
                    equation = scope.equations[other]
                    target = next(s for s in equation.symbols if s not in cost)
                    if scope.isolated(equation, target) is not None:
                        total = DETOUR if equation.relation.detour else 1.0
                        total += sum(cost[s] for s in equation.symbols if s is not target)
                        heapq.heappush(queue, (total, other, _name_order(target), target))
        return self

    def with_carried(self, letter: sp.Symbol, price: float) -> _Reached:
        """A copy in which one more symbol is known."""
        copy = object.__new__(_Reached)
        copy.scope, copy.cost, copy.by, copy._unknown_left = (
            self.scope,
            dict(self.cost),
            dict(self.by),
            list(self._unknown_left),
        )
        return copy.add({letter: price})


def _leading_to(
    asked: sp.Symbol, forward: _Reached, letters: Iterable[sp.Symbol], price: float
) -> Iterator[tuple[sp.Symbol, _Reached]]:
    """The letters that lead to what is asked once they are known, each with what is known then.

    Where a letter leads to no answer, none of those that it leads to does: knowing less makes no more known.
    """
    vain: set[sp.Symbol] = set()
    for letter in letters:
        if letter in vain:
            continue
        reached = forward.with_carried(letter, price)
        if asked in reached.cost:
            yield letter, reached
        else:
            vain.update(reached.cost)


@lru_cache(maxsize=4096)
def _name_order(letter: sp.Symbol) -> str:
    return side_order(letter.name)


def _spread(scope: Scope, given: Iterable[sp.Symbol]) -> _Reached:
    return _Reached(scope).add(dict.fromkeys(given, 0.0))


def _order(reached: _Reached, targets: list[sp.Symbol]) -> list[sp.Symbol]:
    """The unknowns that the targets rest on, each after what it needs."""
    done: list[sp.Symbol] = []

    def visit(letter: sp.Symbol) -> None:
        if letter in reached.by and letter not in done:
            for need in sorted(reached.by[letter].symbols, key=lambda s: place(s.name)):
                if need != letter:
                    visit(need)
            done.append(letter)

    for target in targets:
        visit(target)
    return done


def _links(scope: Scope, reached: _Reached, targets: list[sp.Symbol]) -> list[Link]:
    links = []
    for letter in _order(reached, targets):
        equation = reached.by[letter]
        expression, *others = scope.roots(equation, letter)
        links.append(
            Link(
                letter,
                equation,
                expression,
                "direct" if equation.left == letter else "rearranged",
                tuple(others),
            )
        )
    return links


def _resting_on(reached: _Reached, carried: sp.Symbol) -> set[sp.Symbol]:
    """The carried unknown, and all that was reached through it."""
    resting = {carried}
    for letter, equation in reached.by.items():  # in the order in which they became known
        if any(need in resting for need in equation.symbols if need != letter):
            resting.add(letter)
    return resting


def _numbers(
    scope: Scope,
    reached: _Reached,
    given: Iterable[sp.Symbol],
    carried: sp.Symbol,
    targets: Iterable[sp.Symbol],
) -> dict[sp.Symbol, float]:
    """World numbers of the targets with the carried unknown nudged off its true value.

    Without those that have none (a count is no longer whole, say).
    """
    world = scope.worlds[0]
    values = {letter: world[letter] for letter in given}
    values[carried] = world[carried] * _NUDGE
    values |= {letter: world[letter] for letter in world if letter.name == "full_turn"}
    for letter in _order(reached, list(targets)):
        if letter not in values:
            try:
                values[letter] = evaluate(scope.isolated(reached.by[letter], letter), values)
            except (ValueError, OverflowError, KeyError):
                continue
    return values


def _differs(number: float, other: float) -> bool:
    return not abs(number - other) <= 1e-9 * max(1e-6, abs(number), abs(other))


def forward(scope: Scope, given: Iterable[sp.Symbol], asked: sp.Symbol) -> list[Link] | None:
    """The way from the given symbols by equations with one unknown alone, or None."""
    reached = _spread(scope, given)
    return _links(scope, reached, [asked]) if asked in reached.cost else None


def forward_to(scope: Scope, given: Iterable[sp.Symbol], targets: Iterable[sp.Symbol]) -> list[Link]:
    """The ways from the given symbols to those of the targets that equations with one unknown lead to."""
    reached = _spread(scope, given)
    return _links(
        scope, reached, sorted((target for target in targets if target in reached.by), key=_name_order)
    )


def everything_forward(scope: Scope, given: Iterable[sp.Symbol]) -> list[Link]:
    """All that follows from the given symbols by equations with one unknown, in a workable order."""
    reached = _spread(scope, given)
    return _links(scope, reached, sorted(reached.by, key=_name_order))


def find(
    scope: Scope, given: list[sp.Symbol], asked: sp.Symbol, effort: Effort | None = None
) -> list[Link] | None:
    """The cheapest way from the given symbols to the asked one, or None where they do not determine it.

    GaveUp where an equation would close the loop, but no formula was found.

    >>> from gearlab.theory.scope import scope_for, symbol
    >>> from gearlab.theory.systems import system
    >>> plain = scope_for("gear", "in", (system(),))
    >>> [
    ...     link.unknown.name
    ...     for link in find(plain, [symbol("teeth"), symbol("diametral_pitch")], symbol("outside_diameter"))
    ... ]
    ['pitch_diameter', 'addendum', 'outside_diameter']
    """
    forward = _spread(scope, given)
    if asked in forward.cost:
        return _links(scope, forward, [asked])
    effort = effort or Effort()
    closed: list[Equation] = []
    try:
        links = _with_letter(scope, given, asked, forward, effort, closed) or _with_second_letter(
            scope, given, asked, effort
        )
    except OutOfSteps:
        raise GaveUp from None
    if links is None and closed:
        raise GaveUp
    return links


def _with_second_letter(
    scope: Scope, given: list[sp.Symbol], asked: sp.Symbol, effort: Effort
) -> list[Link] | None:
    # The size of the tooth often cancels from what one letter leads to (the pitch diameters from C and the
    # ratio).
    for module in (
        s
        for s in scope.symbols
        if s.name == ("diametral_pitch" if scope.length_unit == "in" else "module")
        and s not in given
        and s != asked
    ):
        links = _with_letter(scope, [*given, module], asked, _spread(scope, [*given, module]), effort, [])
        if links and not _differs(_follow(scope, links, given, module), scope.worlds[0][asked]):
            return [Link(module, None, module, "carried"), *links]
    return None


def _follow(scope: Scope, links: list[Link], given: list[sp.Symbol], nudged: sp.Symbol) -> float:
    """What the links make of what is asked, with one letter nudged off its true value."""
    world = scope.worlds[0]
    values = {letter: world[letter] for letter in world if letter in given or letter.name == "full_turn"} | {
        nudged: world[nudged] * _NUDGE
    }
    closed = {link.unknown: link for link in links if link.role == "closed"}
    values |= {
        link.unknown: world[link.unknown]
        for link in links
        if link.role == "carried" and link.unknown not in closed
    }
    try:
        for link in [
            *closed.values(),
            *(link for link in links if link.role in ("direct", "rearranged") and link.unknown not in closed),
        ]:
            values[link.unknown] = evaluate(link.expression, values)
    except (ValueError, OverflowError, KeyError):
        return float("nan")
    return values[links[-1].unknown]


def _with_letter(
    scope: Scope,
    given: list[sp.Symbol],
    asked: sp.Symbol,
    forward: _Reached,
    effort: Effort,
    closed: list[Equation],
) -> list[Link] | None:
    """The way with one letter carried; equations that close a loop, solved or not, are told in ``closed``."""
    ways = []
    for carried, reached in _leading_to(asked, forward, scope.symbols - set(forward.cost), _CARRY_COST):
        ways += _ways(scope, reached, carried, asked)
    # The structure proposes; numbers and algebra dispose, from the shortest way on.
    for _, _, _, carried, closing, reached in sorted(ways, key=lambda way: way[:3]):
        targets = [asked] if closing is None else list(closing.symbols)
        nudged = _numbers(scope, reached, given, carried, targets)
        if closing is None:
            if asked in nudged and not _differs(nudged[asked], scope.worlds[0][asked]):
                return [Link(carried, None, carried, "carried"), *_links(scope, reached, [asked])]
        elif _closes(scope, reached, nudged, closing):
            closed.append(closing)
            links = _close(scope, reached, carried, asked, closing, effort)
            if links is not None:
                return links
    return None


def _ways(scope: Scope, reached: _Reached, carried: sp.Symbol, asked: sp.Symbol):
    """What may work with one unknown carried.

    (cost, names for a fixed order, carried, closing equation, reached).
    """
    # What is asked is the natural letter to carry; then the size of the tooth; then whatever makes the
    # shortest way.
    favour = 0.5 if carried == asked else 0.4 if carried.name in ("diametral_pitch", "module") else 0.0
    base = reached.cost[asked] - favour
    if carried != asked:
        yield base, _name_order(carried), "", carried, None, reached
    used, resting = set(map(id, reached.by.values())), _resting_on(reached, carried)
    for equation in scope.equations:
        if (
            id(equation) in used
            or equation.relation.one_way
            or any(s not in reached.cost for s in equation.symbols)
        ):
            continue
        if any(s in resting for s in equation.symbols):
            total = sum(reached.cost[s] for s in equation.symbols) + (base if carried != asked else -favour)
            yield total, _name_order(carried), equation.key, carried, equation, reached


def _close(
    scope: Scope, reached: _Reached, carried: sp.Symbol, asked: sp.Symbol, closing: Equation, effort: Effort
) -> list[Link] | None:
    before = _links(scope, reached, list(closing.symbols))
    known: dict[sp.Symbol, sp.Expr] = {}
    sizes: dict[sp.Symbol, int] = {}
    for link in before:
        sizes[link.unknown] = size_with(link.expression, sizes)
    nodes = max(size_with(closing.left, sizes), size_with(closing.right, sizes))
    effort.spend(40 + min(nodes, _LARGEST))
    if nodes > _LARGEST:
        return None
    for link in before:
        known[link.unknown] = put_in(link.expression, known)
    left, right = put_in(closing.left, known), put_in(closing.right, known)
    if occurrences(left, carried) + occurrences(right, carried) > 1 and not may_be_solved(
        left - right, carried
    ):
        return None
    if not left.has(carried):
        effort.spend(8 * size(right))
        right = tidy(right)
    solutions = roots(left, right, carried, scope.worlds, effort)
    if not solutions:
        return None
    after = (
        [link for link in _links(scope, reached, [asked]) if link.unknown not in known]
        if asked != carried
        else []
    )
    needed = _needed_after(before, asked, after)
    return [
        Link(carried, None, carried, "carried"),
        *before,
        Link(carried, closing, tidy(solutions[0]), "closed", solutions[1:]),
        *needed,
    ]


def _needed_after(before: list[Link], asked: sp.Symbol, after: list[Link]) -> list[Link]:
    # What was written with the letter before is asked for: say it again, now with the number.
    return after or [link for link in before if link.unknown == asked]


def reach(scope: Scope, given: list[sp.Symbol]) -> dict[sp.Symbol, list[Link]]:
    """The way to every quantity that the given symbols determine."""
    forward = _spread(scope, given)
    ways = {letter: _links(scope, forward, [letter]) for letter in forward.cost if letter in forward.by}
    within_reach: set[sp.Symbol] = set()
    for carried in scope.symbols - set(forward.cost):
        reached = forward.with_carried(carried, _CARRY_COST)
        fresh = [letter for letter in reached.cost if letter not in forward.cost]
        nudged = _numbers(scope, reached, given, carried, fresh)
        if any(_closes(scope, reached, nudged, equation) for equation in scope.equations):
            within_reach.update(fresh)
        else:
            within_reach.update(
                letter
                for letter in fresh
                if letter != carried
                and letter in nudged
                and not _differs(nudged[letter], scope.worlds[0][letter])
            )
    left = 4 * STEPS  # for all of them together
    for letter in sorted(within_reach - set(ways), key=_name_order):
        effort = Effort(min(left, STEPS // 4))
        start = effort.left
        try:
            links = find(scope, given, letter, effort)
        except GaveUp:
            continue
        finally:
            left -= start - max(effort.left, 0)
        if links is not None:
            ways[letter] = links
    return ways


def _closes(scope: Scope, reached: _Reached, nudged: dict[sp.Symbol, float], equation: Equation) -> bool:
    if equation.relation.one_way or any(s not in nudged for s in equation.symbols):
        return False
    try:
        return _differs(nudged[equation.left], evaluate(equation.right, nudged))
    except (ValueError, OverflowError):
        return False


def lacking(scope: Scope, given: list[sp.Symbol], asked: sp.Symbol) -> list[sp.Symbol]:
    """Single quantities that would, added to the given ones, determine what is asked."""
    forward = _spread(scope, given)
    extras = scope.symbols - set(forward.cost) - {asked}
    return sorted((extra for extra, _ in _leading_to(asked, forward, extras, 0.0)), key=_name_order)
