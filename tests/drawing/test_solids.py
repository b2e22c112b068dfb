"""Solids, read back with trimesh and measured against areas that shapely takes of the exact outlines."""

import io
import math
import sys
import zipfile
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely import (
    MultiLineString,
    Point,
    Polygon,
    box,
    distance,
    get_coordinates,
    points,
    polygonize,
    unary_union,
)

from gearlab import Gear, InternalGear, Rack
from gearlab.drawing.cutting import trial_pieces
from gearlab.drawing.solids import piece_solid, solid_of
from gearlab.parts.design import read_design
from gearlab.parts.made import (
    GearPart,
    Keyway,
    Limits,
    PlateHole,
    PlatePart,
    RackPart,
    ScrewHole,
    parts_of,
)

trimesh = pytest.importorskip("trimesh", reason="the extra `test` installs it")
pytest.importorskip("manifold3d", reason="the extra `solids` installs it")

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
TOLERANCE = {"mm": 0.005, "in": 0.0002}
PINION = GearPart(
    "pinion",
    Gear(18, module=2.5, face_width=14),
    14.0,
    Limits(10.0),
    hub_diameter=28.0,
    hub_projection=13.0,
    keyway=Keyway(3.0, 1.4, 27.0, "tooth"),
    screw=ScrewHole("M5", 5.0, 4.2, 6.5, 9.0),
)


def loaded(solid):
    """The solid as a reader of STL has it."""
    return trimesh.load(io.BytesIO(solid.stl()), file_type="stl")


def cut_at(mesh, height):
    """The section at a height as a shape of shapely: holes are what an even count of lines stands around."""
    ends = trimesh.intersections.mesh_plane(mesh, (0, 0, 1), (0, 0, height))[:, :, :2]
    lines = MultiLineString([pair for pair in np.round(ends, 5).tolist() if pair[0] != pair[1]])
    faces = polygonize([unary_union(lines)]).geoms
    shape = Polygon()
    for face in faces:
        shape = shape.symmetric_difference(Polygon(face.exterior))
    return shape


def far(one, other):
    """How far two shapes' edges are from one another at most."""
    ways = ((one.boundary, other.boundary), (other.boundary, one.boundary))
    return max(distance(points(get_coordinates(line.segmentize(0.5))), mate).max() for line, mate in ways)


def bore_of(part, more=0.0):
    """Bore and keyway drawn by hand: a circle and a rectangle along the marked tooth."""
    radius, key = part.bore.nominal / 2 + more, part.keyway
    circle = Point(0, 0).buffer(radius, quad_segs=400)
    if key is None:
        return circle
    slot = box(0, -key.width / 2 - more, part.bore.nominal / 2 + key.depth + more, key.width / 2 + more)
    return circle.union(slot)


def test_a_gear_with_hub_bore_keyway_and_screw_hole():
    mesh = loaded(solid_of(PINION))
    assert mesh.is_watertight and mesh.is_winding_consistent
    teeth = Polygon(PINION.toothed.outline(1e-5))
    hub, bore = Point(0, 0).buffer(14.0, quad_segs=400), bore_of(PINION)
    for height, wanted in ((20.0, teeth - bore), (0.5, hub - bore), (12.9, hub - bore)):
        section = cut_at(mesh, height)
        assert far(section, wanted) < TOLERANCE["mm"] + 5e-5, height
    # the drill of 4.2 mm goes from the hub's outside to the keyway, 6.4 mm from the axis: its flat bottom
    drill = np.linspace(-2.1, 2.1, 4001)
    depth = np.sqrt(14.0**2 - drill**2) - np.where(np.abs(drill) < 1.5, 6.4, np.sqrt(25 - drill**2))
    hole = np.trapezoid(2 * np.sqrt(2.1**2 - drill**2) * depth, drill)
    wanted = (teeth - bore).area * 14 + (hub - bore).area * 13 - hole
    assert mesh.volume == pytest.approx(wanted, rel=1e-3)
    assert mesh.bounds[:, 2].tolist() == pytest.approx([0, 27])
    across = cut_at(mesh, 6.5)
    assert (
        not across.contains(Point(10, 0)) and across.contains(Point(-10, 0)) and across.contains(Point(0, 10))
    )


