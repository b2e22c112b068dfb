"""Every quantity once: words, symbols, ranges."""

import re

import pytest

from gearlab.theory import QUANTITIES, quantity
from gearlab.theory.derivation import words_of
from gearlab.theory.quantities import NOTATIONS, SIDED, place, side_order, split_side
from gearlab.theory.relations import ALL
from gearlab.theory.scope import KINDS, Scope
from gearlab.theory.systems import system
from gearlab.theory.units import shown_unit, theory_unit


@pytest.mark.parametrize("kind", list(KINDS))
@pytest.mark.parametrize("notation", NOTATIONS)
def test_a_symbol_means_one_thing_in_each_kind(notation, kind):
    words = words_of(kind)
    symbols = [QUANTITIES[word].symbol(notation) for word in words]
    twice = {symbol for symbol in symbols if symbols.count(symbol) > 1}
    assert not twice
    assert {quantity(symbol, notation, words).word for symbol in symbols} == set(words)


def test_every_quantity_is_found_by_its_word():
    for word, entry in QUANTITIES.items():
        assert quantity(word) is entry


def test_a_symbol_alone_is_that_of_a_pair():
    assert (
        quantity("N1").word == "driver_teeth"
        and quantity("N1", "inch", words_of("idler train")).word == "first_teeth"
    )
    assert (
        quantity("C").word == "centre_distance"
        and quantity("t_1", "inch", words_of("workshop")).word == "contribution_1"
    )


def test_every_quantity_is_complete():
    for word, entry in QUANTITIES.items():
        assert word == entry.word and re.fullmatch(r"[a-z][a-z_0-9]*", word)
        assert entry.meaning and entry.low < entry.high
        assert theory_unit(entry.dimension, "in") and shown_unit(entry.dimension, "mm")
        assert entry.whole == (entry.dimension == "count")


def test_each_gear_of_a_pair_has_its_own():
    for side, number in (("driver", "1"), ("driven", "2")):
        entry = QUANTITIES[f"{side}_outside_diameter"]
        assert entry.symbol("inch") == f"d_o{number}" and entry.symbol("iso") == f"d_a{number}"
        assert ("driver" if side == "driver" else "driven gear") in entry.meaning


# ISO 701:1998, International gear notation: symbols for geometrical data.
@pytest.mark.parametrize(
    ("word", "symbol"),
    [
        ("module", "m"),
        ("teeth", "z"),
        ("centre_distance", "a"),
        ("pitch_diameter", "d"),
        ("outside_diameter", "d_a"),
        ("root_diameter", "d_f"),
        ("base_diameter", "d_b"),
        ("addendum", "h_a"),
        ("dedendum", "h_f"),
        ("pressure_angle", "alpha"),
        ("operating_pressure_angle", "alpha_w"),
        ("circular_pitch", "p"),
        ("base_pitch", "p_b"),
        ("profile_shift", "x"),
        ("span", "W"),
        ("clearance", "c"),
        ("tooth_thickness", "s"),
        ("backlash", "j"),
    ],
)
def test_iso_symbols(word, symbol):
    assert QUANTITIES[word].symbol("iso") == symbol


# Mott, Machine Elements in Mechanical Design, 4th ed., chapter 8: symbols of the inch trade.
@pytest.mark.parametrize(
    ("word", "symbol"),
    [
        ("diametral_pitch", "P"),
        ("teeth", "N"),
        ("centre_distance", "C"),
        ("addendum", "a"),
        ("dedendum", "b"),
        ("whole_depth", "h_t"),
        ("working_depth", "h_k"),
        ("circular_pitch", "p"),
        ("pressure_angle", "phi"),
        ("tooth_thickness", "t"),
        ("clearance", "c"),
        ("outside_diameter", "d_o"),
    ],
)
def test_inch_symbols(word, symbol):
    assert QUANTITIES[word].symbol("inch") == symbol


def test_one_symbol_in_two_notations():
    assert quantity("a", "inch").word == "addendum" and quantity("a", "iso").word == "centre_distance"


def test_unknown_names_get_near_ones():
    with pytest.raises(ValueError, match="centre_distance"):
        quantity("center_distance")
    with pytest.raises(ValueError, match="read in the iso notation"):
        quantity("Qx", "iso")


def test_the_driver_comes_first():
    words = ["driven_teeth", "driver_teeth", "diametral_pitch"]
    assert sorted(words, key=side_order).index("driver_teeth") < sorted(words, key=side_order).index(
        "driven_teeth"
    )
    assert place("driver_teeth") < place("driven_teeth")


def test_no_quantity_is_idle():
    """Each is in a relation of a gear or a pair, or says itself what a part is made with."""
    in_use = set()
    for kind, about in KINDS.items():
        for features in (frozenset(), *(frozenset({feature}) for feature in about.features)):
            for unit in ("in", "mm"):
                in_use |= {symbol.name for symbol in Scope(kind, unit, (system(),), features).symbols}
    # numbers of the tooth system
    fixed = {"addendum_factor", "dedendum_factor", "extra_dedendum", "rack_tip_radius"}
    shared = {word for word in SIDED if split_side(word)[0] in ("driver", "driven")}
    assert set(QUANTITIES) - shared - fixed - in_use == set()
    assert {relation.left for relation in ALL} <= set(QUANTITIES)
