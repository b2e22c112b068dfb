"""Cut files, read back with ezdxf and measured with shapely (reference libraries).

Where the exact curve is wanted, it is the involute of the handbooks (polar angle of a point of radius r:
pi/2z + inv(phi) - inv(acos(r_b/r)), Machinery's Handbook), not the outline that the files are made from.
"""

import io
import math
import os
import re
import subprocess
import sys
from itertools import pairwise
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from shapely import LineString, Polygon

from gearlab import Gear, InternalGear, Rack
from gearlab.drawing.cutting import COLOURS, LAYERS, gear_cut, plate_cut, rack_cut, ring_cut, sector_cut
from gearlab.parts.made import Keyway

PINION = Gear(18, module=2.5)


def read(cut):
    return ezdxf.read(io.StringIO(cut.dxf()))


def layer(document, name, kind):
    return [one for one in document.modelspace() if one.dxf.layer == name and one.dxftype() == kind]


def corners(entity):
    return np.array([point[:2] for point in entity.get_points()])


def letters(document):
    """The outlines of letters: the closed paths among the marks."""
    return [corners(one) for one in layer(document, "mark", "LWPOLYLINE") if one.closed]


# DXF reference: $INSUNITS 1 in, 4 mm
@pytest.mark.parametrize(
    ("gear", "code", "measurement"), [(PINION, 4, 1), (Gear(18, diametral_pitch=10), 1, 0)]
)
def test_the_file_states_its_unit(gear, code, measurement):
    document = read(gear_cut(gear))
    assert document.header["$INSUNITS"] == code and document.header["$MEASUREMENT"] == measurement
    assert {one.dxf.name for one in document.layers} >= set(LAYERS)


def test_without_a_cut_width_the_path_is_the_gear():
    (outline,) = layer(read(gear_cut(PINION)), "outline", "LWPOLYLINE")
    points = np.array([point[:2] for point in outline.get_points()])
    assert outline.closed and np.hypot(*points.T).max() == pytest.approx(
        PINION.outside_diameter / 2, abs=1e-6
    )
    assert np.hypot(*points.T).min() == pytest.approx(PINION.root_diameter / 2, abs=1e-3)


# A beam of width w along the path leaves the wanted part: the path widened by w/2 to the inside is the gear
# (common practice).
@pytest.mark.parametrize("width", [0.1, 0.18, 0.25])
def test_what_the_beam_leaves_is_the_gear(width):
    document = read(gear_cut(PINION, bore=10.0, cut_width=width, tolerance=1e-4))
    (outline,) = layer(document, "outline", "LWPOLYLINE")
    left = Polygon([point[:2] for point in outline.get_points()]).buffer(-width / 2, quad_segs=32)
    wanted = Polygon(PINION.outline(1e-5))
    assert left.symmetric_difference(wanted).area < 1e-3 * wanted.area / 100
    (hole,) = layer(document, "hole", "CIRCLE")
    assert 2 * hole.dxf.radius + width == pytest.approx(10.0)


def test_a_printed_part_has_its_flanks_drawn_back():
    document = read(gear_cut(PINION, bore=10.0, clearance=0.1))
    (outline,) = layer(document, "outline", "LWPOLYLINE")
    drawn = Polygon([point[:2] for point in outline.get_points()])
    assert drawn.hausdorff_distance(Polygon(PINION.outline())) == pytest.approx(0.1, abs=0.05)
    assert Polygon(PINION.outline()).contains(drawn)
    (hole,) = layer(document, "hole", "CIRCLE")
    assert 2 * hole.dxf.radius == pytest.approx(10.2)


def test_plate_with_two_holes():
    document = read(
        plate_cut(220, 160, [(53.75, 80, 10), (132.5, 80, 10)], "mm", name="plate_220x160x6", cut_width=0.2)
    )
    (outline,) = layer(document, "outline", "LWPOLYLINE")
    box = Polygon([point[:2] for point in outline.get_points()])
    assert box.buffer(-0.1, join_style="mitre").bounds == pytest.approx((0, 0, 220, 160))
    holes = layer(document, "hole", "CIRCLE")
    assert [(one.dxf.center.x, one.dxf.center.y) for one in holes] == [(53.75, 80), (132.5, 80)]
    assert holes[0].dxf.center.distance(holes[1].dxf.center) == pytest.approx(78.75)
    assert document.header.custom_vars.get("note") == "lengths in mm; cut width 0.2 mm taken into account"


