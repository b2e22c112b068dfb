"""One page a student with every step of the sum of the term, to be recomputed by hand."""

from __future__ import annotations

from fractions import Fraction

from markupsafe import Markup

from gearlab.course.files import one_line, safe
from gearlab.course.pages import Frame, part
from gearlab.course.term.sums import GroupSum, Step, Sum
from gearlab.course.termrules import Group, Rules

_WAYS = {
    "nearest": "to the nearest (a half goes up)",
    "up": "up",
    "down": "down",
}


def number(value: Fraction, places: int = 2) -> str:
    """An exact number [its own unit] with at most so many decimal places; a half goes up.

    >>> number(Fraction(175, 2)), number(Fraction(2, 3), 4), number(Fraction(5, 1000))
    ('87.5', '0.6667', '0.01')
    """
    step = 10**places
    scaled = (value * step + Fraction(1, 2)).__floor__()
    text = f"{scaled // step}" + (f".{scaled % step:0{places}d}" if places else "")
    return text.rstrip("0").rstrip(".") if "." in text else text


def per_cent(share: Fraction, places: int = 2) -> str:
    """A share in per cent."""
    return f"{number(100 * share, places)} %"


def rule_words(group: Group, by_points: bool) -> str:
    """The rules of a group in sentences."""
    if by_points:
        words = "Points are added up as they are."
    elif len(set(group.weights)) > 1:
        words = "Each set counts by its per cent and its weight."
    else:
        words = "Each set counts by its per cent, all with the same weight." if len(group.sets) > 1 else ""
    if group.best is not None and group.best < len(group.sets):
        many = "the best set counts" if group.best == 1 else f"the best {group.best} sets count"
        words += f" Only {many}, by per cent; of equal ones the earlier."
    missing = "counts 0 points" if group.zero else "is left out"
    return f"{words} A set that was not handed in {missing}; an excused one is left out.".strip()


