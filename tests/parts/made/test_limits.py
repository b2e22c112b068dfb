"""Limits of what is measured over teeth, for a wanted play: taken back to that play by formulas worked here.

From a span or a size over pins the thickness is worked back (ISO 21771, formulas of the trade), and from the
thicknesses of both gears the play on the operating pitch circles at the spacing of the holes.
"""

import math

import pytest

from gearlab.parts.design import Design
from gearlab.parts.made import tooth_data

RING = {"internal": True, "rim_diameter": 150}


def inv(angle):
    return math.tan(angle) - angle


def angle_of(value):
    """The angle whose involute is given, by halving."""
    low, high = 0.0, 1.5
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if inv(middle) < value else (low, middle)
    return low


class Cut:
    """A gear as a formula sees it: its thinning worked back from what was measured."""

    def __init__(self, teeth, module, shift=0.0, pressure_angle=20.0, internal=False):
        self.teeth, self.module, self.shift, self.internal = teeth, module, shift, internal
        self.angle = math.radians(pressure_angle)
        self.diameter = teeth * module
        self.base = self.diameter * math.cos(self.angle)
        self.full = module * (math.pi / 2 + 2 * shift * math.tan(self.angle))

    def thickness_by_span(self, size, over):
        plain = self.module * math.cos(self.angle) * (math.pi * (over - 0.5) + self.teeth * inv(self.angle))
        plain += 2 * self.shift * self.module * math.sin(self.angle)
        return self.full - (plain - size) / math.cos(self.angle)

    def thickness_by_pins(self, size, pin):
        lean = math.cos(math.pi / 2 / self.teeth) if self.teeth % 2 else 1.0
        across = (size + pin if self.internal else size - pin) / lean
        at = inv(math.acos(self.base / across))
        pitch = math.pi * self.module
        if self.internal:  # inv at the pin = space/d + inv - pin/base diameter
            return pitch - self.diameter * (at - inv(self.angle) + pin / self.base)
        return self.diameter * (at - inv(self.angle) - pin / self.base) + pitch


def play(first, second, thicknesses, distance):
    """Play on the operating pitch circles: pitch there less both thicknesses there."""
    way = -1 if second.internal else 1
    apart = (second.teeth + way * first.teeth) * first.module / 2
    working = math.acos(apart * math.cos(first.angle) / distance)
    share = distance / apart
    there = 0.0
    for cut, thick in zip((first, second), thicknesses):
        opening = inv(cut.angle) - inv(working)
        diameter = cut.diameter * share
        there += diameter * (thick / cut.diameter + (-opening if cut.internal else opening))
    return math.pi * first.module * share - there


def drive(first, second, distance, unit="mm", **mesh):
    """Two gears on a plate, so far apart."""
    far = 1e3 if unit == "mm" else 40
    like = {"face_width": far / 100, "bore": far / 200}
    return Design(
        design={"name": "two", "unit": unit},
        plate={"length": far, "height": far, "thickness": far / 100},
        shaft=[
            {"name": name, "x": far / 2 + x, "y": far / 2, "diameter": far / 200}
            for name, x in (("a", 0), ("b", distance))
        ],
        gear=[
            {"name": "one", "shaft": "a", **like, **first},
            {"name": "two", "shaft": "b", **like, **second},
        ],
        mesh=[{"driver": "one", "driven": "two", **mesh}],
    )


# teeth, shift and thinning of both, module [mm] or 1/P [in]; distance, least and most play [modules]
CASES = {
    "plain": ((18, 0, 0.02), (45, 0, 0.02), 2.5, 31.5, 0.024, 0.064),
    "unlike thinning": ((18, 0, 0.0), (45, 0, 0.06), 2.5, 31.5, 0.024, 0.064),
    "all of it on one": ((20, 0, 0.0), (40, 0, 0.1), 2.0, 30.0, 0.02, 0.04),
    "shifted": ((14, 0.3, 0.01), (45, 0.1, 0.02), 2.5, 29.9, 0.03, 0.08),
    "spread holes": ((18, 0, 0.0), (45, 0, 0.0), 2.5, 31.62, 0.1, 0.2),
    "odd counts": ((19, 0, 0.02), (37, 0, 0.02), 3.0, 28.02, 0.03, 0.07),
    "inch": ((24, 0, 0.02), (60, 0, 0.02), 1 / 24, 42.05, 0.05, 0.12),
    "ring": ((20, 0, 0.01), (100, 0, 0.01), 2.0, 40.0, 0.03, 0.06),
    "odd ring": ((21, 0, 0.01), (101, 0, 0.0), 2.0, 40.0, 0.03, 0.06),
}


