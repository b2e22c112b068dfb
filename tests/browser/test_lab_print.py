"""The prints of a lab on paper: each side of the layout is one page, on A4 and Letter, and both sides of a
sheet belong to one bench."""

from __future__ import annotations

import pytest

from gearlab.contents import lab_file
from gearlab.course.lab import make_lab

PRINTS = ("cards", "worksheets", "exit_tickets", "make_up")
LABS = ("lab-1", "lab-2", "lab-3")


# where the last block of each side ends, as a part of the side
ENDS = """all => all.map(side => {
  const [own, last] = [side, side.lastElementChild].map(each => each.getBoundingClientRect());
  return (last.bottom - own.top) / own.height;
})"""


@pytest.fixture(scope="module")
def labs(tmp_path_factory):
    folders = {}
    for name in LABS:
        folders[name] = tmp_path_factory.mktemp(name) / "lab"
        make_lab(lab_file(name), folders[name], 4, make_ups=1, parts=False)
    return folders


@pytest.mark.parametrize("name", LABS)
def test_each_side_is_one_page_and_benches_have_whole_sheets_of_paper(tabs, labs, name):
    tab = tabs(1280, 720)
    pages = [labs[name] / "print" / f"{each}.html" for each in PRINTS]
    pages += [
        labs[name] / "private" / f"{each}.html"
        for each in ("answer_book", "prepare", "run_sheet", "room_plan")
    ]
    for path in pages:
        tab.goto(path.as_uri())
        sides = tab.locator(".side").count()
        heads = tab.eval_on_selector_all(".bench", "all => all.map(each => each.firstChild.textContent)")
        if path.stem in PRINTS:
            # whoever's side stands on an odd page has the page after it, too
            assert sides % 2 == 0 and heads[::2] == heads[1::2], path.name
        tab.emulate_media(
            media="print"
        )  # a page that stays on the screen's styles would be printed with them
        for paper in ("A4", "Letter"):
            count = tab.pdf(format=paper).count(b"/Type /Page\n")
            assert count == sides, (path.name, paper, count, sides)
        if path.stem in PRINTS:  # no side of a bench is left nearly white
            ends = tab.eval_on_selector_all(".side", ENDS)
            assert min(ends) > 0.6 and max(ends) <= 1, (path.name, ends)
        tab.emulate_media(media="screen")
        wide = tab.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, path.name
