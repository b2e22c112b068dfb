"""The class report: what the whole class got right, why the rest went wrong, and which questions look bad."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path
from statistics import quantiles

from markupsafe import Markup

from gearlab.course.gradebook import points_text
from gearlab.course.intake.came import KINDS, Problem
from gearlab.course.pages import page, part
from gearlab.course.report.charts import answer_bars, halves_chart, points_spread
from gearlab.course.report.halves import NOT_WRONG, commonest, halves, percent, remarks, section_name
from gearlab.course.report.tally import LONGEST_TIME, Outcome, SectionTallies, Tally, WrongValue
from gearlab.course.roster import Roster, file_name
from gearlab.practice import HomeworkSet
from gearlab.practice.verdict import NAMES
from gearlab.quoting import one_line

MOST_VALUES = 6  # wrong values told of an answer
MOST_FIRST = 8  # remarks at the head of a report
SECTIONS = "sections"  # the folder of the reports of the sections


@dataclass(frozen=True)
class Occasion:
    """What a report tells beside the counts.

    edition: digest of the edition that was marked.
    names: id to name, for the students among the problems.
    notes: remarks at the top.
    pairs: pairs of students with equal wrong numbers, which have a page of their own [-].
    """

    homework: HomeworkSet
    edition: str
    problems: list[Problem]
    names: dict[str, str]
    notes: list[str]
    pairs: int = 0


def write_reports(folder: Path, tallies: SectionTallies, roster: Roster, occasion: Occasion) -> None:
    """Write the report for all, and one for each section where there are sections.

    folder: where they go: ``report.html``, and ``sections`` in it.
    """
    several = tallies.sections if len(tallies.sections) > 1 else {}
    whole = report(tallies.whole(), len(roster), occasion, several)
    (folder / "report.html").write_text(whole, encoding="utf-8", newline="\n")
    if several:
        (folder / SECTIONS).mkdir()
    for section, tally in several.items():
        students = {student.id for student in roster if student.section == section}
        own = replace(
            occasion,
            problems=[problem for problem in occasion.problems if problem.student in students],
            names={identity: name for identity, name in occasion.names.items() if identity in students},
            pairs=0,
        )
        text = report(tally, len(students), own, title=section_name(one_line(section)))
        path = folder / SECTIONS / f"report_{file_name(section) or '~'}.html"
        path.write_text(text, encoding="utf-8", newline="\n")


def report(
    tally: Tally,
    students: int,
    occasion: Occasion,
    sections: Mapping[str, Tally] | None = None,
    title: str = "",
) -> str:
    """The report on a class or on a section.

    students: how many are in the class list [-].
    sections: the tallies of the sections that are held against one another.
    title: what of the class it is about, "" for all.
    """
    return _Report(tally, occasion, sections or {}).page(students, title)


class _Report:
    def __init__(self, tally: Tally, occasion: Occasion, sections: Mapping[str, Tally]):
        self._tally = tally
        self._points = tally.points
        self._set = occasion.homework
        self._contracts = {
            (entry.question.id, answer): contract
            for entry in self._set.entries
            for answer, contract in entry.question.contracts.items()
        }
        self._occasion = occasion
        self._sections = sections

    def page(self, students: int, title: str) -> str:
        """The whole page."""
        problems, occasion = self._occasion.problems, self._occasion
        return page(
            "report.html",
            set=self._set,
            points=self._points,
            title=title,
            css=Markup(part("page.css") + part("report.css")),
            students=students,
            marked=self._tally.marked,
            problems=problems,
            problem_groups=[
                (words, own)
                for kind, words in KINDS.items()
                if (own := [problem for problem in problems if problem.kind == kind])
            ],
            names=occasion.names,
            notes=occasion.notes,
            pairs=occasion.pairs,
            edition=occasion.edition,
            library=version("gearlab"),
            **(self._counted() if self._tally.marked else {}),
        )

    def _counted(self) -> dict:
        """What there is to tell once somebody handed in."""
        questions, first = self._questions()
        rows = self._rows()
        tenths = self._tenths(self._tally)
        best = max(range(10), key=lambda i: (tenths[i], i))
        step = self._points / 10
        marked = self._tally.marked
        parted = [(label, halves(outcome)) for label, outcome in rows]
        return {
            "questions": questions,
            "first": sorted(first, key=lambda item: (-item[0], item[1]))[:MOST_FIRST],
            "bars": answer_bars([(label, dict(outcome.states)) for label, outcome in rows]),
            "bars_words": self._bars_words(rows),
            "halves": halves_chart([(label, both) for label, both in parted if both is not None]),
            "spread": points_spread(tenths, self._points),
            "spread_words": (
                f"Most students in one column: {tenths[best]} of {marked}, between"
                f" {points_text(best * step)} and {points_text((best + 1) * step)} points."
            ),
            "mean": _mean(self._tally),
            "middle": points_text(_median(self._tally.totals)),
            "share_named": self._share_named(),
            "section_rows": [
                (
                    section_name(one_line(name)),
                    tally.marked,
                    _mean(tally) or "none",
                    points_text(_median(tally.totals)) if tally.marked else "none",
                )
                for name, tally in self._sections.items()
            ],
        }

    def _questions(self) -> tuple[list[dict], list[tuple[int, str, str]]]:
        """What the page shows of each question, and what to look at first: how much, where and why."""
        questions, first = [], []
        for number, entry in enumerate(self._set.entries, start=1):
            question = entry.question
            answers = []
            for answer in question.answers:
                shown = self._answer(question.id, answer)
                answers.append(shown)
                where = f"{number}. {question.title}"
                where += f", {answer.label}" if len(question.answers) > 1 else ""
                pressing = [item for item in shown["remarks"] if item[0] > 20]
                if pressing:
                    first.append((pressing[0][0], where, " ".join(words for _, words in pressing[:2])))
            questions.append(
                {
                    "title": f"{number}. {question.title}",
                    "id": question.id,
                    "version": question.version,
                    "answers": answers,
                    "practised": self._practised(question.id),
                }
            )
        return questions, first

    def _answer(self, question: str, answer) -> dict:
        """Rows and remarks about one answer."""
        place = question, answer.id
        outcome = self._tally.outcomes[place]
        total = sum(outcome.states.values())
        order = sorted(
            outcome.kinds.items(),
            key=lambda item: (item[0][0] != "right", item[0][0] == "not answered", -item[1], item[0]),
        )
        parts = {name: tally.outcomes[place] for name, tally in self._sections.items()}
        contract = self._contracts.get(place)
        return {
            "label": answer.label,
            "unit": answer.unit,
            "asked": contract.sentence if contract else "",
            "rows": [(_row(kind, words), count, percent(count, total)) for (kind, words), count in order],
            "values": [
                (_same(value), value, count) for count, value in commonest(outcome.wrong) if count > 1
            ][:MOST_VALUES],
            "sample": _sample_words(outcome),
            "halves": halves(outcome),
            "sections": [
                (
                    section_name(one_line(name)),
                    own.states["right"],
                    sum(own.states.values()),
                    percent(own.states["right"], sum(own.states.values())),
                    percent(own.states["empty"], sum(own.states.values())),
                )
                for name, own in parts.items()
            ],
            "remarks": remarks(outcome, {one_line(name): own for name, own in parts.items()})[:5],
        }

    def _practised(self, question: str) -> str:
        """How long it took to the first right answer in practice, where that is kept."""
        minutes, tries = self._tally.minutes[question], self._tally.tries[question]
        if not minutes or not tries:
            return ""
        low, middle, high = _quarters(minutes)
        longest = f"{LONGEST_TIME} minutes or more" if high >= LONGEST_TIME else f"{high:g} minutes"
        return (
            f"In practice the first right answer came {middle:g} minutes after the first try or hint, in the"
            f" middle of {minutes.total()} students who got there (for half of them between {low:g} and"
            f" {longest}; breaks count), with {_quarters(tries)[1]:g} tries. From the students' own disks."
        )

    def _rows(self) -> list[tuple[str, Outcome]]:
        rows = []
        for number, entry in enumerate(self._set.entries, start=1):
            for answer in entry.question.answers:
                single = len(entry.question.answers) == 1
                label = f"{number}. {entry.question.title if single else answer.label}"
                rows.append((label, self._tally.outcomes[entry.question.id, answer.id]))
        return rows

    def _bars_words(self, rows: list[tuple[str, Outcome]]) -> str:
        """The chart in a sentence."""
        marked = self._tally.marked
        shares = [(outcome.states["right"] / marked, label) for label, outcome in rows]
        told = [f"{label} ({100 * share:.0f} %)" for share, label in (max(shares), min(shares))]
        return f"Most often right: {told[0]}. Least often: {told[1]}."

    def _tenths(self, tally: Tally) -> list[int]:
        tenths = [0] * 10
        for points, count in tally.totals.items():
            tenths[min(int(10 * points / (self._points or 1.0) + 1e-9), 9)] += count
        return tenths

    def _share_named(self) -> str:
        kinds: Counter[str] = Counter()
        for outcome in self._tally.outcomes.values():
            for (kind, _), count in outcome.kinds.items():
                kinds[kind] += count
        wrong = sum(n for kind, n in kinds.items() if kind not in NOT_WRONG)
        return percent(wrong - kinds["not recognised"], wrong)


def _mean(tally: Tally) -> str:
    total = sum(points * count for points, count in sorted(tally.totals.items()))
    return points_text(total / tally.marked) if tally.marked else ""


def _median(totals: Counter[float]) -> float:
    count = totals.total()
    places = ((count - 1) // 2, count // 2)
    middle, before = [], 0
    for points, number in sorted(totals.items()):
        middle += [points for place in places if before <= place < before + number]
        before += number
    return sum(middle) / 2


def _quarters(counts: Counter[int]) -> list[float]:
    """The three values that part a class into quarters."""
    values = sorted(counts.elements())
    return quantiles(values, n=4, method="inclusive") if len(values) > 1 else [float(values[0])] * 3


def _same(value: WrongValue) -> str:
    """What wrong answers that are counted together share."""
    if value.by == "ratio":
        return f"{value.same} times the key"
    return {"cause": f"same cause: {value.same}", "text": "same text", "value": "same value"}[value.by]


def _sample_words(outcome: Outcome) -> str:
    wrong = outcome.wrong
    if wrong.count <= wrong.most:
        return ""
    return (
        f"Counted among {wrong.most} of the {wrong.count} wrong answers, drawn by chance: what is common"
        " among all is common among these."
    )


def _row(kind: str, words: str) -> str:
    if kind == "not met":
        title = words.partition(": ")[2]  # the condition's own title is the heading of its table
        return NAMES[kind] if title in ("", NAMES[kind]) else f"{NAMES[kind]}: {title}"
    if kind == "not recognised":
        return "not right, no cause found"
    return f"{NAMES[kind]}: {words}" if kind not in ("right",) and words != NAMES[kind] else words
