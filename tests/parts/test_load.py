"""Loads against worked examples of textbooks, against statics worked by hand, and against the cut tooth."""

import math

import pytest

from gearlab import Gear, Mesh, Train
from gearlab.parts.internal import InternalGear
from gearlab.parts.load import Load, through
from gearlab.parts.published.strength import form_factor, speed_constant, static_stress

VENT = Mesh(Gear(18, module=2.5, face_width=14), Gear(45, module=2.5, face_width=12))


def test_the_vent_drive():
    """The chain of the vent drive, worked by hand.

    3.75 N m at the rack pinion, 0.92 for each of three meshes.
    """
    torque = 3.75 / 2.5 / 0.92**3
    load = Load(VENT, torque, speed=15, efficiency=0.92)
    assert load.torque == pytest.approx(1.93, abs=0.005)
    assert load.power == pytest.approx(torque * 2 * math.pi * 15 / 60, rel=1e-12)  # statics by hand, W
    assert load.tangential_force == pytest.approx(torque / 0.0225, rel=1e-12)  # 22.5 mm pitch radius
    assert load.separating_force == pytest.approx(
        load.tangential_force * math.tan(math.radians(20)), rel=1e-12
    )
    assert load.normal_force == pytest.approx(
        math.hypot(load.tangential_force, load.separating_force), rel=1e-12
    )
    assert load.driven_torque == pytest.approx(torque * 2.5 * 0.92, rel=1e-12)
    assert load.power_out == pytest.approx(load.power * 0.92)
    assert load.pitch_line_speed == pytest.approx(math.pi * 0.045 * 15 / 60, rel=1e-12)  # m/s


def test_stall_of_the_vent_drive():
    stalled = Load(VENT, 1.93, speed=15).at_stall(10.0)
    assert stalled.tangential_force == pytest.approx(444.4, abs=0.05)  # 10 N m on 22.5 mm
    found = stalled.bending(allowable=20.0)
    # 444.4/(12 x 2.5 x 0.309)
    assert (found.stress, found.utilisation) == (
        pytest.approx(47.94, abs=0.01),
        pytest.approx(2.397, abs=0.001),
    )
    assert stalled.power == 0.0 and stalled.pitch_line_speed == 0.0
    assert "estimate for teaching" in str(found) and "rated by the current standard" in found._repr_html_()


def test_power_in_inch_units():
    """Wentzell, Machine Design, example 12.1.

    5 hp at 1725 rpm on a pitch diameter of 2.5 in (printed 146.09, 53.17, 155.46 lbf).
    """
    load = Load.from_power(Mesh(Gear(20, diametral_pitch=8), Gear(40, diametral_pitch=8)), 5.0, 1725)
    # the source rounds its torque constant to 63000
    assert load.tangential_force == pytest.approx(146.09, abs=0.06)
    assert load.separating_force == pytest.approx(53.17, abs=0.03)
    assert load.normal_force == pytest.approx(155.46, abs=0.07)
    assert load.power == pytest.approx(5.0, rel=1e-12) and load.pitch_line_speed == pytest.approx(
        1129, abs=0.5
    )


def test_stress_with_speed_factor():
    """Worked by hand: 17 lbf, P 10, face 0.5 in, Y 0.309, 120 ft/min, cut teeth.

    17 x 10 x (1200 + 120)/(1200 x 0.5 x 0.309).
    """
    pair = Mesh(Gear(18, diametral_pitch=10, face_width=0.5), Gear(45, diametral_pitch=10))
    speed = 120 * 12 / (math.pi * 1.8)
    found = Load(pair, torque=17 * 0.9, speed=-speed).bending(teeth_made="cut")
    assert found.stress == pytest.approx(17 * 10 * 1320 / (1200 * 0.5 * 0.309), rel=1e-9)
    assert found.speed_factor == pytest.approx(1.1) and found.unit == "psi"
    assert Load(pair, 17 * 0.9, 0.0).bending(teeth_made="cut").speed_factor == 1.0


@pytest.mark.parametrize("teeth", [17, 18, 22, 30, 45, 60, 150])
def test_measured_form_factor_is_near_the_table(teeth):
    load = Load(Mesh(Gear(teeth, module=2, face_width=20), Gear(40, module=2, face_width=20)), 5.0)
    table, cut = load.bending(), load.bending(form="measured")
    assert cut.measured and cut.stress == pytest.approx(table.stress, rel=0.06)


def test_a_wider_pair_pushes_its_shafts_harder_apart():
    """The force along the line of action stays (torque over base radius).

    It leans further from the tangent.
    """
    wide = Load(Mesh(VENT.driver, VENT.driven, centre_distance=79.5), 1.93)
    normal = 1.93 / (0.0225 * math.cos(math.radians(20)))
    angle = math.acos(78.75 * math.cos(math.radians(20)) / 79.5)
    assert wide.normal_force == pytest.approx(normal, rel=1e-12)
    assert wide.separating_force == pytest.approx(normal * math.sin(angle), rel=1e-9)
    assert wide.tangential_force == pytest.approx(normal * math.cos(angle), rel=1e-9)
    with pytest.raises(ValueError, match="plain pair"):
        wide.explain("tangential_force")