def test_svg_has_its_true_size():
    cut = gear_cut(PINION, bore=10.0)
    text = cut.svg()
    width, unit = re.search(r'width="([\d.]+)(mm|in)"', text).groups()
    x, _, box, _ = map(float, re.search(r'viewBox="([^"]+)"', text)[1].split())
    assert unit == "mm" and float(width) == box
    assert box == pytest.approx(50.0, abs=0.2)
    assert 'r="5"' in text and "<title>gear_18T_m2p5</title>" in text


def test_the_same_part_gives_the_same_bytes():
    cut = gear_cut(PINION, bore=10.0, cut_width=0.18)
    assert cut.dxf() == cut.dxf() and cut.svg() == cut.svg()


def test_another_process_gives_the_same_bytes():
    """Sets have another order there."""
    code = (
        "from gearlab import Gear\nfrom gearlab.drawing.cutting import gear_cut\n"
        "print(gear_cut(Gear(18, module=2.5), bore=10.0, cut_width=0.18).dxf())"
    )
    written = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(written) == 1 and b"LWPOLYLINE" in written.pop()


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: gear_cut(PINION, cut_width=3.0), r"cut_width 3 mm is out of range: give 0 to 1.963 mm"),
        (lambda: gear_cut(PINION, cut_width=-0.1), "cut_width -0.1 mm is out of range"),
        (lambda: gear_cut(PINION, clearance=1.5), "clearance 1.5 mm is out of range"),
        (lambda: gear_cut(PINION, bore=39.0), "bore 39 mm is out of range"),
        (lambda: plate_cut(100, 50, [(98, 20, 10)], "mm"), "breaks through the edge"),
        (lambda: plate_cut(100, 50, [(50, 20, 0.1)], "mm", cut_width=0.2), "less than the hole of 0.1 mm"),
    ],
)
def test_what_cannot_be_cut_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()


@pytest.mark.parametrize(
    "name",
    ["pinion_18T_m2p5_bore10_L27", "w", "a part with quite a long name, as they are given in workshops"],
)
@pytest.mark.parametrize(("teeth", "bore"), [(18, 10.0), (45, 10.0), (10, 8.0), (18, 30.0), (80, None)])
def test_the_name_is_marked_on_the_body_and_clear_of_bore_and_teeth(name, teeth, bore):
    gear = Gear(teeth, module=2.5)
    document = read(gear_cut(gear, bore=bore, name=name))
    assert document.header.custom_vars.get("part") == name and not document.modelspace().query("TEXT")
    points = np.vstack(letters(document))
    (left, low), (right, high) = points.min(axis=0), points.max(axis=0)
    corners = [np.hypot(x, y) for x in (left, right) for y in (low, high)]
    assert max(corners) < gear.root_diameter / 2 and -high > (bore or 0) / 2
    # as large as the room between bore and root circle lets it: no larger type would fit without leaving it
    room = gear.root_diameter / 2 - (bore or 0) / 2
    assert high - low <= room
    if room > 12 and len(name) <= 30:
        assert high - low > 0.3, "still legible where there is room"


def test_a_thin_rim_bears_no_name_and_the_file_is_made_all_the_same():
    """A rim of 2.125 mm, from a bore of 102 to a root circle of 106.25 mm, has no room for letters (by hand)."""  # noqa: E501
    document = read(gear_cut(Gear(45, module=2.5), bore=102.0))
    assert not letters(document) and document.header.custom_vars.get("part") == "gear_45T_m2p5"


def inv(angle):
    return math.tan(angle) - angle


def along(points, parts=7):
    """Points along a closed path, between its corners too."""
    steps = np.linspace(0, 1, parts + 1)[:-1, None]
    return np.vstack([a + steps * (b - a) for a, b in pairwise([*points, points[0]])])


