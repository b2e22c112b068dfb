"""Random pairs held against their cut teeth, for the tests and for a longer run in tests/bench.

What rolling can measure agrees, or is named.
"""

from __future__ import annotations

import math
import random

from gearlab import Gear, Mesh
from gearlab.shape.rolling import Rolling, path_of_contact

CLOSE = 1e-6  # modules
# Every tooth system, and angles between.
SYSTEMS = (
    ("full depth", 20.0),
    ("full depth", 20.0),
    ("full depth", 14.5),
    ("full depth", 25.0),
    ("stub", 20.0),
    ("fine pitch", 20.0),
    ("full depth", 17.5),
)


def random_pair(chance: random.Random) -> Mesh | None:
    """A pair of 6 to 60 teeth, some shifted, thinned, shortened, or at a distance of their own.

    None where there is no such pair.
    """
    name, angle = chance.choice(SYSTEMS)
    scale = chance.choice([1.0, 2.5])
    # Few patterns: theory puts its relations together anew for each, which is what takes the time.
    pattern = chance.choice(
        (
            (),
            (),
            ("profile_shift",),
            ("profile_shift",),
            ("profile_shift", "tooth_thinning", "tip_shortening"),
        )
    )
    drawn = {
        "profile_shift": lambda: round(chance.uniform(-0.4, 0.8), 3),
        "tooth_thinning": lambda: round(chance.uniform(0, 0.05) * scale, 4),
        "tip_shortening": lambda: round(chance.uniform(0, 0.3) * scale, 3),
    }

    def gear() -> Gear:
        return Gear(
            chance.randint(6, 60),
            module=scale,
            pressure_angle=angle,
            tooth_system=name,
            **{word: drawn[word]() for word in pattern},
        )

    try:
        pair = Mesh(gear(), gear())
        if chance.random() < 0.4:
            pair = Mesh(
                pair.driver, pair.driven, pair.centre_distance + round(chance.uniform(0.0, 0.5) * scale, 3)
            )
    except ValueError:
        return None
    return pair


def rolled(pair: Mesh) -> dict[str, float]:
    """What the cut teeth tell, by word [modules, -, deg].

    Measured apart from anything that the part does with it.
    """
    distance = pair.centre_distance / pair.driver.scale
    found = {}
    try:
        path = path_of_contact(pair.driver.tooth, pair.driven.tooth, distance)
    except ValueError:
        found["contact_ratio"] = found["length_of_action"] = 0.0
    else:
        pitch_point = distance * pair.driver.teeth / (pair.driver.teeth + pair.driven.teeth)
        flat = math.atan2(abs(path.end[0] - path.start[0]), abs(path.end[1] - path.start[1]))
        found |= {
            "contact_ratio": (path.end_turn - path.start_turn) / pair.driver.tooth.pitch_angle,
            "length_of_action": path.length,
            "driver_start_radius": math.hypot(*path.start),
            "driven_start_radius": math.hypot(path.end[0] - distance, path.end[1]),
        }
        if path.length > 1e-3:
            found["operating_pressure_angle"] = math.degrees(flat)
            before = math.dist(path.start, (pitch_point, 0.0))
            found["length_of_approach"] = math.copysign(
                before,
                (pitch_point - path.start[0]) * (path.end[0] - path.start[0])
                - path.start[1] * (path.end[1] - path.start[1]),
            )
    try:
        play = Rolling(pair.driver.tooth, pair.driven.tooth, distance).play()
    except ValueError:
        return found  # tips run into roots: nothing turns
    return found | {"backlash": play * distance * pair.driven.teeth / (pair.driver.teeth + pair.driven.teeth)}


def faults(pair: Mesh) -> list[str]:
    """Where a pair's numbers differ from the cut teeth without being named as measured [-].

    Empty where all is well.
    """
    scale, said = pair.driver.scale, []
    for word, true in rolled(pair).items():
        told = pair.numbers.get(word, math.nan)
        size = 1.0 if word in ("contact_ratio", "operating_pressure_angle") else scale
        # the direction of a short path, told in degrees
        close = CLOSE if word != "operating_pressure_angle" else 1e-4
        if word in pair.refused and word not in pair.measured:
            said.append(f"{pair}: {word} could be measured ({true:.9g}) and is not told")
        elif not abs(told / size - true) <= close:
            said.append(
                f"{pair}: {word} is told as {told / size:.9g}, the cut teeth say {true:.9g}; measured:"
                f" {word in pair.measured}"
            )
    if not pair.refused and pair.measured:
        said.append(f"{pair}: all ranges hold, and yet {sorted(pair.measured)} are named as measured")
    return said