def test_a_hub_on_the_side_away_from_the_plate_stands_above_the_face():
    mesh = loaded(solid_of(replace(PINION, hub_side="away", screw=replace(PINION.screw, place=20.5))))
    assert mesh.is_watertight
    reach = [np.hypot(*np.array(cut_at(mesh, height).exterior.coords).T).max() for height in (1, 13, 15, 26)]
    assert reach == pytest.approx([25, 25, 14, 14], abs=0.01)


@pytest.mark.parametrize("clearance", [0.1, 0.25])
def test_a_clearance_draws_every_surface_back(clearance):
    mesh = loaded(solid_of(PINION, clearance=clearance))
    teeth = Polygon(PINION.toothed.outline(1e-5)).buffer(-clearance, quad_segs=64)
    section = cut_at(mesh, 20.0)
    assert mesh.is_watertight and far(section, teeth - bore_of(PINION, clearance)) < 0.005 + 5e-5


def test_a_tolerance_of_its_own_is_kept():
    coarse, fine = (solid_of(PINION, tolerance=within) for within in (0.05, 0.0005))
    assert len(coarse.triangles) < len(fine.triangles) / 3
    wanted = Polygon(PINION.toothed.outline(1e-5)) - bore_of(PINION)
    assert far(cut_at(loaded(coarse), 20.0), wanted) < 0.05
    assert far(cut_at(loaded(fine), 20.0), wanted) < 0.0005 + 5e-5
    assert "points within 0.05 mm" in coarse.note


def test_a_ring():
    ring = InternalGear(48, module=2.5)
    mesh = loaded(solid_of(GearPart("ring", ring, 10.0, rim_diameter=150.0)))
    wanted = Point(0, 0).buffer(75, quad_segs=800) - Polygon(ring.outline(1e-5))
    assert mesh.is_watertight and far(cut_at(mesh, 5.0), wanted) < 0.005 + 5e-5
    assert mesh.volume == pytest.approx(wanted.area * 10, rel=1e-3)


def test_a_rack_and_a_plate():
    rack = Rack(9, module=2.5)
    mesh = loaded(solid_of(RackPart("rack", rack, 12.0)))
    # 9 pitches long, 12.5 mm to the pitch line: teeth and spaces are alike about it but for the clearance of
    # 0.25 m below, so the area is that of the back and half the band of the teeth, and the fillets (ISO 53)
    wanted = Polygon(rack.outline(1e-5))
    assert mesh.is_watertight and far(cut_at(mesh, 6.0), wanted) < 0.005 + 5e-5
    assert mesh.volume == pytest.approx(wanted.area * 12, rel=1e-4)
    plate = PlatePart("plate", 220, 160, 6, "mm", (PlateHole("crank", 53.75, 80, 10.05, True, 53.75),))
    mesh = loaded(solid_of(plate))
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx((220 * 160 - math.pi * 10.05**2 / 4) * 6, rel=1e-5)


def test_a_sector():
    """45 teeth, every 8 degrees: 11 whole ones from -44 to 44 degrees (by hand)."""
    part = replace(PINION, toothed=Gear(45, module=2.5), name="wheel")
    mesh = loaded(solid_of(part, sector=(-44, 44)))
    section = cut_at(mesh, 20.0)
    at = part.toothed.pitch_diameter / 2
    there = [
        section.contains(Point(at * math.cos(a), at * math.sin(a))) for a in np.radians(np.arange(45) * 8)
    ]
    assert mesh.is_watertight and sum(there) == 11 and section.contains(Point(-13.9, 0))