def from_svg(cut, name):
    """The closed paths of a layer as an XML parser reads them, y upwards again."""
    root = ElementTree.fromstring(cut.svg())
    space = "{http://www.w3.org/2000/svg}"
    (group,) = (one for one in root.iter(f"{space}g") if one.get("id") == name)
    paths = [one.get("d") for one in group.iter(f"{space}path") if not one.get("aria-label")]
    return [
        np.array([list(map(float, pair.split(","))) for pair in d.strip("MZ ").split()]) * (1, -1)
        for d in paths
        if d.endswith("Z")
    ]


def flanks_off(points, gear, toothed_angle, by, low, high):
    """Largest distance of the points between two radii from the involute that lies `by` beside the flank."""
    base = gear.pitch_diameter / 2 * math.cos(math.radians(gear.pressure_angle))
    radius, angle = np.hypot(*points.T), np.arctan2(points[:, 1], points[:, 0])
    pitch = 2 * math.pi / gear.teeth
    angle = np.abs((angle + pitch / 2) % pitch - pitch / 2)  # from the middle of the nearest tooth
    part = (radius > low) & (radius < high)
    pressure = np.arccos(base / radius[part])
    # what lies beside an involute is an involute of the same base circle
    exact = toothed_angle + by / base - (np.tan(pressure) - pressure)
    return (radius[part] * np.abs(angle[part] - exact) * np.cos(pressure)).max(), part.sum()


GEARS = [(PINION, 0.18), (Gear(45, module=2.5), 0.0), (Gear(30, diametral_pitch=24), 0.007)]


@pytest.mark.parametrize("tolerance", [None, 0.02, 0.0005])
@pytest.mark.parametrize(("gear", "width"), GEARS)
def test_the_flanks_in_both_files_are_the_involute_within_the_stated_tolerance(gear, width, tolerance):
    inch = gear.unit == "in"
    given = tolerance if tolerance is None or not inch else tolerance / 25
    cut = gear_cut(gear, cut_width=width, tolerance=given)
    # the tolerance that the file states: 0.005 mm, 0.0002 in where nothing else is asked for
    stated = float(re.search(r"points within ([\d.e-]+) (mm|in) of", cut.note)[1])
    assert stated == pytest.approx(given or (0.0002 if inch else 0.005))
    half = math.pi / 2 / gear.teeth + inv(math.radians(gear.pressure_angle))
    (drawn,) = layer(read(cut), "outline", "LWPOLYLINE")
    (shown,) = from_svg(cut, "outline")
    low, high = gear.pitch_diameter / 2, gear.outside_diameter / 2 - stated
    for points in (corners(drawn), shown):
        off, count = flanks_off(along(points), gear, half, width / 2, low, high)
        assert off < stated + (1e-5 if inch else 1e-5) and count > 10 * gear.teeth
        radius = np.hypot(*along(points).T)
        assert radius.max() == pytest.approx(gear.outside_diameter / 2 + width / 2, abs=stated)
        assert radius.min() == pytest.approx(gear.root_diameter / 2 + width / 2, abs=stated)


def test_a_larger_tolerance_takes_fewer_points():
    """Chords leave an arc by the square of their length: 100 times the tolerance, a tenth of the points."""
    fine, coarse = (
        sum(len(path.points) for path in gear_cut(PINION, tolerance=within).paths if path.layer == "outline")
        for within in (2.5e-4, 0.025)
    )
    assert 5 < fine / coarse < 12
    usual = [len(path.points) for path in gear_cut(PINION).paths if path.layer == "outline"]
    assert usual[0] < 60 * PINION.teeth, "150 points a tooth came out once"


