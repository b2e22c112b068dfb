"""Random questions to theory: any kind, features, length unit, asked and givens, by names and by numbers.

Each answer is held against worlds of ``otherworlds``; each refusal must be a ValueError, and nothing may take
longer than a search may.
"""

import math
import random
import re
import time
from dataclasses import dataclass, field
from itertools import islice

from otherworlds import own, world

from gearlab.theory import derive, system
from gearlab.theory.boundary import TOOTH_SIZE, outward
from gearlab.theory.scope import FULL_TURN, KINDS, Scope, scope_for
from gearlab.theory.units import MM_PER_INCH

# Of the kinds with the most relations more is asked.
_WEIGHTS = {"gear": 3, "pair": 4, "internal pair": 2, "bevel pair": 2}
_SECONDS = 2.0  # of processor time; the test command allows more, as machines differ
_UNTAUGHT = re.compile(r"(?<![a-zA-Z])a?(cot|sec|csc)(?![a-zA-Z])")
_OFF = 1e-5  # share; some ways lose many digits in differences of nearly equal numbers


@dataclass
class Tally:
    """What came of the questions asked so far."""

    asked: int = 0
    answered: int = 0
    compared: int = 0
    gave_up: int = 0
    faults: list[str] = field(default_factory=list)
    slowest: tuple[float, str] = (0.0, "")


_worlds: dict = {}


def worlds_of(scope: Scope) -> list[dict[str, float]]:
    """Three worlds of a scope, by word [theory's units, rad].

    Fewer where numbers drawn at random make none.
    """
    if scope not in _worlds:
        found = (world(scope, seed) for seed in range(8))
        _worlds[scope] = [
            {one.name: number for one, number in made.items() if one != FULL_TURN}
            for made in islice((one for one in found if one is not None), 3)
        ]
        for numbers in _worlds[scope]:
            for word, number in own(scope.kind, tuple(scope.features), scope.length_unit, numbers).items():
                assert abs(numbers[word] - number) <= 1e-9 * max(1.0, abs(number)), (
                    f"{word} of a {scope.kind}: {numbers[word]}, by hand {number}"
                )
    return _worlds[scope]


def question(rng: random.Random) -> tuple[Scope, str, tuple[str, ...]] | None:
    """A scope, what is asked and what is given; None where the features do not go together."""
    kind = rng.choices(list(KINDS), [_WEIGHTS.get(name, 1) for name in KINDS])[0]
    features = (
        frozenset(one for one in sorted(KINDS[kind].features) if rng.random() < 0.2)
        if rng.random() < 0.6
        else frozenset()
    )
    rows = (system(),) * (2 if len(KINDS[kind].sides) == 2 else 1)
    try:
        scope = scope_for(kind, rng.choice(("in", "mm")), rows, features)
    except ValueError:
        return None
    words = sorted(one.name for one in scope.symbols)
    asked = rng.choice(words)
    if rng.random() < 0.6:  # what stands near in the formulas, so that there is often a way
        near = {asked}
        while len(near) < 25 and (
            more := {
                one.name
                for e in scope.equations
                if any(s.name in near for s in e.symbols)
                for one in e.symbols
            }
            - near
        ):
            near |= more
        words = sorted(near)
    words = [word for word in words if word != asked]
    return scope, asked, tuple(rng.sample(words, min(len(words), rng.randint(1, 7)))) if words else ()


def ask(scope: Scope, asked: str, given: tuple[str, ...], tally: Tally) -> None:
    """Ask one question by names and by numbers, and compare what comes out."""
    said = (
        f"{asked} from {', '.join(given)} ({scope.kind},"
        f" {scope.length_unit}{', ' if scope.features else ''}{', '.join(sorted(scope.features))})"
    )
    how = {"kind": scope.kind, "length_unit": scope.length_unit, "features": scope.features}
    tally.asked += 1
    start = time.process_time()
    try:
        way = derive(asked, given, **how)
        texts = way.text(), way.markdown(), way.mathml()
    except ValueError as error:
        tally.gave_up += "gave up" in str(error)
        way = None
    except Exception as error:
        tally.faults.append(f"{said}: {type(error).__name__}: {error}")
        way = None
    took = time.process_time() - start
    tally.slowest = max(tally.slowest, (took, said))
    if way is None:
        return
    tally.answered += 1
    if any(_UNTAUGHT.search(text) for text in texts):
        tally.faults.append(f"{said}: {texts[0]}")
    for numbers in worlds_of(scope):
        shown = {word: outward(word, number, scope.length_unit) for word, number in numbers.items()}
        stated = shown | {  # a module is given in millimetres, also beside inches
            word: shown[word] * MM_PER_INCH
            for word in shown.keys() & TOOTH_SIZE.keys()
            if TOOTH_SIZE[word] == "mm" and scope.length_unit == "in"
        }
        for by in ("names", "numbers", "arrays"):
            try:
                if by == "numbers":
                    found = derive(asked, {word: stated[word] for word in given}, **how).result
                else:
                    found = way.value(
                        **{word: [stated[word]] if by == "arrays" else stated[word] for word in given}
                    )
                    found = float(found[0]) if by == "arrays" else found
            except ValueError:
                continue
            except Exception as error:
                tally.faults.append(f"{said}, by {by}: {type(error).__name__}: {error}")
                continue
            if by == "arrays" and math.isnan(found):
                continue
            tally.compared += 1
            if not abs(found - shown[asked]) <= _OFF * max(abs(shown[asked]), 1e-3):
                tally.faults.append(
                    f"{said}, by {by}: {found!r}, in the world {shown[asked]!r}; formula {way.tidy}"[:900]
                )


def fuzz(seed: int, seconds: float, most: int = 10**9) -> Tally:
    """Ask until the time is up, or so many questions are asked; the same questions for the same seed."""
    rng, tally, end = random.Random(seed), Tally(), time.monotonic() + seconds
    while time.monotonic() < end and tally.asked < most:
        if (made := question(rng)) is not None:
            ask(*made, tally)
    return tally
