"""What a laser cutter or a printer follows.

Paths by layer, with the width of the cut already taken into account.

A beam takes away half its width on either side of its path. So the path of an outer edge lies half a width
outside the wanted edge, that of a hole half a width inside. A part that is printed grows instead: its
surfaces are set back by a clearance. Files are made by ``dxf`` and ``svg``; both state their unit.
"""

from .cutfile import CARE, COLOURS, LAYERS, TOLERANCE, CutFile, Path, Round
from .gears import bore_path, gear_cut, keyway_turn, rim_of, ring_cut, sector_cut
from .lettering import Words
from .plates import plate_cut, rack_cut
from .testpiece import CUT_SAYS, PRINT_SAYS, Piece, piece_drawing, trial_pieces

__all__ = [
    "CARE",
    "COLOURS",
    "CUT_SAYS",
    "LAYERS",
    "PRINT_SAYS",
    "TOLERANCE",
    "CutFile",
    "Path",
    "Piece",
    "Round",
    "Words",
    "bore_path",
    "gear_cut",
    "keyway_turn",
    "piece_drawing",
    "plate_cut",
    "rack_cut",
    "rim_of",
    "ring_cut",
    "sector_cut",
    "trial_pieces",
]
