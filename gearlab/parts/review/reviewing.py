"""``review(design)``, and what moves in a design when one number is changed."""

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


def moved(before: Design, after: Design) -> dict[str, tuple[float, float]]:
    """What moves when a design is changed: each number that follows, before and after, by "part: quantity".

    Parameters
    ----------
    before, after : Design
        Of the same parts by name [-].

    Returns
    -------
    dict of str to (float, float)
        Only what differs [unit of the quantity].

    Examples
    --------
    >>> from gearlab.parts.design import read_design
    >>> text = "[design]\\nname='x'\\n[plate]\\nlength=200\\nheight=100\\nthickness=6\\n[[shaft]]\\nname='A'\\nx=50\\ny=50\\ndiameter=10\\n[[gear]]\\nname='g'\\nshaft='A'\\nteeth=20\\nmodule=2.5\\nface_width=10\\nbore=10\\n"
    >>> moved(read_design(text), read_design(text.replace("teeth=20", "teeth=24")))["g: pitch_diameter"]
    (50.0, 60.0)
    """
    changes = {}
    for name, gear in before.gears.items():
        if name in after.gears:
            other = after.gears[name].numbers
            changes |= {f"{name}: {word}": (value, other[word]) for word, value in gear.numbers.items() if word in other and abs(other[word] - value) > 1e-9 * max(1.0, abs(value))}
            for word, one, two in (("overall_length", before.overall_length(name), after.overall_length(name)), ("face_height", before.face_height(name), after.face_height(name))):
                if one != two:
                    changes[f"{name}: {word}"] = (one, two)
    for one in before.mesh:
        key = f"{one.driver} with {one.driven}"
        if any((one.driver, one.driven) == (two.driver, two.driven) for two in after.mesh):
            distances = before.distance(one.driver, one.driven), after.distance(one.driver, one.driven)
            if distances[0] != distances[1]:
                changes[f"{key}: centre_distance"] = distances
    return changes
