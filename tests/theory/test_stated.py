"""Numbers with units: read, converted, settled or refused; the one table of units.

Factors: NIST Special Publication 811 (2008), appendix B.8 (from memory of the printed table, to its seven
figures).
"""

import math
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import BevelPair, Gear, Mesh, Rack, RackDrive, Train, derive
from gearlab.parts.load import Load, through
from gearlab.theory.boundary import check_plausible, inward, outward, take_values
from gearlab.theory.quantities import PLAUSIBLE, QUANTITIES
from gearlab.theory.stated import read
from gearlab.theory.units import UNITS, USUAL, convert, theory_unit, usual_unit

#: A quantity of each dimension, to ask for its unit.
WORD = {
    "length": "centre_distance",
    "pitch": "diametral_pitch",
    "angle": "pressure_angle",
    "count": "driver_teeth",
    "turns": "driver_turns",
    "number": "efficiency",
    "speed": "driver_speed",
    "angular speed": "driver_angular_speed",
    "linear speed": "pitch_line_speed",
    "frequency": "mesh_frequency",
    "time": "duration",
    "force": "tangential_force",
    "torque": "driver_torque",
    "stress": "bending_stress",
    "power": "power",
    "temperature": "warming",
    "expansion": "expansion",
}
SAMPLE = {
    "length": "3 in",
    "pitch": "10 1/in",
    "angle": "20 deg",
    "count": "18 teeth",
    "turns": "2 turns",
    "number": "92 %",
    "speed": "15 rpm",
    "angular speed": "3 rad/s",
    "linear speed": "2 m/s",
    "frequency": "50 Hz",
    "time": "30 s",
    "force": "90 N",
    "torque": "14.5 N*m",
    "stress": "20 MPa",
    "power": "2 hp",
    "temperature": "20 K",
    "expansion": "70e-6/K",
}
BOTH_ALIKE = {dimension for dimension, (metric, inch) in USUAL.items() if metric == inch}


def usual(text, dimension, length_unit="mm"):
    found, _ = take_values({WORD[dimension]: text}, length_unit, "")
    return found[WORD[dimension]]


# -- the sizes of units --------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("1 hp", "power", 745.6999),
        ("1 PS", "power", 735.4988),
        ("1 ft*lbf/min", "power", 2.259697e-2),
        ("1 lbf", "force", 4.448222),
        ("1 kgf", "force", 9.80665),
        ("1 ozf", "force", 0.2780139),
        ("1 lbf*in", "torque", 0.1129848),
        ("1 lbf*ft", "torque", 1.355818),
        ("1 oz-in", "torque", 7.061552e-3),
        ("1 psi", "stress", 6.894757e-3),
        ("1 ksi", "stress", 6.894757),
        ("1 bar", "stress", 0.1),
        ("1 in", "length", 25.4),
        ("1 ft", "length", 304.8),
        ("1 mil", "length", 0.0254),
        ("1 uin", "length", 25.4e-6),
        ("1 ft/min", "linear speed", 5.08e-3),
        ("1 in/s", "linear speed", 2.54e-2),
        ("1 rpm", "angular speed", 0.1047198),
        ("1 rad", "angle", 180 / math.pi),
        ("1 rad/s", "speed", 60 / (2 * math.pi)),
        ("1 °F", "temperature", 0.5555556),
        ("1 /°F", "expansion", 1.8),
        ("1 min", "time", 60.0),
        ("1 h", "time", 3600.0),
    ],
)
def test_factors_of_nist(text, dimension, expected):
    assert usual(text, dimension) == pytest.approx(expected, rel=5e-7)


