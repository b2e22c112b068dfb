"""Whether the decisions of a file fit its set, its class list and one another."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator
from functools import partial
from itertools import combinations
from pathlib import Path

from gearlab.course.coursekey import COURSE_FILE, CourseKey
from gearlab.course.decisions.file import MOST_TOLD, Refused, Tables, read_tables
from gearlab.course.decisions.marks import compiled, days_late, derived, out_of, right_number, shares
from gearlab.course.decisions.tables import (
    NONE,
    AlsoRight,
    Decision,
    Decisions,
    ExtraTime,
    FileOf,
    Late,
    LeaveOut,
    OfQuestion,
    SetPoints,
    Table,
    WrongKey,
)
from gearlab.course.pages import points_words
from gearlab.course.roster import Roster
from gearlab.practice import HomeworkSet, Question
from gearlab.practice.formulas.expression import parse
from gearlab.practice.typed.reading import in_unit
from gearlab.schema import near
from gearlab.theory.quantities import QUANTITIES

MOST_OF_ONE = 300  # decisions about one student, or about everybody
Tell = Callable[[str, str], None]  # told the field of a table that does not fit, and why
_SAMPLES = 4  # draws at which a formula of a decision has to have a value


def decisions_place(key: CourseKey, set_name: str) -> Path:
    """Where the decisions about a set lie: in the course's folder, else beside the key; there or not.

    ValueError if they lie in both places.
    """
    beside = key.path.with_name(f"{set_name}.decisions.toml")
    folder = key.path.parent / "decisions" / f"{set_name}.toml"
    if beside.exists() and folder.exists():
        raise ValueError(
            f"decisions are in {folder} and in {beside}: put all of them into one and remove the other"
        )
    if folder.exists() or (not beside.exists() and (key.path.parent / COURSE_FILE).is_file()):
        return folder
    return beside


def decisions_of(
    key: CourseKey, homework: HomeworkSet, roster: Roster | None, file: Path | None = None
) -> Decisions:
    """The decisions about a set, from the file named or from where they lie; none where there is no file.

    ValueError if the file is not in order, or was named and is not there.
    """
    path = decisions_place(key, homework.name) if file is None else Path(file)
    if file is None and not path.exists():
        return NONE
    return checked(read_tables(path), homework, roster)


def checked(tables: Tables, homework: HomeworkSet, roster: Roster | None) -> Decisions:
    """The decisions of a file, every name in it checked; without a class list its students count as known.

    Refused (a ValueError) with every place that does not fit, and words that come near.
    """
    check = _Check(tables, homework, roster)
    decisions = check.all()
    problems = check.problems or list(check.contradictions(decisions)) or list(check.limits(decisions))
    if problems:
        raise Refused(tables.path, problems)
    return decisions


class _Check:
    def __init__(self, tables: Tables, homework: HomeworkSet, roster: Roster | None):
        self.problems: list[str] = []
        self._tables, self._set, self._roster = tables, homework, roster
        self._questions = {entry.question.id: entry.question for entry in homework.entries}
        self._sections: dict[str, set[str]] = {}
        for student in roster or ():
            if student.section:
                self._sections.setdefault(student.section, set()).add(student.id)

    def all(self) -> Decisions:
        """Every table as a decision; what does not fit goes to the problems."""
        if self._tables.set_name and self._tables.set_name != self._set.name:
            self.problems.append(
                f": set: is {self._tables.set_name!r}, but these marks are of {self._set.name!r}: give the"
                " file of decisions about that set"
            )
        decisions = []
        for table, line in self._tables.rows:
            tell = partial(self._problem, table, line)
            decisions.append(Decision(table, line, self._who(table, tell), self._answers(table, tell)))
        return Decisions(tuple(decisions))

    def _problem(self, table: Table, line: int, field: str, words: str) -> None:
        told = len(self.problems) < MOST_TOLD  # the others are only counted
        self.problems.append(f"{self._tables.place(table, line, field)}: {words}" if told else "")

    def _who(self, table: Table, tell: Tell) -> frozenset[str] | None:
        if not (table.named or table.sections):
            return None
        who = set(table.named)
        if self._roster is not None:
            for name in table.named:
                if name not in self._roster:
                    field = "student" if name == table.student else "students"
                    like = "" if len(self.problems) >= MOST_TOLD else _near_id(name, self._roster)
                    tell(field, f"{name!r} is not in the roster{like}")
            for section in table.sections:
                if section not in self._sections:
                    like, there = near(section, self._sections), ", ".join(sorted(self._sections)) or "none"
                    tell("sections", f"{section!r} is no section of the roster{like}; there are {there}")
                who |= self._sections.get(section, set())
        return frozenset(who)

    def _answers(self, table: Table, tell: Tell) -> tuple[str, ...]:
        name, answer = getattr(table, "question", None), getattr(table, "answer", None)
        if name is None:
            return ()
        question = self._questions.get(name)
        if question is None:
            there = f"{near(name, self._questions)}; it has {', '.join(self._questions)}"
            tell("question", f"{name!r} is not in the set {self._set.name!r}{there}")
            return ()
        ids = tuple(each.id for each in question.answers)
        if answer is not None and answer not in ids:
            there = f"{near(answer, ids)}; it has {', '.join(ids)}"
            tell("answer", f"{answer!r} is no answer of {name!r}{there}")
            return ()
        chosen = ids if answer is None else (answer,)
        if isinstance(table, (AlsoRight, WrongKey)):
            if len(chosen) > 1:
                tell("answer", f"is missing; {name!r} has {', '.join(ids)}: say which")
                return ()
            for field, words in _right_faults(table, question, chosen[0]):
                tell(field, words)
        return chosen

    # -- together --
    def contradictions(self, decisions: Decisions) -> Iterator[str]:
        """Pairs of decisions that cannot both hold."""
        files: dict[str, Decision] = {}
        for decision in decisions.all:
            if isinstance(decision.table, FileOf):
                before = files.setdefault(decision.table.file, decision)
                if before.who != decision.who:
                    where = self._tables.place(decision.table, decision.line, "file")
                    beside = f" (the other is in line {before.line})" if before.line else ""
                    yield f"{where}: is one file for two students{beside}; leave one of them"
        compared: set[tuple[int, int]] = set()
        for student, mine in _groups(decisions):
            if len(mine) > MOST_OF_ONE:
                whom = repr(student) if student else "everybody"
                yield f": {len(mine)} decisions are about {whom}; at most {MOST_OF_ONE}"
                return
            for decision, other in combinations(mine, 2):
                pair = id(decision), id(other)
                if (student and decision.who is None and other.who is None) or pair in compared:
                    continue  # told, or held against each other, already
                compared.add(pair)
                if (words := _against(decision, other)) and _same_answers(decision, other):
                    whom = f" for {student!r}" if student else ""
                    beside = f" (the other is in line {decision.line})" if decision.line else ""
                    where = self._tables.place(other.table, other.line)
                    yield f"{where}: {words}{whom}{beside}; leave one of them"

    def limits(self, decisions: Decisions) -> Iterator[str]:
        """Points beyond what can be reached, days that are none, a set of which nothing is left."""
        parts: dict[tuple[int, ...], dict] = {}
        for student, mine in _groups(decisions):
            same = tuple(id(d) for d in decisions.of(student, LeaveOut.kind))
            if same not in parts:
                parts[same] = shares(self._set, decisions, student)
                if out_of(self._set, parts[same]) <= 0:
                    yield ": leave_out: nothing of the set would be left; excuse the students instead"
                    return
            extra = any(isinstance(d.table, ExtraTime) and d.table.days for d in mine)
            for decision in mine:
                table, where = decision.table, self._tables.place
                if isinstance(table, SetPoints):
                    most = out_of(self._set, parts[same], decision.question or None)
                    if table.points > most + 1e-9:
                        with_what = f"with {decision.question!r}" if decision.question else "in all"
                        yield (
                            f"{where(table, decision.line, 'points')}: {table.points:g} is more than the"
                            f" {points_words(most)} that can be reached {with_what}"
                        )
                elif isinstance(table, Late):
                    late, at = days_late(table), where(table, decision.line)
                    if late is None and extra:
                        yield (
                            f"{at}: {student!r} has extra time; write days, or due and came, so that it can"
                            " be taken off"
                        )
                    if late == 0:
                        yield f"{at}: is not late by these days; remove it, or mend the dates"


def _groups(decisions: Decisions) -> Iterator[tuple[str, list[Decision]]]:
    """What everybody shares ("" for the student), then a student for each different lot of decisions."""
    yield "", decisions.of("")
    for student in decisions.different():
        yield student, decisions.of(student)


def _same_answers(decision: Decision, other: Decision) -> bool:
    """Whether two decisions, where both name answers, are about one of them."""
    if isinstance(decision.table, OfQuestion) and isinstance(other.table, OfQuestion):
        return decision.question == other.question and bool(set(decision.answers) & set(other.answers))
    return True


def _against(decision: Decision, other: Decision) -> str:
    """Why two kinds of decision cannot both hold, where they meet; "" where they can."""
    kinds = {decision.kind, other.kind}
    if LeaveOut.kind in kinds and kinds <= {"leave_out", "full_points", "also_right", "wrong_key"}:
        return "left out twice" if len(kinds) == 1 else f"left out and {(kinds - {'leave_out'}).pop()}"
    if kinds == {"leave_out", "set_points"}:
        left, points = (decision, other) if decision.kind == "leave_out" else (other, decision)
        whole = isinstance(left.table, LeaveOut) and left.table.answer is None
        return "left out, and points are set for it" if whole and left.question == points.question else ""
    if kinds == {"set_points"}:
        return "its points are set twice" if decision.question == other.question else _in_all(decision, other)
    if kinds == {"set_points", "late"}:
        points = decision if decision.kind == "set_points" else other
        return "" if points.question else "late, and the points in all are set: put the deduction into them"
    if kinds == {"attempt"}:
        return "which hand-in counts is said twice" if (decision.who is None) == (other.who is None) else ""
    if kinds == {"file_of"}:
        return "two files are to count"
    if kinds == {"file_of", "attempt"}:  # a rule for everybody says nothing of this one
        rule = decision if decision.kind == "attempt" else other
        return "" if rule.who is None else "which hand-in counts is said twice"
    if len(kinds) == 1 and decision.kind in ("late", "excused", "absent", "wrong_key", "full_points"):
        return f"{decision.kind} twice"
    away = kinds & {"excused", "absent"}
    if away and len(kinds) == 2:
        rest = kinds - {sorted(away)[0]}
        if rest <= {"late", "set_points", "absent", "excused", "extra_time"}:
            return f"{sorted(away)[0]} and {rest.pop()}"
    return ""


def _in_all(decision: Decision, other: Decision) -> str:
    return "" if decision.question and other.question else "points are set for a question and in all"


# -- what is called right ------------------------------------------------------------------------------
_WAYS = {  # to say what is right, by kind of question
    "number": ("value", "formula", "quantity"),
    "expression": ("formula",),
    "choice": ("option",),
    "design": ("formula",),
}


def _right_faults(
    table: AlsoRight | WrongKey, question: Question, identity: str
) -> Iterator[tuple[str, str]]:
    """What is wrong with the answer that a decision calls right: (field, words)."""
    all_ways = ("value", "formula", "quantity", "option")
    given = next((way for way in all_ways if getattr(table, way) is not None), "")
    kind, ways = question.kind, _WAYS.get(question.kind)
    if ways is None:
        yield given, f"a question of kind {kind!r} is given points by [[set_points]] or [[full_points]]"
    elif given not in ways:
        yield given, f"does not fit a question of kind {kind!r}; write {' or '.join(ways)}"
    elif isinstance(table, WrongKey) and kind == "design":
        yield given, "a design has no key; use [[also_right]] or [[full_points]]"
    elif kind == "choice":
        right = {option.text: option.right for option in question.table.options}
        if table.option not in right:
            there = f"{near(table.option or '', right)}; there are {' | '.join(right)}"
            yield "option", f"{table.option!r} is no option{there}"
        elif right[table.option] and not question.answer(identity).several:
            yield "option", "is the right option already"
    elif kind == "expression":
        reading = question.answer(identity).read(table.formula or "")
        if reading.expression is None:
            yield "formula", reading.problem or "cannot be read"
    elif table.quantity is not None:
        yield from _quantity_faults(table.quantity, question, identity)
    elif table.value is not None:
        yield from _value_faults(table, question, identity)
    else:
        yield from _formula_faults(table, question, identity)


def _value_faults(
    table: AlsoRight | WrongKey, question: Question, identity: str
) -> Iterator[tuple[str, str]]:
    answer = question.answer(identity)
    reading = answer.read(table.value or "")
    if reading.value is None:
        yield "value", reading.problem or "cannot be read"
    elif reading.alternatives:
        yield "value", f"{table.value!r} can be read in two ways; write a decimal point"
    elif answer.unit and not reading.unit:
        yield "value", f"{table.value!r} has no unit; write it in {answer.unit} or another unit of its kind"
    elif in_unit(reading, answer.shown_unit) is None:
        yield "value", f"{table.value!r} is not of the kind asked, {answer.unit or 'a plain number'}"


def _quantity_faults(word: str, question: Question, identity: str) -> Iterator[tuple[str, str]]:
    answer = question.answer(identity)
    if word not in QUANTITIES:
        yield "quantity", f"{word!r} is no quantity{near(word, QUANTITIES)}"
    elif QUANTITIES[word].dimension != answer.dimension:
        kind = QUANTITIES[word].dimension
        yield "quantity", f"{word!r} is of another kind ({kind}) than what is asked ({answer.dimension})"
    else:
        try:
            derived(question, word, answer.shown_unit)
        except ValueError as error:
            yield "quantity", str(error)


def _formula_faults(
    table: AlsoRight | WrongKey, question: Question, identity: str
) -> Iterator[tuple[str, str]]:
    names = question.shown_names
    if question.kind == "design":
        names = (*(field.id for field in question.fields), *names)
    try:
        words = parse(table.formula or "", {name: name for name in names}, bank=True)
        function = compiled(table.formula or "", names)
    except ValueError as error:
        yield "formula", f"{error} It may use {', '.join(names) or 'no givens: this question shows none'}."
        return
    if question.kind == "design":
        return
    assert words is not None and function is not None
    for number in range(_SAMPLES):
        if right_number(table, question, question.draw("decisions", number), identity) is None:
            yield "formula", "has no value for ordinary numbers of this question (a division by zero?)"
            return


def _near_id(name: str, roster: Roster) -> str:
    """Ids of the class list that come near a wrong one, capitals and leading zeros first."""
    small = name.casefold().lstrip("0")
    like = [s.id for s in roster if s.id.casefold().lstrip("0") == small][:3]
    if not like and len(roster) <= 5000:
        like = difflib.get_close_matches(name, [student.id for student in roster], 3, 0.6)
    return f"; near: {', '.join(like)}" if like else ""
