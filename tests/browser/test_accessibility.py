"""axe-core over everything that a reader meets, light and dark; names that agree with what is seen.

What is not in axe: that a name *holds* what stands on a control (Web Content Accessibility Guidelines 2.2,
2.5.3), and that the live region says what changed.
"""

from __future__ import annotations

import sys
from pathlib import Path

import explorer_calls
import pytest
from axe_page import misnamed, names, show_all, snapshot, told, violations

sys.path.insert(0, str(Path(__file__).parent.parent / "course"))
from greenhouse import long_answers_come, sheet_of, write_course  # noqa: E402

import gearlab  # noqa: E402
from gearlab import widgets  # noqa: E402
from gearlab.course import Roster, Student, hand_out, make_key, mark  # noqa: E402
from gearlab.course.landing import pages as landing_pages  # noqa: E402
from gearlab.widgets.handin import hand_in as open_sheet  # noqa: E402
from gearlab.widgets.handin import hand_in_box  # noqa: E402

# a question of each kind, some with several answers
QUESTIONS = (
    "03_centre_distance/spacing-metric",
    "01_teeth_and_diameter/pitch-diameter-metric-formula",
    "01_teeth_and_diameter/which-circle",
    "02_pitch_and_proportions/what-may-mesh",
    "05_idlers_and_trains/build-a-reverted-train",
    "09_lining_up_the_teeth/why-they-overlap",
    "17_measuring/two-spans-of-your-gear",
)
FIRST = {"number": "1.5", "expression": "m + 1", "text": "because"}


@pytest.fixture
def empty_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    monkeypatch.delenv("GEARLAB_TEST", raising=False)
    return tmp_path


def act(box, button: str, texts: dict) -> dict:
    """Press a button of a box with these texts in its fields; what is seen then."""
    number = max(box.draft.get("n", 0), box.action.get("n", 0)) + 1
    box.set_state({"action": {"n": number, "key": box.view["key"], "texts": texts, "act": button}})
    return snapshot(box)


def question_boxes(name: str) -> dict[str, dict]:
    """The box of a question: before, after one to three wrong tries, after a hint, with its solution."""
    box = widgets.ask(*name.split("/"), number=0)
    texts = {
        field["id"]: FIRST.get(field["kind"]) or field["options"][0]["id"] for field in box.view["fields"]
    }
    shown = {f"{name} before": snapshot(box)}
    for tried, typed in enumerate(("1.5", "2.5", "3.5"), 1):
        texts = {
            field: typed if text[:1].isdigit() and "." in text else text for field, text in texts.items()
        }
        shown[f"{name} try {tried}"] = act(box, "check", texts)
        if tried == 1:
            shown[f"{name} hint"] = act(box, "hint", texts)
    shown[f"{name} solution"] = act(box, "solve", texts)
    return shown


def all_boxes(folder: Path) -> dict:
    """Boxes of every sort in their states, the parts of the course page, and outputs of plain HTML."""
    key = "07_contact/ten-teeth"
    shown = {}
    for name in QUESTIONS:
        shown |= question_boxes(name)
    box = widgets.ask("03_centre_distance", "spacing-metric", number=1)
    values = box.draw.values
    # C = m (N1 + N2) / 2 (Mott, Machine Elements in Mechanical Design, section 8-5)
    right = values["module"] * (values["driver_teeth"] + values["driven_teeth"]) / 2
    field = box.view["fields"][0]["id"]
    shown["right"] = act(box, "check", {field: f"{right}"})
    assert box.done
    shown["cannot read"] = act(
        widgets.ask("03_centre_distance", "spacing-metric", number=2), "check", {field: "ab"}
    )
    shown["two readings"] = act(
        widgets.ask("03_centre_distance", "spacing-metric", number=3), "check", {field: "1,234"}
    )
    predicted, back = widgets.predict(key), widgets.look_back(key)
    shown |= {"predict": snapshot(predicted), "look back before": snapshot(back)}
    shown["nothing chosen"] = act(predicted, "record", {"text": "", "because": ""})
    shown["predicted"] = act(predicted, "record", {"text": "1", "because": "so"})
    shown["look back"] = snapshot(back)
    surprise = widgets.surprise.__globals__["SurpriseBox"](key + "-not", predicted.answers, [])
    shown["surprise"] = snapshot(surprise)
    page = widgets.course_page()
    shown |= {"course, now": snapshot(page.now), "course, all": snapshot(page.rest)}
    shown |= {
        "list of questions": widgets.ask("03_centre_distance")._repr_html_(),
        "derivation": gearlab.derive(
            "centre_distance", given=["driver_teeth", "driven_teeth", "module"]
        )._repr_html_(),
        "still form": box._twin()["text/html"],
    }
    shown |= sheet_boxes(folder / "sheets")
    return shown


