"""The course page as it is read: HTML with or without buttons, and plain text, made from a ``Standing``."""

from __future__ import annotations

from datetime import date
from html import escape
from pathlib import Path

from .lessons import Lesson
from .repeating import RULE
from .standing import STATES, Asked, Lessoned, Skilled, Standing

CSS = (Path(__file__).parent / "coursepage.css").read_text(encoding="utf-8")
AT_ONCE = 6  # questions of today's review that are listed; the others follow as these are answered
READ = (
    "A lesson counts as read when you have pressed \u201cI have read this lesson\u201d in its last box, or"
    " written there what you saw; it is done when it is read, or when every question in it was right."
)
SIGNS = {"new": "○", "begun": "◔", "right": "✓", "wrong": "✗", "due": "↻"}


def _day(day: date) -> str:
    return f"{day:%A}, {day.day} {day:%B %Y}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


def _button(asked: Asked, words: str, live: bool) -> str:
    """A button that asks a question; in a still page only its words."""
    question = asked.question
    if not live:
        return escape(words)
    name = escape(question.name, quote=True)
    kept_off = 'data-lm-suppress-shortcuts="true"'
    return f'<button type="button" class="gl-ask" data-ask="{name}" {kept_off}>{escape(words)}</button>'


def _link(words: str, file: str) -> str:
    return f'<a href="{escape(file, quote=True)}" data-file="{escape(file, quote=True)}">{escape(words)}</a>'


def _lesson_link(lesson: Lesson) -> str:
    return _link(f"{lesson.number} · {lesson.title}", lesson.file)


def _now(page: Standing, live: bool) -> str:
    """What to do now: the review of today, and the lesson to go on with."""
    if not page.begun:
        first = page.lessons[0].lesson
        return (
            f'<section class="gl-card"><h3>Begin with lesson {first.number}</h3>'
            f"<p>{_lesson_link(first)}, about {first.minutes} minutes."
            " What you predict and answer there will be remembered here.</p></section>"
        )
    cards = []
    if page.due:
        rows = "".join(
            f"<li>{_button(asked, asked.question.title, live)} <span class='gl-soft'>· "
            f"lesson {int(asked.question.lesson[:2])}, {asked.question.minutes:g} min"
            f"{', went wrong last time' if asked.memory.last_wrong else ''}</span></li>"
            for asked in page.due[:AT_ONCE]
        )
        more = len(page.due) - AT_ONCE
        rest = f"<p class='gl-soft'>and {more} more, as these are answered.</p>" if more > 0 else ""
        head = f"Due today: {_count(len(page.due), 'question')}, about {page.due_minutes} min"
        cards.append(f'<section class="gl-card"><h3>{head}</h3><ol>{rows}</ol>{rest}</section>')
    else:
        later = page.comes_next
        when = (
            f"The next one comes on {_day(later)}."
            if later
            else "It begins when you have answered a question."
        )
        cards.append(f'<section class="gl-card"><h3>Nothing is due today</h3><p>{when}</p></section>')
    lesson = page.next
    if lesson:
        done = next(row for row in page.lessons if row.lesson is lesson)
        head = f"{'Go on with' if done.begun else 'Next:'} lesson {lesson.number}"
        cards.append(
            f'<section class="gl-card"><h3>{head}</h3><p>{_lesson_link(lesson)}<br>'
            f'<span class="gl-soft">about'
            f" {lesson.minutes} minutes{_left(done)}</span></p></section>"
        )
    else:
        cards.append(
            '<section class="gl-card"><h3>Every lesson is done</h3><p>What is left is the review,'
            " and the questions below that are in no lesson.</p></section>"
        )
    return "".join(cards)


def _left(done: Lessoned) -> str:
    if not done.begun:
        return ""
    parts = [] if done.predicted else ["no prediction yet"]
    if done.answered < done.standing:
        parts.append(f"{done.answered} of {_count(done.standing, 'question')} answered")
    return "; " + ", ".join(parts) if parts else ""


# on the cell itself: a still page in a notebook follows the notebook's style, which has numbers in mind
LEFT = ' style="text-align: left"'


