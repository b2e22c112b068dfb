"""Questions whose answer is an expression in symbols, the same for every student."""

from __future__ import annotations

from functools import cached_property
from html import escape

from gearlab.practice.answer import Answer, Key
from gearlab.practice.checks.answers import check_answers
from gearlab.practice.checks.precisions import check_wording
from gearlab.practice.contract import Contract, expression_contract
from gearlab.practice.draw import Draw
from gearlab.practice.judging import NO_FORMULA, NOT_ANSWERED, RIGHT, unknown, wrong
from gearlab.practice.question import Question
from gearlab.practice.solution import Worked, joined
from gearlab.practice.tables import AnswerTable, QuestionTable
from gearlab.practice.typed.reading import Reading, read_expression
from gearlab.practice.verdict import Verdict
from gearlab.schema import near

__all__ = ["ExpressionQuestion"]


class ExpressionAnswer(Answer):
    """One expression asked for."""

    kind, may_be_whole = "expression", False

    def read(self, text: str) -> Reading:
        return read_expression(text, self.symbols)


class ExpressionQuestion(Question):
    """A question whose answers are expressions; judged at ten points of comparison."""

    kind, shows_numbers, same_for_all = "expression", False, True

    def _answers(self) -> tuple[ExpressionAnswer, ...]:
        return tuple(ExpressionAnswer(self, table) for table in self.table.answers)

    @classmethod
    def faults(cls, table: QuestionTable, shown: list[str]) -> list[str]:
        """An expression shows symbols only, and names those that may stand in it."""
        return check_answers(table, shown, _answer_faults)

    def judge_read(
        self, draw: Draw, read: dict[str, Reading], listed: bool, chosen: dict[str, int]
    ) -> dict[str, Verdict]:
        return {answer.id: self._judged(answer, read[answer.id], listed) for answer in self.answers}

    def _judged(self, answer: ExpressionAnswer, reading: Reading, listed: bool) -> Verdict:
        if reading.empty:
            return Verdict("not answered", False, 0.0, answer.points, sentence=NOT_ANSWERED)
        if reading.expression is None:
            return Verdict("cannot read", False, 0.0, answer.points, sentence=reading.problem)
        points = self.points_of_comparison
        mine = [reading.expression.value(point) for point in points]
        echo = reading.echo
        if None in mine:
            return Verdict(
                "cannot read",
                False,
                0.0,
                answer.points,
                echo,
                sentence="This expression has no value for ordinary numbers: is something divided by zero?",
            )
        for kind, causes in self.slips_of(answer).agreeing(points, mine, listed):
            if kind == "right":
                return Verdict("right", True, answer.points, answer.points, echo, sentence=RIGHT)
            return wrong(kind, answer, echo, "", tuple(causes))
        sentence = unknown(answer)
        if len(set(mine)) == 1:  # the same at all points: it hangs on nothing
            names = [symbol for symbol, _, _ in answer.symbols]
            written = " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
            sentence = (
                f"{NO_FORMULA}, with {written} in it: what you typed is the same number for every drive."
            )
        return Verdict("not recognised", False, 0.0, answer.points, echo, sentence=sentence)

    def keys(self, draw: Draw) -> dict[str, Key]:
        return self._keys

    @cached_property
    def _keys(self) -> dict[str, Key]:  # the same for everybody, and slow to write out
        return {answer.id: Key(None, str(answer.way.formula), answer.unit, 0.0) for answer in self.answers}

    def _solution(self, draw: Draw, form: str) -> str:
        ways = self.worked(self.answers, form)
        return joined([_solved(answer, way, form) for answer, way in zip(self.answers, ways)], form)

    @cached_property
    def contracts(self) -> dict[str, Contract]:
        return {answer.id: expression_contract(answer) for answer in self.answers}

    def form(self, draw: Draw) -> list[dict]:
        return [
            _box(answer.id, answer.label, [f"{symbol} ({meaning})" for symbol, _, meaning in answer.symbols])
            for answer in self.answers
        ]

    @classmethod
    def sheet_form(cls, sheet: dict) -> list[dict]:
        return [
            _box(
                answer["id"],
                answer.get("label") or answer["id"],
                [_symbol(entry) for entry in answer.get("symbols", [])],
            )
            for answer in sheet["answers"]
        ]

    @classmethod
    def read_on_sheet(cls, answer: dict, text: str) -> Reading | None:
        return read_expression(text, answer.get("symbols", []))

    def check_draws(self, drawn: list[Draw]) -> list[str]:
        """Theory's own formula is right, every symbol is needed, every listed slip is recognised."""
        problems = check_wording(self)
        draw = drawn[0]
        for answer in self.answers:
            place, typed = f"answers.{answer.id}", answer.way.formula
            verdict = self.judge(draw, {answer.id: str(typed)})[answer.id]
            if not verdict.right:
                problems.append(
                    f"{place}: theory's own formula {typed} is judged {verdict.kind!r}: {verdict.sentence}"
                )
            unused = set(answer.table.symbols) - set(answer.way.used)
            if unused:
                problems.append(
                    f"{place}: symbols: {', '.join(sorted(unused))} does not stand in the answer {typed};"
                    " leave it out, or it gives a false hint"
                )
            for slip in answer.table.slips:
                verdict = self.judge(draw, {answer.id: slip.formula})[answer.id]
                if not any(cause.name == slip.name for cause in verdict.causes):
                    problems.append(
                        f"{place}: slips.{slip.name}: {slip.formula!r} typed by a student is judged"
                        f" {verdict.kind!r}: {verdict.sentence}"
                    )
        return problems


def _answer_faults(
    answer: AnswerTable, table: QuestionTable, shown: list[str]
) -> tuple[list[str], list[str]]:
    """Problems of one answer, and the names that its slips may use."""
    usable = [name for name in shown if not table.givens[name].local]
    problems = [
        f"symbols: {name!r} is not a given of this question{near(name, usable)}"
        for name in answer.symbols
        if name not in usable
    ]
    if not answer.symbols:
        problems.append("symbols: an expression question names the quantities that may stand in the answer")
    problems += [
        f"{name}: does not go with an expression question"
        for name in ("whole", "preferred", "uses", "tolerance", "figures")
        if getattr(answer, name)
    ]
    if answer.places is not None:
        problems.append("places: does not go with an expression question")
    if answer.modulo is not None:
        problems.append("modulo: does not go with a question of kind 'expression'")
    return problems, answer.symbols


def _symbol(entry: str | list) -> str:
    """A symbol of an expression, with its meaning where the sheet gives one."""
    if isinstance(entry, (list, tuple)):
        return f"{entry[0]} ({entry[-1]})" if len(entry) > 1 else str(entry[0])
    return str(entry)


def _box(identity: str, label: str, symbols: list[str]) -> dict:
    return {"id": identity, "kind": "expression", "label": label, "help": "Use " + ", ".join(symbols)}


def _solved(answer: ExpressionAnswer, worked: Worked, form: str) -> str:
    label = answer.label[0].upper() + answer.label[1:]
    body = "".join(worked.pieces)
    end = (
        "Only the size is asked, without the sign."
        if answer.table.size_only and answer.way.tidy.could_extract_minus_sign()
        else ""
    )
    if form == "html":
        return f"<h4>{escape(label)}</h4>{body}{f'<p>{end}</p>' if end else ''}"
    if form == "markdown":
        return "\n\n".join(part for part in (f"#### {label}", body, end) if part)
    return "\n".join(part for part in (f"{label}:", body, end) if part)
