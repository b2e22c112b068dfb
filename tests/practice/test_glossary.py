"""Glossary and formula sheet: every quantity and every relation, with what a reader needs of it."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from html.parser import HTMLParser

import pytest

from gearlab.practice.workbook.glossary import entries, formula_sheet, formulas, glossary
from gearlab.practice.workbook.lessons import first_uses, lesson, lessons
from gearlab.theory.quantities import QUANTITIES, SIDED
from gearlab.theory.relations import ALL


class Seen(HTMLParser):
    """Ids and links of a page, and what was left open."""

    def __init__(self, text: str):
        super().__init__()
        self.ids, self.links, self.open = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.ids += [given["id"]] if "id" in given else []
        self.links += [given["href"]] if tag == "a" else []
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_every_quantity_is_a_term_and_every_relation_a_formula():
    assert {entry.word for entry in entries()} == set(QUANTITIES) - set(SIDED)
    assert [formula.relation for formula in sorted(formulas(), key=lambda f: ALL.index(f.relation))] == list(
        ALL
    )


def test_symbols_are_those_of_the_handbooks():
    # inch letters: AGMA usage as in Mott, table 8-1 (P, N, d, C, a); the others: ISO 21771:2007
    for word, inch, iso in (
        ("teeth", "N", "z"),
        ("centre_distance", "C", "a"),
        ("addendum", "a", "h_a"),
        ("pressure_angle", "φ", "α"),
        ("tooth_thickness", "t", "s"),
        ("root_diameter", "d_r", "d_f"),
    ):
        assert glossary(word).symbols == (inch, iso)
    assert glossary("centre distance").units == ("mm", "in") and glossary("teeth").units == ("", "")


def test_formulas_read_as_the_handbooks_write_them():
    # Mott, 4th ed., table 8-2: d = N/P; ISO 21771: d = m z
    (formula,) = glossary("pitch_diameter").formulas[:1]
    assert formula.typeset("text", "inch") == "d = N/P"
    assert formula.typeset("text", "iso").replace("·", " ") in ("d = m z", "d = z m")
    assert "Mott" in formula.source and formula.source.endswith("(in print)")


def test_a_term_is_found_by_its_words_or_its_symbol_and_a_near_one_is_told():
    for name in ("centre_distance", "centre distance", "centre-distance", "C"):
        assert glossary(name).word == "centre_distance"
    assert glossary("driven pitch diameter").word == "pitch_diameter"
    with pytest.raises(ValueError, match="centre_distance"):
        glossary("center_distance")


@pytest.mark.parametrize(
    "page", [glossary(), formula_sheet(), formula_sheet("12")], ids=["terms", "all", "12"]
)
def test_a_printed_page_is_whole_and_fetches_nothing(page):
    html = page.html()
    seen = Seen(html)
    assert not seen.open and len(seen.ids) == len(set(seen.ids))
    assert "@media print" in html and "http" not in html.replace("http-equiv", "")
    for maths in re.findall(r"<math.*?</math>", html)[:400]:
        ElementTree.fromstring(maths)  # MathML that every browser reads
    assert set(seen.links) <= {one.file for one in lessons()}


def test_each_term_can_be_linked_to_in_both_pages():
    html, markdown = glossary().html(), glossary().markdown()
    ids = set(Seen(html).ids)
    headings = re.findall(r"^### (.+)$", markdown, re.M)
    # JupyterLab's preview makes the id of a heading from its text, with - for each space
    assert {heading.replace(" ", "-") for heading in headings} == ids == {entry.anchor for entry in entries()}
    assert "backlash" in ids and "centre-distance" in ids


def test_the_first_lesson_of_a_term_is_the_first_that_uses_it():
    for word, name in first_uses().items():
        first = lesson(name)
        assert word in first.words or word in first.named and not any(word in one.words for one in lessons())
        assert not any(word in one.words for one in lessons() if one.name < name)
    assert first_uses()["contact_ratio"] == "07_contact" and first_uses()["teeth"] == "01_teeth_and_diameter"


def test_the_sheet_of_a_lesson_holds_what_it_uses():
    chosen = {formula.relation.left for formula in formula_sheet("3").formulas}
    assert "reference_centre_distance" in chosen and "contact_ratio" not in chosen
    with pytest.raises(ValueError, match="07_contact"):
        formula_sheet("99")
