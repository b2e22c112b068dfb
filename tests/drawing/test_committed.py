"""The committed pictures are what the code makes today."""

import xml.etree.ElementTree as ET

import pytest

from gearlab.contents import content_folder
from gearlab.drawing.committed import PICTURES, write


@pytest.mark.parametrize("name", PICTURES)
def test_committed_picture_is_up_to_date(name):
    committed = (content_folder("notebooks") / name).read_text(encoding="utf-8")
    assert committed == PICTURES[name](), f"{name} is out of date: run python -m gearlab.drawing.committed"


def test_pictures_are_well_formed_and_say_what_they_show(tmp_path):
    for path in write(tmp_path):
        root = ET.parse(path).getroot()
        assert "centre distance 78.75 mm" in root.attrib["aria-label"]  # (18 + 45) 2.5 / 2, by hand
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(PICTURES)