@pytest.mark.parametrize(
    ("spellings", "dimension", "expected"),
    [
        (
            "14.5 N·m; 14.5 N*m; 14.5 N m; 14.5 Nm; 14.5 N.m; 14.5 N-m; 14500 N·mm; 14500 Nmm; 0.0145 kN*m",
            "torque",
            14.5,
        ),
        (
            "10 lbf·in; 10 lbf in; 10 lbf-in; 10 lb-in; 10 in-lb; 10 in·lbf; 10 lb in; 10 lbs*in; 10 inlb",
            "torque",
            1.129848,
        ),
        (
            (
                "1725 rev/min; 1725 rpm; 1725 r/min; 1725 RPM; 1725 r.p.m.; 1725 1/min; 1725 min⁻¹; 1725"
                " min^-1; 1725 turns/min; 1725 rev per min; 28.75 rev/s; 28.75 rps; 1.725e3 rpm"
            ),
            "speed",
            1725,
        ),
        ("20 deg; 20°; 20 °; 20 degrees; 1/18 turn", "angle", 20),
        ("20 MPa; 20 N/mm²; 20 N/mm^2; 20e6 Pa; 20000 kPa; 0.02 GPa", "stress", 20),
        (
            (
                '76.2 mm; 7.62 cm; 0.0762 m; 3 in; 3 inches; 3"; 3 IN; 76200 µm; 76200 um; 2 4/4 in; 3/1 in;'
                " 2-2/2 in; 0.25 ft; 76.2 millimetres"
            ),
            "length",
            76.2,
        ),
        ("10 1/in; 10/in; 10 in⁻¹; 10 teeth/in; 10 in^-1", "pitch", 10),
        (
            (
                "70e-6/K; 70e-6 1/K; 70 1e-6/K; 70·10⁻⁶/K; 70 µm/(m·K); 70 um/m/K; 70 ppm/K; 70 10^-6/K; 70"
                " ppm/°C"
            ),
            "expansion",
            70e-6,
        ),
        ("0.5 m/s; 500 mm/s; 30 m/min; 30000 mm/min", "linear speed", 0.5),
        ("92 %; 92%", "number", 0.92),
        ("−15 rpm; -15 rpm", "speed", -15),
        ("20 K; 20 °C; 20 degC; 36 °F", "temperature", 20),
        ("1.5 kW; 1500 W; 1.5 KW; 1500 N·m/s; 1500 J/s; 1.5e6 mW", "power", 1500),
    ],
)
def test_spellings(spellings, dimension, expected):
    for text in spellings.split("; "):
        assert usual(text, dimension) == pytest.approx(expected, rel=3e-7), text


@pytest.mark.parametrize(
    ("text", "dimension", "said"),
    [
        ("2", "power", "without a unit"),
        ("18", "count", "write the number without quotes, 18"),
        ("two hp", "power", "does not begin with a number"),
        ("", "length", "does not begin"),
        ("nan mm", "length", "does not begin"),
        ("inf mm", "length", "does not begin"),
        ("1,5 mm", "length", "decimal point"),
        ("1 000 mm", "length", "decimal point"),
        ("3 furlongs", "length", "unknown"),
        ("3 Mm", "length", "unknown"),
        ("1/0 in", "length", "divides by nothing"),
        ("2 mm/", "length", "unknown"),
        ("2 (mm", "length", "unknown"),
        ("2 )mm(", "length", "unknown"),
        ("1.2.3 mm", "length", "decimal point"),
        ("9**9 mm", "length", "is no quantity|unknown|decimal"),
        ("50 Hz", "speed", "is a frequency"),
        ("2 mm mm", "length", "not a length"),
        ("1" * 80 + " mm", "length", "too long"),
        ("1e999 mm", "length", None),
    ],
)
def test_what_cannot_be_read_is_refused(text, dimension, said):
    if said is None:  # an infinite number is out of range
        with pytest.raises(ValueError, match="out of range"):
            derive("ratio", {"driver_pitch_diameter": text, "driven_pitch_diameter": "3 mm"})
        return
    with pytest.raises(ValueError, match=said):
        read(text, "it", dimension)


