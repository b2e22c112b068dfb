"""Figures with the letters of a derivation: the letters are theory's, nothing lies on anything else."""

import itertools
import re
from xml.etree import ElementTree

import pytest

from gearlab import Gear, Mesh, derive
from gearlab.drawing import style
from gearlab.drawing.figures.figure import _FIGURES, figure
from gearlab.drawing.shapes import Dimension, Label
from gearlab.drawing.style import width_of
from gearlab.drawing.svg import dimension_parts
from gearlab.theory.printing import symbol_text
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.smallsteps import LETTERS
from gearlab.widgets import figure as handed_on

ONE_OF_EACH = {view: word for word, view in reversed(_FIGURES.items())}
# what each lesson from 01 to 16 derives first and last: a figure must belong to every one
OF_THE_LESSONS = [
    ("pitch_diameter", ["teeth", "module"]),
    ("circular_pitch", ["module"]),
    ("whole_depth", ["module"]),
    ("centre_distance", ["driver_teeth", "driven_teeth", "module"]),
    ("driven_speed", ["driver_teeth", "driven_teeth", "driver_speed"]),
    ("third_speed", ["first_teeth", "second_teeth", "third_teeth", "first_speed"]),
    ("train_ratio", ["first_teeth", "second_teeth", "third_teeth", "fourth_teeth"]),
    ("base_diameter", ["teeth", "module", "pressure_angle"]),
    ("involute_angle", ["pressure_angle"]),
    ("separating_force", ["tangential_force", "pressure_angle"]),
    ("two_pair_share", ["length_of_action", "base_pitch"]),
    ("least_teeth_with_rack", ["pressure_angle"]),
    ("quick_backlash", ["distance_opening", "pressure_angle"]),
    ("backlash", ["centre_distance", "pressure_angle", "operating_pressure_angle"]),
    ("driven_mark_angle", ["driver_teeth", "driven_teeth", "line_angle", "driver_mark_angle"]),
    ("other_hole_x", ["hole_x", "centre_distance", "line_angle"]),
    ("shaft_length", ["behind_plate", "plate_thickness", "axial_gap", "overall_length", "end_length"]),
    ("largest_hub", ["teeth", "module", "hub_room"]),
    ("bending_stress", ["driver_torque", "driver_teeth", "module", "face_width", "form_factor"]),
    ("mounting_height", ["teeth", "module", "rack_pitch_height"]),
    ("cone_distance", ["driver_teeth", "driven_teeth", "module"]),
    ("carrier_speed", ["sun_teeth", "ring_teeth", "sun_speed", "ring_speed"]),
    ("driver_teeth", ["centre_distance", "module", "ratio"]),
    ("span", ["module", "teeth", "pressure_angle", "span_teeth"]),
    ("opening_angle", ["rack_travel", "joint_distance"]),
]


def _labels(scene):
    for shape in scene.shapes:
        if isinstance(shape, Label):
            yield shape
        elif isinstance(shape, Dimension):
            yield dimension_parts(shape, scene.points_per_unit)[2]


def _box(label, scale):
    text = label.text.replace("\u27e8", "").replace("\u27e9", "")
    size = style.TYPE[label.size]
    wide = width_of(text, size) if label.size == "small" else size * (0.62 + 0.45 * (len(text) - 1))
    x, y = label.at[0] * scale + label.offset[0], label.at[1] * scale + label.offset[1]
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[label.align]
    return left, y - 0.4 * size, left + wide, y + 0.4 * size


@pytest.mark.parametrize("notation", ["inch", "iso"])
@pytest.mark.parametrize("view", ONE_OF_EACH, ids=lambda view: view.__name__)
def test_no_letter_lies_on_another_or_outside_the_picture(view, notation):
    scene = figure(ONE_OF_EACH[view], notation=notation).scene
    scale, boxes = scene.points_per_unit, []
    for label in _labels(scene):
        boxes.append((label.text, _box(label, scale)))
    assert len(boxes) >= 3
    for (one, a), (two, b) in itertools.combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (one, two)
    x0, y0, x1, y1 = scene.bounds
    room = scene.margin[0]
    for text, (left, low, right, high) in boxes:
        assert left > x0 * scale - room and right < x1 * scale + room, text
        assert low > y0 * scale - room and high < y1 * scale + room, text


@pytest.mark.parametrize("view", ONE_OF_EACH, ids=lambda view: view.__name__)
def test_every_letter_is_a_symbol_of_theory_in_the_notation_chosen(view):
    for notation in ("inch", "iso"):
        known = {symbol_text(word, "text", notation).replace("_", "") for word in [*QUANTITIES, *LETTERS]}
        for label in _labels(figure(ONE_OF_EACH[view], notation=notation).scene):
            if label.size != "small":
                assert label.text.replace("\u27e8", "").replace("\u27e9", "") in known, label.text


@pytest.mark.parametrize(("asked", "given"), OF_THE_LESSONS, ids=lambda value: str(value)[:30])
def test_each_derivation_of_a_lesson_has_a_figure_that_shares_its_letters(asked, given):
    way = derive.using(notation="iso", lengths="mm")(asked, given)
    shown = {label.text.replace("\u27e8", "").replace("\u27e9", "") for label in _labels(figure(way).scene)}
    named = {letter.replace("_", "") for letter, _, _ in way.legend()}
    assert shown & named, (shown, named)


def test_path_of_contact_is_drawn_in_true_size():
    mesh = Mesh(Gear(19, diametral_pitch=6), Gear(37, diametral_pitch=6))
    scene = figure("length_of_action", mesh).scene
    lengths = {
        shape.text.replace("\u27e8", "").replace("\u27e9", ""): sum(
            (a - b) ** 2 for a, b in zip(shape.start, shape.end, strict=True)
        )
        ** 0.5
        for shape in scene.shapes
        if isinstance(shape, Dimension)
    }
    assert scene.unit == "in"
    # R. L. Norton, Machine Design, worked gearset of 19 and 37 teeth, P = 6: Z = 0.798 in
    assert abs(lengths["Z"] - 0.798) < 0.001
    assert abs(lengths["e1"] + lengths["e2"] - lengths["Lt"] - lengths["Z"]) < 1e-9


def test_a_figure_takes_its_colours_from_the_page():
    shown = figure("length_of_action")
    picture = ElementTree.fromstring(shown.svg())
    assert picture.get("role") == "img" and len(picture.get("aria-label")) > 60
    assert not re.findall(r'(?:fill|stroke)="#', shown.svg())
    html = shown._repr_html_()
    for name in set(re.findall(r"var\((--gl-[a-z-]+),", shown.svg())):
        assert html.count(f"{name}:") >= 4, name  # light and dark, by page and by reader


def test_a_quantity_without_a_figure_is_told_with_those_that_have_one():
    with pytest.raises(ValueError, match="no figure of contact_time|unknown"):
        figure("contact_time")
    with pytest.raises(ValueError, match="figures show: .*backlash"):
        figure("common_factor")
    assert handed_on is figure
