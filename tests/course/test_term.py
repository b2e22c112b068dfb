"""A term of thirty students from beginning to end, and the rules of `[term]`.

Truth and checks: simulatedterm.py, termchecks.py; the same with 300 students is `tests/bench/term.py`.
"""

import pytest
import termchecks
from simulatedterm import Term, run


@pytest.fixture(scope="module")
def term(tmp_path_factory):
    """A term handed out, handed in, marked, decided, marked again and added up."""
    term = Term(tmp_path_factory.mktemp("term"))
    term.begin()
    term.hand_in()
    term.mark()
    termchecks.marks_are_true(term, decided=False)
    term.read_texts()
    term.decide()
    term.mark()
    term.said = run("term", "--course", term.course)
    return term


def test_every_mark_is_the_true_one(term):
    assert termchecks.marks_are_true(term, decided=True) == 120


def test_every_mark_is_explained_by_its_page_alone(term):
    assert termchecks.pages_explain(term) > 400


def test_what_changed_is_listed_before_and_after(term):
    assert termchecks.changes_are_listed(term) > 30


def test_twins_and_uploaders_are_named(term):
    assert termchecks.twins_are_named(term) == 1
    assert termchecks.uploaders_are_named(term) == 1


def test_the_term_is_the_true_one_and_can_be_recomputed_from_its_pages(term):
    assert termchecks.term_is_true(term) == 30
    assert termchecks.term_pages_explain(term) == 90


def test_a_learning_systems_gradebook_is_filled(term, tmp_path):
    assert termchecks.template_is_filled(term, tmp_path) == 30
