"""The test of the tests: a relation or a row of a table that is wrong is noticed from outside.

Every closed form, measurement and printed table is a test of its own here. Then each relation of theory is
made 2 % wrong, one at a time, and the check that the map names for it must fail; and each number of each
typed table is put a step off. What `tests/bench/noticed.py` finds out at length (published rows, single
letters, written numbers) is written into the map.
"""

import ast
import functools
import importlib
import inspect
import pkgutil
import tomllib
from pathlib import Path

import outside
import printed_tables
import pytest
import tables
import wrong

import gearlab.parts
import gearlab.theory

CHECKS = outside.load()
# published rows are run by tests/reference
OWN = {name: check for name, check in CHECKS.items() if check.kind != outside.PRINT}
MAP = tomllib.loads((Path(__file__).parent / "noticed_by.toml").read_text(encoding="utf-8"))
# Relations that say what a word means, and which nothing printed or measured could contradict. A definition
# that stands under other numbers (a radius, a pitch, the turns of a shaft) is noticed through them and has no
# place here.
DEFINITIONS = {
    "gear: turns": "a speed is turns in a unit of time: turns over time, said the other way",
    "plate: print_scale": "the factor that makes a line of the print as long as it was drawn",
    "pair: ratio_error": "what a ratio is off, over the ratio that was wanted: a share by its name",
    "load: utilisation": "stress over what the material may bear: a share by its name",
}
HOW = (
    "run `python tests/bench/noticed.py --write`, which looks for a check that notices each relation and puts"
    " it into tests/noticed/noticed_by.toml"
)


@functools.cache
def uses(name):
    return frozenset(outside.traced(CHECKS[name]))


@functools.cache
def relations_for(name):
    """The relations that a check needs.

    A small theory is built quickly. All of them where the check does not pass with fewer.
    """
    few = wrong.enough(uses(name))
    with wrong.told_by(few):
        try:
            CHECKS[name].run()
        except Exception:  # noqa: BLE001 - a range or a letter that stands nowhere else
            return list(wrong.ALL)
    return few


@pytest.mark.parametrize("name", OWN)
def test_what_is_told_agrees_with_the_outside(name):
    assert uses(name), f"{name} rests on no relation"


def test_every_relation_has_a_check_from_outside():
    missing, gone = sorted(wrong.KEYS.keys() - MAP.keys()), sorted(MAP.keys() - wrong.KEYS.keys())
    assert not missing, (
        f"these relations stand in no line of tests/noticed/noticed_by.toml: {'; '.join(missing)}. Write a"
        " published value (tests/reference), a closed form (closed_*.py) or a measurement (measured_*.py in"
        f" tests/noticed) for each, then {HOW}"
    )
    assert not gone, (
        f"tests/noticed/noticed_by.toml names relations that there are no more: {'; '.join(gone)}: {HOW}"
    )
    for name, kinds in MAP.items():
        unknown = [check for check in kinds.values() if check not in CHECKS]
        assert kinds and not unknown, (
            f"{name}: {f'the check {unknown[0]!r} is gone' if unknown else 'nothing notices it'}: {HOW}"
        )


def quickest(kinds):
    """The check of the map that is run here: published rows go through whole parts and take long."""
    return next(
        kinds[kind]
        for kind in (outside.CLOSED, outside.DEFINITION, outside.MEASURED, outside.PRINT)
        if kind in kinds
    )


@pytest.mark.parametrize("name", list(wrong.KEYS))
def test_a_wrong_relation_is_noticed(name):
    if name not in MAP:
        pytest.fail(f"{name} is in no line of the map: {HOW}")
    check = quickest(MAP[name])
    assert wrong.noticed_by(CHECKS[check], name, among=relations_for(check)), (
        f"{check!r} passes although {name} is 2 % wrong. If the relation or the check was changed, {HOW}"
    )


def test_what_is_only_defined_is_listed_with_its_reason():
    only = {name for name, kinds in MAP.items() if set(kinds) == {outside.DEFINITION}}
    assert only == DEFINITIONS.keys(), (
        f"noticed by nothing but its definition: {sorted(only)}; listed in DEFINITIONS: {sorted(DEFINITIONS)}"
    )


# Two faults that every test survived before there were these checks.
@pytest.mark.parametrize(
    ("name", "letter", "wrongly"),
    [("single: tip_thickness", "tooth_thickness", 0.5), ("single: across_tips", "outside_diameter", 0.5)],
)
def test_faults_of_old(name, letter, wrongly):
    right = wrong.KEYS[name].right
    changed = wrong.replace(
        wrong.KEYS[name], right=lambda q: right(wrong._Misread(q, letter, lambda value: value * wrongly))
    )
    for check in (
        ("calipers", "across the tips of an odd count")
        if "across" in name
        else ("thickness of a tooth", "the tip")
    ):
        with (
            wrong.told_by([changed if relation is wrong.KEYS[name] else relation for relation in wrong.ALL]),
            pytest.raises(AssertionError),
        ):
            CHECKS[check].run()