@pytest.mark.parametrize("dimension", sorted(SAMPLE))
def test_a_unit_of_another_dimension_is_refused_by_name(dimension):
    alike = {("speed", "angular speed"), ("angle", "turns")}
    for other, text in SAMPLE.items():
        if other == dimension or {(dimension, other), (other, dimension)} & alike:
            continue
        with pytest.raises(ValueError, match=re.escape(text)) as caught:
            read(text, QUANTITIES[WORD[dimension]].meaning, dimension)
        assert QUANTITIES[WORD[dimension]].meaning in str(caught.value) and "give it in" in str(caught.value)


names = st.sampled_from(sorted(UNITS))


@settings(max_examples=300)
@given(name=names, number=st.floats(1e-6, 1e6), length_unit=st.sampled_from(["mm", "in"]))
def test_every_unit_there_is_is_read_as_itself(name, number, length_unit):
    dimension = UNITS[name].dimension
    if name in ("1", "lbf*in/min"):
        return
    found, _ = take_values({WORD[dimension]: f"{number!r} {name}"}, length_unit, "")
    assert found[WORD[dimension]] == pytest.approx(
        convert(number, name, usual_unit(dimension, length_unit)), rel=1e-12
    )


@settings(max_examples=200)
@given(
    word=st.sampled_from(sorted(QUANTITIES)),
    number=st.floats(-1e6, 1e6),
    length_unit=st.sampled_from(["mm", "in"]),
)
def test_in_and_out_again(word, number, length_unit):
    assert outward(word, inward(word, number, length_unit), length_unit) == pytest.approx(number, rel=1e-14)
    dimension = QUANTITIES[word].dimension
    assert inward(word, number, length_unit) == pytest.approx(
        convert(number, usual_unit(dimension, length_unit), theory_unit(dimension, length_unit)), rel=1e-14
    )


# -- published and handbook values ---------------------------------------------------------------------
@pytest.mark.parametrize(
    ("asked", "givens", "expected", "unit", "tolerance"),
    [
        # T = 63 025 hp / rpm [lbf in] and T = 9549 kW / rpm [N m]: common practice, in every handbook
        ("driver_torque", {"power": "1 hp", "driver_speed": "1 rpm"}, 63025, "lbf*in", 1),
        ("driver_torque", {"power": "1 kW", "driver_speed": "1 rpm"}, 9549, "N*m", 0.5),
        (
            "driver_torque",
            {"power": "2 hp", "driver_speed": "1725 rev/min"},
            63025 * 2 / 1725,
            "lbf*in",
            0.001,
        ),
        ("power", {"driver_torque": "100 lbf·ft", "driver_speed": 5252}, 100, "hp", 0.01),
        # V = pi d n / 12 [ft/min]: common practice
        (
            "pitch_line_speed",
            {"driver_pitch_diameter": "2 in", "driver_speed": 1000},
            math.pi * 2 * 1000 / 12,
            "ft/min",
            1e-9,
        ),
        # Budynas & Nisbett, Shigley's, Example 13-7: 2.5 kW at 1750 rev/min on 20 teeth of module 2.5 press with  # noqa: E501
        # 0.546 and 0.199 kN
        (
            "tangential_force",
            {"power": "2.5 kW", "driver_speed": "1750 rev/min", "driver_teeth": 20, "module": 2.5},
            546,
            "N",
            0.5,
        ),
        (
            "separating_force",
            {
                "power": "2.5 kW",
                "driver_speed": "1750 rev/min",
                "driver_teeth": 20,
                "module": 2.5,
                "pressure_angle": "20 deg",
            },
            199,
            "N",
            0.5,
        ),
        # Wentzell, Machine Design, Example 12.1, p. 254, with his 63,000 for 63,025: 5 hp at 1725 rpm on 2.5 in  # noqa: E501
        (
            "tangential_force",
            {"power": "5 hp", "driver_speed": "1725 rpm", "driver_pitch_diameter": "2.5 in"},
            146.09,
            "lbf",
            0.1,
        ),
        # Mott, Example 8-1: P = 10 makes a module of 2.54 mm by the definition of the inch
        ("C", {"P": 10, "N1": 20, "N2": 40}, 3.0, "in", 1e-12),
        (
            "distance_growth",
            {"expansion": "70e-6/K", "warming": "36 °F", "nominal_distance": "78.75 mm"},
            70e-6 * 20 * 78.75,
            "mm",
            1e-9,
        ),
        ("mesh_frequency", {"driver_teeth": 20, "driver_speed": 1800}, 600, "Hz", 1e-9),
        ("duration", {"driver_turns": 5, "driver_speed": 30}, 10, "s", 1e-9),
    ],
)
def test_published_and_handbook_values(asked, givens, expected, unit, tolerance):
    way = derive(asked, givens)
    assert (
        way.result == pytest.approx(expected, abs=tolerance)
        and way.unit == unit
        and type(way.result) is float
    )


