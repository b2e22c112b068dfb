"""Drawings for the workshop: words keep apart and on the page, true size, cones and racks measured back."""

import itertools
import math
import sys
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from matplotlib.backends.backend_agg import RendererAgg

from gearlab import Gear
from gearlab.course.bench.sheets import SHORT_CARE, drawings, pages
from gearlab.drawing import sheets
from gearlab.drawing.scene import Scene
from gearlab.drawing.shapes import Dimension, Label, Outline, Strokes
from gearlab.drawing.workshop import back_cone, bevel_drawing, plate_drawings, rack_drawing, shaft_drawing
from gearlab.parts import BevelPair, Rack
from gearlab.parts.design import Design
from gearlab.parts.made import BevelPart, RackPart, parts_of, plate_part, tooth_data
from gearlab.parts.made.otherdata import bevel_data, rack_data
from gearlab.parts.review import review

sys.path.insert(0, str(Path(__file__).parent))
from workshop_designs import DESIGNS, inch_keys, rack, six_gears  # noqa: E402


@cache
def renderer_of(dots):
    """One renderer for all pages: what stands on many of them is measured once. Words ask it for no size."""
    return RendererAgg(10, 10, dots)


def boxes(page):
    """Bounding boxes of all words that are seen on a page, with the words; a halo is no part of them."""
    renderer = renderer_of(page.dpi)
    for ax in page.axes:
        window = ax.get_window_extent()
        for text in ax.texts:
            box = text.get_window_extent(renderer)
            seen = text.get_visible() and text.get_text().strip()
            if seen and window.x0 < (box.x0 + box.x1) / 2 < window.x1 and window.y0 < box.y1 < window.y1 + 40:
                yield text.get_text(), box, window


@cache
def reviewed(name):
    """A design, its parts and its review, which are the same for every paper."""
    design = DESIGNS[name]()
    return design, parts_of(design), review(design)


@pytest.mark.parametrize("paper", sheets.PAPERS)
@pytest.mark.parametrize("name", DESIGNS)
def test_no_words_lie_on_others_or_run_off_the_page(name, paper):
    """By the boxes of matplotlib's own renderer; one pixel of 100 an inch is let pass."""
    for number, page in enumerate(pages(*reviewed(name), paper)):
        words = list(boxes(page))
        block = " ".join(text for text, _, _ in words)
        assert "review: " in block and "Gears pinch" in block and "rules come" in block, (number, block)
        if "assembly" in [text for text, _, _ in words]:
            continue  # the whole drive is held by its own view's tests
        for text, box, window in words:
            assert box.x0 > window.x0 - 1 and box.x1 < window.x1 + 1, (number, text)
            assert box.y0 > window.y0 - 1 and box.y1 < window.y1 + 1, (number, text)
        for (text, one, _), (other, two, _) in itertools.combinations(words, 2):
            across = min(one.x1, two.x1) - max(one.x0, two.x0)
            up = min(one.y1, two.y1) - max(one.y0, two.y0)
            assert across < 1 or up < 1, (number, text, other)


# -- true size -------------------------------------------------------------------------------------------
def paths(pdf):
    """Every path of a PDF as points, in its own units of 1/72 in (ISO 32000-1, 8.3.2.3)."""
    import re
    import zlib

    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.S):
        try:
            text = zlib.decompress(stream).decode("latin-1")
        except zlib.error:
            continue
        for path in re.findall(r"(?:^[-\d. ]+ [mlc]\n)+", text, re.M):
            found = re.findall(r"([-\d.]+) ([-\d.]+) [mlc]$", path, re.M)
            yield np.array(found, float)


def widths(part, design, paper="A4"):
    (scene,) = [one for one in drawings(design, part, paper) if isinstance(one, Scene)]
    made = sheets.bound(sheets.pages(scene, paper))
    return [np.ptp(points, axis=0) for points in paths(made) if len(points) > 2]


@pytest.mark.parametrize("paper", sheets.PAPERS)
def test_a_gear_s_page_and_the_plate_s_measured_back_from_the_pdf(paper):
    """20 teeth of module 1.5 are 33 mm over the tips; the plate is 200 by 120 mm (by hand)."""
    design, mm = six_gears(), 72 / 25.4
    parts = parts_of(design)
    across = [width / mm for width in widths(parts.of("pinion A"), design, paper)]
    assert any(abs(w - 33) < 2e-3 and abs(h - 33) < 2e-3 for w, h in across)
    plate = [width / mm for width in widths(parts.of("plate_200x120x6"), design, paper)]
    assert any(abs(w - 200) < 2e-3 and abs(h - 120) < 2e-3 for w, h in plate)


