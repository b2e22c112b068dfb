"""The tables of sentences: each row is whole, and used by the check that it belongs to."""

import ast
import string
from pathlib import Path

import pytest

import gearlab.parts.review as package
from gearlab.parts.review import GRADES, NAMES
from gearlab.parts.review.sentences import rows

ROOM = Path(package.__file__).parent
#: What is never told by itself: it holds what its further rows have in common.
SHARED = {"units-look-mixed"}


def written(file):
    """The strings of a file, of composed ones the parts, and of each name the part before its comma."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def test_each_finding_has_its_row():
    assert {row.partition(",")[0] for row in rows("findings")} == set(NAMES)


@pytest.mark.parametrize("row", sorted(rows("findings").keys() - SHARED))
def test_a_finding_says_what_it_should(row):
    told = rows("findings")[row]
    assert (
        {"grade", "what", "limit", "why", "change"}
        <= told.keys()
        <= {*("grade", "what", "limit", "why", "source", "change", "decision")}
    )
    assert told["grade"] in GRADES


@pytest.mark.parametrize("row", rows("unmade"))
def test_a_check_that_is_not_made_says_what_and_why(row):
    assert rows("unmade")[row].keys() == {"what", "why", "give"}


@pytest.mark.parametrize("table", ["findings", "unmade"])
def test_no_row_is_left_over(table):
    """Each row, or the words after its commas, stands in a check; what a row names is a plain word."""
    strings = [text for file in ROOM.glob("*.py") for text in written(file)]
    for row, told in rows(table).items():
        if row not in SHARED:
            assert all(any(part in text for text in strings) for part in row.split(", ")), row
        fields = {name for text in told.values() for _, name, _, _ in string.Formatter().parse(text) if name}
        assert all(name.isidentifier() for name in fields), row
