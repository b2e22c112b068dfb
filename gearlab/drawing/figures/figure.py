"""A figure of what a derivation is about, with the same symbols on it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ...parts import Mesh
from ...theory import Derivation, quantity
from ...theory.quantities import NOTATION
from ...theory.scope import MOUNTED_PLAINLY
from .. import style
from ..scene import Scene
from ..svg import svg
from . import bench, onegear, pairs, sets
from .letters import Letters

_FIGURES: dict[str, Callable[[Letters, Mesh], Scene]] = {
    word: view
    for view, words in (
        *onegear.FIGURES,
        *pairs.FIGURES,
        *bench.FIGURES,
        *sets.FIGURES,
    )
    for word in words.split()
}
_HEX = re.compile(r'"(#[0-9a-f]{6})"')
_NAMES = {colour: name for name, colour in reversed(style.THEMES["light"].items())}


@dataclass(frozen=True)
class Figure:
    """A scene with symbols; in a notebook it follows the page, light or dark.

    scene: what is seen, in true size.
    """

    scene: Scene

    def svg(self) -> str:
        """The picture, its colours taken from the page it stands in."""
        return _HEX.sub(
            lambda match: (
                f'"var({style.key(_NAMES[match[1]])},{match[1]})"' if match[1] in _NAMES else match[0]
            ),
            svg(self.scene),
        )

    def _repr_html_(self) -> str:
        css = style.theme_css(".gearlab-figure") + "\n.gearlab-figure svg{max-width:100%;height:auto}"
        return f'<div class="gearlab-figure"><style>{css}</style>{self.svg()}</div>'

    def __repr__(self) -> str:
        return f"<figure: {self.scene.text}>"


def figure(subject: Derivation | str, part: Mesh | None = None, notation: str | None = None) -> Figure:
    """The figure that belongs to a derivation, or to a quantity, with the symbols of its notation.

    subject: a derivation, or a quantity's word such as "length_of_action".
    part: the pair that is drawn where a pair is; the vent drive's, if left out.
    notation: "inch" or "iso"; by default the derivation's, or that of the part's unit.
    ValueError for a quantity without a figure; it names those that have one.

    >>> figure("length_of_action", notation="iso").scene.text[:45]
    'The line of action touches both base circles,'
    """
    mesh = part or pairs.vent_drive()
    same: Mapping[str, str] = (
        MOUNTED_PLAINLY if mesh.centre_distance == mesh.reference_centre_distance else {}
    )
    if isinstance(subject, Derivation):
        steps = [step.quantity for step in reversed(subject.steps)]
        words = [subject.asked, *steps, *subject.given]
        notation, same = notation or subject.notation, subject.scope.coincide
    else:
        words = [quantity(subject, notation or NOTATION[mesh.driver.unit]).word]
    word = next((each for each in words if each in _FIGURES), None)
    if word is None:
        raise ValueError(f"there is no figure of {words[0]}; figures show: {', '.join(sorted(_FIGURES))}")
    return Figure(_FIGURES[word](Letters(notation or NOTATION[mesh.driver.unit], same), mesh))
