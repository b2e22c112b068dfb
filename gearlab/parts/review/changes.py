"""What moves in a design when one number of it is changed."""

from __future__ import annotations

from ..design import Design
from ..load import Load
from ..mesh import Mesh
from .drive import torques


def told(design: Design) -> dict[str, float]:
    """Every number that follows from a design, by "part: word of its quantity".

    Returns theory's words and units [mm or in, deg, rpm, N or lbf]; numbers that cannot be (of gears that do
        not mesh, say) are left out.
    """
    found: dict[str, float] = {}
    for name, gear in design.gears.items():
        found |= {f"{name}: {word}": value for word, value in gear.numbers.items()}
        found |= {
            f"{name}: overall_length": design.overall_length(name),
            f"{name}: face_height": design.face_height(name),
        }
        if name in design.hubs:
            found |= {f"{name}: {word}": value for word, value in design.hubs[name].numbers.items()}
    for shaft in design.shaft:
        rod = design.rod(shaft)
        mine = [one.name for one in design.gear if one.shaft == shaft.name]
        if rod is not None and mine:
            reach = max(design.foot(name) + design.overall_length(name) for name in mine)
            found[f"shaft {shaft.name}: shaft_length"] = rod.needed(
                behind=shaft.behind, plate=design.plate.thickness, gap=0.0, gear=reach, end=shaft.end
            )
    carried = torques(design)
    for pair in design.mesh:
        key, (one, two) = (
            f"{pair.driver} with {pair.driven}",
            (
                design.gears[pair.driver],
                design.gears[pair.driven],
            ),
        )
        found[f"{key}: hole_spacing"] = design.distance(pair.driver, pair.driven)
        try:
            wanted = Mesh(one, two)
            found |= {f"{key}: {word}": wanted.numbers[word] for word in ("ratio", "centre_distance")}
            drawn = Mesh(one, two, centre_distance=found[f"{key}: hole_spacing"])
            found |= {f"{key}: {word}": drawn.numbers[word] for word in ("contact_ratio", "backlash")}
            torque = carried.get(design.of(pair.driver).shaft)
            if torque is not None:
                load = Load(wanted, torque)
                found |= {
                    f"{key}: {word}": load.numbers[word] for word in ("tangential_force", "separating_force")
                }
        except (ValueError, KeyError):
            continue  # a pair that cannot be; ``review`` says why
    return found


def moved(before: Design, after: Design) -> dict[str, tuple[float, float]]:
    """What moves when a design is changed, before and after [unit of the quantity], by "part: quantity".

    A pair's ``centre_distance`` is what its teeth call for, its ``hole_spacing`` what the holes have: when
    only the first one moves, the holes still stand where they were.

    before, after: of the same parts by name.

    >>> from gearlab.parts.design import read_design
    >>> text = (
    ...     "[design]\\nname='x'\\n[plate]\\nlength=200\\nheight=100\\nthickness=6\\n"
    ...     "[[shaft]]\\nname='A'\\nx=50\\ny=50\\ndiameter=10\\n"
    ...     "[[gear]]\\nname='g'\\nshaft='A'\\nteeth=20\\nmodule=2.5\\nface_width=10\\nbore=10\\n"
    ... )
    >>> moved(read_design(text), read_design(text.replace("teeth=20", "teeth=24")))["g: pitch_diameter"]
    (50.0, 60.0)
    """
    one, two = told(before), told(after)
    return {
        name: (value, two[name])
        for name, value in one.items()
        if name in two and abs(two[name] - value) > 1e-9 * max(1.0, abs(value))
    }
