"""The class report: what the whole class got right, and why the rest went wrong."""

from collections import Counter
from importlib.metadata import version

from markupsafe import Markup

from gearlab.course.charts import answer_bars, points_spread
from gearlab.course.gradebook import points_text
from gearlab.course.intake import KINDS, Problem
from gearlab.course.marks import MarkedTask, cause_words, state
from gearlab.course.pages import page, part
from gearlab.practice import HomeworkSet
from gearlab.practice.verdict import NAMES

FEW_RIGHT = 0.30  # below this share right, a question deserves a look
MANY_UNNAMED = 0.15  # above this share without a named cause, too
CLUSTER = 3  # this many wrong answers off by one factor hint at a cause nobody has listed
CLUSTERS_KEPT = 500


class Tally:
    """Counts over a class. It holds counts only, so its size does not grow with the class."""

    def __init__(self, homework: HomeworkSet):
        self._set = homework
        self.marked = 0
        self._totals: Counter[float] = Counter()
        self._states: dict[tuple[str, str], Counter[str]] = {}
        self._kinds: dict[tuple[str, str], Counter[tuple[str, str]]] = {}
        self._factors: dict[tuple[str, str], Counter[str]] = {}
        for entry in homework.entries:
            for answer in entry.question.answers:
                place = entry.question.id, answer.id
                self._states[place], self._kinds[place], self._factors[place] = (
                    Counter(),
                    Counter(),
                    Counter(),
                )

    def add(self, marked: list[MarkedTask], total: float) -> None:
        """Count one student's marks."""
        self.marked += 1
        self._totals[round(total, 2)] += 1
        for task in marked:
            for identity, verdict in task.verdicts.items():
                place = task.entry.question.id, identity
                self._states[place][state(verdict)] += 1
                words = cause_words(task, identity) or NAMES[verdict.kind]
                self._kinds[place][
                    verdict.kind, "right with an earlier value carried on" if verdict.carried else words
                ] += 1
                factor = off_by(task, identity)
                if factor and (len(self._factors[place]) < CLUSTERS_KEPT or factor in self._factors[place]):
                    self._factors[place][factor] += 1

    def report(
        self, students: int, edition: str, problems: list[Problem], names: dict[str, str], notes: list[str]
    ) -> str:
        """The report.

        students: how many are in the class list [-].
        edition: digest of the edition that was marked.
        names: id to name, for the students among the problems.
        notes: remarks at the top.
        """
        questions = [
            {
                "title": f"{number}. {entry.question.title}",
                "id": entry.question.id,
                "version": entry.question.version,
                "answers": [self._answer(entry, answer) for answer in entry.question.answers],
            }
            for number, entry in enumerate(self._set.entries, start=1)
        ]
        bars = []
        for number, entry in enumerate(self._set.entries, start=1):
            for answer in entry.question.answers:
                label = (
                    f"{number}. {entry.question.title if len(entry.question.answers) == 1 else answer.label}"
                )
                bars.append((label, dict(self._states[entry.question.id, answer.id])))
        fields = {}
        if self.marked:
            tenths = self._tenths()
            best = max(range(10), key=lambda i: (tenths[i], i))
            step = self._set.points / 10
            fields = {
                "bars": answer_bars(bars),
                "bars_words": self._bars_words(bars),
                "spread": points_spread(tenths, self._set.points),
                "spread_words": (
                    f"Most students ({tenths[best]} of {self.marked}) reached between"
                    f" {points_text(best * step)} and {points_text((best + 1) * step)} points."
                ),
                "mean": points_text(
                    sum(points * n for points, n in sorted(self._totals.items())) / self.marked
                ),
                "middle": points_text(self._median()),
                "share_named": self._share_named(),
            }
        return page(
            "report.html",
            set=self._set,
            css=Markup(part("page.css") + part("report.css")),
            students=students,
            marked=self.marked,
            problems=problems,
            problem_groups=[
                (KINDS[kind], [problem for problem in problems if problem.kind == kind])
                for kind in KINDS
                if any(problem.kind == kind for problem in problems)
            ],
            names=names,
            notes=notes,
            questions=questions,
            edition=edition,
            library=version("gearlab"),
            **fields,
        )

    def _answer(self, entry, answer) -> dict:
        """Rows and remarks about one answer."""
        place = entry.question.id, answer.id
        states, kinds = self._states[place], self._kinds[place]
        total = sum(states.values())
        order = sorted(
            kinds.items(),
            key=lambda item: (item[0][0] != "right", item[0][0] == "not answered", -item[1], item[0]),
        )
        rows = [(_row(kind, words), count, _percent(count, total)) for (kind, words), count in order]
        wrong = sum(
            n for (kind, _), n in kinds.items() if kind not in ("right", "not answered", "cannot read")
        )
        unnamed = sum(n for (kind, _), n in kinds.items() if kind == "not recognised")
        remarks = []
        if total and states["right"] < FEW_RIGHT * total:
            remarks.append(
                f"Only {_percent(states['right'], total)} right: look at the question, its key and its"
                " tolerance before the marks go out."
            )
        if unnamed > max(1, MANY_UNNAMED * wrong):  # a single one says nothing yet
            remarks.append(f"{unnamed} of {wrong} wrong answers have no named cause.")
        for factor, count in sorted(self._factors[place].items(), key=lambda item: (-item[1], item[0])):
            if count >= CLUSTER:
                remarks.append(
                    f"{count} of them are {factor} times the key: a slip worth adding to the bank?"
                )
        contract = entry.question.contracts.get(answer.id)
        return {
            "label": answer.label,
            "unit": answer.unit,
            "asked": contract.sentence if contract else "",
            "rows": rows,
            "remarks": remarks[:4],
        }

    def _bars_words(self, bars) -> str:
        """The chart in a sentence."""
        shares = [(counts.get("right", 0) / self.marked, label) for label, counts in bars]
        best, least = max(shares), min(shares)
        return f"Most often right: {best[1]} ({best[0]:.0%}). Least often: {least[1]} ({least[0]:.0%})."

    def _tenths(self) -> list[int]:
        tenths = [0] * 10
        for points, count in self._totals.items():
            tenths[min(int(10 * points / self._set.points + 1e-9), 9)] += count
        return tenths

    def _median(self) -> float:
        places = ((self.marked - 1) // 2, self.marked // 2)
        found, seen = [], 0
        for points, count in sorted(self._totals.items()):
            found += [points for place in places if seen <= place < seen + count]
            seen += count
        return sum(found) / 2

    def _share_named(self) -> str:
        kinds: Counter[str] = Counter()
        for counter in self._kinds.values():
            for (kind, _), count in counter.items():
                kinds[kind] += count
        wrong = sum(n for kind, n in kinds.items() if kind not in ("right", "not answered", "cannot read"))
        return _percent(wrong - kinds["not recognised"], wrong)


def off_by(task: MarkedTask, identity: str) -> str:
    """By what factor an unrecognised number is off, to three figures.

    Returns the factor; empty where there is none.
    """
    question = task.entry.question
    if task.verdicts[identity].kind != "not recognised":
        return ""
    times = question.times_key(task.draw, identity, task.read[identity])
    return "" if times is None else f"{times:.3g}"


def _row(kind: str, words: str) -> str:
    if kind == "not met":
        found = words.partition(": ")[2]  # the condition's own title is the heading of its table
        return NAMES[kind] if found in ("", NAMES[kind]) else f"{NAMES[kind]}: {found}"
    if kind == "not recognised":
        return "not right, no cause found"
    return f"{NAMES[kind]}: {words}" if kind not in ("right",) and words != NAMES[kind] else words


def _percent(count: int, total: int) -> str:
    return f"{100 * count / total:.0f} %" if total else "none"
