"""Parts for the bench, drawn to be cut out, drilled or laid beside the real thing: nothing in them but what is measured."""

from __future__ import annotations

from .. import numerals
from ..scene import Circle, Dot, Label, Line, Outline, Scene


def paper_gear(gear, *, bore: float | None = None) -> Scene:
    """A gear to be cut out of paper or card: its outline, its pitch circle, its bore and centre, a marked tooth.

    Parameters
    ----------
    gear : Gear
        The gear.
    bore : float, optional
        Diameter of the bore, above 0 and below the root diameter [gear.unit, in or mm].

    Returns
    -------
    Scene
        In true size when put on a sheet [gear.unit].

    Raises
    ------
    ValueError
        For a bore that leaves no gear.

    Examples
    --------
    >>> from gearlab.parts import Gear
    >>> paper_gear(Gear(18, module=2.5), bore=10.0).text
    'A spur gear with 18 teeth, module 2.5, to be cut out: outside diameter 50.00 mm, pitch diameter 45.00 mm, bore 10.00 mm.'
    """
    if bore is not None and not 0 < bore < gear.root_diameter:
        raise ValueError(f"bore {bore:g} {gear.unit} is out of range: give more than 0 and less than the root diameter {gear.root_diameter:.4g} {gear.unit}")
    tip, scale = gear.outside_diameter / 2, gear.scale
    shapes = [Outline(gear.outline()[:-1], "outline", "gear"), Circle((0.0, 0.0), gear.pitch_diameter / 2, "pitch circle", "gear"),
              Line((tip - 1.9 * scale, 0.0), (tip - 0.6 * scale, 0.0), "mark")]
    if bore is not None:
        shapes.append(Circle((0.0, 0.0), bore / 2, "hole"))
    shapes.append(Dot((0.0, 0.0), "centre"))
    middle = -((bore or 0.0) / 2 + gear.root_diameter / 2) / 2
    size = numerals.pitch_name(gear).replace("module ", "m ")
    shapes.append(Label((0.0, middle), f"{gear.teeth}T {size}", size="small", room=1.7 * (gear.root_diameter / 2 + middle) + (bore or 0.0)))
    text = (f"A spur gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}, to be cut out: outside diameter {numerals.length(gear.outside_diameter, gear.unit)}, "
            f"pitch diameter {numerals.length(gear.pitch_diameter, gear.unit)}" + (f", bore {numerals.length(bore, gear.unit)}." if bore else "."))
    return Scene(tuple(shapes), text, gear.unit, title=gear.name)