# -- what settles a unit, and what does not ------------------------------------------------------------
def test_a_length_unit_converts():
    way = derive("C", {"P": 10, "N1": 20, "N2": 40}, length_unit="mm")
    # 3 in of 25.4 mm, exact (NIST SP 811)
    assert (way.result, way.unit) == (pytest.approx(76.2, abs=1e-12), "mm")
    assert "10/in" in way.text() and "2.54 mm" in way.text() and "25.4 mm" in way.text()
    other = derive("C", {"module": 2.54, "N1": 20, "N2": 40}, length_unit="in")
    assert (other.result, other.unit) == (
        pytest.approx(3.0, abs=1e-12),
        "in",
    ) and "2.54 mm = 0.1 in" in other.text()
    assert derive("C", ["P", "N1", "N2"], length_unit="mm").value(P=10, N1=20, N2=40) == pytest.approx(76.2)
    assert derive("C", ["module", "N1", "N2"], length_unit="in").value(
        module=2.54, N1=20, N2=40
    ) == pytest.approx(3.0)


def test_mixed_givens_convert_in_sight():
    way = derive("teeth", {"pitch_diameter": "3 in", "module": 2.5})
    assert (
        way.result == pytest.approx(76.2 / 2.5)
        and "3 in = 76.2 mm" in way.text()
        and "3 in = 76.2 mm" in way.markdown()
        and "3 in = 76.2 mm" in way.mathml()
    )
    assert derive("teeth", {"pitch_diameter": "76.2 mm", "P": 10}).result == pytest.approx(30)
    # teeth per inch, whatever the length unit
    assert derive("diametral_pitch", {"pitch_diameter": "76.2 mm", "teeth": 30}).result == pytest.approx(10)
    assert derive("pitch_diameter", ["teeth", "module"]).value(teeth=20, module="0.1 in") == pytest.approx(
        50.8
    )


@pytest.mark.parametrize(
    ("asked", "givens"),
    [
        ("ratio", {"driver_pitch_diameter": 2, "driven_pitch_diameter": 5}),
        ("driver_torque", {"power": 2, "driver_speed": 1725}),
        ("power", {"driver_torque": 2, "driver_speed": 1725}),
        ("separating_force", {"tangential_force": 86, "pressure_angle": 20}),
        ("utilisation", {"bending_stress": 10, "allowable_stress": 20}),
        ("driver_speed", {"pitch_line_speed": 2, "driver_pitch_diameter": "50 mm"}),
        ("base_diameter", {"pitch_diameter": 2, "pressure_angle": 20}),
    ],
)
def test_a_bare_number_without_a_settled_unit_is_refused(asked, givens):
    with pytest.raises(ValueError, match="has no unit, and nothing here settles one") as caught:
        derive(asked, givens)
    said = str(caught.value)
    word = next(
        word
        for word, value in givens.items()
        if not isinstance(value, str) and QUANTITIES[word].dimension not in BOTH_ALIKE
    )
    metric, inch = (usual_unit(QUANTITIES[word].dimension, unit).replace("*", "·") for unit in ("mm", "in"))
    assert metric in said and inch in said and "length_unit" in said and "module" in said
    with pytest.raises(ValueError, match="has no unit"):  # the same where the names come first
        derive(asked, list(givens)).value(**givens)
    for unit in ("mm", "in"):
        assert math.isfinite(derive(asked, givens, length_unit=unit).result)


