"""How quick theory and shape are: run `python tests/bench/theory.py`.

Times are processor time, so that a busy machine does not disturb them; each has its budget beside it. A
first derivation is timed in fresh processes, after importing; those may keep Python's bytecode, as an
installed gearlab has it from its second start on.
"""

import contextlib
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
from rich.console import Console
from rich.table import Table

RUNS = 5
FRESH = """
import time
start = time.process_time(); import numpy, sympy; base = time.process_time()
import gearlab; ours = time.process_time()
sympy.Symbol("x") - 1  # sympy loads more of itself at its first subtraction
before = time.process_time()
gearlab.derive("centre_distance", given=["diametral_pitch", "driver_teeth", "driven_teeth"])
print(ours - base, time.process_time() - before)
"""
# What a lesson or a bank may give and ask; every pair of lines is a question, unless the givens do not reach
# it.
GIVENS = (
    ("diametral_pitch", "driver_teeth", "driven_teeth"),
    ("module", "driver_teeth", "driven_teeth", "pressure_angle"),
    ("module", "centre_distance", "ratio"),
    ("driver_pitch_diameter", "centre_distance", "driver_speed"),
    ("driver_teeth", "ratio", "circular_pitch"),
    ("driver_outside_diameter", "driver_teeth", "ratio"),
    ("driver_teeth", "driven_teeth", "whole_depth"),
    ("driver_speed", "driven_speed", "centre_distance", "diametral_pitch"),
    ("driven_outside_diameter", "driven_teeth", "driver_teeth"),
    ("driver_teeth", "driven_teeth", "driver_speed", "duration"),
)
ASKED = (
    "centre_distance",
    "driven_speed",
    "driver_teeth",
    "driven_pitch_diameter",
    "driven_outside_diameter",
    "driver_root_diameter",
    "base_pitch",
    "contact_ratio",
    "pitch_line_speed",
    "tooth_thickness",
    "driven_teeth",
    "driver_turns_to_repeat",
    "clearance",
    "driven_turns",
)


def taken(work, *arguments, **options):
    start = time.process_time()
    try:
        work(*arguments, **options)
    except ValueError:
        return None
    return 1000 * (time.process_time() - start)


def roll(count):
    """Everything that rolling tells of a pair.

    The ratio over a whole cycle, contact ratio, backlash, free window, interference.
    """
    from gearlab import Gear, Mesh

    pair = Mesh(Gear(count, module=2.5, tooth_thinning=0.05), Gear(count + 27, module=2.5)).rolling
    pair.driven_angle(np.linspace(0.0, pair.driver.pitch_angle, 33))
    (
        pair.contact_ratio(),
        pair.backlash(pair.driven.reference_radius),
        pair.free_window(0.3),
        pair.interference(),
    )


def fresh():
    """Milliseconds of importing gearlab over numpy and sympy, and of the first derivation, in new processes."""  # noqa: E501
    keeping = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    lines = [
        subprocess.run(
            [sys.executable, "-c", FRESH], capture_output=True, text=True, check=True, env=keeping
        ).stdout.split()
        for _ in range(1 + RUNS)
    ][1:]
    return [1000 * statistics.median(float(line[place]) for line in lines) for place in (0, 1)]


KIT = (Path(__file__).parents[2] / "notebooks" / "vent_drive.toml").read_text(encoding="utf-8")


def main():
    from gearlab import Gear, InternalGear, Mesh, derive, review
    from gearlab.parts.choosing import two_stages

    imports, first = fresh()
    derive("centre_distance", given=["diametral_pitch", "driver_teeth", "driven_teeth"])
    questions = [(asked, given) for given in GIVENS for asked in ASKED if asked not in given]
    new = [(time_, question) for question in questions if (time_ := taken(derive, *question)) is not None]
    again = [taken(derive, *question) for _, question in new]
    answered = {question for _, question in new}
    refused = [
        time_ for question in questions if question not in answered for time_ in [_refusal(derive, question)]
    ]
    Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).numbers
    pairs = [
        taken(lambda n=n: Mesh(Gear(n, module=2.5), Gear(n + 27, module=2.5)).numbers) for n in range(18, 58)
    ]
    rolled = [taken(roll, n) for n in range(18, 38)]  # each a pair of its own, so that nothing is remembered
    in_rings = [
        taken(
            lambda n=n: (
                Mesh(Gear(n, module=2.5), InternalGear(n + 54, module=2.5, tip_shortening=0.75)).numbers
            )
        )
        for n in range(18, 38)
    ]
    aligned = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    areas = [taken(aligned.overlap_area, 0.0, n / 10) for n in range(40)]
    found = [taken(lambda n=n: two_stages(4.37 + 0.83 * n)) for n in range(20)]
    reviews = [taken(review, KIT) for _ in range(20)]
    # each tooth another, so that none is remembered
    outlines = [taken(Gear(60, module=2.5, profile_shift=i / 1000).outline) for i in range(40)]

    table = Table(
        "what",
        "median [ms]",
        "95 of 100 within [ms]",
        "budget [ms]",
        title="theory and shape, processor time",
    )
    rows = [
        ("import gearlab, over numpy and sympy", [imports], 60),
        ("derive for a pair, first in a process", [first], 100),
        (f"derive, a new question ({len(new)} questions)", [time_ for time_, _ in new], 30),
        ("derive, the same question again", again, 1),
        (f"derive, givens that do not reach ({len(refused)} questions)", refused, None),
        ("Mesh with every number", pairs, 1),
        ("one pair rolled on its exact curves: ratio, contact, play, window, interference", rolled, 200),
        ("Mesh in a ring with every number, most of them rolled", in_rings, None),
        ("two-stage trains within 0.1 %, 12 to 120 teeth a side", found, 100),
        ("review of a design", reviews, None),
        ("overlap area of 18 and 45 teeth", areas, None),
        ("outline of a 60-tooth gear", outlines, 1),
    ]
    for what, times, budget in rows:
        times = sorted(times)
        table.add_row(
            what,
            f"{statistics.median(times):.2f}",
            f"{times[min(len(times) - 1, int(0.95 * len(times)))]:.2f}",
            "" if budget is None else str(budget),
        )
    console = Console(width=110)
    console.print(table)
    slowest = sorted(new, key=lambda pair: -pair[0])[:3]
    console.print(
        "slowest new questions: "
        + "; ".join(f"{asked} from {', '.join(given)}: {time_:.0f} ms" for time_, (asked, given) in slowest)
    )


def _refusal(derive, question):
    start = time.process_time()
    with contextlib.suppress(ValueError):
        derive(*question)
    return 1000 * (time.process_time() - start)


if __name__ == "__main__":
    main()
