"""The course page, alive: a question that is chosen is asked in it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import anywidget
import ipywidgets
import traitlets
from IPython.display import publish_display_data

from gearlab.contents import lesson_bank
from gearlab.practice import load_bank
from gearlab.practice.workbook.attempts import attempts
from gearlab.practice.workbook.coursepage import CSS, page_html, still_page
from gearlab.practice.workbook.progress import Answers
from gearlab.practice.workbook.standing import Standing, standing

from . import still
from .answerbox import AnswerBox

HERE = Path(__file__).parent


class Panel(anywidget.AnyWidget):
    """One part of the page: HTML made in Python, whose buttons tell which question they ask."""

    _esm = (HERE / "coursepage.js").read_text(encoding="utf-8")
    _css = CSS
    html = traitlets.Unicode().tag(sync=True)
    name = traitlets.Unicode().tag(sync=True)
    asked = traitlets.Dict().tag(sync=True)

    def __repr__(self) -> str:
        return f"Panel({self.name!r})"


class CoursePage(ipywidgets.VBox):
    """The course page: :func:`course_page` makes it. What is chosen is asked between its two parts."""

    def __init__(self, answers: Answers, today: date | None = None):
        self.answers, self._today = answers, today
        self.box: AnswerBox | None = None
        self.now, self.rest = Panel(name="Now"), Panel(name="Lessons and questions")
        self.place = ipywidgets.VBox()  # where a question is asked; the parts around it stay as they are
        super().__init__([self.now, self.place, self.rest])
        self.add_class("gearlab-course-page")
        for panel in (self.now, self.rest):
            panel.observe(self._chosen, "asked")
        self._still = ""
        self.refresh()

    def __repr__(self) -> str:
        return "CoursePage()"

    @property
    def standing(self) -> Standing:
        """Where the reader stands now."""
        return standing(self.answers.all(), attempts(self.answers.folder), self._today or date.today())

    def refresh(self) -> None:
        """Show what the files hold now."""
        page = self.standing
        self.now.html, self.rest.html = page_html(page, "now", True), page_html(page, "all", True)
        if self._still:
            still.show(self._twin(page), self._still, again=True)

    def _chosen(self, change) -> None:
        name = change["new"].get("question")
        lesson, _, identity = name.partition("/") if isinstance(name, str) else ("", "", "")
        try:
            self.ask_here(lesson, identity)
        except ValueError:
            return  # a page of another edition asks for what there is no more

    def ask_here(self, lesson: str, question: str) -> AnswerBox:
        """Ask a question in the page: with new numbers where it is over, else as it was left."""
        bank = load_bank(lesson_bank(lesson))
        if question not in bank:
            raise ValueError(f"question {question!r} is not in {bank.path}")
        name = f"{bank.name}/{question}"
        box = AnswerBox(bank[question], name, self.answers)
        if box.closed:
            box = AnswerBox(bank[question], name, self.answers, box.number + 1)
        self.box = box
        box.observe(lambda _: self.refresh(), "action")
        self.place.children = [box]
        return box

    def _twin(self, page: Standing) -> dict:
        told = still_page(page)
        return told | {"text/html": still.QUIET + told["text/html"]}

    def _ipython_display_(self, **_options) -> None:
        self._still = f"gearlab-course-{self.model_id}"
        still.show(self._twin(self.standing), self._still)
        shown = self._repr_mimebundle_()
        if shown is not None:
            data, metadata = shown if isinstance(shown, tuple) else (shown, {})
            publish_display_data(data, metadata)


def course_page(today: date | None = None) -> CoursePage:
    """What you have done, what is due today and what is next, with every question there is.

    today: the day for which it is told; default: today.

    >>> course_page(date(2026, 11, 29))
    CoursePage()
    """
    return CoursePage(Answers(), today)