def _lessons(page: Standing) -> str:
    rows = []
    for row in page.lessons:
        marks = [("✓", "yes") if yes else ("–", "not yet") for yes in (row.predicted, row.read)]
        cells = "".join(f'<td><span title="{words}">{sign}</span></td>' for sign, words in marks)
        here = ' class="gl-next"' if row.lesson is page.next else ""
        rows.append(
            f'<tr{here}><th scope="row"{LEFT}>{_lesson_link(row.lesson)}</th>'
            f"<td>{row.lesson.minutes}</td>{cells}"
            f"<td>{row.answered} of {row.standing}</td><td>{row.repeat or '–'}</td></tr>"
        )
    head = f'<th scope="col"{LEFT}>lesson</th>' + "".join(
        f'<th scope="col">{words}</th>' for words in ("minutes", "predicted", "read", "answered", "to repeat")
    )
    table = f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"
    return f"<h3>Lessons</h3>{table}<p class='gl-soft'>{READ}</p>"


def _skills(page: Standing, live: bool) -> str:
    """Each skill; its questions open below it, in a still page only their counts are told."""
    signs = " · ".join(f"{SIGNS[state]} {words}" for state, words in STATES.items())
    parts = ["<h3>Every question, by skill</h3>"]
    if not live:
        lines = "".join(f"<li>{_skill_line(skill)}</li>" for skill in page.skills)
        return f"{parts[0]}<p class='gl-soft'>Run this cell to practise.</p><ul>{lines}</ul>"
    parts.append(f"<p class='gl-soft'>Most of them are in no lesson. {signs}</p><div class='gl-skills'>")
    for skill in page.skills:
        parts.append(
            f"<details data-skill='{escape(skill.skill)}'><summary>{_skill_line(skill)}</summary><ul>"
        )
        for asked in skill.questions:
            question = asked.question
            parts.append(
                f'<li><span aria-hidden="true">{SIGNS[asked.state]}</span>'
                f" {_button(asked, question.title, live)}"
                f" <span class='gl-soft'>· level {question.level}, {question.minutes:g} min,"
                f" {_state(asked, page.today)}</span></li>"
            )
        parts.append("</ul></details>")
    return "".join(parts) + "</div>"


def _skill_line(skill: Skilled) -> str:
    name = escape(skill.skill[0].upper() + skill.skill[1:])
    line = f"<b>{name}</b> <span class='gl-soft'>· {skill.right} of {len(skill.questions)} right"
    tried = skill.tried - skill.right
    line += f", {tried} tried and not right yet" if tried > 0 else ""
    return line + (f", {skill.repeat} due today" if skill.repeat else "") + "</span>"


def _state(asked: Asked, today: date) -> str:
    words = STATES[asked.state]
    if asked.state in ("right", "wrong") and asked.memory.due:
        days = (asked.memory.due - today).days
        words += f", again {'tomorrow' if days == 1 else f'in {days} days'}"
    return words


def page_html(page: Standing, part: str = "", live: bool = False) -> str:
    """The page as HTML: its part "now" or "all", or both; live with buttons, else for reading alone."""
    head = f"<h2>{_day(page.today)}</h2>"
    now = f'{head}<div class="gl-now">{_now(page, live)}</div>'
    rest = _lessons(page) + _skills(page, live) + f"<h3>How the review works</h3><p>{RULE}</p>"
    rest += f"<p>{_link('Glossary', 'glossary.md')} · {_link('Formula sheet', 'formulas.md')}</p>"
    return {"now": now, "all": rest}.get(part, now + rest)


def page_text(page: Standing) -> str:
    """The page as plain text."""
    lines = [f"Your course, {_day(page.today)}"]
    if not page.begun:
        lines.append(f"Begin with lesson {page.lessons[0].lesson.number}: {page.lessons[0].lesson.title}")
    else:
        lines.append(f"due today: {_count(len(page.due), 'question')}, about {page.due_minutes} min")
        lines += [f"  {asked.question.name}" for asked in page.due]
        if page.next:
            lines.append(f"next: lesson {page.next.number}, {page.next.title}")
    for row in page.lessons:
        marks = f"predicted {'yes' if row.predicted else 'no'}, read {'yes' if row.read else 'no'}"
        lines.append(
            f"{row.lesson.number:2} {row.lesson.title} ({row.lesson.minutes} min): {marks},"
            f" answered {row.answered} of {row.standing}, to repeat {row.repeat}"
        )
    lines += [f"{skill.skill}: {skill.right} of {len(skill.questions)} right" for skill in page.skills]
    return "\n".join(lines)


def still_page(page: Standing) -> dict[str, str]:
    """The page for reading alone, by kind of content: an output of a notebook."""
    html = f'<style>{CSS}</style><div class="gearlab-course gearlab-twin">{page_html(page)}</div>'
    return {"text/html": html, "text/plain": page_text(page)}
