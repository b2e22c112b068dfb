"""Explorers that show a part of a design: they take its numbers and give them back."""

from pathlib import Path

import pytest

from gearlab import read_design, review
from gearlab.widgets import PairExplorer

FOLDER = Path(__file__).parents[2] / "notebooks"
KITS = {name: read_design(FOLDER / f"{name}.toml") for name in ("vent_drive", "vent_drive_inch")}


@pytest.mark.parametrize("kit", KITS.values(), ids=KITS)
def test_a_pair_takes_its_numbers_and_gives_them_back(kit):
    """The spacing of the holes by hand: half the sum of the teeth times the module, or over the pitch."""
    explorer = PairExplorer(design=kit)
    assert (explorer.driver_teeth, explorer.driven_teeth) == (18, 45) and explorer.designed
    assert explorer.use() == kit and "Nothing has moved" in explorer.used  # as it came
    explorer.driver_teeth = 20
    after = explorer.use()
    scale = 2.5 if kit.unit == "mm" else 1 / 12
    assert after.of(kit.mesh[0].driver).teeth == 20
    assert after.distance(kit.mesh[0].driver, kit.mesh[0].driven) == pytest.approx(65 / 2 * scale)
    assert after.shaft[1].y == kit.shaft[1].y and "20" in explorer.used
    assert "shafts-too-near" not in review(after).names
    assert PairExplorer(design=after).driver_teeth == 20  # and on to the next explorer


def test_numbers_beside_a_design_stand():
    assert PairExplorer(design=KITS["vent_drive"], driven_teeth=60).driven_teeth == 60


def test_what_a_design_cannot_take_is_said_and_leaves_it():
    explorer = PairExplorer(design=KITS["vent_drive"])
    explorer.size_by = "in"
    explorer._hear(explorer, {"kind": "use"}, [])
    assert "cannot take these numbers" in explorer.used and explorer.design == KITS["vent_drive"]


@pytest.mark.parametrize(
    "make, says",
    [
        (
            lambda: PairExplorer(design=KITS["vent_drive"], part="pinion with wheel"),
            "is no mesh of the design",
        ),
        (lambda: PairExplorer(part="x"), "give design=..., too"),
        (lambda: PairExplorer(18, 45).design, "was made without a design"),
        (lambda: PairExplorer(design=KITS["vent_drive"].with_(mesh=None)), "has no mesh to show"),
    ],
)
def test_what_cannot_be_is_refused(make, says):
    with pytest.raises(ValueError, match=says):
        make()
