"""Pictures that are committed beside the lessons, and the one command that makes them again.

    python -m gearlab.drawing.committed

A test compares the committed bytes with what this module makes.
"""

from __future__ import annotations

from pathlib import Path

from gearlab.contents import content_folder
from gearlab.parts import Gear, Mesh
from gearlab.writing import write_whole

from .scene import themed
from .svg import svg
from .views.pair import pair


def vent_drive() -> str:
    """The pair of the vent drive as SVG text on its own paper, light or dark like the page around it."""
    return themed(svg(pair(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), driver_speed=15.0))) + "\n"


PICTURES = {"vent_drive.svg": vent_drive}


def write(folder: Path) -> list[Path]:
    """Make every committed picture in a folder; files appear whole or not at all.

    folder: usually the folder of the lessons.
    """
    written = []
    for name, make in PICTURES.items():
        write_whole(folder / name, make())
        written.append(folder / name)
    return written


if __name__ == "__main__":
    for path in write(content_folder("notebooks")):
        print(path)
