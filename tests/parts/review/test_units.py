"""Sizes and places in the other unit; meshes the wrong way round; what bands of a limit are no trouble.

An inch is 25.4 mm; formulas by hand, limits common practice.
"""

from math import pi, tan

import pytest

from gearlab.parts.review import review

from .elsewhere import SOUND, edit_of


def changed(base, text):
    return SOUND[base].with_(**edit_of(text))


def found(ledger, name):
    return next(finding for finding in ledger if finding.name == name)


@pytest.mark.parametrize("name", SOUND)
def test_each_size_of_a_sound_design_is_in_its_unit(name):
    """The checks hold for every gear and shaft, and are unmade of none."""
    design = SOUND[name]
    told = [held for held in review(design).holds if "file's unit" in held.what]
    parts = {f"shaft {shaft.name}" for shaft in design.shaft} | {gear.name for gear in design.gear}
    assert parts <= {held.where for held in told}


TYPED = {
    # base, what was typed, where it is found, field of the first edit, what was meant
    "plate of 3/8 in": ("sluice", "plate thickness=9.525", "the plate", 0.375),
    "hub of 22 mm": ("sluice", "gear p hub_diameter=22", "p", 22 / 25.4),
    "hub of 0.787 in": ("17 teeth", "gear p hub_projection=0.787", "p", 20.0),
    "bore of 1 in": ("17 teeth", "gear w bore=0.984", "w", 25.0),
    "face of 12 mm": ("sluice", "gear w face_width=12.7", "w", 0.5),
    "shaft of 20 mm": ("feed rack", "shaft A diameter=12.7; gear p bore=12.7", "shaft A", 0.5),
    "shaft 57 mm long": ("sluice", "shaft crank length=57.15", "shaft crank", 2.25),
    "60 mm to the right": ("sluice", "shaft crank x=63.5", "shaft crank", 2.5),
}


@pytest.mark.parametrize("name", TYPED)
def test_a_size_in_the_other_unit_is_found_and_put_right(name):
    base, text, where, meant = TYPED[name]
    design = changed(base, text)
    finding = found(review(design), "units-look-mixed")
    assert finding.where == where and finding.grade == "will not work"
    numbers = [value for table in finding.edits[0].values() for value in _numbers(table)]
    assert numbers and numbers[0] == pytest.approx(meant, rel=0.03)
    assert review(design.with_(**finding.edits[0])).passes


def _numbers(fields):
    for value in fields.values():
        if isinstance(value, dict):
            yield from _numbers(value)
        else:
            yield value


def test_card_is_thin_and_large_wheels_have_small_bores():
    """A face of 1 mm on module 5, and a bore of 6 mm in a wheel of 300 mm, are meant so."""
    card = changed("branch", "gear p face_width=0.5; gear wl face_width=0.5; gear wr face_width=0.5")
    assert "units-look-mixed" not in review(card).names
    wheel = changed("branch", "gear wr teeth=150; plate length=600 height=500; shaft r x=285.1")
    assert "units-look-mixed" not in review(wheel).names


def test_what_units_bring_is_mended_with_them():
    """No hub holds a bore of 12.7 in: half an inch mends that as well."""
    design = changed("sluice", "shaft crank diameter=12.7; gear p bore=12.7")
    ledger = review(design)
    assert all(finding.edits for finding in ledger), str(ledger)
    hub = found(ledger, "hub-thinner-than-bore")
    assert "0.5 in" in hub.change and review(design.with_(**hub.edits[0])).passes


# -- meshes ------------------------------------------------------------------------------------------------
def test_a_mesh_the_wrong_way_round():
    design = SOUND["idler"]
    assert any(held.what.startswith("it is driven from") for held in review(design).holds)
    turned = design.with_(mesh=[{"driver": "p", "driven": "i"}, {"driver": "w", "driven": "i"}])
    finding = found(review(turned), "mesh-turned-round")
    assert finding.grade == "will trouble" and finding.where == "w with i"
    assert review(turned.with_(**finding.edits[0])).passes
    free = turned.with_(design={"ratio": None, "direction": None})
    assert found(review(free), "mesh-turned-round").grade == "worth knowing"


@pytest.mark.parametrize(
    ("lack", "name"), [(0.0004, "no-play"), (0.0007, "shafts-too-near")], ids=["rounding", "more"]
)
def test_coordinates_are_rounded_to_half_a_thousandth(lack, name):
    """62/48 = 1.291667 in: so much of the spacing may lack where no tooth is thinned."""
    design = changed("rounded", f"shaft B x={1.125 + 62 / 48 - lack:.6f}")
    finding = found(review(design), name)
    assert (finding.grade == "worth knowing") == (name == "no-play")


def test_small_teeth_have_more_play_for_their_size():
    """0.0065 in at 24 and at 48 to the inch a quarter of a module; 0.12 modules from 2 mm on."""
    for base, shaft, gears, least, most in (
        ("rounded", "B", 1.125 + 62 / 48, 0.0060, 0.0070),
        ("dial", "s2", 0.75 + 1.25, 0.0048 - 0.003, 0.0057 - 0.003),
        ("mixed hubs", "B", 55 + 55, 0.23 - 0.08, 0.25 - 0.08),
    ):
        slope = 2 * tan(20 * pi / 180)
        for play, loose in ((least, False), (most, True)):
            design = changed(base, f"shaft {shaft} x={gears + play / slope:.6f}")
            assert ("loose-mesh" in review(design).names) == loose, (base, play)


# -- bands -------------------------------------------------------------------------------------------------
def test_a_tenth_less_thread_and_a_sixth_less_rim_are_no_trouble():
    """M5 x 4 is four fifths of a diameter; a rim of 1.1 whole depths has 1.6 ln(2.242 / 1.1) = 1.14 times the
    stress (Mott, section 9-9)."""
    assert found(review(SOUND["fan"]), "screw-too-short").grade == "worth knowing"  # 0.125 of 0.138 in
    assert found(review(changed("mixed hubs", "gear p screw_length=4")), "screw-too-short").grade == (
        "will trouble"
    )
    assert found(review(SOUND["shifted"]), "thin-rim").grade == "worth knowing"
    thinner = changed("shifted", "shaft A diameter=14; gear p bore=14 keyway_depth=2.3 hub_diameter=24")
    assert found(review(thinner), "thin-rim").grade == "will trouble"


def test_names_are_read_in_other_words():
    for name, told in (("wheel 60 teeth 20DP", "60"), ("w_40T_P20", "20"), ("40T bore 0.5", "0.5")):
        design = SOUND["slanted"].with_(gear={"p": {"name": name, "teeth": 40}})
        finding = found(review(design), "name-tells-another-part")
        assert told in finding.what
        assert "name-tells-another-part" not in review(design.with_(**finding.edits[0])).names
    right = SOUND["slanted"].with_(gear={"p": {"name": "p 40T 16DP bore 0.375"}})
    assert "name-tells-another-part" not in review(right).names