def test_what_needs_nothing_to_settle_it():
    assert derive("driven_speed", {"driver_speed": 15, "N1": 18, "N2": 45}).result == -6
    assert derive("involute_angle", {"pressure_angle": 20}).unit == "deg"
    # rad/s: one turn a second
    assert derive("driver_angular_speed", {"driver_speed": 60}).result == pytest.approx(2 * math.pi)
    # by hand: 2.05 * 10 - 2
    assert derive("teeth", {"outside_diameter": 2.05, "P": 10}).result == pytest.approx(18.5)


def test_two_units_that_both_claim_a_bare_length_are_refused():
    with pytest.raises(ValueError, match="speak of different ones"):
        derive("teeth", {"pitch_diameter": 52, "P": 10}, length_unit="mm")
    with pytest.raises(ValueError, match="use 'in' or 'mm'"):
        derive("teeth", {"pitch_diameter": 52, "module": 10}, length_unit="cm")


@pytest.mark.parametrize(
    ("asked", "givens", "said"),
    [
        (
            "distance_growth",
            {"expansion": 70, "warming": 20, "nominal_distance": "78.75 mm"},
            "thermal expansion of the plate 70 1/K is out of range",
        ),
        (
            "distance_growth",
            {"expansion": "70 1/K", "warming": 20, "nominal_distance": "78.75 mm"},
            "out of range",
        ),
        (
            "distance_growth",
            {"expansion": 70e-6, "warming": 2e4, "nominal_distance": "78.75 mm"},
            "warming 20000 K",
        ),
        ("driver_torque", {"power": "1e12 W", "driver_speed": 15}, "power 1e+12 W"),
        (
            "driven_torque",
            {"driver_torque": "1 N*m", "ratio": 2, "efficiency": 92},
            "efficiency of the mesh 92",
        ),
        ("efficiency", {"driver_torque": "10 N*m", "driven_torque": "40 N*m", "ratio": 2}, "above 1"),
        ("teeth", {"pitch_diameter": "1e300 mm", "module": 2}, "pitch diameter"),
        ("driven_speed", {"driver_speed": 1e12, "ratio": 2}, "speed of the driver"),
        (
            "driven_torque",
            {"driver_torque": "92 hp", "ratio": 2, "efficiency": "92 %"},
            "is a power, not a torque",
        ),
    ],
)
def test_implausible_sizes_are_refused_with_their_limits(asked, givens, said):
    with pytest.raises(ValueError, match=re.escape(said)):
        derive(asked, givens)


@pytest.mark.parametrize("length_unit", ["mm", "in"])
def test_the_limits_are_the_same_sizes_for_both_systems(length_unit):
    for dimension, (low, high, name) in PLAUSIBLE.items():
        entry, most = (
            QUANTITIES[WORD[dimension]],
            convert(high, name, theory_unit(UNITS[name].dimension, length_unit)),
        )
        check_plausible(entry, 0.999 * most, length_unit)
        with pytest.raises(ValueError, match="out of range"):
            check_plausible(entry, 1.001 * most, length_unit)
        assert low <= 0 or dimension == "pitch"


