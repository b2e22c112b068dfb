"""Finding the way: straight, with a letter carried, and not at all."""

import random

import pytest

from gearlab.theory import system
from gearlab.theory.scope import scope_for, symbol
from gearlab.theory.search import everything_forward, find, forward, lacking, reach

GEAR = scope_for("gear", "in", (system(),))
PAIR = scope_for("pair", "in", (system(), system()))


def symbols(*words):
    return [symbol(word) for word in words]


def test_forward_takes_the_taught_way():
    links = forward(GEAR, symbols("teeth", "diametral_pitch"), symbol("outside_diameter"))
    assert [link.unknown.name for link in links] == ["pitch_diameter", "addendum", "outside_diameter"]
    assert all(link.role == "direct" for link in links)
    assert forward(GEAR, symbols("teeth"), symbol("outside_diameter")) is None


def test_backwards_is_rearranged():
    links = find(GEAR, symbols("outside_diameter", "root_diameter", "teeth"), symbol("diametral_pitch"))
    assert links[-1].unknown.name == "diametral_pitch"
    assert {link.role for link in links} & {"rearranged", "closed"}


def test_a_carried_letter_is_found_by_closing():
    links = find(PAIR, symbols("centre_distance", "diametral_pitch", "ratio"), symbol("driver_teeth"))
    assert links[0].role == "carried" and "closed" in {link.role for link in links}


def test_a_carried_letter_that_cancels_is_never_found():
    links = find(
        PAIR, symbols("driver_pitch_diameter", "centre_distance", "driver_speed"), symbol("driven_speed")
    )
    assert links[0].role == "carried" and "closed" not in {link.role for link in links}


def test_no_way_is_none_and_the_lacking_is_named():
    assert find(PAIR, symbols("driver_teeth", "driven_teeth"), symbol("centre_distance")) is None
    names = {
        one.name for one in lacking(PAIR, symbols("driver_teeth", "driven_teeth"), symbol("centre_distance"))
    }
    assert {"diametral_pitch", "driver_pitch_diameter", "circular_pitch"} <= names
    assert "driver_speed" not in names


def test_what_is_lacking_is_all_that_leads_on_alone():
    """Each letter tried by itself, without what is left out of the search for leading nowhere."""
    draw, named = random.Random(5), 0
    letters = sorted(PAIR.symbols, key=str)
    for _ in range(40):
        given, asked = draw.sample(letters, draw.randint(0, 5)), draw.choice(letters)
        if asked in given or forward(PAIR, given, asked) is not None:
            continue
        alone = {letter for letter in letters if letter != asked and forward(PAIR, [*given, letter], asked)}
        assert set(lacking(PAIR, given, asked)) == alone, (given, asked)
        named += len(alone)
    assert named > 20


@pytest.mark.parametrize(
    "words", [("teeth", "diametral_pitch", "pressure_angle"), ("outside_diameter", "teeth")]
)
def test_links_stand_in_a_workable_order(words):
    known = set(symbols(*words))
    for link in everything_forward(GEAR, symbols(*words)):
        assert {s for s in link.expression.free_symbols if s.name != "full_turn"} <= known
        known.add(link.unknown)


def test_reach_holds_what_forward_holds_and_more():
    given = symbols("centre_distance", "diametral_pitch", "ratio")
    ways = reach(PAIR, given)
    assert {"driver_teeth", "driven_teeth", "driven_outside_diameter", "driver_root_diameter"} <= {
        one.name for one in ways
    }
    assert "driven_speed" not in {one.name for one in ways}
    assert not set(given) & set(ways)
