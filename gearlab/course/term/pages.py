"""One page a student with every step of the sum of the term, to be recomputed by hand."""

from __future__ import annotations

from fractions import Fraction

from markupsafe import Markup

from gearlab.course.pages import page, part
from gearlab.course.term.sums import GroupSum, Step, Sum
from gearlab.course.termrules import Group, Rules
from gearlab.quoting import one_line

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
        self._rules = rules
        self._fields = {
            "css": Markup(part("page.css") + part("term.css")),
            "course": one_line(course),
            "title": one_line(rules.title),
            "titles": titles,
            "exact": number,
            "per_cent": per_cent,
            "grouped": rules.grouped,
            "rounded": f"{_WAYS[rules.rounding]} {_PLACES[rules.places]}",
        }

    def page(self, term: Sum) -> str:
        """The page of one student."""
        rules, total, out_of = self._rules, "no mark", ""
        if term.total is not None:
            total, out_of = number(term.total, rules.places), f"of {number(term.out_of)}"
        nothing_in = [group.group.name for group in term.groups if group.share is None and group.group.name]
        return page(
            "term.html",
            **self._fields,
            term=term,
            student=term.student,
            total=total,
            out_of=out_of,
            groups=[self._group(group) for group in term.groups],
            nothing_in=", ".join(map(one_line, nothing_in)) if rules.grouped else "",
            way=self._way(term),
        )

    def _group(self, group: GroupSum) -> tuple[GroupSum, Group, str, bool, str]:
        """A group with its rules, whether its sets have weights, and how they come to its per cent."""
        own, by_points = group.group, self._rules.by_points
        weighted = not by_points and len(set(own.weights)) > 1
        return group, own, rule_words(own, by_points), weighted, self._group_sum(group, weighted)

    def _group_sum(self, group: GroupSum, weighted: bool) -> str:
        """How the sets that count come to the per cent of the group."""
        steps = group.counting
        if steps and self._rules.by_points and not self._rules.grouped:
            return ""  # it stands in the sum of the term
        if not steps or group.share is None:
            return "Nothing counts here."
        several = len(steps) > 1
        if self._rules.by_points:
            points, possible = _added(steps)
            way = f"({points}) ÷ ({possible})" if several else f"{points} ÷ {possible}"
        else:
            shares, divisor = [_fraction(step) for step in steps], str(len(steps))
            if weighted:
                weights = [number(step.weight) for step in steps]
                shares = [f"{weight} × {share}" for weight, share in zip(weights, shares, strict=True)]
                divisor = f"({' + '.join(weights)})"
            way = f"({' + '.join(shares)}) ÷ {divisor}" if several else _fraction(steps[0])
        return f"{way} {_about(group.share)}"

    def _way(self, term: Sum) -> str:
        """The last sum, as one would write it down; "" where nothing counts."""
        if term.exact is None or term.total is None:
            return ""
        exact = number(term.exact, 4)
        return f"{self._last_sum(term, number(term.out_of))} {_sign(exact, term.exact)} {exact}"

    def _last_sum(self, term: Sum, out_of: str) -> str:
        rules = self._rules
        if not rules.grouped:
            points, possible = _added([step for group in term.groups for step in group.counting])
            return points if rules.out_of is None else f"({points}) ÷ ({possible}) × {out_of}"
        there = [(group.group, group.share) for group in term.groups if group.share is not None]
        if len(there) == 1:
            return f"{per_cent(there[0][1], 4)} of {out_of}"
        parts = " + ".join(f"{number(group.weight)} × {per_cent(share, 4)}" for group, share in there)
        weights = " + ".join(number(group.weight) for group, _ in there)
        return f"({parts}) ÷ ({weights}), of {out_of}"


_PLACES = {0: "to a whole number", 1: "to one decimal place", 2: "to two decimal places"}


def _added(steps: list[Step]) -> tuple[str, str]:
    """The points of sets added up, and those that could be reached, each as a sum."""
    return " + ".join(number(s.points) for s in steps), " + ".join(number(s.out_of) for s in steps)


def _fraction(step: Step) -> str:
    return f"{number(step.points)}/{number(step.out_of)}"


def _sign(text: str, exact: Fraction) -> str:
    """What stands before a number as it is written."""
    return "=" if Fraction(text) == exact else "≈"


def _about(share: Fraction) -> str:
    """A share as a per cent with four places, with the sign before it."""
    return f"{_sign(number(100 * share, 4), 100 * share)} {per_cent(share, 4)}"