def test_a_gear_in_inches_measured_back_from_the_pdf():
    """20 teeth of 10 to the inch are 2.2 in over the tips (by hand)."""
    design = inch_keys()
    across = [width / 72 for width in widths(parts_of(design).of("pinion in"), design, "Letter")]
    assert any(np.allclose(size, 2.2, atol=1e-4) for size in across)


# -- bevel gears -----------------------------------------------------------------------------------------
def bevel(teeth=(20, 20), side=0, **size):
    size = size or {"module": 2.5}
    return BevelPart("corner", BevelPair(*teeth, **size), side, None)


@pytest.mark.parametrize(
    ("part", "diameter"),
    [
        (bevel(), 50),
        (bevel((16, 48), 0, diametral_pitch=8), 2),
        (bevel((16, 48), 1, diametral_pitch=8), 6),
        (bevel((20, 30), 1, module=2, shaft_angle=60), 60),
    ],
)
def test_the_pattern_s_pitch_arc_is_as_long_as_the_large_pitch_circle(part, diameter):
    """The circumference of a circle, against the strokes of the arc added up; teeth are counted."""
    scene = back_cone(part)
    (arc,) = [shape.points[0] for shape in scene.shapes if isinstance(shape, Strokes)]
    assert np.hypot(*np.diff(arc, axis=0).T).sum() == pytest.approx(math.pi * diameter, rel=1e-4)
    edge = next(shape.points for shape in scene.shapes if isinstance(shape, Outline) and shape.closed)
    radii = np.hypot(*edge.T)
    # every tooth has its two corners at the tip circle: counted, not computed
    assert np.sum(radii > radii.max() - 1e-9) == 2 * part.teeth


def test_tredgold_s_teeth_of_a_mitre_pair():
    """Cone 45 degrees: radius 25 sqrt 2, 20 sqrt 2 virtual teeth, half a pitch thick at the pitch circle."""
    part = bevel()
    edge = next(shape.points for shape in back_cone(part).shapes if isinstance(shape, Outline))
    radius = 25 * math.sqrt(2)
    radii, turns = np.hypot(*edge.T), np.unwrap(np.arctan2(*edge.T[::-1]))
    crossings = [
        turns[k] + (turns[k + 1] - turns[k]) * (radius - radii[k]) / (radii[k + 1] - radii[k])
        for k in range(len(edge) - 1)
        if (radii[k] - radius) * (radii[k + 1] - radius) < 0
    ]
    assert len(crossings) == 40
    thick = abs(crossings[1] - crossings[0]) * radius
    assert thick == pytest.approx(math.pi * 2.5 / 2, abs=2e-3)
    # the same tooth as a spur gear's of nearly as many teeth, a little above the pitch circle (another route)
    spur = Gear(28, module=2.5).outline()
    at = 1.5
    ours = _thickness(radii, turns, radius + at)
    theirs = _thickness(np.hypot(*spur.T), np.unwrap(np.arctan2(*spur.T[::-1])), 35 + at)
    assert ours == pytest.approx(theirs, abs=0.01)


def _thickness(radii, turns, at):
    ends = [
        turns[k] + (turns[k + 1] - turns[k]) * (at - radii[k]) / (radii[k + 1] - radii[k])
        for k in range(len(radii) - 1)
        if (radii[k] - at) * (radii[k + 1] - at) < 0
    ]
    return min(abs(b - a) for a, b in zip(ends, ends[1:])) * at


def test_cones_of_a_mitre_pair_by_hand():
    """m 2.5, 20 teeth: A = 25 sqrt 2; tip and root angle from atan(2.5/A) and atan(3.125/A)."""
    rows = dict(bevel_data(BevelPart("driver", BevelPair(20, 20, module=2.5), 0, 10.0, mate="driven")).rows)
    distance = 25 * math.sqrt(2)
    assert rows["cone distance"] == f"{distance:.3f} mm"
    assert rows["face cone angle"] == f"{45 + math.degrees(math.atan(2.5 / distance)):.3f} deg"
    assert rows["root cone angle"] == f"{45 - math.degrees(math.atan(3.125 / distance)):.3f} deg"
    assert rows["outside diameter"] == f"{50 + 2 * 2.5 * math.sqrt(0.5):.3f} mm"
    assert rows["mounting distance"].startswith("25.000 mm") and rows["mate"].startswith("driven")


def test_a_bevel_gear_s_section_says_its_sizes():
    section = bevel_drawing(BevelPart("driver", BevelPair(20, 20, module=2.5), 0, 10.0))[0]
    told = {shape.text for shape in section.shapes if isinstance(shape, (Dimension, Label))}
    assert {"35.355", "10", "25 mounting", "23.232", "45.00\u00b0"} <= told