# Width and depth of the keyway with the cut on the right side (common practice): what falls out is the path
# drawn in by nothing; the hole is the path widened by half a cut on every side.
@pytest.mark.parametrize(("on", "angle"), [("tooth", 0.0), ("space", -10.0), (None, 0.0)])
@pytest.mark.parametrize("width", [0.0, 0.2])
def test_a_bore_with_its_keyway_is_one_closed_path(on, angle, width):
    cut = gear_cut(PINION, bore=12.0, keyway=Keyway(4.0, 1.8, 20.0, on), cut_width=width, tolerance=5e-4)
    document = read(cut)
    assert not layer(document, "hole", "CIRCLE")
    (path,) = layer(document, "hole", "LWPOLYLINE")
    assert path.closed
    turn = math.radians(-angle)
    points = corners(path) @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    hole = Polygon(points).buffer(width / 2, quad_segs=32)
    assert hole.bounds == pytest.approx((-6.0, -6.0, 7.8, 6.0), abs=1e-3)
    across = hole.intersection(LineString([(7.0, -5), (7.0, 5)]))
    assert across.length == pytest.approx(4.0, abs=1e-6)
    # by hand: the circle, and what the slot has beyond it (segment of half-angle asin(1/3))
    half = math.asin(2 / 6)
    beyond = 4.0 * (7.8 - 6 * math.cos(half)) - 36 * (half - math.sin(half) * math.cos(half))
    assert hole.area == pytest.approx(math.pi * 36 + beyond, abs=0.03)
    assert "keyway under the" in cut.note and ("leaves that open" in cut.note) == (on is None)
    (shown,) = from_svg(cut, "hole")
    assert Polygon(shown).symmetric_difference(Polygon(corners(path))).area < 1e-3


def test_a_ring_is_cut_as_a_hole_with_teeth_in_a_rim():
    """72 teeth of module 2.5: tips on 175 mm, roots on 186.25 mm; flanks are those of the gear of 72 teeth
    (handbooks), seen from the space."""
    ring, width = InternalGear(72, module=2.5), 0.2
    document = read(ring_cut(ring, rim_diameter=210, cut_width=width))
    (rim,) = layer(document, "outline", "CIRCLE")
    assert 2 * rim.dxf.radius - width == pytest.approx(210)
    (hole,) = layer(document, "hole", "LWPOLYLINE")
    points = along(corners(hole))
    radius = np.hypot(*points.T)
    assert 2 * radius.min() + width == pytest.approx(175, abs=0.01)
    assert 2 * radius.max() + width == pytest.approx(186.25, abs=0.01)
    pitch, half = 2 * math.pi / 72, math.pi / 144 + inv(math.radians(20))
    turned = points @ np.array(
        [
            [math.cos(pitch / 2), math.sin(pitch / 2)],
            [-math.sin(pitch / 2), math.cos(pitch / 2)],
        ]
    )  # a space of the ring on the axis
    off, count = flanks_off(turned, ring, half, -width / 2, 88.0, 91.0)
    assert off < 0.005 + 1e-5 and count > 500


def test_a_ring_without_a_stated_rim_gets_one_and_says_so():
    """AGMA 2101-D04 (from memory): a rim of 1.2 times the whole depth carries as a solid one."""
    cut = ring_cut(InternalGear(72, module=2.5))
    assert 2 * cut.rounds[0].radius == pytest.approx(186.25 + 2 * 1.2 * 5.625)
    assert "no rim_diameter is given" in cut.note


def test_a_rack_measured_back():
    """Pitch pi m, flanks at 20 degrees, 2.25 m high on a back of 5 m less 1.25 m (ISO 53:1998)."""
    width, rack = 0.2, Rack(12, module=2.5)
    (path,) = layer(read(rack_cut(rack, cut_width=width, tolerance=5e-4)), "outline", "LWPOLYLINE")
    left = Polygon(corners(path)).buffer(-width / 2, quad_segs=32)
    x0, y0, x1, y1 = left.bounds
    assert (x1 - x0, y0, y1) == pytest.approx((12 * math.pi * 2.5, -12.5, 2.5), abs=1e-3)
    for height in (-1.5, 0.0, 1.5):
        teeth = left.intersection(LineString([(-50, height), (150, height)])).geoms
        widths = [one.length for one in teeth]
        wanted = math.pi * 2.5 / 2 - 2 * height * math.tan(math.radians(20))
        assert len(widths) == 12 and widths == pytest.approx([wanted] * 12, abs=2e-3)