# -- what stands on the page ---------------------------------------------------------------------------
def test_substitutions_show_their_units():
    way = derive("driver_torque", {"power": "2 hp", "driver_speed": "1725 rev/min"})
    assert way.lines("text")[-1].math == "T_1 = P_w/(2·π·n1) = 2 hp/(2·π·1725 rpm) = 73.0729 lbf·in"
    assert (
        r"\frac{2\ \text{hp}}{2 \cdot \pi \cdot 1725\ \text{rpm}} = 73.0729\ \text{lbf·in}" in way.markdown()
    )
    assert "<mn>1725</mn><mspace width='0.3em'/><mtext>rpm</mtext>" in way.mathml()
    assert (
        "equals 2 horsepower over (2 times π times 1725 turns per minute) equals 73.0729 pound inches"
        in way.spoken()[0]
        and way.spoken()[0] in way.mathml()
    )
    # 33 000 ft lbf a minute (NIST SP 811: 550 ft lbf/s)
    assert "units: 1 hp = 396000 lbf·in/min" in way.text()


@pytest.mark.parametrize(
    ("asked", "givens", "line"),
    [
        ("pitch_diameter", {"teeth": 18, "P": 10}, "d = N/P = 18/(10/in) = 1.8 in"),
        ("pitch_diameter", {"teeth": 18, "module": 2.5}, "d = m·N = 2.5 mm·18 = 45 mm"),
        (
            "base_diameter",
            {"pitch_diameter": "45 mm", "pressure_angle": 20},
            "d_b = d·cos(φ) = 45 mm·cos(20°) = 42.2862 mm",
        ),
        ("teeth", {"pitch_diameter": "45 mm", "module": 2.5}, "N = d/m = 45 mm/(2.5 mm) = 18"),
        ("driven_speed", {"driver_speed": -15, "ratio": 2.5}, "n2 = -n1/i = -(-15 rpm)/2.5 = 6 rpm"),
        ("ratio", {"N1": 18, "N2": 45}, "i = N2/N1 = 45/18 = 2.5"),
        (
            "distance_growth",
            {"expansion": 70e-6, "warming": 20, "nominal_distance": "80 mm"},
            "g_C = α_T·C·ΔT = (7·10^-5/K)·80 mm·20 K = 0.112 mm",
        ),
        (
            "overhung_moment",
            {"shaft_force": "85 N", "face_height": "20 mm"},
            "M = z_f·W = 20 mm·85 N = 1.7 N·m",
        ),
    ],
)
def test_lines_stay_readable(asked, givens, line):
    assert line in [one.math for one in derive(asked, givens).lines("text")]


def test_a_line_of_one_set_of_units_explains_none():
    assert not derive(
        "driven_torque", {"driver_torque": "2 N*m", "ratio": 2.5, "efficiency": 0.92}
    ).unit_facts
    assert derive("rack_force", {"pinion_torque": 3.75, "teeth": 20, "module": 2.5}).unit_facts == (
        "1 N·m = 1000 N·mm",
    )
    assert derive("opening_time", {"crank_turns": 5, "crank_speed": 15}).unit_facts == ("1 min = 60 s",)


# -- one table, the same everywhere --------------------------------------------------------------------
def test_the_table_of_the_readme():
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8").split("### Units")[1]
    rows = {
        cells[0]: cells[1:]
        for line in text.splitlines()
        if line.startswith("| ") and not line.startswith("| dimension")
        for cells in [[cell.strip() for cell in line.strip("|").split("|")]]
    }
    assert rows.keys() == USUAL.keys()
    for dimension, units in USUAL.items():
        assert tuple(rows[dimension][:2]) == units, dimension
        low, high, name = PLAUSIBLE.get(dimension, (0, 0, ""))
        assert rows[dimension][2] == (f"{low:g} to {high:g} {name}" if name else ""), dimension


