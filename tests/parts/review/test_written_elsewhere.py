"""Sound, spoiled and undecidable designs by somebody who had not read the review, in the file's first fields.

What is expected was written down first, each with its reason: the trade's formulas by hand (W. Lewis's beam,
16 T / pi d3 for a shaft, half of module times the sum of the teeth), tables of keys, and common practice.
"""

from math import pi

import pytest

from gearlab.parts.review import GRADES, review

from .elsewhere import SOUND, edit_of

#: A sound design, the one thing that is changed in it, what must be found, and why.
SPOILED = {
    "counts exchanged": ("old mill", "gear p teeth=48; gear w teeth=32", "ratio-missed", "0.67, 1.5 wanted"),
    "an idler too many": ("idler", "design direction=opposite", "wrong-direction", "two meshes turn twice"),
    "a hub under tips": (
        "sluice",
        "gear p hub_diameter=1.125; gear w face_width=0.625 hub_projection=0.625",
        "hub-fills-spaces",
        "the wheel's tips come to 2.25 - 56/32 = 0.5 in, the hub reaches 0.5625",
    ),
    "keyway right through": ("old mill", "gear p keyway_depth=0.26", "keyway-breaks-through", "wall of 0.25"),
    "no wall": ("old mill", "gear p hub_diameter=0.6875", "thin-wall", "0.094 in about a bore of 0.5"),
    "hub below its bore": ("keys", "gear p hub_diameter=14", "hub-thinner-than-bore", "bore of 16"),
    "bore into the spaces": (
        "planetary",
        "shaft A diameter=18; gear p bore=18",
        "bore-reaches-spaces",
        "root circle 20 - 2.5 = 17.5 mm",
    ),
    "long screw": ("hand feed", "gear p screw_length=0.375", "screw-stands-out", "wall of 0.1875"),
    "slips": (
        "slanted",
        "gear w set_screw=#2 screw_length=0.25",
        "slips-on-shaft",
        "85 lbf at a quarter inch",
    ),
    "nothing holds it": ("17 teeth", "gear p keyway_depth=0", "no-fastening", "it only slides"),
    "half a shaft": ("mixed hubs", "gear p flat=5", "flat-too-deep", "5 of 10 mm"),
    "no flat at all": ("fan", "gear p flat=0.0005", "flat-too-shallow", "half a thousandth"),
    "thin shaft": (
        "four",
        "shaft s2 diameter=0.125; gear b bore=0.125; gear c bore=0.125",
        "shaft-overloaded",
        "16 x 3 / (pi 0.125^3) = 7800 psi, and bending",
    ),
    "thin pin": ("idler", "shaft pin diameter=4; gear i bore=4", "shaft-overloaded", "400 N at 17 mm"),
    "plate forgotten": ("fan", "shaft A length=0.9375", "shaft-too-short", "a quarter inch less"),
    "other bore": ("mixed hubs", "gear w bore=10", "bore-is-not-the-shaft", "shaft of 12"),
    "crushed key": (
        "17 teeth",
        "gear p face_width=6 hub_diameter=none hub_projection=0 gap=34 allowable_stress=550;"
        " gear w bore=30 hub_diameter=50 allowable_stress=550; shaft B diameter=30; load torque=40",
        "key-overloaded",
        "4000 N on 6 x 2.8 mm = 238 MPa",
    ),
    "one gear up": ("mixed hubs", "gear w gap=32; shaft B length=75", "faces-miss", "19 mm higher"),
    "on the plate": ("old mill", "gear p gap=0", "gear-rubs-on-plate", "no washer"),
    "out of the plate": ("sluice", "plate length=4", "hole-breaks-edge", "the second hole at 4.75"),
    "colliding": (
        "branch",
        "plate height=170; shaft r x=73.94 y=108.08",
        "gears-collide",
        "50 mm apart, tip radii 27 and 37",
    ),
    "cold house": (
        "cold",
        "shaft B x=110; gear p tooth_thinning=0.03; gear w tooth_thinning=0.03; load warming=-30",
        "plate-jams-the-mesh",
        "60 x 58e-6 x 30 = 0.1 mm nearer, 0.06 of play",
    ),
    "rounded too far": ("equal", "shaft B x=5.98", "shafts-too-near", "0.02 in too near, eight thou thinned"),
    "loose": ("slanted", "shaft B y=4.54", "loose-mesh", "0.032 in further: 0.023 of play more"),
    "loose at 48": ("dial", "shaft s2 x=2.009", "loose-mesh", "9 thou apart: 6.5 of play more"),
    "off centre": ("cold", "gear p bore_offset=0.4", "tight-spot", "0.29 mm of half swing, 0.19 of play"),
    "other angle": ("module 8", "gear w pressure_angle=14.5", "teeth-do-not-match", "20 against 14.5"),
    "stub in full": ("stub", "gear w tooth_system=full_depth", "no-bottom-clearance", "1.0 in 1.0"),
    "undercut": ("shifted", "gear p profile_shift=0; gear w profile_shift=0", "undercut", "13 teeth"),
    "cannot be cut": (
        "mixed hubs",
        "gear p pressure_angle=40; gear w pressure_angle=40",
        "gear-cannot-be",
        "32 is the most",
    ),
    "overloaded": ("cold", "gear p allowable_stress=2", "teeth-overloaded", "30/(10 x 2 x 0.32) = 4.7 MPa"),
    "stalled": (
        "lift",
        "load stall_torque=420 slip_torque=none",
        "teeth-break-at-stall",
        "five times the working torque",
    ),
    "weak motor": ("lift", "load stall_torque=70 slip_torque=none", "stall-below-running", "80 to work"),
    "weak clutch": ("lift", "load slip_torque=60", "clutch-slips", "80 to work"),
    "no brake": ("lift", "load brake=false", "load-falls-back", "it lifts"),
    "absurd speed": ("module 8", "load speed=20000", "runs-too-fast", f"{pi * 0.16 * 20000 / 60:.0f} m/s"),
    "millimetres in inches": ("sluice", "plate thickness=9", "units-look-mixed", "9 in of plate, 5 high"),
    "face in millimetres": ("old mill", "gear p face_width=16", "units-look-mixed", "16 in wide"),
    "places in millimetres": (
        "sluice",
        "shaft crank x=63.5; shaft drum x=120.65",
        "units-look-mixed",
        "2.5, 4.75",
    ),
    "length in inches": ("17 teeth", "shaft A length=3", "units-look-mixed", "3 mm for 75"),
    "rack too near": ("vent rack", "rack mounting_height=36.5", "rack-too-high", "25 + 12.5 = 37.5"),
    "rack too short": ("feed rack", "rack teeth=38", "rack-too-short", "11 in are 42 teeth of pi/12"),
    "rack without a back": (
        "vent rack",
        "rack pitch_height=3.5 mounting_height=28.5",
        "rack-back-thin",
        "3.5 - 3.125",
    ),
    "unequal mitre": ("mitre", "mitre teeth=24/36", "mitre-unequal", "two cones"),
    "ring of 58": ("planetary", "planetary ring=58", "ring-does-not-fit", "24 + 2 x 18 = 60"),
    "five planets": ("planetary", "planetary planets=5", "planets-uneven", "84 / 5"),
}