def test_a_sector_has_its_whole_teeth_and_nothing_beyond_its_angles():
    """45 teeth stand every 8 degrees: from -44 to 44 there are 11 whole ones, from -40 to 40 (by hand)."""
    gear, width = Gear(45, module=2.5), 0.2
    cut = sector_cut(gear, -44, 44, bore=10, hub_diameter=30, cut_width=width, tolerance=5e-4)
    document = read(cut)
    (path,) = layer(document, "outline", "LWPOLYLINE")
    left = Polygon(corners(path)).buffer(-width / 2, quad_segs=32)
    middles = np.radians(np.arange(45) * 8.0)
    from shapely import Point

    at = gear.pitch_diameter / 2
    there = [left.contains(Point(at * math.cos(a), at * math.sin(a))) for a in middles]
    assert sum(there) == 11 and all(there[:6])
    whole = Polygon(gear.outline(1e-5))
    assert left.difference(whole.buffer(2e-3)).area < 1e-3
    assert not left.contains(Point(-20, 0)) and left.contains(Point(-14.5, 0))  # the hub of 30 mm
    (bore,) = layer(document, "hole", "CIRCLE")
    assert 2 * bore.dxf.radius + width == pytest.approx(10)


def test_layers_have_colours_of_their_own_and_those_asked_for():
    document = read(gear_cut(PINION, bore=10.0).with_colours({"hole": "#102030"}))
    assert tuple(document.layers.get("hole").rgb) == (16, 32, 48)
    mark = tuple(document.layers.get("mark").rgb)
    assert mark == tuple(int(COLOURS["mark"][k : k + 2], 16) for k in (1, 3, 5))
    assert len({document.layers.get(name).dxf.color for name in LAYERS}) == 3  # for readers of numbers alone
    cut = gear_cut(PINION, bore=10.0).with_colours({"hole": "#102030"})
    assert 'id="hole" fill="none" stroke="#102030"' in cut.svg() and len(set(COLOURS.values())) == 3


def test_words_are_paths_in_both_files():
    cut = gear_cut(PINION, bore=10.0, name="O8")
    document = read(cut)
    assert len(letters(document)) == 2 + 3, "an O has an edge and a hole, an 8 an edge and two"
    assert "<text" not in cut.svg() and 'aria-label="O8"' in cut.svg()


def test_every_file_says_its_verdict_and_a_line_of_care():
    cut = gear_cut(PINION)
    document = read(cut)
    told = {word: document.header.custom_vars.get(word) for word in ("verdict", "care")}
    assert "not reviewed" in told["verdict"] and "Gears pinch" in told["care"]
    text = ElementTree.fromstring(cut.svg()).find("{http://www.w3.org/2000/svg}desc").text
    assert told["verdict"] in text and told["care"] in text


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: gear_cut(PINION, tolerance=0.0), "tolerance 0 mm is out of range"),
        (lambda: gear_cut(PINION, tolerance=1.0), "give 5e-09 to 0.125 mm"),
        (lambda: gear_cut(PINION, bore=10, keyway=Keyway(12, 1, 9)), "keyway_width 12 mm is out of range"),
        (lambda: gear_cut(PINION, bore=10, keyway=Keyway(3, 15, 9)), "there is 14.38 mm"),
        (
            lambda: ring_cut(InternalGear(72, module=2.5), rim_diameter=186),
            "give more than the root diameter",
        ),
        (lambda: sector_cut(PINION, 3, 6), "there is no whole tooth"),
        (lambda: sector_cut(PINION, 0, 360), "by less than 360 deg"),
        (lambda: sector_cut(PINION, 0, 90, bore=10, hub_diameter=40), "hub_diameter 40 mm is out of range"),
        (lambda: rack_cut(Rack(12, module=2.5), clearance=2), "clearance 2 mm is out of range"),
        (
            lambda: gear_cut(PINION).with_colours({"holes": "#000000"}),
            "layer 'holes' of a colour is not known",
        ),
        (lambda: gear_cut(PINION).with_colours({"hole": "red"}), "colour 'red' of the layer hole"),
    ],
)
def test_what_else_cannot_be_cut_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