def test_parts_and_derive_speak_the_same_units():
    """One torque for all.

    1.93 N m on 18 teeth of module 2.5 press with 1930/22.5 N (statics, by hand); 20 teeth take 3.75 N m for
    150 N.
    """
    pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    load = Load(pair, torque=1.93, speed=15, efficiency=0.92)
    assert (
        load.tangential_force == pytest.approx(1930 / 22.5)
        and load.numbers["driver_torque"] == 1.93
        and load.torque_unit == usual_unit("torque", "mm")
    )
    told = {word: load.explain(word) for word in ("driven_torque", "power", "tangential_force")} | {
        "pitch_line_speed": pair.explain("pitch_line_speed", driver_speed="15 rpm")
    }
    for word, way in told.items():
        assert way.result == pytest.approx(getattr(load, word)) and way.unit == usual_unit(
            QUANTITIES[word].dimension, "mm"
        ), word
    with pytest.raises(ValueError, match="face width 5e\\+06 mm is out of range"):
        load.explain("bending_stress", form_factor=0.3, face_width="5000 m")
    assert load.power == pytest.approx(
        1.93 * 2 * math.pi * 15 / 60
    ) and load.pitch_line_speed == pytest.approx(math.pi * 0.045 * 15 / 60)
    assert (
        through(Train.of(18, 45, module=2.5), torque=1.93)[0].driven_torque
        == pytest.approx(Train.of(18, 45, module=2.5).torques(1.93)[-1])
        == pytest.approx(4.825)
    )
    drive = RackDrive(Gear(20, module=2.5), Rack(54, module=2.5))
    assert drive.forces(3.75)[0] == pytest.approx(150) == drive.explain(
        "rack_force", pinion_torque="3750 N·mm"
    ).result and drive.driven_back(150) == pytest.approx(3.75)
    assert (
        drive.rack_speed(6)
        == pytest.approx(math.pi * 0.05 * 6 / 60)
        == drive.explain("rack_speed", speed=6).result
    )
    cones = BevelPair(20, 30, module=2.5)
    assert cones.explain("mean_force", driver_torque=2.0, face_width=10).result == pytest.approx(
        cones.explain("mean_force", driver_torque="2 N·m", face_width="1 cm").result
    )


def test_inch_parts_speak_pound_inches():
    """Wentzell, Machine Design, Example 12.1, p.

    254, with his 63,000 for 63,025: 5 hp at 1725 rpm, 20 teeth of 8 to the inch, 146.09 lbf.
    """
    pair = Mesh(Gear(20, diametral_pitch=8), Gear(40, diametral_pitch=8))
    load = Load.from_power(pair, 5, 1725)
    assert load.tangential_force == pytest.approx(146.09, abs=0.1) and load.torque == pytest.approx(
        63025 * 5 / 1725, rel=1e-5
    )
    assert load.explain("driver_torque").result == load.torque == load.numbers[
        "driver_torque"
    ] and load.pitch_line_speed == pytest.approx(math.pi * 2.5 * 1725 / 12)


@settings(max_examples=40, deadline=None)
@given(
    power=st.floats(1e-3, 1e4), speed=st.floats(1, 1e4), teeth=st.integers(12, 80), module=st.floats(0.3, 20)
)
def test_the_same_drive_in_both_systems(power, speed, teeth, module):
    """A force is a force: stated in hp and inches or in watts and millimetres, and asked for in either."""
    inch = derive(
        "tangential_force",
        {
            "power": f"{power!r} hp",
            "driver_speed": speed,
            "driver_teeth": teeth,
            "diametral_pitch": 25.4 / module,
        },
    )
    metric = derive(
        "tangential_force",
        {"power": convert(power, "hp", "W"), "driver_speed": speed, "driver_teeth": teeth, "module": module},
    )
    assert (inch.unit, metric.unit) == ("lbf", "N") and convert(inch.result, "lbf", "N") == pytest.approx(
        metric.result, rel=1e-9
    )
    mixed = derive(
        "tangential_force",
        {
            "power": f"{power!r} hp",
            "driver_speed": f"{speed / 60!r} rev/s",
            "driver_teeth": teeth,
            "diametral_pitch": 25.4 / module,
        },
        length_unit="mm",
    )
    assert mixed.unit == "N" and mixed.result == pytest.approx(metric.result, rel=1e-9)
