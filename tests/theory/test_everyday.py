"""Every quantity has a sentence that somebody at the bench would say."""

from __future__ import annotations

import pytest

from gearlab.theory.everyday import EVERYDAY, everyday, terms
from gearlab.theory.quantities import QUANTITIES, SIDED


def test_each_quantity_has_one_sentence():
    assert set(terms()) == set(QUANTITIES) - set(SIDED)
    for word in terms():
        sentence = everyday(word)
        assert sentence[0].isupper() and sentence.rstrip().endswith("."), (word, sentence)


def test_the_table_names_quantities_alone_and_each_once():
    assert set(EVERYDAY) <= set(QUANTITIES)
    from gearlab.theory.everyday import EVERYDAY_ROWS

    assert len(EVERYDAY) == len(EVERYDAY_ROWS.strip().splitlines())


def test_an_everyday_sentence_has_no_symbol_and_is_short():
    for word, sentence in EVERYDAY.items():
        assert "=" not in sentence and len(sentence.split()) <= 25, word


def test_an_unknown_word_is_refused_with_a_near_one():
    with pytest.raises(ValueError, match="backlash"):
        everyday("backlsh")
