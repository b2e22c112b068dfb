"""All sheets of a class, printed to PDF by a browser: how many pages, and on which each student begins."""

import re
import sys
from itertools import pairwise
from pathlib import Path

import pytest

from gearlab.contents import set_file
from gearlab.course.coursekey import make_key
from gearlab.course.handout.making import hand_out
from gearlab.course.roster import Roster, Student

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "course"))
from greenhouse import write_course  # noqa: E402

ROSTER = Roster(
    [Student("007", "Ada"), Student("w" * 64, "Ben " + "of a very long name " * 9), Student("012", "Chidi")]
)
PAPERS = {"A4": (595, 842), "Letter": (612, 792)}  # [pt], ISO 216 and 8.5 in by 11 in
MM = 96 / 25.4  # a style sheet's millimetre, CSS Values 4 [px]


def pages_of(pdf: bytes) -> tuple[list[int], dict[str, list[int]]]:
    """The objects of the pages, in order, and on which page (from 1) each heading stands."""
    objects = {int(n): body for n, body in re.findall(rb"(\d+) 0 obj\s(.*?)endobj", pdf, re.DOTALL)}
    (root,) = [n for n, body in objects.items() if b"/Type /Pages" in body and b"/Parent" not in body]

    def below(number):
        if b"/Type /Pages" not in objects[number]:
            return [number]
        kids = re.search(rb"/Kids \[(.*?)\]", objects[number], re.DOTALL)[1]
        return [page for kid in re.findall(rb"(\d+) 0 R", kids) for page in below(int(kid))]

    pages, headings = below(root), {}
    for body in objects.values():
        found = re.search(rb"/Title \((.*?)\)\s*/Dest \[(\d+) 0 R", body, re.DOTALL)
        if found:
            headings.setdefault(found[1].decode("latin-1"), []).append(pages.index(int(found[2])) + 1)
    return pages, headings


@pytest.mark.parametrize("name", ["greenhouse", "homework_2", "homework_4"])
def test_each_student_begins_on_a_front_side_of_either_paper(tabs, tmp_path, name):
    path = write_course(tmp_path / "exercises") if name == "greenhouse" else set_file(name)
    hand_out(path, ROSTER, make_key(tmp_path / "own" / "course.key"), tmp_path / "out")
    page = tabs(int(180 * MM), 900)
    page.goto((tmp_path / "out" / "all_sheets.html").as_uri())
    leaves = page.locator(".leaf").count()
    page.emulate_media(media="print")  # a tab that stays on the screen's styles would be printed with them
    for paper, (width, height) in PAPERS.items():
        pdf = page.pdf(format=paper, outline=True, tagged=True)
        pages, headings = pages_of(pdf)
        assert len(pages) == leaves, "a page's box runs over onto a second page"
        assert f"/MediaBox [0 0 {width}".encode() in pdf and str(height).encode() in pdf
        (starts,) = [places for title, places in headings.items() if title.startswith("Homework")]
        assert len(starts) == len(ROSTER) and all(start % 2 == 1 for start in starts), starts
        first = [places for title, places in headings.items() if title.startswith("1. ")]
        assert first == [starts]
    boxes = page.evaluate(
        "() => [...document.querySelectorAll('.leaf:not(.back)')].map(leaf => ({height:"
        " leaf.getBoundingClientRect().height,"
        " ends: [...leaf.querySelectorAll('.question, .rules')].map(q => {"
        " const r = q.getBoundingClientRect(), p = leaf.getBoundingClientRect(); return [r.top - p.top,"
        " r.bottom - p.top]; }), work: leaf.querySelectorAll('.work').length, foot:"
        " leaf.querySelector('footer').getBoundingClientRect().top"
        " - leaf.getBoundingClientRect().top}))"
    )
    for box in boxes:
        assert box["height"] == pytest.approx(246 * MM, abs=1), "a question runs over its page's box"
        assert all(upper[1] <= lower[0] for upper, lower in pairwise(box["ends"])), "questions overlap"
        if box["work"]:
            assert 0 <= box["foot"] - box["ends"][-1][1] < 10 * MM, "a page is left half empty"
