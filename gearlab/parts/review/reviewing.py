"""``review(design)``: every subject's findings, worst first."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ..design import Design, read_design
from . import drive, hub, mounting, pair, room
from .finding import GRADES, Finding, Findings


def review(design: Design | str | Path) -> Findings:
    """Everything that can be wrong with a design, worst first.

    design: a design, the path of its file, or its text.
    Returns empty where nothing is found; ``.passes`` tells whether nothing is worse than worth knowing.
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
    >>> found = review(text)
    >>> found.names, found[0].what
    (('shaft-too-short',), 'it is 1 in long, 0.125 in short.')
    """
    if not isinstance(design, Design):
        design = read_design(design)
    alien = [finding for one in design.gear for finding in _cannot_be(design, one)]
    if alien:
        return Findings(alien)  # what has no shape cannot be looked at any further
    found = [one for subject in (pair, mounting, hub, room, drive) for one in subject.findings(design)]
    return Findings(sorted(dict.fromkeys(found), key=lambda one: GRADES.index(one.grade)))


def _cannot_be(design: Design, one) -> Iterator[Finding]:
    try:
        design.cut(one)
    except ValueError as error:
        yield Finding(
            "gear-cannot-be",
            "will not work",
            one.name,
            str(error) if str(error).endswith((".", ".)")) else f"{error}.",
            "It must be a gear that can be cut.",
            "There is no such gear, so nothing else of the design was looked at.",
            "Change the number that is named, and review again.",
            "rack generation",
        )
