"""Cut files, read back with ezdxf and measured with shapely (reference libraries)."""

import io
import re

import ezdxf
import numpy as np
import pytest
from ezdxf import bbox
from shapely import Polygon

from gearlab import Gear
from gearlab.drawing.cutting import LAYERS, gear_cut, plate_cut

PINION = Gear(18, module=2.5)


def read(cut):
    return ezdxf.read(io.StringIO(cut.dxf()))


def layer(document, name, kind):
    return [one for one in document.modelspace() if one.dxf.layer == name and one.dxftype() == kind]


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
    document = read(gear_cut(PINION, bore=10.0, cut_width=width))
    (outline,) = layer(document, "outline", "LWPOLYLINE")
    left = Polygon([point[:2] for point in outline.get_points()]).buffer(-width / 2, quad_segs=32)
    wanted = Polygon(PINION.outline())
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


# The width of the drawn type comes from ezdxf's own measure of the text: a reference library.
@pytest.mark.parametrize(
    "name",
    ["pinion_18T_m2p5_bore10_L27", "w", "a part with quite a long name, as they are given in workshops"],
)
@pytest.mark.parametrize(("teeth", "bore"), [(18, 10.0), (45, 10.0), (10, 8.0), (18, 30.0), (80, None)])
def test_the_name_is_marked_on_the_body_and_clear_of_bore_and_teeth(name, teeth, bore):
    gear = Gear(teeth, module=2.5)
    document = read(gear_cut(gear, bore=bore, name=name))
    (words,) = layer(document, "mark", "TEXT")
    assert words.dxf.text == name and document.header.custom_vars.get("part") == name
    box = bbox.extents([words])
    corners = [np.hypot(x, y) for x in (box.extmin.x, box.extmax.x) for y in (box.extmin.y, box.extmax.y)]
    assert max(corners) < gear.root_diameter / 2 and -box.extmax.y > (bore or 0) / 2
    # as large as the room between bore and root circle lets it: no larger type would fit without leaving it
    room = gear.root_diameter / 2 - (bore or 0) / 2
    assert words.dxf.height <= room
    if room > 12 and len(name) <= 30:
        assert words.dxf.height > 0.3, "still legible where there is room"


def test_a_thin_rim_bears_no_name_and_the_file_is_made_all_the_same():
    """A rim of 2.125 mm, from a bore of 102 to a root circle of 106.25 mm, has no room for letters (by hand)."""  # noqa: E501
    document = read(gear_cut(Gear(45, module=2.5), bore=102.0))
    assert not layer(document, "mark", "TEXT") and document.header.custom_vars.get("part") == "gear_45T_m2p5"
