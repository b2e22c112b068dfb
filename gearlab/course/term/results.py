"""The results of a term: gradebook, one page a student and a report, switched as one like those of a set."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from markupsafe import Markup

from gearlab.course.coursekey import read_key
from gearlab.course.folder import Course
from gearlab.course.gradebook import csv_line, gradebook_files, harmless
from gearlab.course.pages import page, part
from gearlab.course.report.charts import points_spread
from gearlab.course.report.halves import section_name
from gearlab.course.results import Results
from gearlab.course.roster import Roster, file_name
from gearlab.course.term.marks import SetMarks, read_set
from gearlab.course.term.pages import TermPages, number, rule_words
from gearlab.course.term.sums import Step, Sum, sums
from gearlab.course.termrules import TERM, Rules, read_rules
from gearlab.quoting import one_line
from gearlab.writing import write_new

BOOK, PAGES, REPORT = "gradebook.csv", "students", "term.html"
SOME = 12  # students named in one line of the report


@dataclass(frozen=True)
class Term:
    """What came of a term.

    sums: each student's, in the order of the class list.
    notes: what the instructor should know, a sentence each.
    """

    folder: Path
    rules: Rules
    sums: tuple[Sum, ...]
    sets: tuple[SetMarks, ...]
    notes: tuple[str, ...]

    @property
    def totals(self) -> list[Fraction]:
        """The marks of those who have one [-]."""
        return [sum_.total for sum_ in self.sums if sum_.total is not None]


def course_rules(course: Course) -> Rules:
    """The rules of a course's term.

    ValueError if its table `[term]` is not in order, or a set is called "term".
    """
    handed_out = course.handed_out()
    if TERM in handed_out:
        raise ValueError(
            f"course {course.folder}: a set is called {TERM!r}, and its results lie where those of the term"
            " would; a term cannot be made here"
        )
    return read_rules(course.folder / "course.toml", handed_out, course.set_names())


def make_term(
    course: Course,
    section: str | None = None,
    to: Path | None = None,
    add: Callable[[Path, Term], None] | None = None,
) -> Term:
    """Add up the term of a course from the results of its sets, and write it.

    section: for this section only, into results apart.
    to: folder of the results; by default `results/term` in the course.
    add: writes what else belongs to the results; told their fresh folder.
    ValueError if rules, class list or results are not in order; nothing is written then.
    """
    rules = course_rules(course)
    roster = course.roster()
    chosen, key = _chosen(course, rules, roster, section), read_key(course.key_path)
    section = chosen.sections[0] if section else None
    sets = tuple(read_set(course, key, roster, name) for name in rules.sets)
    if all(marks.marked is None for marks in sets):
        raise ValueError(
            f"term: none of its sets is marked yet ({', '.join(rules.sets)}); mark one first, such as"
            f" `gearlab mark {rules.sets[0]}`"
        )
    handed_out = course.handed_out()
    notes = [f"{marks.name} is not handed out yet." for marks in sets if marks.name not in handed_out]
    for marks in sets:
        if marks.name in handed_out and marks.marked is None:
            notes.append(
                f"{marks.name} is not marked yet: `gearlab mark {marks.name}`; it counts for nobody."
            )
        if marks.waiting:
            names = ", ".join(map(one_line, sorted(marks.waiting)))
            notes.append(f"{marks.name} is not marked yet in section {names}.")
        notes += marks.notes
    unused = [name for name in handed_out if name not in rules.sets]
    if unused:
        notes.append(f"Handed out, and no part of the term: {', '.join(unused)}.")
    all_sums = tuple(sums(rules, chosen, sets))
    if len({sum_.out_of for sum_ in all_sums}) > 1:
        notes.append(
            "What can be reached differs between students, as some sets do not count for all: with out_of ="
            " 100 in [term] their marks can be compared."
        )
    results = Results(to or course.results(TERM, section))
    results.refuse_around([course.key_path, course.roster_path])
    term = Term(results.folder, rules, all_sums, sets, tuple(notes))
    with results.renewed() as renewal:
        _write(renewal.fresh, course.title, term, chosen)
        if add:
            add(renewal.fresh, term)
    return replace(term, notes=(*notes, *renewal.told))


def _chosen(course: Course, rules: Rules, roster: Roster, section: str | None) -> Roster:
    """The students whose term it is."""
    if section:
        return roster.section(section)
    if rules.sections is None:
        return roster
    try:
        wanted = {roster.section(name).sections[0] for name in rules.sections}
    except ValueError as error:
        raise ValueError(f"course {course.folder / 'course.toml'}: [term] sections: {error}") from None
    return Roster(student for student in roster if student.section in wanted)


def _write(fresh: Path, course: str, term: Term, roster: Roster) -> None:
    _books(fresh, term, roster)
    titles = {marks.name: marks.title for marks in term.sets}
    pages = TermPages(term.rules, course, titles)
    (fresh / PAGES).mkdir()
    for sum_ in term.sums:
        write_new(f"{fresh}/{PAGES}/{file_name(sum_.student.id)}.html", pages.page(sum_).encode("utf-8"))
    text = _report(course, term, roster)
    (fresh / REPORT).write_text(text, encoding="utf-8", newline="\n")


# -- gradebook -----------------------------------------------------------------------------------------
def _books(fresh: Path, term: Term, roster: Roster) -> None:
    """The gradebook for all, and one for each section where there are several."""
    head = ["id", "name", "section", "points", "out of", "open"]
    columns = ["points", "out of", "per cent", *(() if term.rules.by_points else ("weight",)), "in the sum"]
    head += [f"{name} {column}" for name in term.rules.sets for column in columns]
    rows = [(sum_.student.section, _cells(term.rules, sum_)) for sum_ in term.sums]
    sections = roster.sections if len(roster.sections) > 1 else ()
    if sections:
        (fresh / "gradebooks").mkdir()
    for section, path in gradebook_files(sections).items():
        lines = [cells for own, cells in rows if not section or own == section]
        (fresh / path).write_bytes("".join(map(csv_line, [head, *lines])).encode("utf-8"))


def _cells(rules: Rules, sum_: Sum) -> list[str]:
    """A student's row."""
    student = sum_.student
    cells = [harmless(student.id), harmless(student.name), harmless(student.section)]
    cells += ["" if sum_.total is None else number(sum_.total), number(sum_.out_of)]
    cells.append(harmless("; ".join(sum_.open)))
    for step in sum_.steps:
        cells += [
            "" if step.mark.points is None and step.share is None else number(step.points),
            number(step.out_of) if step.out_of else "",
            "" if step.share is None else number(100 * step.share),
            *(() if rules.by_points else (number(step.weight),)),
            step.words,
        ]
    return cells


