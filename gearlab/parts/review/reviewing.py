"""``review(design)``: every check of the table, made of a design."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ..design import Design, read_design
from . import (
    bevel,
    contact,
    drive,
    faces,
    fastening,
    fits,
    guards,
    hub,
    keys,
    measured,
    pair,
    planetary,
    plate,
    rack,
    room,
    screws,
    shafts,
    teeth,
    units,
)
from .advice import MIXED, Advised, proved_by
from .ledger import Check, Ledger
from .uncut import cannot_be

#: The subjects, in the order in which they are told.
_SUBJECTS: tuple[Any, ...] = (
    *(units, teeth, pair, contact, faces, plate, shafts, fits, hub, screws, fastening, keys, room),
    *(drive, guards, rack, bevel, planetary, measured),
)
#: Every check of a design.
CHECKS: tuple[Check, ...] = tuple(check for subject in _SUBJECTS for check in subject.CHECKS)
#: Names of everything that a review can find.
NAMES: tuple[str, ...] = tuple(
    dict.fromkeys(["gear-cannot-be", *(name for check in CHECKS for name in check.finds)])
)


#: Ledgers kept of the designs looked at last: advice comes to the same candidates again for several findings,
#: and who follows it to one that was proved already.
MOST_KEPT = 16
_kept: dict[str, Ledger] = {}


def review(design: Design | str | Path) -> Ledger:
    """The ledger of a design: its findings, worst first; beside them what holds and what could not be
    checked.

    design: a design, the path of its file, or its text.
    Returns empty where nothing is found; ``.passes`` tells whether nothing fails and nothing that the design
        claims is unchecked, ``.holds`` and ``.unmade`` the rest.
    ValueError for a file that cannot be read.

    >>> text = '''
    ... [design]
    ... name = "short shaft"
    ... unit = "in"
    ... [plate]
    ... length = 6
    ... height = 4
    ... thickness = 0.1875
    ... [[shaft]]
    ... name = "A"
    ... x = 2
    ... y = 2
    ... diameter = 0.375
    ... length = 1
    ... [[gear]]
    ... name = "wheel"
    ... shaft = "A"
    ... teeth = 30
    ... diametral_pitch = 10
    ... face_width = 0.5
    ... hub_diameter = 0.75
    ... hub_projection = 0.375
    ... gap = 0.0625
    ... bore = 0.375
    ... fit = "sliding"
    ... '''
    >>> ledger = review(text)
    >>> ledger.names, ledger[0].what
    (('shaft-too-short',), 'it is 1 in long, 0.125 in short.')
    """
    if not isinstance(design, Design):
        design = read_design(design)
    stated = repr(design.tables)  # all that a review hangs on: what was given, and what was left out
    ledger = _kept.pop(stated, None)
    if ledger is None:
        ledger = _reviewed(design)
    _kept[stated] = ledger  # the last one asked for is the last to go
    while len(_kept) > MOST_KEPT:
        _kept.pop(next(iter(_kept)), None)
    return ledger


def _reviewed(design: Design) -> Ledger:
    alien = [finding for table in design.gear for finding in cannot_be(design, table)]
    if alien:
        return Ledger(
            (None, finding) for finding in alien
        )  # what has no shape cannot be looked at any further
    outcomes = [(check, outcome) for check in CHECKS for outcome in check.made(design)]
    advised = [outcome for _, outcome in outcomes if isinstance(outcome, Advised)]
    advised.sort(key=lambda finding: finding.name != MIXED)
    for finding in advised:
        finding.follows(advised)
    return Ledger(outcomes)


proved_by(review)