@pytest.mark.parametrize("file", ["vent_drive.toml", "vent_drive_inch.toml"])
def test_every_part_of_the_drives_is_one_closed_body(file):
    for part in parts_of(read_design(NOTEBOOKS / file)).parts:
        if isinstance(part, (GearPart, PlatePart, RackPart)):
            solid = solid_of(part)
            mesh = loaded(solid)
            assert mesh.is_watertight and mesh.is_winding_consistent and mesh.volume > 0, part.name
            assert len(bodies(mesh)) == 1, part.name


def bodies(mesh):
    """Corners that hang together, by the least number among them."""
    least = np.arange(len(mesh.vertices))
    while True:
        before = least.copy()
        for k in range(3):
            np.minimum.at(least, mesh.faces[:, k], before[mesh.faces].min(axis=1))
        if (least == before).all():
            return set(least.tolist())


# 3MF core specification: a zip with the model in it; the unit is an attribute, "millimeter" or "inch".
@pytest.mark.parametrize(
    ("file", "unit", "word"),
    [("vent_drive.toml", "mm", "millimeter"), ("vent_drive_inch.toml", "in", "inch")],
)
def test_both_files_state_their_unit_and_hold_the_same_body(file, unit, word):
    part = parts_of(read_design(NOTEBOOKS / file)).gears[0]
    solid = solid_of(part, verdict="sound as far as checked: 40 checks hold")
    archive = zipfile.ZipFile(io.BytesIO(solid.threemf()))
    assert archive.testzip() is None and "[Content_Types].xml" in archive.namelist()
    relation = ElementTree.fromstring(archive.read("_rels/.rels"))[0]
    model = ElementTree.fromstring(archive.read(relation.get("Target").lstrip("/")))
    assert model.get("unit") == word
    space = {"m": "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"}
    corners = [[float(v.get(k)) for k in "xyz"] for v in model.iterfind(".//m:vertex", space)]
    faces = [[int(t.get(k)) for k in ("v1", "v2", "v3")] for t in model.iterfind(".//m:triangle", space)]
    mesh, other = trimesh.Trimesh(corners, faces), loaded(solid)
    assert mesh.is_watertight and mesh.volume == pytest.approx(other.volume, rel=1e-6)
    told = " ".join(one.text for one in model.iterfind(".//m:metadata", space))
    assert "sound as far as checked: 40" in told and "Gears pinch" in told and f"lengths in {unit}" in told
    header = solid.stl()[:80].decode("ascii")
    assert header.startswith(f"unit {unit}; sound as far as checked") and "Gears pinch" in header
    assert solid.stl() == solid_of(part, verdict=solid.verdict).stl()
    assert solid.threemf() == solid_of(part, verdict=solid.verdict).threemf()


def test_a_test_piece_is_two_closed_bodies():
    solid = piece_solid(trial_pieces("mm", [10.0])[1])
    mesh = loaded(solid)
    assert mesh.is_watertight and len(bodies(mesh)) == 2, "comb and peg"
    engraved = cut_at(mesh, 3.9).area
    assert engraved < cut_at(mesh, 2.0).area - 5, "the letters are cut into the upper face"


@pytest.mark.parametrize(
    ("part", "how", "says"),
    [
        (replace(PINION, face_width=None), {}, "gear 'pinion': a solid needs its face_width"),
        (PINION, {"clearance": 2.0}, "clearance 2 mm is out of range"),
        (PINION, {"tolerance": 0.5}, "tolerance 0.5 mm is out of range"),
        (replace(PINION, hub_diameter=9.0), {}, "hub_diameter 9 mm is out of range: give more than 10 mm"),
        (replace(PINION, bore=Limits(40.0)), {}, "bore 40 mm is out of range"),
    ],
)
def test_what_cannot_be_is_refused(part, how, says):
    with pytest.raises(ValueError, match=says):
        solid_of(part, **how)


def test_without_the_library_a_sentence_says_how_to_install_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "manifold3d", None)
    with pytest.raises(ValueError, match=r'install it with: pip install "gearlab\[solids\]"'):
        solid_of(PINION)