class TermPages:
    """Writes the pages of a term.

    course: the title of the course.
    titles: of the sets, by name.
    """

    def __init__(self, rules: Rules, course: str, titles: dict[str, str]):
        self._rules, self._titles = rules, titles
        self._page = Frame(
            "term.html",
            ("who", "id", "section", "total", "out_of", "notes", "groups", "sum"),
            css=Markup(part("page.css") + part("term.css")),
            course=one_line(course),
            title=one_line(rules.title),
        )

    def page(self, sum_: Sum) -> str:
        """The page of one student."""
        student = sum_.student
        notes = ""
        if sum_.open:
            notes = f'<p class="note">Not final: {safe("; ".join(sum_.open))}.</p>\n'
        if any(step.came for step in sum_.steps):
            notes += '<p class="note">What came could not be marked: ask your instructor about it now.</p>\n'
        return self._page.fill(
            {
                "who": safe(student.name or student.id),
                "id": safe(student.id),
                "section": f", section <bdi>{safe(student.section)}</bdi>" if student.section else "",
                "total": "no mark" if sum_.total is None else number(sum_.total, self._rules.places),
                "out_of": "" if sum_.total is None else f"of {number(sum_.out_of)}",
                "notes": notes,
                "groups": "".join(self._group(group) for group in sum_.groups),
                "sum": self._sum(sum_),
            }
        )

    def _group(self, group: GroupSum) -> str:
        own, by_points = group.group, self._rules.by_points
        name = own.name or "The sets"
        head = ""
        if own.name and self._rules.grouped:
            head = f'<span class="worth">weight {number(own.weight)}</span>'
        weighted = not by_points and len(set(own.weights)) > 1
        rows = "".join(self._row(step, weighted) for step in group.steps)
        weight = '<th scope="col" class="n">weight</th>' if weighted else ""
        return (
            f"<section>\n<h2><span>{safe(one_line(name))}</span>{head}</h2>\n"
            f"<p>{safe(rule_words(own, by_points))}</p>\n"
            '<table>\n<tr><th scope="col">set</th><th scope="col" class="n">points</th><th scope="col"'
            f' class="n">per cent</th>{weight}<th scope="col">in the sum</th></tr>\n{rows}</table>\n'
            f"{self._group_sum(group, weighted)}"
            f"{''.join(self._decided(step) for step in group.steps)}</section>\n"
        )

    def _row(self, step: Step, weighted: bool) -> str:
        points = "–"
        if step.share is not None or step.mark.points is not None:
            points = f"{number(step.points)} of {number(step.out_of)}"
        share = "–" if step.share is None else per_cent(step.share)
        weight = f'<td class="n">{number(step.weight)}</td>' if weighted else ""
        title = safe(one_line(self._titles[step.name]))
        came = f'<br><span class="soft">{safe(step.came)}</span>' if step.came else ""
        return (
            f'<tr class="{"in" if step.counts else "out"}" data-set="{safe(step.name)}"><td>{title}</td><td'
            f' class="n">{points}</td><td class="n">{share}</td>{weight}<td>{step.words}{came}</td></tr>\n'
        )

    def _group_sum(self, group: GroupSum, weighted: bool) -> str:
        """How the sets that count come to the per cent of the group."""
        steps = group.counting
        if not steps or (not self._rules.grouped and self._rules.by_points):
            return "" if steps else '<p class="sum">Nothing counts here.</p>\n'
        if group.share is None:
            return '<p class="sum">Nothing counts here.</p>\n'
        if self._rules.by_points:
            points = " + ".join(number(step.points) for step in steps)
            possible = " + ".join(number(step.out_of) for step in steps)
            way = f"({points}) ÷ ({possible})" if len(steps) > 1 else f"{points} ÷ {possible}"
        else:
            shares = [_fraction(step) for step in steps]
            if weighted:
                shares = [
                    f"{number(step.weight)} × {share}" for step, share in zip(steps, shares, strict=True)
                ]
            divisor = " + ".join(number(step.weight) for step in steps) if weighted else str(len(steps))
            divisor = f"({divisor})" if weighted and len(steps) > 1 else divisor
            way = f"({' + '.join(shares)}) ÷ {divisor}" if len(steps) > 1 else _fraction(steps[0])
        return f'<p class="sum">{way} {_about(group.share)}</p>\n'

    def _decided(self, step: Step) -> str:
        """What was decided about the mark of a set in all, and how the points came to be."""
        mark = step.mark
        if not mark.decided:
            return ""
        told = "".join(
            f"<p><b>{safe(decided.kind.replace('_', ' ').capitalize())}.</b> {safe(decided.words)} <span"
            f' class="soft">Decided by <bdi>{safe(one_line(decided.by))}</bdi>:'
            f" <bdi>{safe(one_line(decided.why))}</bdi></span></p>\n"
            for decided in mark.decided
        )
        before = ""
        if mark.points is not None and mark.points != mark.questions:
            before = (
                f"<p>The questions came to {number(mark.questions)} points; with what was decided they are"
                f" {number(mark.points)}.</p>\n"
            )
        title = safe(one_line(self._titles[step.name]))
        return f'<div class="decided"><p class="soft">{title}</p>\n{told}{before}</div>\n'

    def _sum(self, sum_: Sum) -> str:
        rules = self._rules
        if sum_.exact is None or sum_.total is None:
            return "<p>Nothing counts yet, so there is no mark.</p>\n"
        out_of = number(sum_.out_of)
        way = self._way(sum_, out_of)
        exact = number(sum_.exact, 4)
        sign = "=" if Fraction(exact) == sum_.exact else "≈"
        rounding = (
            f"Rounded {_WAYS[rules.rounding]} {_PLACES[rules.places]}:"
            f" <b>{number(sum_.total, rules.places)} of {out_of}</b>. Nothing is rounded before that."
        )
        left = [group.group.name for group in sum_.groups if group.share is None and group.group.name]
        words = ""
        if left and rules.grouped:
            names = ", ".join(safe(one_line(name)) for name in left)
            words = f"<p>Nothing counts in {names}: the other weights are all there is.</p>\n"
        return f'{words}<p class="sum">{way} {sign} {exact}</p>\n<p>{rounding}</p>\n'

    def _way(self, sum_: Sum, out_of: str) -> str:
        """The last sum, as one would write it down."""
        rules = self._rules
        if not rules.grouped:
            steps = [step for group in sum_.groups for step in group.counting]
            points = " + ".join(number(step.points) for step in steps)
            possible = " + ".join(number(step.out_of) for step in steps)
            return points if rules.out_of is None else f"({points}) ÷ ({possible}) × {out_of}"
        there = [(group.group, group.share) for group in sum_.groups if group.share is not None]
        if len(there) == 1:
            return f"{per_cent(there[0][1], 4)} of {out_of}"
        parts = " + ".join(f"{number(group.weight)} × {per_cent(share, 4)}" for group, share in there)
        weights = " + ".join(number(group.weight) for group, _ in there)
        return f"({parts}) ÷ ({weights}), of {out_of}"


_PLACES = {0: "to a whole number", 1: "to one decimal place", 2: "to two decimal places"}


def _fraction(step: Step) -> str:
    return f"{number(step.points)}/{number(step.out_of)}"


def _about(share: Fraction) -> str:
    """A share as a per cent with four places, with the sign before it."""
    exact = Fraction(number(100 * share, 4)) == 100 * share
    return f"{'=' if exact else '≈'} {per_cent(share, 4)}"