def test_right_relations_are_left_behind():
    """After a mutant everything is told as before."""
    name = "gear: pitch_diameter"
    check = CHECKS[quickest(MAP[name])]
    assert wrong.noticed_by(check, name, among=relations_for(check.name))
    check.run()


def test_a_mutant_in_a_letter_or_a_written_number_is_one():
    relation = wrong.KEYS["gear: pitch_angle"]
    assert wrong.letters(relation) == ("full_turn", "teeth")
    halved = wrong.KEYS["gear: pitch_radius"]
    assert [halved.right.__code__.co_consts[place] for place in wrong.figures(halved)] == [2]
    for part in (*wrong.letters(halved), *wrong.figures(halved)):
        assert wrong.noticed_by(CHECKS["circles of a plain gear"], "gear: pitch_radius", part)


# -- typed tables --------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", printed_tables.PRINTED)
def test_a_table_agrees_with_its_print(name):
    printed_tables.PRINTED[name][1]()


CELLS = [cell for cell in tables.every_cell() if cell[:2] not in printed_tables.OURS]


@pytest.mark.parametrize("module", list(tables.TABLES))
def test_a_row_that_is_off_by_a_step_is_noticed(module):
    checks = [check for modules, check in printed_tables.PRINTED.values() if module in modules]
    missed = []
    for cell in CELLS:
        if cell[0] != module:
            continue
        with tables.off_by_a_step(*cell):
            for check in checks:
                try:
                    check()
                except Exception:  # noqa: BLE001 - a number that is gone from where it is looked for is noticed too
                    break
            else:
                missed.append(tables.says(*cell[:3]))
    assert not missed, (
        f"nothing in printed_tables.py notices a step in {', '.join(missed)}: type in there what the"
        " publication prints"
    )


# Typed numbers that nobody published; with its module where another module has a table of that name.
NO_TABLES = {
    "STARTS": "numbers to try roots on: any will do",
    "_TAN": "coefficients of a series, proved against math.tan by tests/theory/test_functions.py",
    "_LENGTHS": "sizes of which units.UNITS is made",
    "_FORCES": "sizes of which units.UNITS is made",
    "_TIMES": "sizes of which units.UNITS is made",
    "worlds._ROWS": "numbers to try roots on: any will do",
    "PLAUSIBLE": (
        "sizes beyond which a given is refused, wide on purpose (common practice, as said where they stand):"
        " nobody published them"
    ),
    "_NOTHING": "powers of a plain number: none",
    **dict.fromkeys(("_RAISED", "_LIKE"), "characters that stand for one another"),
    **dict.fromkeys(
        ("GEAR", "TOOTH", "PAIR", "SINGLE", "TRAIN", "BENCH", "SIDES", "QUANTITIES", "_RANGE", "_PLACES"),
        "ranges within which a quantity is taken, and the order of words",
    ),
    "_COUNTS": "numbers as words",
    "_KIT": "proportions of a first design, numbers of it that can be changed (common practice)",
    "making.LENGTHS": "stock lengths of screws that advice chooses from",
    "USUAL_ANGLES": "pressure angles that advice tries in place of one that cannot be cut",
    "_USUAL": "what a name leaves unsaid",
    "PREFERRED": "put together from the other tables of sizes",
    "_SIZES": "put together from the tables of sizes",
    "_BROUGHT": "what questions have brought along while the tests run; nothing is written there",
    "PRESSURE_ANGLES": "names of the usual systems",
}


def written_in(module):
    """Names in capitals that a module gives to something itself."""
    tree = ast.parse(inspect.getsource(module))
    targets = [
        target
        for node in tree.body
        for target in (
            node.targets
            if isinstance(node, ast.Assign)
            else [node.target]
            if isinstance(node, ast.AnnAssign)
            else []
        )
    ]
    return {
        target.id for target in targets if isinstance(target, ast.Name) and target.id.lstrip("_").isupper()
    }


def test_no_table_is_forgotten():
    found = []
    for package in (gearlab.theory, gearlab.parts):
        for one in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
            module = importlib.import_module(one.name)
            for name in written_in(module) - NO_TABLES.keys() - set(tables.TABLES.get(one.name, ())):
                if (
                    f"{one.name.rpartition('.')[2]}.{name}" not in NO_TABLES
                    and sum(1 for _ in tables.cells(getattr(module, name))) >= 3
                ):
                    found.append(f"{one.name}.{name}")
    assert not found, (
        f"typed numbers without a check: {', '.join(found)}. A published table goes into TABLES of"
        " tests/noticed/tables.py with a check in printed_tables.py; what nobody published into NO_TABLES"
        " with the reason"
    )