# -- racks -----------------------------------------------------------------------------------------------
def test_a_rack_measured_with_a_pin_on_its_own_outline():
    """The pin of 4.32 mm is let down into the drawn space until it touches: no formula is used."""
    part = RackPart("rack", Rack(12, module=2.5))
    outline = part.rack.outline(1e-7)
    (measure,) = rack_data(part).measures
    middle, pin = part.rack.circular_pitch / 2, 4.32 / 2
    near = outline[(abs(outline[:, 0] - middle) < middle) & (outline[:, 1] > -part.rack.pitch_height + 1)]
    fine = np.vstack([np.linspace(a, b, 4001) for a, b in zip(near, near[1:])])
    fine = fine[abs(fine[:, 0] - middle) < pin]
    centre = np.max(fine[:, 1] + np.sqrt(pin**2 - (fine[:, 0] - middle) ** 2))
    assert measure.nominal == pytest.approx(part.rack.pitch_height + centre + pin, abs=1e-4)


def test_a_rack_s_drawing_says_its_lengths():
    """30 teeth of module 2.5: 30 x 7.854 = 235.619 mm long, its pinion's axis 12.5 + 22.5 above its back."""
    (part,) = [part for part in parts_of(rack()).parts if part.kind == "rack"]
    face, data = rack_drawing(part)
    told = [shape.text for shape in face.shapes if isinstance(shape, (Dimension, Label))]
    assert {"235.619", "12.5", "35 to the axis of pinion", "10 x 7.854 = 78.54"} <= set(told)
    words = [shape.text for shape in data.shapes if isinstance(shape, Label)]
    assert {"pinion", "200.000 mm, between stops", "15.000 mm", "5.625 mm"} <= set(words)


# -- shafts and plates -----------------------------------------------------------------------------------
def test_a_keyway_lies_on_its_shaft_under_its_gear():
    """Behind 0.375, plate 0.375, gap 0.0625: the gear of 1.25 begins at 0.8125, its key of 0.75 at 1.0625."""
    shaft = parts_of(inch_keys()).of("in")
    scene = shaft_drawing(shaft)
    told = [shape.text for shape in scene.shapes if isinstance(shape, Dimension)]
    assert told[:4] == ["0.375", "1.0625", "1.8125", "2.5"]
    assert any(isinstance(shape, Label) and shape.text == "0.4375" for shape in scene.shapes)  # 0.5 - 0.0625
    cut = next(shape.points for shape in scene.shapes if isinstance(shape, Outline) and shape.role == "hole")
    assert np.allclose(cut.min(0), (1.0625, 0.1875)) and np.allclose(cut.max(0), (1.8125, 0.25))


@pytest.mark.parametrize("paper", sheets.PAPERS)
@pytest.mark.parametrize("name", ["vent drive", "vent drive in inches", "six_gears", "rack"])
def test_a_plate_with_room_has_all_its_words_on_one_page(name, paper):
    design = DESIGNS[name]()
    (scene,) = plate_drawings(plate_part(design), paper)
    words = {shape.text for shape in scene.shapes if isinstance(shape, Label)}
    assert all(any(text.startswith(f"{shaft.name} \u2300") for text in words) for shaft in design.standing)
    assert len(sheets.pages(scene, paper)) == 1


def test_a_planetary_set_says_how_it_comes_together():
    """(24 + 60) / 3 = 28 is whole; of 22 and 56 teeth, 78 / 4 is not: four planets do not go in evenly."""
    rows = dict(tooth_data(DESIGNS["planetary"](), "planetary set planet").rows)
    assert "120 deg apart" in rows["in its set"] and "= 28, they go in evenly" in rows["in its set"]
    assert rows["mates"] == "sun, ring"
    table = {"sun": 22, "planet": 17, "ring": 56, "planets": 4, "module": 2}
    rows = dict(tooth_data(Design(design={"name": "four"}, planetary=table), "planetary set sun").rows)
    assert "= 19.5, not whole" in rows["in its set"]


def test_holes_that_have_no_room_for_their_words_are_numbered_and_listed():
    part = parts_of(DESIGNS["crowd"]()).of("plate_200x80x5")
    words = [
        shape.text
        for drawing in plate_drawings(part)
        for shape in (drawing if isinstance(drawing, Scene) else drawing(1.0)).shapes
        if isinstance(shape, Label)
    ]
    assert {*map(str, range(1, 10)), *(f"shaft {number}" for number in range(1, 10))} <= set(words)
    assert words.count("20 \u00b1 0.05") >= 7


def test_short_care_is_one_line_of_care():
    assert "\n" not in SHORT_CARE