def test_shifted_gears_carry_loads_too():
    load = Load(
        Mesh(Gear(12, module=2, profile_shift=0.4, face_width=10), Gear(30, module=2, face_width=10)), 1.0
    )
    assert load.normal_force == pytest.approx(1.0 / (0.012 * math.cos(math.radians(20))), rel=1e-12)
    assert (
        load.bending(form="measured").form_factor
        > Load(Mesh(Gear(12, module=2), Gear(30, module=2)), 1.0)
        .bending(form="measured", face_width=10)
        .form_factor
    )


def test_a_pinion_in_a_ring():
    load = Load(
        Mesh(Gear(20, module=2, face_width=10), InternalGear(60, module=2, face_width=10)),
        4.0,
        efficiency=0.95,
    )
    # statics by hand
    assert load.tangential_force == pytest.approx(200.0) and load.driven_torque == pytest.approx(11.4)
    with pytest.raises(ValueError, match="ask for the pinion"):
        load.bending("driven")


def test_through_a_train():
    """Scilab companion no.

    698: 10 kW at 1440 rpm, d 125 drives 500, then 195: 66.31 and 265.3 N m, 1061.03 and 2720.6 N.
    """
    train = Train(((Gear(25, module=5)), (Gear(100, module=5), Gear(30, module=6.5)), Gear(60, module=6.5)))
    torque = 10000 * 60 / (2 * math.pi * 1440)
    first, second = through(train, torque, 1440)
    assert first.torque == pytest.approx(66.31, abs=0.006) and second.torque == pytest.approx(265.3, abs=0.06)
    assert first.tangential_force == pytest.approx(
        1061.03, abs=0.01
    ) and second.tangential_force == pytest.approx(2720.6, abs=0.06)
    assert second.separating_force == pytest.approx(990.22, abs=0.02) and second.speed == pytest.approx(
        -360.0
    )
    lossy = through(train, torque, 1440, 0.97)
    # what is lost is lost once at each mesh
    assert lossy[-1].power_out == pytest.approx(lossy[0].power * 0.97**2)


def test_tables():
    # Shigley table 14-2; a maker's table
    assert form_factor(43) == 0.397 and form_factor(24, 14.5, "maker") == 0.302
    for between in (23, 40, 55, 200):
        below, above = (
            max(n for n in (22, 38, 50, 150) if n <= between),
            min(n for n in (24, 43, 60, 300) if n >= between),
        )
        assert form_factor(below) < form_factor(between) < form_factor(above)
    assert static_stress("cast iron", "psi") == 12000  # a maker's engineering information (seen)
    assert speed_constant(6.1, "mm") == 6.1


@pytest.mark.parametrize(
    "wrong, said",
    [
        (lambda: Load(VENT, 0.0), "torque = 0 N·m is out of range: give a finite number above 0 N"),
        (lambda: Load(VENT, 2.0, efficiency=1.2), "efficiency = 1.2 is out of range"),
        (lambda: Load(VENT, 2.0).power, "needs the driver's speed"),
        (lambda: Load.from_power(VENT, 3.0, 0.0), "speed = 0 rpm carries no power"),
        (lambda: Load(VENT, 2.0).bending("pinion"), "give 'driver' or 'driven'"),
        (
            lambda: Load(Mesh(Gear(18, module=2), Gear(20, module=2)), 2.0).bending(),
            "face_width is not known",
        ),
        (lambda: Load(VENT, 2.0).bending(form="guess"), "give 'table', 'measured'"),
        (lambda: Load(VENT, 2.0).bending(allowable="cheese"), "it holds plastic, bronze"),
        (lambda: Load(VENT, 2.0).bending(teeth_made="cut"), "the speed factor needs the driver's speed"),
        (
            lambda: Load(
                Mesh(Gear(18, module=2, tooth_system="stub"), Gear(20, module=2, tooth_system="stub")), 2.0
            ).bending(face_width=5),
            "holds full-depth teeth, these are stub",
        ),
        (lambda: form_factor(9), "it holds 12 teeth and more"),
        (lambda: form_factor(30, 25.0), "it holds 20 deg"),
        (lambda: form_factor(30, 20.0, "best"), "choose one of textbook, maker"),
        (lambda: speed_constant("smooth", "mm"), "choose 'cast' or 'cut'"),
        (
            lambda: through(Train.of(20, 20, 20, 20, module=2, ring=True, line_angles=(0, 90)), 2.0),
            "give an open train",
        ),
    ],
)
def test_errors_name_what_to_do(wrong, said):
    with pytest.raises(ValueError, match=said):
        wrong()
