"""The banks that come along, and a small one of the vent drive, as text that a test may change."""

import pytest

from gearlab.contents import content_folder
from gearlab.practice import load_bank

BANK = """
[bank]
title = "Vent drive"
lesson = "03"

[[question]]
id = "spacing"
of = "pair"
length_unit = "mm"
title = "Spacing"
prompt = "{driver_teeth} and {driven_teeth} teeth of module {module} mm: how far apart are the shafts?"
hints = ["a", "b", "c"]

[question.givens]
driver_teeth = { from = 18, to = 30, step = 1 }
driven_teeth = { from = 32, to = 72, step = 1 }
module = { one_of = [1.5, 2, 2.5, 3] }

[[question.answers]]
asked = "centre_distance"
unit = "mm"
tolerance = { relative = 0.001, absolute = 0.01 }
points = 2

[[question.answers.slips]]
name = "nohalf"
title = "added the diameters"
formula = "module * (driver_teeth + driven_teeth)"
says = "Halve it: one radius of each gear."
credit = 0.5
"""


@pytest.fixture
def bank_file(tmp_path):
    """Writes a bank (the vent drive with replacements, or a text of its own) and gives its path."""

    def write(*replacements, text=BANK):
        for old, new in replacements:
            assert old in text, old
            text = text.replace(old, new)
        path = tmp_path / "03_vent" / "bank.toml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    write.text = BANK
    return write


@pytest.fixture
def vent(bank_file):
    """The question of the vent drive."""
    return load_bank(bank_file())["spacing"]


@pytest.fixture(scope="module")
def banks():
    """The banks that come along, by their folders, each loaded when it is asked for."""

    class Banks(dict):
        def __missing__(self, folder):
            self[folder] = load_bank(content_folder("exercises") / folder)
            return self[folder]

    return Banks()