# -- report --------------------------------------------------------------------------------------------
def _report(course: str, term: Term, roster: Roster) -> str:
    rules = term.rules
    totals = sorted(term.totals)
    most = max((sum_.out_of for sum_ in term.sums), default=Fraction(100))
    sections = roster.sections if len(roster.sections) > 1 else ()
    tenths = [0] * 10
    for sum_ in term.sums:
        if sum_.total is not None:
            place = int(10 * sum_.total / sum_.out_of) if sum_.out_of else 0
            tenths[min(max(place, 0), 9)] += 1
    best = max(range(10), key=lambda i: (tenths[i], i))
    step = most / 10
    same = all(sum_.out_of == most for sum_ in term.sums)
    return page(
        "term_report.html",
        css=Markup(part("page.css") + part("report.css")),
        course=course,
        title=one_line(rules.title),
        students=len(term.sums),
        counted=len(totals),
        mean=_mean_text(totals),
        middle=number((totals[(len(totals) - 1) // 2] + totals[len(totals) // 2]) / 2) if totals else "",
        of=f" of {number(most)}" if same else "",
        notes=term.notes,
        spread=points_spread(tenths, float(most)) if totals else "",
        spread_words=(
            f"Most students ({tenths[best]} of {len(totals)}) reached between {number(best * step)} and"
            f" {number((best + 1) * step)} points{'' if same else ', in parts of what each could reach'}."
        ),
        grouped=bool(rules.groups[0].name),
        weighted=any(len(set(group.weights)) > 1 for group in rules.groups),
        sets=[row for place in range(len(rules.sets)) if (row := _set_row(term, place))],
        rules=[(one_line(group.name), rule_words(group, rules.by_points)) for group in rules.groups],
        sections=[_section_row(term, name) for name in sections],
        missing=[sum_ for sum_ in term.sums if sum_.missing],
        open=[sum_ for sum_ in term.sums if sum_.open],
        open_words=_open_words(term.sums),
        footer=(
            f"Every step of a student's sum is on their page in the folder {PAGES} and in {BOOK}. The"
            " same results of the sets give the same page, byte for byte."
        ),
    )


def _mean(values: Sequence[Fraction]) -> Fraction | None:
    return sum(values, Fraction(0)) / len(values) if values else None


def _mean_text(values: Sequence[Fraction], sign: str = "") -> str:
    mean = _mean(values)
    return "" if mean is None else number(mean, 1) + sign


def _shares(steps: Sequence[Step]) -> list[Fraction]:
    """Per cents of those who have points."""
    return [100 * step.share for step in steps if step.share is not None and step.mark.points is not None]


def _set_row(term: Term, place: int) -> dict:
    """What the report tells of a set."""
    marks = term.sets[place]
    steps = [sum_.steps[place] for sum_ in term.sums]
    groups = [group for group in term.rules.groups for _ in group.sets]
    group, counts = groups[place], [step.state for step in steps]
    weight = group.weights[group.sets.index(marks.name)]
    shares = _shares(steps)
    return {
        "name": marks.name,
        "title": one_line(marks.title),
        "group": one_line(group.name) + (f" (weight {number(group.weight)})" if term.rules.grouped else ""),
        "weight": "" if term.rules.by_points else number(weight),
        "marked": "not yet" if marks.marked is None else f"{marks.marked:%Y-%m-%d}",
        "count": len(shares),
        "mean": _mean_text(shares, " %"),
        "missing": sum(step.lacking for step in steps),
        "excused": counts.count("excused"),
        "dropped": counts.count("dropped"),
    }


def _section_row(term: Term, section: str) -> dict:
    own = [sum_ for sum_ in term.sums if sum_.student.section == section]
    return {
        "name": section_name(one_line(section)),
        "students": len(own),
        "means": [
            _mean_text(_shares([sum_.steps[place] for sum_ in own]), " %")
            for place in range(len(term.rules.sets))
        ],
        "mean": _mean_text([sum_.total for sum_ in own if sum_.total is not None]),
    }


def _open_words(all_sums: Sequence[Sum]) -> list[tuple[str, str]]:
    """What is open, with whom it concerns."""
    concerned: dict[str, list[str]] = {}
    for sum_ in all_sums:
        for words in sum_.open:
            concerned.setdefault(words, []).append(one_line(sum_.student.id))
    rows = []
    for words, ids in concerned.items():
        who = "everybody" if len(ids) == len(all_sums) else ", ".join(ids[:SOME])
        if who != "everybody" and len(ids) > SOME:
            who += f" and {len(ids) - SOME} more"
        rows.append((words, who))
    return rows
