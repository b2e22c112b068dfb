"""A scene as SVG and on matplotlib Axes: parses, shows what the scene says, readable in light and dark."""

import io
import re
import subprocess
import sys
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from gearlab import drawing
from gearlab.drawing import numerals, style
from gearlab.drawing.axes import png
from gearlab.drawing.scene import Scene
from gearlab.drawing.shapes import Circle, Label
from gearlab.parts import Gear, Mesh

SVG = "{http://www.w3.org/2000/svg}"
DRIVE = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
SCENES = {
    "pair": drawing.pair(DRIVE, driver_speed=15.0, show=("pitch circles", "base circles", "line of action")),
    "circles": drawing.pitch_circles(DRIVE),
    "gear": drawing.gear(DRIVE.driver),
    "tooth": drawing.tooth(DRIVE.driver),
    "strips": drawing.strips(7.854, 7.980, names=("module 2.5", "P 10"), pitch_number=3),
    "spaced": drawing.spaced(DRIVE.driver, DRIVE.driven, 80.0),
}


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("name", SCENES)
def test_svg_parses_and_says_what_it_shows(name, theme):
    scene = SCENES[name]
    root = ElementTree.fromstring(drawing.svg(scene, theme))
    assert root.find(f"{SVG}title").text == scene.text == root.get("aria-label")
    words = {element.text for element in root.iter(f"{SVG}text")}
    assert {
        line
        for shape in scene.shapes
        if isinstance(shape, Label) and shape.room > 1e6
        for line in shape.text.split("\n")
    } <= words
    text = drawing.svg(scene, theme)
    assert "<script" not in text and "<style" not in text and " id=" not in text, (
        "nothing that could leak into a page"
    )
    assert not re.search(r"[ ,\"M]-0(?![.\d])", text), "a negative zero differs between machines"


@pytest.mark.parametrize("name", SCENES)
def test_living_svg_parses_and_is_small(name):
    scene = SCENES[name]
    text = drawing.living_svg(scene)
    root = ElementTree.fromstring(text)
    assert root.get("aria-label") == scene.text
    assert [float(v) for v in root.get("data-bounds").split()] == pytest.approx(scene.bounds, rel=1e-5)
    assert len(text) < 20_000, "one tooth of each gear, not all of them"


def test_a_living_pair_of_many_teeth_is_no_larger():
    few, many = (
        len(drawing.living_svg(drawing.pair(Mesh(Gear(a, module=2.5), Gear(b, module=2.5)))))
        for a, b in ((18, 45), (60, 120))
    )
    assert many < 1.25 * few


def test_svg_coordinates_are_true_size():
    root = ElementTree.fromstring(drawing.svg(SCENES["pair"]))
    pitch = [c for c in root.iter(f"{SVG}circle") if c.get("r") in ("22.5", "56.25")]
    assert {(c.get("cx"), c.get("r")) for c in pitch} == {("0", "22.5"), ("78.75", "56.25")}


def test_words_that_do_not_fit_are_left_out():
    label = Label((0, 0), "a long word in a small hole", room=2.0)
    scene = Scene((Circle((0, 0), 1.0, "hole"), Circle((50, 0), 50.0, "construction"), label), "A hole.")
    assert "long word" not in drawing.svg(scene)
    assert "long word" in drawing.svg(Scene((Circle((0, 0), 1.0, "hole"), label), "A hole."))


def test_text_is_escaped():
    scene = Scene(
        (Circle((0, 0), 1.0, "hole"), Label((0, 0), "<b>&", size="small")),
        'A "hole" <script>alert(1)</script>',
    )
    for text in (drawing.svg(scene), drawing.living_svg(scene)):
        root = ElementTree.fromstring(text)
        assert root.get("aria-label") == scene.text and "<script" not in text


def blended(line, ground, opacity):
    """The colour of a line that lets so much of its ground through."""
    parts = [[int(one[i : i + 2], 16) for i in (1, 3, 5)] for one in (line, ground)]
    return "#" + "".join(f"{round(a * opacity + b * (1 - opacity)):02x}" for a, b in zip(*parts, strict=True))


@pytest.mark.parametrize("theme", style.THEMES)
def test_contrast_of_words_and_lines(theme):
    """WCAG 2.2: 1.4.3 asks 4.5 : 1 for text, 1.4.11 asks 3 : 1 for graphics."""
    for role, look in style.LOOKS.items():
        for of in ("driver", "driven", "gear", ""):
            grounds = [style.THEMES[theme]["paper"]]
            if of:
                grounds.append(style.colour("{of} ground", of, theme))
            for ground in grounds:
                assert style.contrast(style.colour(look.text, of, theme), ground) >= 4.5, (role, of)
                if look.line not in ("", "paper"):
                    line = blended(style.colour(look.line, of, theme), ground, look.opacity)
                    assert style.contrast(line, ground) >= 3.0, (role, of)


def test_the_usual_pair_of_colours():
    assert style.THEMES["light"]["driver"] == "#0072b2" and style.THEMES["light"]["driven"] == "#d55e00"


def test_driver_and_driven_differ_without_colour():
    scene = SCENES["pair"]
    slopes = {}
    for shape in scene.having("hatch"):
        run = shape.points[0][1] - shape.points[0][0]
        slopes[shape.of] = round(float(np.degrees(np.arctan2(run[1], run[0])))) % 180
    assert slopes == {"driver": 45, "driven": 135}
    assert {"A", "B"} <= {shape.text for shape in scene.having("letter")}


def test_unknown_theme_is_refused():
    with pytest.raises(ValueError, match="light, dark"):
        drawing.svg(SCENES["gear"], "sepia")


@pytest.mark.parametrize("name", SCENES)
def test_axes_hold_the_scene_in_true_proportions(name):
    scene = SCENES[name]
    ax = drawing.draw(scene)
    x0, y0, x1, y1 = scene.bounds
    (left, right), (low, high) = ax.get_xlim(), ax.get_ylim()
    assert left <= x0 and right >= x1 and low <= y0 and high >= y1
    assert ax.get_aspect() == 1.0
    drawn = {line for text in ax.texts for line in text.get_text().split("\n")}
    assert {
        line
        for shape in scene.shapes
        if isinstance(shape, Label) and shape.room > 1e6
        for line in shape.text.split("\n")
    } <= drawn


def test_png_has_ink_in_both_themes():
    for theme in style.THEMES:
        picture = np.asarray(
            Image.open(io.BytesIO(png(SCENES["gear"], theme, scale=1.0))).convert("L"), float
        )
        assert picture.shape[1] == 520
        dark = style.THEMES[theme]["paper"] != "#ffffff"
        assert (picture.mean() < 100) == dark and picture.std() > 10


def test_importing_drawing_loads_no_matplotlib():
    code = (
        "import sys, gearlab.drawing; print(any(m.split('.')[0] in ('matplotlib', 'ipywidgets', 'shapely')"
        " for m in sys.modules))"
    )
    assert (
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout.strip()
        == "False"
    )


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (112.5, "mm", "112.50 mm"),
        (3.92699, "mm", "3.927 mm"),
        (9.9996, "mm", "10.00 mm"),
        (-0.05, "mm", "\u22120.050 mm"),
        (0.25, "in", "0.2500 in"),
        (-1e-9, "mm", "0.000 mm"),
    ],
)
def test_lengths_are_written_alike(value, unit, text):
    assert numerals.length(value, unit) == text
