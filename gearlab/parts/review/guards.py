"""How the drive is guarded: whether hands reach teeth and turning shafts while it runs by power."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator

from gearlab.care import LOCAL
from gearlab.theory.units import convert

from ..design import Design, GuardTable
from .finding import Finding, Held, Outcome, Unmade, both, said
from .ledger import Check

#: A first shaft that turns faster is driven by power [rpm]: nobody cranks so fast for long (common practice).
MOST_BY_HAND = 100.0
#: Least distance from a slot in a guard to what can hurt behind it [mm], by the width of the slot up to [mm]
#: (ISO 13857:2008, table 4, for persons of 14 years and above; from memory).
REACH = ((4, 2), (6, 10), (8, 20), (10, 80), (12, 100), (20, 120), (120, 850))
_REACH_SOURCE = "ISO 13857:2008, table 4, slots, for persons of 14 years and above (from memory)"
_GUARDS = "ISO 12100: what can hurt and cannot be taken away is guarded; local code"


def powered(design: Design) -> str:
    """Why the drive is taken for one driven by power, as the end of "it ..."; empty where it is not."""
    load = design.load
    if load is None or not (design.links or design.rack):
        return ""
    if load.stall_torque is not None:
        return "has a motor, which stalls at a stated torque"
    if load.speed is not None and abs(load.speed) > MOST_BY_HAND:
        return f"turns at {said(load.speed)} rpm, faster than by hand"
    return ""


def _guarded(design: Design) -> Iterator[Outcome]:
    why, guard = powered(design), design.guard
    if not why:
        return
    if guard is None:
        yield Unmade(
            "the drive",
            "whether hands can reach its teeth and shafts",
            f"it {why}, and the file does not say how it is guarded",
            'give [guard] with kind = "fixed" or "interlocked", and opens = "tool" or "hand"; local rules'
            " come first",
        )
    elif guard.kind == "none":
        yield Finding(
            "no-guard",
            "will trouble",
            "the drive",
            f"it {why}, and is stated to run without a guard.",
            "Behind a guard no hand reaches teeth that run together, or a turning shaft.",
            "A powered drive draws in fingers, hair and sleeves, and does not stop for a hand.",
            f'Put a fixed guard over it, and state it: [guard] kind = "fixed", opens = "tool". {LOCAL}',
            _GUARDS,
            ({"guard": {"kind": "fixed", "opens": "tool"}},),
        )
    else:
        yield from _opened(guard)
        yield from _reached(design, guard)


def _opened(guard: GuardTable) -> Iterator[Outcome]:
    """What opens a guard: a fixed one a tool only; one that opens by hand stops the drive first."""
    if guard.kind == "interlocked":
        yield Held("the guard", "opening it stops the drive")
    elif guard.opens is None:
        yield Unmade(
            "the guard",
            "what opens it",
            "the file does not say so",
            'give opens = "tool" or "hand" under [guard]',
        )
    elif guard.opens == "tool":
        yield Held("the guard", "it comes off with a tool only")
    else:
        yield Finding(
            "guard-opens-by-hand",
            "will trouble",
            "the guard",
            "it is fixed, and opens by hand.",
            "A fixed guard opens with a tool only; one that opens by hand is interlocked: it stops"
            " the drive.",
            "It is opened while the drive runs, and a hand meets the teeth.",
            f'Screw it on (opens = "tool"), or interlock it with the drive (kind = "interlocked"). {LOCAL}',
            "ISO 14120, fixed guards; ISO 14119, interlocking (from memory); local code",
            ({"guard": {"opens": "tool"}}, {"guard": {"kind": "interlocked"}}),
        )


def least_distance(opening: float) -> float | None:
    """Least distance from a slot of some width to what can hurt behind it, both [mm]; None where no distance
    will do.

    >>> least_distance(0), least_distance(6), least_distance(6.1), least_distance(150)
    (0.0, 10.0, 20.0, None)
    """
    if opening <= 0:
        return 0.0
    row = bisect_left([width for width, _ in REACH], opening)
    return float(REACH[row][1]) if row < len(REACH) else None


def _reached(design: Design, guard: GuardTable) -> Iterator[Outcome]:
    """Whether fingers reach the teeth through an opening of the guard."""
    unit = design.unit
    if guard.opening is None or (guard.opening > 0 and guard.distance is None):
        yield Unmade(
            "the guard",
            "whether fingers reach through it",
            "the file does not say how wide its widest opening is"
            if guard.opening is None
            else "the file does not give its distance from the teeth",
            f"give opening (0 for a closed one) and distance in {unit} under [guard]",
        )
        return
    distance = guard.distance or 0.0
    least = least_distance(convert(guard.opening, unit, "mm"))
    wanted = None if least is None else convert(least, "mm", unit)
    if wanted is not None and distance >= wanted * (1 - 1e-9):
        what = f"the teeth are behind an opening of {said(guard.opening, unit)} by"
        yield Held("the guard", what, distance, wanted, unit)
        return
    # to whole thousandths: an opening no wider, a distance no less
    most = max((width for width, behind in REACH if behind <= convert(distance, unit, "mm")), default=0)
    closed = math.floor(convert(most, "mm", unit) * 1e3 + 1e-6) / 1e3
    farther = None if wanted is None else math.ceil(wanted * 1e3 - 1e-6) / 1e3
    far = "" if farther is None else f", or leave {said(farther, unit)} between it and the teeth"
    yield Finding(
        "reached-through-guard",
        "will trouble",
        "the guard",
        f"it has an opening of {said(guard.opening, unit)}, {said(distance, unit)} from the teeth.",
        "Through so wide an opening an arm passes at any distance."
        if wanted is None
        else f"Behind such an opening the teeth are {both(wanted, distance, unit)[0]} away at least.",
        "Fingers reach through it while the drive runs, and children reach further.",
        f"{f'Close it to {said(closed, unit)}' if closed else 'Close it'}{far}. {LOCAL}",
        _REACH_SOURCE,
        ({"guard": {"opening": closed}}, *([] if farther is None else [{"guard": {"distance": farther}}])),
    )


CHECKS = (
    Check(
        "guard",
        "Are hands kept out of a powered drive?",
        ("no-guard", "guard-opens-by-hand", "reached-through-guard"),
        _guarded,
    ),
)
