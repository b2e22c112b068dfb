"""Every formula once: with a sentence, a source, and true in the worlds it is searched in."""

import inspect
import io
import itertools
import tokenize
from pathlib import Path

import pytest

from gearlab.theory import QUANTITIES, relations, system
from gearlab.theory.relation import FEATURES, HOLDS_OF
from gearlab.theory.relations import ALL
from gearlab.theory.scope import KINDS, Scope, scope_for, symbol
from gearlab.theory.solving import evaluate

FOLDER = Path(inspect.getfile(relations)).parent
MIXES = {
    "full depth": ("full depth",),
    "stub": ("stub",),
    "fine pitch": ("fine pitch",),
    "mixed": ("full depth", "stub"),
}


def test_every_relation_says_what_it_means_and_where_it_stands():
    for relation in ALL:
        assert relation.left in QUANTITIES
        assert relation.says.endswith((".", ":")) and len(relation.says.split()) >= 4, relation.left
        assert relation.source.strip(), relation.left
        # read after "It holds", behind the sentence
        assert relation.holds == "always" or str(relation.holds).split()[0].rstrip(":") in (
            "for",
            "with",
            "without",
            "at",
            "in",
            "on",
            "from",
            "where",
            "while",
            "roughly",
        ), relation.left
        assert not relation.where or relation.says.endswith("."), relation.left
        assert relation.of in HOLDS_OF
        assert set(relation.needs) <= set(FEATURES) and set(relation.unless) <= {*FEATURES, "mixed systems"}
        assert not set(relation.needs) & set(relation.unless)


def test_no_unit_conversion_stands_in_a_formula():
    """25.4, 60, 1000 and 12 stand in the conversion of units only."""
    for file in sorted(FOLDER.glob("*.py")):
        numbers = [
            token.string
            for token in tokenize.generate_tokens(io.StringIO(file.read_text(encoding="utf-8")).readline)
            if token.type == tokenize.NUMBER
        ]
        assert not {"25.4", "60", "60.0", "1000", "12", "12.0", "1e3"} & set(numbers), file.name


@pytest.mark.parametrize("kind", list(KINDS))
@pytest.mark.parametrize("mix", list(MIXES))
def test_every_equation_holds_in_both_worlds(kind, mix):
    rows = tuple(system(name) for name in MIXES[mix])
    if len(KINDS[kind].sides) != 2 and len(rows) == 2:
        pytest.skip("of two tooth systems only a pair can be")
    possible = sorted(KINDS[kind].features)
    for count in range(len(possible) + 1):
        for features in itertools.combinations(possible, count):
            if sum(feature.endswith(" held") for feature in features) > 1:
                continue  # nothing can turn then; test below
            for unit in ("in", "mm"):
                scope = Scope(kind, unit, rows, frozenset(features))
                for world in scope.worlds:
                    assert set(world) >= scope.symbols
                    for equation in scope.equations:
                        left, right = world[equation.left], evaluate(equation.right, world)
                        # some 60,000 times: by hand, which takes a fraction of pytest.approx
                        assert abs(left - right) <= max(1e-9 * abs(right), 1e-11), (features, equation.key)


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_rearrangement_gives_the_number_back(kind):
    scope = scope_for(kind, "in", (system(),))
    undone = 0
    for equation in scope.equations:
        for unknown in equation.symbols:
            found = scope.isolated(equation, unknown)
            if found is None:
                continue
            undone += unknown != equation.left
            assert unknown not in found.free_symbols
            for world in scope.worlds:
                assert evaluate(found, world) == pytest.approx(world[unknown], rel=1e-7, abs=1e-9), (
                    equation.key
                )
    assert undone > len(scope.equations)  # most formulas can be undone for more than one of their letters


def test_the_plain_case_reads_as_it_is_taught():
    scope = scope_for("gear", "in", (system(),))
    p, n = symbol("diametral_pitch"), symbol("teeth")
    assert scope.equation("pitch_diameter").right == n / p
    assert scope.equation("addendum").right == 1 / p
    metric = scope_for("gear", "mm", (system(),))
    assert metric.equation("addendum").right == symbol("module")


def test_shared_by_a_plain_pair_and_each_gears_own_otherwise():
    plain = scope_for("pair", "in", (system(), system()))
    assert {"addendum", "driver_chordal_thickness", "driven_chordal_thickness"} <= {
        s.name for s in plain.symbols
    }
    shifted = scope_for("pair", "in", (system(), system()), frozenset({"profile_shift"}))
    assert {"driver_addendum", "driven_addendum"} <= {s.name for s in shifted.symbols} and symbol(
        "addendum"
    ) not in shifted.symbols


def test_two_members_held_are_refused():
    with pytest.raises(ValueError, match="nothing can turn"):
        Scope("planetary set", "mm", (system(),), frozenset({"ring held", "sun held"}))


def test_a_feature_of_another_kind_is_refused():
    with pytest.raises(ValueError, match="'reverted' is none of a pair: use of"):
        Scope("pair", "mm", (system(),), frozenset({"reverted"}))
