"""Sheets, feedback pages and class report in a real browser: narrow, dark, and on paper."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "course"))
from greenhouse import long_answers_come, write_course  # noqa: E402

from gearlab.course import Roster, Student, hand_out, make_key, mark  # noqa: E402
from gearlab.course.folder import begin_course, read_course  # noqa: E402
from gearlab.course.term.results import make_term  # noqa: E402

ROSTER = Roster([Student("007", "Ada Lind"), Student("012", "Ben"), Student("100", "Cy")])


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """A sheet, a feedback page with right and wrong answers, and the report."""
    folder = tmp_path_factory.mktemp("course")
    vents = folder / "vents"
    begin_course(vents)
    rows = "".join(f"{student.id},{student.name}\n" for student in ROSTER)
    (vents / "roster.csv").write_text(f"id,name\n{rows}", encoding="utf-8")
    set_file, key = write_course(folder / "exercises"), make_key(vents / "course.key")
    hand_out(set_file, ROSTER, key, folder / "out")
    long_answers_come(folder)
    results = vents / "results" / "homework-1"
    mark(folder / "came", set_file, ROSTER, key, results)
    term = make_term(read_course(vents)).folder
    return {
        "sheet": folder / "out/sheets/homework-1_007.html",
        "feedback": results / "feedback/007.html",
        "long answer": results / "feedback/012.html",
        "report": results / "report.html",
        "term": term / "students/012.html",
        "term report": term / "term.html",
    }


NAMES = ("sheet", "feedback", "long answer", "report", "term", "term report")


@pytest.mark.parametrize("name", NAMES)
def test_fits_a_narrow_window_and_needs_nothing_from_elsewhere(tabs, pages, name):
    # WCAG 2.2, 1.4.10: 320 px without scrolling sideways
    tab, asked = tabs(320, 800), []

    def ask(request):
        asked.append(request.url)

    tab.on("request", ask)
    tab.goto(pages[name].as_uri())
    assert tab.evaluate("document.documentElement.scrollWidth") <= 320
    tab.remove_listener("request", ask)  # the tab is used again
    assert asked == [pages[name].as_uri()] and tab.heard == []


@pytest.mark.parametrize("name", ("feedback", "report", "term", "term report"))
def test_follows_the_readers_theme(tabs, pages, name):
    grounds = []
    for theme in ("light", "dark"):
        tab = tabs(dark=theme == "dark")
        tab.goto(pages[name].as_uri())
        grounds.append(tab.evaluate("getComputedStyle(document.body).backgroundColor"))
    shades = [sum(int(part) for part in ground.strip("rgb()").split(",")) for ground in grounds]
    assert shades[0] > 700 and shades[1] < 120


def test_right_answers_keep_their_solution_folded_on_screen_and_open_on_paper(tabs, pages):
    tab = tabs(1280, 720)
    tab.goto(pages["feedback"].as_uri())
    shown = (
        "[...document.querySelectorAll('.question details')].map(d => d.getBoundingClientRect().height > 80)"
    )
    assert tab.evaluate(shown) == [True] + [False] * 6  # only the first question was wrong
    tab.emulate_media(media="print")
    assert all(tab.evaluate(shown))


@pytest.mark.parametrize("paper", ("A4", "Letter"))
@pytest.mark.parametrize("name", NAMES)
def test_prints_on_both_papers(tabs, pages, name, paper):
    tab = tabs(1280, 720)
    tab.goto(pages[name].as_uri())
    content = tab.pdf(format=paper)
    size = {"A4": (595, 842), "Letter": (612, 792)}[paper]  # points; ISO 216 and ANSI/ASME Y14.1
    box = content.split(b"/MediaBox")[1].split(b"]")[0].strip(b" [").split()
    assert [float(part) for part in box[2:]] == pytest.approx(size, abs=1)
    assert content.count(b"/Type /Page\n") in range(1, 9)
