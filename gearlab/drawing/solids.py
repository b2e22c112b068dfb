"""Solids of parts for a printer: gears with hub, bore, keyway and screw hole, rings, racks, plates.

Bodies are made by a mesh library (manifold3d, of the extra ``solids``), whose unions and cuts are watertight
by construction; STL and 3MF are open formats and are written here, since a file has to state its unit, the
verdict and a line of care.
"""

from __future__ import annotations

import io
import math
import struct
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from gearlab.care import of
from gearlab.parts.internal import InternalGear
from gearlab.parts.made import GearPart, PlatePart, RackPart

from .cutting import CARE, Piece, bore_path, keyway_turn, rim_of
from .cutting.gears import check_bore, sector_outline
from .cutting.offsets import check_moves, circle, laid, moved, note, path_tolerance, points_within

UNIT_NAMES = {"mm": "millimeter", "in": "inch"}  # as the 3MF core specification writes them
PIECE = {"mm": (4.0, 0.6), "in": (0.16, 0.024)}  # thickness of a test piece, depth of its letters [unit]
SHARE = 0.9  # of the tolerance is the outlines'; the rest may go where corners are made one
SHORT_CARE = of("turning").short  # all that the header of an STL file has room for


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed surface in true size: corners (n, 3), triangles (m, 3) counter-clockwise seen from outside.

    Corners in the unit of the part [unit]; note: what has been taken into account.
    """

    name: str
    unit: str
    corners: np.ndarray
    triangles: np.ndarray
    note: str
    verdict: str = "not reviewed: a part by itself"

    @property
    def watertight(self) -> bool:
        """Whether every edge has its two triangles, one in either direction."""
        edges = np.vstack([self.triangles[:, [0, 1]], self.triangles[:, [1, 2]], self.triangles[:, [2, 0]]])
        count = len(self.corners)
        there, back = edges[:, 0] * count + edges[:, 1], edges[:, 1] * count + edges[:, 0]
        return len(np.unique(there)) == len(edges) and bool(np.isin(there, back).all())

    def stl(self) -> bytes:
        """The solid as binary STL; the format has no unit, so its header says it [unit]."""
        words = f"unit {self.unit}; {self.verdict.split(':')[0]}; {SHORT_CARE}"
        header = words.encode("ascii", "replace")[:80].ljust(80)
        faces = self.corners[self.triangles]
        normals = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
        lengths = np.linalg.norm(normals, axis=1, keepdims=True)
        normals = np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0)
        records = np.zeros(
            len(faces), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("more", "<u2")]
        )
        records["normal"], records["corners"] = normals, faces
        return header + struct.pack("<I", len(faces)) + records.tobytes()

    def threemf(self) -> bytes:
        """The solid as 3MF, its unit stated (3MF core specification)."""
        told = f"{self.note}. Review: {self.verdict}. {CARE}"
        corners = "".join(
            f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>' for x, y, z in self.corners.tolist()
        )
        faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in self.triangles.tolist())
        model = (
            '<?xml version="1.0" encoding="UTF-8"?>\n'
            f'<model unit="{UNIT_NAMES[self.unit]}" xml:lang="en"'
            ' xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
            f'<metadata name="Title">{escape(self.name)}</metadata>'
            f'<metadata name="Description">{escape(told)}</metadata>'
            f'<resources><object id="1" type="model" name={quoteattr(self.name)}>'
            f"<mesh><vertices>{corners}</vertices><triangles>{faces}</triangles></mesh></object></resources>"
            '<build><item objectid="1"/></build></model>\n'
        )
        data = io.BytesIO()
        with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, text in (
                ("[Content_Types].xml", _TYPES),
                ("_rels/.rels", _RELATIONS),
                ("3D/3dmodel.model", model),
            ):
                # no date: the same part gives the same bytes
                entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
                entry.compress_type = zipfile.ZIP_DEFLATED
                archive.writestr(entry, text)
        return data.getvalue()


_TYPES = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>\n"
)
_RELATIONS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Target="/3D/3dmodel.model" Id="model"'
    ' Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n'
)


def solid_of(
    part: GearPart | RackPart | PlatePart,
    *,
    clearance: float = 0.0,
    tolerance: float | None = None,
    sector: tuple[float, float] | None = None,
    verdict: str = "not reviewed: a part by itself",
) -> Solid:
    """The solid of a part, its lower end at height 0.

    A gear stands about the vertical axis, tooth 0 along x; its keyway goes through, the hole of its set screw
    has the tap drill's size and stands over the keyway (over tooth 0 where there is none).

    clearance: what each surface around the axis is set back, from 0 up to a quarter of a tooth thickness
        [unit of the part].
    tolerance: largest distance of the surface from the exact one; left out, 0.005 mm or 0.0002 in [unit].
    sector: angles between which a gear has its teeth, where it is no whole one [deg].
    ValueError for a part without its face width, one that cannot be, or without the extra ``solids``.
    """
    library = _library()
    try:
        if isinstance(part, PlatePart):
            within = path_tolerance(tolerance, part.unit)
            body = _plate(library, part, clearance, SHARE * within)
        elif isinstance(part, RackPart):
            within = points_within(tolerance, part.rack)
            body = _rack(library, part, clearance, SHARE * within)
        else:
            within = points_within(tolerance, part.toothed)
            body = _gear(library, part, clearance, SHARE * within, sector)
        told = note(part.unit, 0.0, clearance, within)
        return _solid(body, (1 - SHARE) * within, part.name, part.unit, told, verdict)
    except ValueError as error:
        raise ValueError(f"{part.kind} {part.name!r}: {error}") from None


def piece_solid(piece: Piece, *, verdict: str = "not reviewed: a part by itself") -> Solid:
    """The solid of a test piece, its letters cut into its upper face."""
    library, file = _library(), piece.file
    thick, deep = PIECE[file.unit]
    edges = [path.points for path in file.paths if path.layer == "outline"]
    holes = [
        circle(round_cut.radius, file.tolerance)[:-1] + np.asarray(round_cut.centre)
        for round_cut in file.rounds
    ]
    body = _raised(library, [*edges, *holes], 0.0, thick)
    body -= _raised(library, [path.points for path in file.lettering], thick - deep, thick + deep)
    return _solid(body, file.tolerance / 10, file.name, file.unit, file.note, verdict)


def _library() -> Any:
    """The mesh library; ValueError with the way to install it where it is missing."""
    try:
        import manifold3d
    except ImportError:
        raise ValueError(
            'solids need a mesh library that is not installed; install it with: pip install "gearlab[solids]"'
        ) from None
    return manifold3d


def _solid(body: Any, fuse: float, name: str, unit: str, told: str, verdict: str) -> Solid:
    """A body as a surface; corners nearer to one another than `fuse` become one [unit]."""
    mesh = body.set_tolerance(fuse).to_mesh64()
    # as the readers of STL will have them: corners of single precision that are equal are one
    raw = np.asarray(mesh.vert_properties, dtype=np.float32)[:, :3]
    corners, which = np.unique(raw, axis=0, return_inverse=True)
    triangles = which.reshape(-1)[np.asarray(mesh.tri_verts, dtype=int)]
    flat = (triangles == np.roll(triangles, 1, axis=1)).any(axis=1)
    solid = Solid(name, unit, corners.astype(float), triangles[~flat], told, verdict)
    if not solid.watertight:
        raise ValueError(
            f"its surface does not close at a tolerance of {fuse / (1 - SHARE):.3g} {unit}: give another"
            " tolerance, twice or half of it"
        )
    return solid


def _raised(library: Any, lines: Sequence[np.ndarray], low: float, high: float) -> Any:
    """What lies between closed lines, from a height to another; a line within a line is a hole."""
    section = library.CrossSection([np.asarray(line) for line in lines], library.FillRule.EvenOdd)
    return section.extrude(high - low).translate((0.0, 0.0, low))


def _width(value: float | None) -> float:
    if value is None:
        raise ValueError("a solid needs its face_width, which is not given: add face_width to its table")
    return value


def _gear(
    library: Any,
    part: GearPart,
    clearance: float,
    within: float,
    sector: tuple[float, float] | None,
) -> Any:
    toothed, face = part.toothed, _width(part.face_width)
    check_moves(toothed.tooth_thickness, part.unit, 0.0, clearance)
    if isinstance(toothed, InternalGear):
        rim = (part.rim_diameter or rim_of(toothed)) / 2 - clearance
        edge = circle(rim, within)[:-1]
        return _raised(library, [edge, laid(toothed, clearance, within)], 0.0, face)
    bore = part.bore.nominal if part.bore is not None else None
    check_bore(toothed, bore, part.keyway, 0.0)
    line = laid(toothed, -clearance, within)
    hub = part.hub_diameter if part.hub_projection else None
    least, most = bore or 0.0, math.inf if sector is None else toothed.root_diameter
    if hub is not None and not least < hub < most:
        raise ValueError(
            f"hub_diameter {hub:g} {part.unit} is out of range: give more than {least:g} {part.unit}"
            + ("" if sector is None else f" and, for a sector, less than {most:.4g} {part.unit}")
        )
    if sector is not None:
        share = within if clearance == 0 else within / 2
        about = part.hub_diameter if hub is None else 0.0
        line = moved(sector_outline(toothed, sector, bore, about, share)[0], -clearance, within / 2)
    teeth = library.CrossSection([line])
    length, behind = part.overall_length, part.hub_side == "plate"
    lift = part.hub_projection if hub is not None and behind else 0.0
    body = teeth.extrude(face).translate((0.0, 0.0, lift))
    if hub is not None:
        disc = library.CrossSection([circle(hub / 2 - clearance, within)[:-1]])
        # of a sector the hub goes through; two bodies that share a face are one to the library
        foot = 0.0 if behind or sector is not None else face
        body += disc.extrude(part.hub_projection if sector is None else length).translate((0.0, 0.0, foot))
    if bore is not None:
        line = bore_path(bore, part.keyway, toothed.teeth, clearance, within)
        body -= _raised(library, [line], -length, 2 * length)
    for hole in _screw_holes(library, part, within):
        body -= hole
    return body


def _screw_holes(library: Any, part: GearPart, tolerance: float) -> list[Any]:
    """The holes of the set screws: from outside the hub inwards, of the tap drill's size."""
    screw = part.screw
    if screw is None or part.hub_diameter is None:
        return []
    first = keyway_turn(part.keyway, part.toothed.teeth) if part.keyway is not None else 0.0
    apart = (
        90.0 if screw.count == 2 else 360.0 / screw.count
    )  # two screws stand at a right angle: common practice
    outside, reach = part.hub_diameter / 2, screw.depth
    drill = _raised(library, [circle(screw.tap_drill / 2, tolerance)[:-1]], outside - reach, 2 * outside)
    lying = drill.rotate((0.0, 90.0, 0.0)).translate((0.0, 0.0, screw.place))
    return [lying.rotate((0.0, 0.0, first + k * apart)) for k in range(screw.count)]


def _rack(library: Any, part: RackPart, clearance: float, within: float) -> Any:
    check_moves(part.rack.circular_pitch / 2, part.unit, 0.0, clearance)
    return _raised(library, [laid(part.rack, -clearance, within)], 0.0, _width(part.face_width))


def _plate(library: Any, part: PlatePart, clearance: float, within: float) -> Any:
    least = min((hole.edge - hole.diameter / 2 for hole in part.holes), default=math.inf)
    if not 0 <= 2 * clearance < least:
        raise ValueError(
            f"clearance {clearance:g} {part.unit} is out of range: {least:.4g} {part.unit} are left between a"
            " hole and an edge; give 0 up to less than half of it"
        )
    x, y = part.length - clearance, part.height - clearance
    edge = np.array([(clearance, clearance), (x, clearance), (x, y), (clearance, y)])
    holes = [
        circle(hole.diameter / 2 + clearance, within)[:-1] + np.array([hole.x, hole.y]) for hole in part.holes
    ]
    return _raised(library, [edge, *holes], 0.0, part.thickness)
