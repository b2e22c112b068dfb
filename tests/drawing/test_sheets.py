"""True-size sheets: lengths measured in the PDF's own units, tiles that meet, the same bytes twice."""

import re
import zlib

import numpy as np
import pytest

from gearlab import Gear
from gearlab.drawing import sheets
from gearlab.drawing.axes import draw
from gearlab.drawing.scene import Scene
from gearlab.drawing.shapes import Circle, Label, Line
from gearlab.drawing.views.hub import stack
from gearlab.drawing.workshop import gear_drawing
from gearlab.parts.made import GearPart, Limits, ToothData

POINTS_PER_INCH = 72  # user space of PDF: ISO 32000-1:2008, 8.3.2.3
BAR = Scene(
    (Line((0.0, 0.0), (130.0, 0.0), "construction"), Circle((0, 0), 30.0, "hole")),
    "A bar of 130 mm.",
    title="bar",
)


def strokes(pdf: bytes) -> list[np.ndarray]:
    """Straight strokes (two points each) of every page, in the file's own units."""
    found = []
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.S):
        try:
            text = zlib.decompress(stream).decode("latin-1")
        except zlib.error:
            continue
        for start, end in re.findall(r"^([-\d.]+ [-\d.]+) m\n([-\d.]+ [-\d.]+) l\n+(?:S|s|h)", text, re.M):
            found.append(np.array([list(map(float, start.split())), list(map(float, end.split()))]))
    return found


@pytest.mark.parametrize("paper", sheets.PAPERS)
def test_check_lines_are_100_mm_and_4_in_long(paper):
    lengths = [np.hypot(*(stroke[1] - stroke[0])) for stroke in strokes(sheets.pdf([BAR], paper))]
    for wanted in (100 / 25.4, 4.0, 130 / 25.4):  # both check lines, and the drawn bar itself
        assert any(abs(length / POINTS_PER_INCH - wanted) < 1e-4 for length in lengths), wanted


def test_a_scene_in_inches_has_its_true_size_too():
    bar = Scene(
        (Line((0.0, 0.0), (3.15, 0.0), "construction"), Circle((0, 0), 1.0, "hole")),
        "A bar of 3.15 in.",
        unit="in",
    )
    assert any(
        abs(np.hypot(*(stroke[1] - stroke[0])) / POINTS_PER_INCH - 3.15) < 1e-4
        for stroke in strokes(sheets.pdf([bar]))
    )


def drawn(teeth, bore=10.0):
    """The first page of a gear's drawing: of a large one its face alone."""
    part = GearPart("gear", Gear(teeth, module=2.5), 12.0, Limits(bore))
    return gear_drawing(part, ToothData((), (), ""))[0]


# ISO 216; ANSI/ASME Y14.1
@pytest.mark.parametrize(("paper", "size"), [("A4", (210 / 25.4, 297 / 25.4)), ("Letter", (8.5, 11.0))])
def test_pages_have_the_size_of_the_paper(paper, size):
    (page,) = sheets.pages(drawn(18), paper)
    assert sorted(page.get_size_inches()) == pytest.approx(sorted(size), abs=1e-9)


def test_the_same_scenes_give_the_same_bytes():
    scenes = [drawn(18), BAR]
    assert sheets.pdf(scenes) == sheets.pdf(scenes)


@pytest.mark.parametrize("teeth", [18, 45, 96, 150])
def test_tiles_cover_the_gear_and_share_their_overlap(teeth):
    scene = drawn(teeth)
    page, parts = sheets.tiles(scene)
    x0, y0, x1, y1 = scene.bounds
    assert min(t.left for t in parts) < x0 and max(t.left + t.width for t in parts) > x1
    assert min(t.bottom for t in parts) < y0 and max(t.bottom + t.height for t in parts) > y1
    for tile in parts:
        assert tile.width <= page[0] - 2 * sheets.MARGIN + 1e-9
        right = [t for t in parts if t.row == tile.row and t.column == tile.column + 1]
        assert all(tile.left + tile.width - t.left == pytest.approx(sheets.OVERLAP) for t in right)
        below = [t for t in parts if t.column == tile.column and t.row == tile.row + 1]
        assert all(t.bottom + t.height - tile.bottom == pytest.approx(sheets.OVERLAP) for t in below)
    assert len(parts) == 1 or max(x1 - x0, y1 - y0) > min(page) - 2 * sheets.MARGIN - sheets.FOOT


def test_an_unknown_paper_is_refused():
    with pytest.raises(ValueError, match="'A3' is unknown: use A4 or Letter"):
        sheets.pdf([BAR], "A3")


def test_a_bore_that_leaves_no_gear_is_refused():
    with pytest.raises(ValueError, match="bore 40 mm is out of range"):
        drawn(18, bore=40.0)


def test_words_do_not_run_on_beyond_their_tile():
    scene = Scene(
        (Line((0, 0), (300, 0), "construction"), Label((150, 0), "a label on the line where two tiles meet")),
        "A long line with a label.",
    )
    for page in sheets.pages(scene):
        window = page.axes[0]
        assert all(text.get_clip_box() is not None and text.get_clip_on() for text in window.texts)


def test_a_long_name_stays_on_the_page():
    (page,) = sheets.pages(
        Scene((Circle((0, 0), 30.0, "hole"),), "A hole.", title=" ".join(["a long name"] * 7))
    )
    words = max(page.axes[1].texts, key=lambda text: len(text.get_text()))
    assert words.get_window_extent(page.canvas.get_renderer()).x1 < page.bbox.x1 * (1 - sheets.MARGIN / 210)


# Lengths of the vent drive's shaft by hand; 0.0625 and 0.625 in are what stands in the file, not 0.06 and
# 0.62.
@pytest.mark.parametrize(
    ("unit", "lengths"),
    [
        ("mm", (8.5, 6, 1.5, 13, 12, 3)),
        ("mm", (8.5, 6, 0.125, 13, 12, 0.5)),
        ("in", (0.4, 0.25, 0.0625, 0.5, 0.625, 0.1)),
    ],
)
def test_every_piece_on_a_stack_sheet_has_its_length_and_no_words_overlap(unit, lengths):
    names = ("collar", "plate", "gap", "hub", "face", "end")
    heights = (18, 40, 16, 32, 117.5, 10)
    scale = 1 if unit == "mm" else 1 / 25.4
    scene = stack(
        [
            (name, length, height * scale, "washer" if name == "gap" else name)
            for name, length, height in zip(names, lengths, heights)
        ],
        sum(lengths),
        shaft_diameter=10 * scale,
        unit=unit,
        width=sum(lengths) / scale * 96 / 25.4 + 48,
    )
    assert [shape.text for shape in scene.having("note", Label)] == [
        f"{name}\n{length:g}" for name, length in zip(names, lengths)
    ]
    ax = draw(scene)
    ax.figure.set_size_inches(scene.width / 96, ax.figure.get_figheight())
    boxes = [
        text.get_window_extent(ax.figure.canvas.get_renderer())
        for text in ax.texts
        if "\n" in text.get_text()
    ]
    assert all(one.x1 < two.x0 for one, two in zip(boxes, boxes[1:]))
    assert boxes[0].x0 >= 0 and boxes[-1].x1 <= ax.figure.bbox.x1