@pytest.mark.parametrize("name", CASES)
def test_both_at_their_limits_have_the_play_that_is_wanted(name):
    *gears, module, apart, least, most = CASES[name]
    unit = "in" if module < 0.5 else "mm"
    size = {"module": module} if unit == "mm" else {"diametral_pitch": round(1 / module)}
    tables = [
        {"teeth": teeth, "profile_shift": shift, "tooth_thinning": thin * module, **size}
        for teeth, shift, thin in gears
    ]
    # 25 degrees: at 20 the tips of a ring of full depth foul the rounds at its pinion's roots
    angle = 25.0 if "ring" in name else 20.0
    tables = [{**table, "pressure_angle": angle} for table in tables]
    cuts = [Cut(teeth, module, shift, angle, "ring" in name and teeth > 50) for teeth, shift, _ in gears]
    if "ring" in name:
        tables = [tables[0], {**tables[1], **RING, "rim_diameter": 240}]
    wanted = {"least_backlash": least * module, "most_backlash": most * module}
    design = drive(*tables, apart * module, unit, **wanted)
    worked = {"low": [], "high": []}
    for gear, cut in zip(("one", "two"), cuts):
        data = tooth_data(design, gear)
        assert data.measures
        for end in worked:
            found = []
            for measure in data.measures:
                value = getattr(measure, end)
                if measure.how.startswith("span"):
                    found.append(cut.thickness_by_span(value, int(measure.how.split()[2])))
                else:
                    found.append(cut.thickness_by_pins(value, float(measure.how.split()[-2])))
            # span and pins speak of the same tooth
            assert max(found) - min(found) < 2e-6 * module
            # a ring's size between pins grows as its teeth get thinner
            worked[{"low": "high", "high": "low"}[end] if cut.internal else end].append(found[0])
    assert play(*cuts, worked["low"], apart * module) == pytest.approx(most * module, abs=3e-6 * module)
    loosest = play(*cuts, worked["high"], apart * module)
    if name == "spread holes":  # no tooth is made thicker than it is drawn without thinning
        drawn = play(*cuts, [cut.full for cut in cuts], apart * module)
        assert loosest == pytest.approx(max(least * module, drawn), abs=3e-6 * module)
    else:
        assert loosest == pytest.approx(least * module, abs=3e-6 * module)


def test_a_spacing_that_leaves_more_than_is_wanted_gives_no_limits():
    """A module too far apart: the play is 2 tan 20 of it at least, whatever the teeth (geometry)."""
    size = {"module": 2.0}
    design = drive({"teeth": 20, **size}, {"teeth": 40, **size}, 61.0, least_backlash=0.05, most_backlash=0.1)
    data = tooth_data(design, "one")
    assert all(measure.low is None for measure in data.measures)
    assert "none" in dict(data.rows)["limits"]


def test_an_idler_suits_both_its_mates():
    """Its limits are those that both meshes allow: the tighter least, the tighter most."""
    size = {"module": 2.0, "face_width": 10, "bore": 6}
    names = ("a", "b", "c")
    design = Design(
        design={"name": "three"},
        plate={"length": 300, "height": 100, "thickness": 6},
        shaft=[{"name": name, "x": 60 + 60 * k, "y": 50, "diameter": 6} for k, name in enumerate(names)],
        gear=[{"name": name.upper(), "shaft": name, "teeth": 30, **size} for name in names],
        mesh=[
            {"driver": "A", "driven": "B", "least_backlash": 0.06, "most_backlash": 0.2},
            {"driver": "B", "driven": "C", "least_backlash": 0.1, "most_backlash": 0.24},
        ],
    )
    cut, span = Cut(30, 2.0), tooth_data(design, "B").measures[0]
    over = int(span.how.split()[2])
    thin = [cut.full - cut.thickness_by_span(size, over) for size in (span.high, span.low)]
    assert thin == pytest.approx([0.05, 0.1], abs=1e-9)  # halves of 0.1 and 0.2
    assert [word for word, _ in tooth_data(design, "B").rows].count("mate") == 2


def test_a_measured_spacing_takes_the_drawn_one_s_place():
    """0.1 mm nearer: 2 tan 20 of it less play, so both spans grow by half of that times cos 20 (nearly)."""
    size = {"module": 2.5, "tooth_thinning": 0.1}
    wanted = {"least_backlash": 0.1, "most_backlash": 0.2}
    design = drive({"teeth": 18, **size}, {"teeth": 45, **size}, 78.75, **wanted)
    near = design.with_(
        measured={
            "one with two hole_spacing": {
                "part": "one with two",
                "quantity": "hole_spacing",
                "value": 78.65,
                "reads_to": 0.02,
            }
        }
    )
    before, after = (tooth_data(one, "one").measures[0] for one in (design, near))
    angle = math.radians(20)
    assert before.low - after.low == pytest.approx(0.1 * math.tan(angle) * math.cos(angle), abs=5e-4)
    assert dict(tooth_data(near, "one").rows)["spacing of its holes"] == "78.65 mm, as measured"


@pytest.mark.parametrize(
    ("size", "more", "take", "why"),
    [
        ({"module": 2.5}, {}, "span", "no pins"),
        ({"module": 0.6}, {"face_width": 5}, "over pins", "too small for jaws"),
        ({"module": 2.5}, {"face_width": 2}, "over pins", "too narrow"),
        ({"module": 2.0}, RING, "between pins", "inside a ring"),
    ],
)
def test_which_measure_to_take_and_why(size, more, take, why):
    teeth = 61 if more is RING else 45
    design = drive({"teeth": 20, **size}, {"teeth": teeth, **size, **more}, (teeth + 20) / 2 * size["module"])
    data = tooth_data(design, "two")
    assert data.take.startswith(take) and why in data.why
    assert ("half a pitch off opposite" in data.why) == (take != "span")