#: A sound design, something decisive that is taken out of it, and what it leaves open.
OPEN = {
    "no load": ("idler", "load none", "what it has to carry"),
    "no load on a rack": ("rack only", "load none", "what it has to carry"),
    "no stress": ("cold", "gear p allowable_stress=none", "the stress in its teeth"),
    "no stress of an idler": ("five", "gear g3 allowable_stress=none", "the stress in its teeth"),
    "no length": ("sluice", "shaft drum length=none", "whether it is long enough"),
    "no length of a pin": ("five", "shaft c length=none", "whether it is long enough"),
}
#: Without its mesh a pair is two gears in one another's way: it fails, and is not called sound.
UNJOINED = ("mixed hubs", "vent rack", "module 8", "dial")


@pytest.mark.parametrize("name", SOUND)
def test_sound_designs_pass(name):
    ledger = review(SOUND[name])
    assert ledger.passes, f"{name}: {ledger}"
    assert not [finding for finding in ledger if finding.grade != "worth knowing"]


def spoiled(name):
    base, text, *_ = SPOILED[name]
    return SOUND[base].with_(**edit_of(text))


@pytest.mark.parametrize("name", SPOILED)
def test_a_single_failure_is_found_by_its_reason(name):
    _, _, finding, reason = SPOILED[name]
    ledger = review(spoiled(name))
    failing = [one for one in ledger if one.grade != "worth knowing"]
    assert finding in [one.name for one in failing] and not ledger.passes, f"{reason}: {ledger}"


@pytest.mark.parametrize("name", SPOILED)
def test_its_advice_mends_it(name):
    """Each edit takes its finding away, and brings none that is as bad."""
    design = spoiled(name)
    before = review(design)
    known = {(one.name, one.where) for one in before}
    for finding in before:
        if finding.grade == "worth knowing":
            continue
        assert finding.edits, f"{finding}"
        for edit in finding.edits:
            after = review(design.with_(**edit))
            limit = GRADES.index(finding.grade)
            # a gear under a new name is the old one
            worse = [
                one
                for one in after
                if GRADES.index(one.grade) <= limit and one.name not in {name for name, _ in known}
            ]
            assert (finding.name, finding.where) not in {(one.name, one.where) for one in after} and not worse


@pytest.mark.parametrize("name", OPEN)
def test_what_cannot_be_judged_is_not_called_sound(name):
    base, text, what = OPEN[name]
    ledger = review(SOUND[base].with_(**edit_of(text)))
    assert not ledger.passes and not ledger.fails
    assert what in [gap.what for gap in ledger.undecided]


@pytest.mark.parametrize("name", UNJOINED)
def test_gears_that_stand_to_mesh_want_their_mesh(name):
    ledger = review(SOUND[name].with_(mesh=None))
    assert not ledger.passes and "gears-collide" in ledger.names
