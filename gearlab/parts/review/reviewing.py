"""``review(design)``: every subject's findings, worst first."""

from __future__ import annotations

from pathlib import Path

from ..design import Design, read_design
from . import drive, hub, mounting, pair, room
from .finding import GRADES, Finding, Findings


def review(design: Design | str | Path) -> Findings:
    """Everything that can be wrong with a design, worst first.

    Parameters
    ----------
    design : Design, str or Path
        A design, the path of its file, or its text [-].

    Returns
    -------
    Findings
        Empty where nothing is found; ``.passes`` tells whether nothing is worse than worth knowing.

    Raises
    ------
    ValueError
        For a file that cannot be read.

    Examples
    --------
    >>> text = '''
    ... [design]
    ... name = "short shaft"
    ... unit = "in"
    ... [plate]
    ... length = 6
    ... height = 4
    ... thickness = 0.25
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
    ... hub_projection = 0.5
    ... gap = 0.25
    ... bore = 0.375
    ... fit = "sliding"
    ... '''
    >>> found = review(text)
    >>> found.names, found[0].what
    (('shaft-too-short',), 'it is 1 in long, 0.5 in short.')
    """
    if not isinstance(design, Design):
        design = read_design(design)
    try:
        design.gears
    except ValueError as error:
        return Findings([Finding("gear-cannot-be", "will not work", "the gears", f"{error}", "Each gear must be one that can be cut.", "There is no such gear.", "Change its numbers.", "rack generation")])
    found = [one for subject in (pair, mounting, hub, room, drive) for one in subject.findings(design)]
    return Findings(sorted(dict.fromkeys(found), key=lambda one: GRADES.index(one.grade)))
