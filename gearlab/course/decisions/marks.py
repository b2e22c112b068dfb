"""What decisions do to one student's marks: verdicts first, then the points of a question, then those in all.

Everything here is a function of plain data; nothing is remembered between students but compiled formulas.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from gearlab.course.decisions.tables import (
    AlsoRight,
    Decision,
    Decisions,
    FullPoints,
    LeaveOut,
    LookAgain,
    WrongKey,
)
from gearlab.course.files import one_line
from gearlab.digits import number_text
from gearlab.practice import Draw, HomeworkSet, Question, Reading, Verdict
from gearlab.practice.answer import derivation
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.formulas.formula import compile_outputs
from gearlab.practice.judging import judge_number
from gearlab.practice.typed.reading import in_unit
from gearlab.practice.verdict import Cause
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import factor, theory_unit, written

if TYPE_CHECKING:
    from collections.abc import Callable

ALIKE = 1e-6  # relative: two expressions that come so near at every point of comparison are one
_BY_OLD_KEY = "Right by the key that was handed out; it stands."


@dataclass(frozen=True, slots=True)
class Told:
    """A decision as a student reads it: what, by whom, why.

    change: points that no answer's verdict shows, added to (or taken off) the sum of the answers [-].
    """

    kind: str
    title: str
    words: str
    by: str
    why: str
    when: str = ""
    question: str = ""
    answer: str = ""
    change: float = 0.0


def told_as(decision: Decision, title: str, words: str, answer: str = "", change: float = 0.0) -> Told:
    table = decision.table
    return Told(
        decision.kind,
        title,
        words,
        shown(table.by),
        shown(table.why),
        decision.when,
        decision.question,
        answer,
        change,
    )


def shown(text: str) -> str:
    """A person's own words in one paragraph: line ends as blanks, other control characters as codes."""
    return one_line(" ".join(text.split()))


# -- what a question is worth --------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Share:
    """What is left of a question for a student.

    weight: factor on the points of its answers, where those left out were spread [-].
    """

    weight: float = 1.0
    left_out: frozenset[str] = frozenset()


_WHOLE = Share()


def shares(homework: HomeworkSet, decisions: Decisions, student: str) -> dict[str, Share]:
    """What is left of each question where some are left out for a student; {} where none is."""
    left: dict[str, dict[str, str]] = {}
    for decision in decisions.of(student, LeaveOut.kind):
        assert isinstance(decision.table, LeaveOut)
        for answer in decision.answers:
            left.setdefault(decision.question, {})[answer] = decision.table.points
    if not left:
        return {}
    pool, rest = 0.0, 0.0
    inner: dict[str, float] = {}
    for entry in homework.entries:
        gone = left.get(entry.question.id, {})
        worth = {answer.id: answer.points * entry.scale for answer in entry.question.answers}
        stays = sum(points for answer, points in worth.items() if answer not in gone)
        spread = sum(worth[answer] for answer, way in gone.items() if way == "spread")
        if stays:
            inner[entry.question.id] = (stays + spread) / stays
            rest += stays + spread
        else:
            pool += spread
    outer = (rest + pool) / rest if rest else 1.0
    return {
        entry.question.id: Share(
            inner.get(entry.question.id, 1.0) * outer, frozenset(left.get(entry.question.id, ()))
        )
        for entry in homework.entries
    }


def out_of(homework: HomeworkSet, parts: Mapping[str, Share], question: str | None = None) -> float:
    """Points that can be reached with what is left, of one question or of the whole set [-]."""
    total = 0.0
    for entry in homework.entries:
        if question in (None, entry.question.id):
            part = parts.get(entry.question.id, _WHOLE)
            points = sum(a.points for a in entry.question.answers if a.id not in part.left_out)
            total += points * entry.scale * part.weight
    return round(total, 6)


# -- verdicts ------------------------------------------------------------------------------------------
@lru_cache(maxsize=256)
def compiled(text: str, names: tuple[str, ...]) -> Callable[..., float]:
    """A formula of a decision, read by the project's own parser."""
    return compile_formula(text, names)


@lru_cache(maxsize=64)
def derived(question: Question, word: str, unit: str) -> Callable[[tuple], float]:
    """A quantity as theory derives it from the givens of a question, from the shown numbers to a unit.

    ValueError where the givens do not determine it.
    """
    given = question.known_names
    way = derivation(question.table, word, given)
    function = compile_outputs({word: way.raw}, {name: question.factor(name) for name in given})
    out = factor(theory_unit(QUANTITIES[word].dimension, question.table.length_unit), unit)
    places = [question.shown_names.index(name) for name in given]
    return lambda shown: float(function(*[shown[place] for place in places])[0] * out)


