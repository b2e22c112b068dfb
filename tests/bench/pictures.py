"""The pictures of the README: an explorer, an answer box, a feedback page, drawn from what they really say.

    python tests/bench/pictures.py

writes ``notebooks/readme_*.svg``; tests/test_readme.py compares them with what this program makes.
"""

import sys
from pathlib import Path
from xml.sax.saxutils import escape

from gearlab import Gear, Mesh
from gearlab.contents import content_folder
from gearlab.course.marking.feedback import SIGNS
from gearlab.course.marks import state
from gearlab.drawing import style
from gearlab.drawing.scene import themed
from gearlab.drawing.style import wrapped
from gearlab.drawing.svg import svg
from gearlab.drawing.views.pair import pair
from gearlab.practice import load_bank
from gearlab.practice.tutor import help_with
from gearlab.practice.verdict import NAMES
from gearlab.widgets import PairExplorer
from gearlab.writing import write_whole

COLOURS = style.THEMES["light"]
WIDTH, EDGE, STEP = 760.0, 24.0, 22.0


class Card:
    """A page of rows, drawn from the top down."""

    def __init__(self, text: str):
        self.text, self.y, self.parts = text, EDGE + 6, []

    def words(self, text: str, size=15, colour="ink", weight=400, left=EDGE, room=None) -> None:
        for row in wrapped(text, room or WIDTH - EDGE - left, size * 0.92):
            self.parts.append(
                f'<text x="{left:g}" y="{self.y + size * 0.8:g}" font-size="{size}" font-weight="{weight}"'
                f' fill="{COLOURS[colour]}">{escape(row)}</text>'
            )
            self.y += size * 1.45
        self.y += 5

    def field(self, text: str, left=EDGE, width=190) -> None:
        self.parts.append(
            f'<rect x="{left:g}" y="{self.y:g}" width="{width}" height="32" rx="6" fill="{COLOURS["paper"]}"'
            f' stroke="{COLOURS["muted"]}"/><text x="{left + 10:g}" y="{self.y + 21:g}" font-size="15"'
            f' fill="{COLOURS["ink"]}">{escape(text)}</text>'
        )
        self.y += 42

    def buttons(self, *words: str) -> None:
        x = EDGE
        for number, word in enumerate(words):
            wide = 24 + 8.4 * len(word)
            ground, ink = ("driver text", "paper") if number == 0 else ("gear ground", "ink")
            self.parts.append(
                f'<rect x="{x:g}" y="{self.y:g}" width="{wide:g}" height="32" rx="8"'
                f' fill="{COLOURS[ground]}"/>'
                f'<text x="{x + wide / 2:g}" y="{self.y + 21:g}" font-size="14" text-anchor="middle"'
                f' fill="{COLOURS[ink]}">{escape(word)}</text>'
            )
            x += wide + 10
        self.y += 44

    def picture(self, drawing: str, width: float, height: float) -> None:
        inside = drawing.replace("<svg ", f'<svg x="{EDGE:g}" y="{self.y:g}" ', 1)
        self.parts.append(inside)
        self.y += height + 8

    def svg(self) -> str:
        high = self.y + EDGE - 8
        frame = (
            f'<rect x="1" y="1" width="{WIDTH - 2:g}" height="{high - 2:g}" rx="12" fill="{COLOURS["paper"]}"'
            f' stroke="{COLOURS["faint"]}"/>'
        )
        whole = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {high:g}" width="{WIDTH:g}"'
            f' height="{high:g}" role="img" font-family="{style.FONT}"><title>{escape(self.text)}</title>'
            f"{frame}{''.join(self.parts)}</svg>"
        )
        return themed(whole) + "\n"


def explorer() -> str:
    """The first explorer with its picture and some of its numbers."""
    shown = PairExplorer(18, 45, playing=False)
    card = Card("An explorer: two gears in mesh, to be turned by hand, with their numbers.")
    card.words(shown.heading, 19, weight=650)
    scene = pair(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), driver_speed=15.0)
    drawing = svg(scene, width=WIDTH - 2 * EDGE)
    x0, y0, x1, y1 = scene.bounds
    top, right, bottom, left = scene.margin
    scale = (WIDTH - 2 * EDGE - left - right) / (x1 - x0)
    card.picture(drawing, WIDTH - 2 * EDGE, (y1 - y0) * scale + top + bottom)
    card.buttons("Play", "Large type")
    for group in shown.readout[:1]:
        for row in group["rows"][:3]:
            cells = ", ".join(str(cell["text"]) for cell in row["cells"])
            card.words(f"{row['label']}: {cells}", 15)
    return card.svg()


def _answered():
    """A question, its numbers, and the verdict on the sum of the diameters, which forgets to halve."""
    question = load_bank(content_folder("exercises") / "03_centre_distance").questions["spacing-inch"]
    draw = question.draw(seed="readme")
    typed = f"{2 * draw.keys[0]:g} in"
    return (
        question,
        draw,
        typed,
        question.judge(draw, {question.answers[0].id: typed})[question.answers[0].id],
    )


def answer_box() -> str:
    """An answer box with a wrong answer and what it says."""
    question, draw, typed, verdict = _answered()
    card = Card("An answer box: a first wrong answer, and what it asks about it.")
    card.words(question.title, 19, weight=650)
    card.words(draw.prompt)
    card.words(question.answers[0].label, 14, "muted")
    card.field(typed)
    card.words(f"✗ {NAMES[verdict.kind].capitalize()}.", weight=650, colour="driven text")
    for told in help_with(question, draw, question.answers[0].id, verdict, level=0).texts:
        card.words(told)
    card.buttons("Check", f"Hint 1 of {len(question.hints)}", "Give up: show the solution", "New numbers")
    return card.svg()


def feedback() -> str:
    """A question of a feedback page: points, what was typed, why points were lost, the worked solution."""
    question, draw, typed, verdict = _answered()
    card = Card("A feedback page: a reason for every lost point, and the worked solution.")
    card.words(f"1. {question.title}: {verdict.points:g} of {verdict.out_of:g}", 19, weight=650)
    card.words(draw.prompt)
    card.words(
        f"{SIGNS[state(verdict)]} {NAMES[verdict.kind]}: you wrote {typed}.", weight=650, colour="driven text"
    )
    card.words(verdict.sentence)
    card.words("The worked solution", 15, weight=650)
    for line in question.solution(draw, form="text").split("\n"):
        if line.strip():
            card.words(line.strip(), 14)
    return card.svg()


PICTURES = {
    "readme_explorer.svg": explorer,
    "readme_answer.svg": answer_box,
    "readme_feedback.svg": feedback,
}

if __name__ == "__main__":
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else content_folder("notebooks")
    for name, make in PICTURES.items():
        write_whole(folder / name, make())
        print(folder / name)
