"""The test piece: cut or printed in numbers by shapely, then read as at the bench."""

import math
import re

import numpy as np
import pytest
from shapely import LineString, Polygon

from gearlab.drawing import sheets
from gearlab.drawing.cutting import piece_drawing, trial_pieces

SHAFTS = {"mm": [10.0, 6.0], "in": [0.375]}


def comb_and_peg(file):
    comb, peg = (Polygon(path.points) for path in file.paths if path.layer == "outline")
    return comb, peg


def number_at(file, x, y):
    """The number that stands nearest below a place."""
    below = [words for words in file.words if re.fullmatch(r"[\d.]+", words.text) and words.at[1] < y]
    nearest = min(below, key=lambda words: math.dist(words.at, (x, y)))
    return float(nearest.text)


def slots(comb, low):
    """Places and widths of the slots across a level line."""
    left, _, right, _ = comb.bounds
    walls = sorted(part.bounds for part in comb.intersection(LineString([(left, low), (right, low)])).geoms)
    return [((a[2] + b[0]) / 2, b[0] - a[2]) for a, b in zip(walls, walls[1:])]


def tongue(peg):
    """Width of the peg's tongue, near its lower end."""
    left, low, right, _ = peg.bounds
    level = low + (right - left) / 8
    return peg.intersection(LineString([(left, level), (right, level)])).length


# A beam of width k takes half of it from either side of its path; a print grows by g on every surface.
@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize(
    ("which", "change", "mm", "inch"),
    [(0, -0.5, (0.1, 0.175, 0.3), (0.004, 0.007)), (1, 1.0, (0.0, 0.1), (0.004,))],
)
def test_the_peg_and_the_shaft_read_what_the_machine_does(unit, which, change, mm, inch):
    file = trial_pieces(unit, SHAFTS[unit])[which].file
    comb, peg = comb_and_peg(file)
    for amount in mm if unit == "mm" else inch:
        by = change * amount  # how far every surface moves outwards
        real_comb, real_peg = (shape.buffer(by, join_style="mitre") for shape in (comb, peg))
        scale = 1.0 if unit == "mm" else 1 / 25
        room = [(abs(width - tongue(real_peg)), x) for x, width in slots(real_comb, -5 * scale)]
        assert min(room)[0] < 1e-9
        assert number_at(file, min(room)[1], -9 * scale) == pytest.approx(amount)
        for shaft in SHAFTS[unit]:
            drawn = [one for one in file.rounds if abs(2 * one.radius - shaft) < 0.1 * shaft]
            best = min(drawn, key=lambda one: abs(2 * (one.radius - by) - shaft))
            assert 2 * (best.radius - by) == pytest.approx(shaft)
            assert number_at(file, *best.centre) == pytest.approx(amount)


def test_the_strips_pushed_to_one_side_leave_eleven_widths_of_cut():
    file, width = trial_pieces("mm", [10.0])[0].file, 0.17
    (window,) = (Polygon(path.points) for path in file.paths if path.layer == "hole" and path.closed)
    lines = [LineString(path.points) for path in file.paths if path.layer == "hole" and not path.closed]
    cut = window.exterior.buffer(width / 2, join_style="mitre")
    for line in lines:
        cut = cut.union(line.buffer(width / 2, cap_style="flat"))
    strips = window.difference(cut).geoms
    opening = window.buffer(width / 2, join_style="mitre").bounds
    gap = opening[2] - opening[0] - sum(strip.bounds[2] - strip.bounds[0] for strip in strips)
    assert len(strips) == 10 and gap / 11 == pytest.approx(width)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("shafts", [[], [0.25], [0.5, 0.375, 1.0]])
def test_nothing_on_the_piece_runs_into_anything_else(unit, shafts):
    shafts = [shaft * (25.4 if unit == "mm" else 1) for shaft in shafts]
    for piece in trial_pieces(unit, shafts):
        file = piece.file
        comb, peg = comb_and_peg(file)
        holes = [Polygon(path.points) for path in file.paths if path.layer == "hole" and path.closed]
        angles = np.linspace(0, 2 * np.pi, 60)
        holes += [
            Polygon(np.column_stack([np.cos(angles), np.sin(angles)]) * one.radius + one.centre)
            for one in file.rounds
        ]
        words = [Polygon(path.points) for path in file.lettering]
        assert not comb.intersects(peg) and comb.is_valid
        assert all(comb.buffer(-0.01).contains(one) for one in [*holes, *words])
        assert all(not a.intersects(b) for k, a in enumerate(holes) for b in holes[k + 1 :])
        assert all(not hole.intersects(letter) for hole in holes for letter in words)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_sheet_bears_the_sentence_with_the_option(unit, paper):
    for piece, option in zip(trial_pieces(unit, SHAFTS[unit]), ("--cut-width", "--clearance")):
        assert option in piece.says and option in piece.file.note
        scene = piece_drawing(piece)
        told = " ".join(shape.text for shape in scene.shapes if hasattr(shape, "text"))
        assert told.endswith(piece.says) and all(words.text in told for words in piece.file.words)
        assert len(list(sheets.pages(scene, paper))) == 1


def test_a_shaft_thinner_than_its_steps_is_refused():
    with pytest.raises(ValueError, match="a shaft of 1 mm has no test piece"):
        trial_pieces("mm", [1.0])
