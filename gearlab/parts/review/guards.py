"""How the drive is guarded: whether hands reach teeth and turning shafts while it runs by power."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator

from gearlab.care import LOCAL
from gearlab.theory.units import convert

from ..design import Design, GuardTable
from .finding import Held, Outcome, said
from .ledger import Checks
from .sentences import finding, unmade

#: A first shaft that turns faster is driven by power [rpm]: nobody cranks so fast for long (common practice).
MOST_BY_HAND = 100.0
#: Least distance from a slot in a guard to what can hurt behind it [mm], by the width of the slot up to [mm]
#: (ISO 13857:2008, table 4, for persons of 14 years and above; from memory).
REACH = ((4, 2), (6, 10), (8, 20), (10, 80), (12, 100), (20, 120), (120, 850))
CHECKS = Checks()


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


@CHECKS.row(
    "guard",
    "Are hands kept out of a powered drive?",
    "no-guard",
    "guard-opens-by-hand",
    "reached-through-guard",
)
def _guarded(design: Design) -> Iterator[Outcome]:
    why, guard = powered(design), design.guard
    if not why:
        if guard is not None and guard.kind != "none" and (design.links or design.rack):
            yield unmade("guard of no motor", design, "the guard")
        return
    if guard is None:
        yield unmade("guard", design, "the drive", powered=why)
    elif guard.kind == "none":
        fixed = {"guard": {"kind": "fixed", "opens": "tool"}}
        yield finding("no-guard", design, "the drive", edits=(fixed,), powered=why, local=LOCAL)
    else:
        yield _opened(design, guard)
        yield _reached(design, guard)


def _opened(design: Design, guard: GuardTable) -> Outcome:
    """What opens a guard: a fixed one a tool only; one that opens by hand stops the drive first."""
    if guard.kind == "interlocked":
        return Held("the guard", "opening it stops the drive")
    if guard.opens is None:
        return unmade("guard, opens", design, "the guard")
    if guard.opens == "tool":
        return Held("the guard", "it comes off with a tool only")
    edits = ({"guard": {"opens": "tool"}}, {"guard": {"kind": "interlocked"}})
    return finding("guard-opens-by-hand", design, "the guard", edits=edits, local=LOCAL)


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


def _reached(design: Design, guard: GuardTable) -> Outcome:
    """Whether fingers reach the teeth through an opening of the guard."""
    unit = design.unit
    if guard.opening is None:
        return unmade("guard, opening", design, "the guard", unit=unit)
    if guard.opening > 0 and guard.distance is None:
        return unmade("guard, distance", design, "the guard", unit=unit)
    distance = guard.distance or 0.0
    least = least_distance(convert(guard.opening, unit, "mm"))
    wanted = math.inf if least is None else convert(least, "mm", unit)
    if distance >= wanted * (1 - 1e-9):
        what = f"the teeth are behind an opening of {said(guard.opening, unit)} by"
        return Held("the guard", what, distance, wanted, unit)
    # to whole thousandths: an opening no wider, a distance no less
    most = max((width for width, behind in REACH if behind <= convert(distance, unit, "mm")), default=0)
    closed = math.floor(convert(most, "mm", unit) * 1e3 + 1e-6) / 1e3
    close = f"Close it to {said(closed, unit)}" if closed else "Close it"
    narrower = {"guard": {"opening": closed}}
    if least is None:
        row = "reached-through-guard, by an arm"
        return finding(
            row,
            design,
            "the guard",
            edits=(narrower,),
            opening=guard.opening,
            distance=distance,
            close=close,
            local=LOCAL,
        )
    farther = math.ceil(wanted * 1e3 - 1e-6) / 1e3
    return finding(
        "reached-through-guard",
        design,
        "the guard",
        edits=(narrower, {"guard": {"distance": farther}}),
        compared=(distance, wanted),
        opening=guard.opening,
        close=close,
        farther=farther,
        local=LOCAL,
    )
