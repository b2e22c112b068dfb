"""Which pages a drawing takes: one in true size where it has room, else its face in tiles, the rest small."""

from __future__ import annotations

from collections.abc import Callable

from ..scene import Scene
from ..sheets import tiles

#: A drawing made for a page that is so many times smaller than true size.
Picture = Callable[[float], Scene]


def on_pages(
    whole: Picture, face: Picture | None, rest: Picture | None, paper_name: str
) -> list[Scene | Picture]:
    """The whole in true size on one page, else its face in true size, tiled, and the rest by itself.

    A picture in place of a scene is put on one page by ``sheets.fitted``, as small as that takes.
    """
    scene = whole(1.0)
    if one_page(scene, paper_name):
        return [scene]
    pages: list[Scene | Picture] = [face(1.0)] if face is not None else []
    return [*pages, fitting(rest if rest is not None else whole, paper_name)]


def fitting(picture: Picture, paper_name: str) -> Scene | Picture:
    """A drawing in true size where it has room on a page, else as a picture that ``fitted`` makes small."""
    scene = picture(1.0)
    return scene if one_page(scene, paper_name) else picture


def one_page(scene: Scene, paper_name: str) -> bool:
    """Whether a scene in true size has room on one page."""
    return len(tiles(scene, paper_name)[1]) == 1
