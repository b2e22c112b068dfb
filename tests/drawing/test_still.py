"""Still pictures and charts follow the theme of the page."""

import re
from urllib.parse import unquote
from xml.etree import ElementTree

import pytest

from gearlab import Gear, Mesh, drawing
from gearlab.drawing import style
from gearlab.drawing.charts.backlash import backlash
from gearlab.drawing.charts.candidates import candidates
from gearlab.drawing.charts.contact import contact_ratio, specific_sliding
from gearlab.drawing.scene import still_html, themed
from gearlab.drawing.views.pair import pair
from gearlab.parts.choosing import pairs

VENT = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
COLOUR = re.compile(r"(?:fill|stroke)(?:=[\"']|: ?)(#[0-9a-fA-F]{3,6})")


def test_no_two_colours_of_the_light_theme_are_one():
    """Else one of them would be exchanged for the dark colour of the other."""
    assert len(set(style.THEMES["light"].values())) == len(style.THEMES["light"])


@pytest.mark.parametrize(
    "make",
    [
        lambda: drawing.svg(pair(VENT)),
        lambda: backlash(VENT.driver, VENT.driven).svg(),
        lambda: candidates(pairs(2.4), wanted_ratio=2.4).svg(),
        lambda: specific_sliding(VENT).svg(),
        lambda: contact_ratio().svg(),
    ],
    ids=["pair", "backlash", "candidates", "sliding", "contact"],
)
def test_every_colour_of_a_picture_has_its_dark_one(make):
    picture = make()
    used = {one.lower() for one in COLOUR.findall(picture)}
    assert used and used <= set(style.THEMES["light"].values()), used - set(style.THEMES["light"].values())
    ElementTree.fromstring(themed(picture))


def test_a_still_is_an_image_with_its_sentence():
    html = pair(VENT)._repr_html_()
    assert 'alt="' in html and "<script" not in html and "color-scheme:dark" in html
    source = re.search(r'src="data:image/svg\+xml,([^"]*)"', html)[1]
    assert ElementTree.fromstring(unquote(source)).tag.endswith("svg")
    assert 'alt="a &quot;b&quot;"' in still_html(
        "<svg xmlns='http://www.w3.org/2000/svg'></svg>", 'a "b"', 10
    )


def test_a_chart_is_the_same_bytes_twice():
    assert specific_sliding(VENT).svg() == specific_sliding(VENT).svg()