def sheet_boxes(folder: Path) -> dict:
    """Boxes of a hand-in, and what stands over them."""
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own.key")
    hand_out(set_file, Roster([Student("007", "Ada Lind")]), key, folder / "out")
    (folder / "in").mkdir()
    sheet = open_sheet(sheet_of(folder / "out/notebooks/homework-1_007.ipynb"), folder / "in")
    shown = {"sheet": sheet._repr_html_(), "status": snapshot(sheet.status())}
    for question in sheet.data["questions"]:
        box = hand_in_box(sheet, question["id"], prompt=True)
        shown[f"hand-in {question['id']}"] = snapshot(box)
    return shown


def faults(page, where: str = "", only_contrast: bool = False) -> str:
    """Violations and wrong names on a page, as text; empty where there is none."""
    wrong = [] if only_contrast else [f"name: {row}" for row in misnamed(names(page, where))]
    return "\n".join([told(violations(page, where, only_contrast)), *wrong]).strip()


def none(found: str, where: str = "") -> None:
    if found:
        pytest.fail(f"{where}\n{found}", pytrace=False)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_boxes_and_course_page(tabs, empty_folder, dark):
    page = tabs(dark=dark)
    show_all(page, all_boxes(empty_folder), dark)
    page.evaluate(
        "() => [...document.querySelectorAll('main details')].slice(0, 3).forEach(each => { each.open = true })"  # noqa: E501
    )
    none(faults(page, only_contrast=dark))  # names and order are the same in the dark


@pytest.fixture(scope="module")
def explorers():
    return {call: explorer_calls.made(call) for call in explorer_calls.CALLS}


def opened(page, explorers: dict) -> None:
    """Open all that can be opened: further controls, all numbers, and why the first of them is so."""
    asked = page.evaluate(
        """() => Object.fromEntries([...document.querySelectorAll("[data-call]")].map(place => {
        place.querySelectorAll("details").forEach(each => { each.open = true });
        place.querySelector(".gl-value")?.click();
        return [place.dataset.call, place.model.get("asked")]; }))"""
    )
    reasons = {}
    for call, word in asked.items():
        if word:
            explorers[call].asked = word
            reasons[call] = explorers[call].explanation
            explorers[call].asked = ""
    page.evaluate(
        """reasons => { for (const place of document.querySelectorAll("[data-call]"))
        if (reasons[place.dataset.call]) place.model.receive({ explanation: reasons[place.dataset.call] }); }""",  # noqa: E501
        reasons,
    )
    assert page.locator(".gl-why:visible math").count() > 15


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_every_explorer(tabs, explorers, dark):
    # as narrow as in JupyterLab in the one, wide in the other; what is seen at first is a part of it
    page = tabs(1000 if dark else 645, 900, dark=dark)
    show_all(page, {call: snapshot(explorer) for call, explorer in explorers.items()}, dark)
    none(str(misnamed(names(page)) or ""))
    opened(page, explorers)
    none(faults(page, only_contrast=dark))


@pytest.fixture(scope="module")
def written_pages(tmp_path_factory):
    """A sheet, feedback with right and wrong answers, the report, glossary and formula sheet."""
    folder = tmp_path_factory.mktemp("pages")
    set_file, key = write_course(folder / "exercises"), make_key(folder / "own.key")
    students = Roster([Student("007", "Ada Lind"), Student("012", "Ben")])
    hand_out(set_file, students, key, folder / "out")
    long_answers_come(folder)
    mark(folder / "came", set_file, students, key, folder / "results")
    for name, text in landing_pages().items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


PAGES = (
    "out/sheets/homework-1_007.html",
    "results/feedback/007.html",
    "results/feedback/012.html",
    "results/report.html",
    "glossary.html",
    "formulas.html",
)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_pages_that_are_written(tabs, written_pages, dark):
    for name in PAGES:
        page = tabs(dark=dark)
        page.goto((written_pages / name).as_uri())
        page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true })")
        # of terms and formulas, which are all alike, some
        page.evaluate(
            "() => { for (const list of document.querySelectorAll('.terms, ul'))"
            " for (const row of [...list.children].slice(12)) row.remove() }"
        )
        none(faults(page, only_contrast=dark), name)