def right_number(table: AlsoRight | WrongKey, question: Question, draw: Draw, answer_id: str) -> float | None:
    """The number a decision calls right, in the unit asked; None where it has none for these givens."""
    answer = question.answer(answer_id)
    if table.value is not None:
        reading = answer.read(table.value)
        return None if reading.value is None else in_unit(reading, answer.shown_unit)
    try:
        if table.quantity is not None:
            return derived(question, table.quantity, answer.shown_unit)(draw.shown)
        number = compiled(table.formula or "0", question.shown_names)(*draw.shown)
    except (ArithmeticError, ValueError, TypeError):
        return None
    return float(number) if isinstance(number, (int, float)) and math.isfinite(number) else None


def accepts(
    table: AlsoRight | WrongKey, question: Question, draw: Draw, answer_id: str, read: Mapping[str, Reading]
) -> bool:
    """Whether what was read is what a decision calls right."""
    if question.kind == "design":
        numbers = [field.number(read[field.id]) for field in question.fields]
        if None in numbers:
            return False
        names = (*(field.id for field in question.fields), *question.shown_names)
        try:
            return bool(compiled(table.formula or "0", names)(*numbers, *draw.shown))
        except (ArithmeticError, ValueError, TypeError):
            return False
    reading = read[answer_id]
    if reading.empty:
        return False
    if question.kind == "choice":
        ticked = {draw.order[place] for place in reading.choices}
        options = question.table.options
        right = {place for place, option in enumerate(options) if option.right}
        place = [option.text for option in options].index(table.option or "")
        if not question.answer(answer_id).several:
            return ticked == {place}
        if isinstance(table, WrongKey):
            return ticked == right ^ {place}
        return bool(ticked) and ticked - {place} == right - {place}
    if question.kind == "expression":
        wanted = question.answer(answer_id).read(table.formula or "").expression
        return (
            wanted is not None
            and reading.expression is not None
            and _alike(question.points_of_comparison, wanted, reading.expression)
        )
    number = right_number(table, question, draw, answer_id)
    if number is None or reading.value is None:
        return False
    answer = question.answer(answer_id)
    keys = tuple(number if place == answer.place else key for place, key in enumerate(draw.keys))
    verdict, _ = judge_number(question, replace(draw, keys=keys), answer, reading, False, 0, None)
    return verdict.right


def _alike(points: Iterable[dict[str, float]], expression, other) -> bool:
    for point in points:
        mine, theirs = expression.value(point), other.value(point)
        if mine is None or theirs is None or not math.isclose(mine, theirs, rel_tol=ALIKE, abs_tol=1e-9):
            return False
    return True


@dataclass(slots=True)
class Judgement:
    """The verdicts on a question after decisions.

    plain: as the answers were found right or wrong, for statistics; `verdicts` carry what people granted too.
    """

    verdicts: dict[str, Verdict]
    plain: dict[str, Verdict]
    told: list[Told]


def judged(
    question: Question,
    draw: Draw,
    read: dict[str, Reading],
    verdicts: dict[str, Verdict],
    decisions: list[Decision],
    part: Share,
) -> Judgement:
    """The verdicts on one question of one student with what was decided about it."""
    told: list[Told] = []
    verdicts_now = dict(verdicts)
    _correct(
        question, draw, read, verdicts_now, [d for d in decisions if isinstance(d.table, WrongKey)], told
    )
    for decision in decisions:
        if isinstance(decision.table, AlsoRight):
            _allow(question, draw, read, verdicts_now, decision, told)
    plain = dict(verdicts_now)
    for decision in decisions:
        if isinstance(decision.table, FullPoints):
            _grant(verdicts_now, decision, told)
    for decision in decisions:
        if isinstance(decision.table, LeaveOut):
            _leave_out(question, verdicts_now, decision, told)
        elif isinstance(decision.table, LookAgain) and not decision.table.settled:
            words = "Somebody is to look at this again; the points may still change."
            told += [told_as(decision, "To be looked at again", words, _one(decision))]
    assert part.left_out == {a for d in decisions if isinstance(d.table, LeaveOut) for a in d.answers}
    return Judgement(verdicts_now, plain, told)


def _one(decision: Decision) -> str:
    """The answer a decision is about where it names one."""
    return getattr(decision.table, "answer", None) or ""


