"""Hostile texts: the corpus, and what a generator makes of it, through every reader.

What is tried: ways to break readers that are common practice (encodings cut short, surrogates, direction
marks, NUL, deep nesting, numbers beyond the floats, formulas for spreadsheets, tags). The program
`tests/bench/hostile.py` goes further with the same readers, led by which lines of code a text reaches.
"""

import time
from decimal import Decimal

import pytest
from readers import READERS, SLOWEST, Fault, generated, hidden, read, seeds

from gearlab.toml import tables_of

COUNT = {
    "design": 120,
    "bank": 60,
    "verdict": 200,
    "quantity": 250,
    "run-sheet": 30,
    "lab": 60,
    "begun": 60,
} | dict.fromkeys(("reasons", "set", "edition", "predictions"), 150)


@pytest.mark.parametrize("name", READERS)
def test_whatever_comes_is_read_or_refused_in_words(name):
    told = [read(name, data) for data in seeds(name)]
    assert any(told), "the corpus holds something that is read"
    refused = 0
    for data in generated(name, COUNT.get(name, 600), seed=1):
        refused += not read(name, data)
    if name not in (
        "choice",
        "number",
        "expression",
        "verdict",
        "cell",
        "attempts",
        "begun",
    ):  # these never refuse
        assert refused, "the generator makes texts that are refused"


@pytest.mark.parametrize(
    "text",
    [
        "a." * 9000 + "b = 1",
        "[" + "'a' . " * 3000 + "a]",
        "x = " + "[" * 9000,
        "x = " + "{a=" * 4000,
        "x = 1" + "0" * 9000,
        "x = 1e" + "9" * 30,
        "\ufeff\u202e = 1",
    ],
    ids=lambda text: text[:6].replace("\ufeff", ""),
)
def test_tables_without_an_end_are_refused_in_words_and_soon(text):
    begun = time.process_time()
    with pytest.raises(ValueError) as refused:
        tables_of(text, parse_float=Decimal)
    assert type(refused.value) is ValueError and not hidden(str(refused.value))
    assert time.process_time() - begun < SLOWEST


def test_the_watch_sees_what_it_watches_for(monkeypatch):
    """A reader that misbehaves in each way is caught: the check can fail."""
    import readers

    def raises(_):
        raise KeyError("x")

    def slow(_):
        sum(range(3_000_000))
        return []

    def endless(_):
        return ["\u202eabc"]

    def foreign(_):
        int("x")

    monkeypatch.setattr(readers, "SLOWEST", 0.001)
    for bad, wanted in ((raises, KeyError), (slow, Fault), (endless, Fault), (foreign, Fault)):
        monkeypatch.setitem(READERS, "bad", bad)
        with pytest.raises(wanted):
            read("bad", b"x")
    assert hidden("a\u2067b\x1b") == ["\u2067", "\x1b"] and not hidden("½ π ≈")