def _correct(question, draw, read, verdicts_now: dict[str, Verdict], decisions: list[Decision], told) -> None:
    """Judge again by corrected keys; where the old one stands, nobody loses."""
    if not decisions:
        return
    falls = {d.answers[0] for d in decisions if isinstance(d.table, WrongKey) and d.table.old == "falls"}
    if question.numbers:
        again = question.judge_read(_redrawn(question, draw, decisions), read, True, {})
        for identity, verdict in again.items():
            before = verdicts_now[identity]
            if falls or verdict.points >= before.points:
                verdicts_now[identity] = verdict
            elif before.right and not before.carried and identity in {d.answers[0] for d in decisions}:
                verdicts_now[identity] = replace(before, sentence=_BY_OLD_KEY)
    for decision in decisions:
        identity, table = decision.answers[0], decision.table
        assert isinstance(table, WrongKey)
        if not question.numbers:
            before = verdicts_now[identity]
            if accepts(table, question, draw, identity, read):
                verdicts_now[identity] = _full(before, "Right, by the corrected key.")
            elif before.right and table.old == "stands":
                verdicts_now[identity] = replace(before, sentence=_BY_OLD_KEY)
            elif before.right:
                words = "Right by the key that was handed out, which was wrong."
                cause = Cause("old key", "by the old key", words, 0.0, "listed slip")
                verdicts_now[identity] = Verdict(
                    "listed slip", False, 0.0, before.out_of, before.read, causes=(cause,), sentence=words
                )
        told.append(
            told_as(decision, "The key was corrected", _key_words(question, draw, table, identity), identity)
        )


def _redrawn(question: Question, draw: Draw, decisions: list[Decision]) -> Draw:
    """The draw with its corrected keys, and those of later answers that build on them."""
    keys = list(draw.keys)
    fixed = {}
    for decision in decisions:
        assert isinstance(decision.table, WrongKey)
        number = right_number(decision.table, question, draw, decision.answers[0])
        if number is not None:
            fixed[decision.answers[0]] = number
    for place, answer in enumerate(question.answers):
        if answer.id in fixed:
            keys[place] = fixed[answer.id]
        elif any(keys[used] != draw.keys[used] for used in answer.carried_places):
            keys[place] = next(iter(answer.consistent(draw.shown, keys)), keys[place])
    return replace(draw, keys=tuple(keys))


def _key_words(question: Question, draw: Draw, table: WrongKey, identity: str) -> str:
    right = ""
    if question.numbers:
        number, unit = right_number(table, question, draw, identity), question.answer(identity).unit
        if number is not None:
            right = (
                f" Right with your numbers is {number_text(number, 6)}{' ' + written(unit) if unit else ''}."
            )
    elif table.option and question.answer(identity).several:
        was = next(option.right for option in question.table.options if option.text == table.option)
        right = f" “{shown(table.option)}” {'does not fit' if was else 'fits too'}."
    else:
        right = f" Right is: {shown(table.option or table.formula or '')}."
    stands = (
        "Answers by the old key keep their points."
        if table.old == "stands"
        else "The old key no longer counts."
    )
    return (
        f"The key that was handed out was wrong.{right} {stands} The worked solution below shows the old key."
    )


def _full(before: Verdict, sentence: str) -> Verdict:
    points = before.out_of
    return Verdict("right", True, points, points, before.read, before.note, sentence=sentence)


def _allow(
    question, draw, read, verdicts_now: dict[str, Verdict], decision: Decision, told: list[Told]
) -> None:
    table, identity = decision.table, decision.answers[0]
    assert isinstance(table, AlsoRight)
    before = verdicts_now[identity]
    if before.points >= table.credit * before.out_of or not accepts(table, question, draw, identity, read):
        return
    if table.credit == 1:
        verdicts_now[identity] = _full(before, "Right, by a decision.")
        for later, verdict in verdicts_now.items():
            if verdict.carried:
                verdicts_now[later] = replace(verdict, sentence="Right with your own earlier number.")
        words = "Your answer counts as right too."
    else:
        sentence = "Counted in part, by a decision."
        cause = Cause("decided", "counted in part, by a decision", sentence, table.credit, "listed slip")
        verdicts_now[identity] = replace(
            before,
            kind="listed slip",
            points=table.credit * before.out_of,
            causes=(cause,),
            sentence=sentence,
        )
        words = f"Your answer earns {100 * table.credit:g} % of its points."
    told.append(told_as(decision, "Another answer counts", words, identity))


def _grant(verdicts_now: dict[str, Verdict], decision: Decision, told: list[Told]) -> None:
    for identity in decision.answers:
        verdict = verdicts_now[identity]
        verdicts_now[identity] = replace(verdict, right=True, points=verdict.out_of)
    words = "Everybody gets" if decision.who is None else "You get"
    told.append(
        told_as(decision, "Full points", f"{words} full points here, whatever was answered.", _one(decision))
    )


def _leave_out(question, verdicts_now: dict[str, Verdict], decision: Decision, told: list[Told]) -> None:
    table = decision.table
    assert isinstance(table, LeaveOut)
    for identity in decision.answers:
        verdicts_now[identity] = replace(verdicts_now[identity], points=0.0, out_of=0.0)
    what = "question" if set(decision.answers) == {answer.id for answer in question.answers} else "answer"
    whom = "counts for nobody" if decision.who is None else "does not count for you"
    how = (
        "its points are taken out of what can be reached"
        if table.points == "fall"
        else f"its points are spread over the"
        f" {'other questions' if what == 'question' else 'rest of the question'}"
    )
    told.append(told_as(decision, "Left out", f"This {what} {whom}: {how}.", _one(decision)))
