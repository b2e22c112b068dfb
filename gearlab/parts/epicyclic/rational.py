"""Exact elimination on fractions: tooth counts give exact ratios, and tell for certain what turns."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

Row = Sequence[Fraction | int]


def reduced(rows: Sequence[Row], unknowns: int) -> tuple[list[list[Fraction]], list[int]]:
    """Rows in reduced form and the columns of their leading ones [-], among the first ``unknowns`` columns.

    Rows that are left with nothing in those columns, but something further right, stand last: they
    contradict.

    >>> rows, leads = reduced([[2, 4, 6], [1, 1, 2]], 2)
    >>> [list(map(int, row)) for row in rows], leads
    ([[1, 0, 1], [0, 1, 1]], [0, 1])
    """
    left = [[Fraction(number) for number in row] for row in rows]
    done: list[list[Fraction]] = []
    leads: list[int] = []
    for column in range(unknowns):
        lead = next((row for row in left if row[column]), None)
        if lead is None:
            continue
        left.remove(lead)
        lead = [number / lead[column] for number in lead]
        for group in (left, done):
            for k, row in enumerate(group):
                if row[column]:
                    group[k] = [
                        number - row[column] * leading for number, leading in zip(row, lead, strict=True)
                    ]
        done.append(lead)
        leads.append(column)
    return done + [row for row in left if any(row)], leads


def free_motions(rows: Sequence[Row], unknowns: int) -> list[list[Fraction]]:
    """Independent answers of the homogeneous equations [-], as many as there are.

    >>> free_motions([[1, 2, -3]], 3)[0]
    [Fraction(-2, 1), Fraction(1, 1), Fraction(0, 1)]
    """
    done, leads = reduced(rows, unknowns)
    motions = []
    for free in (column for column in range(unknowns) if column not in leads):
        motion = [Fraction(0)] * unknowns
        motion[free] = Fraction(1)
        for row, lead in zip(done, leads):
            motion[lead] = -row[free]
        motions.append(motion)
    return motions


def whole_annihilators(matrix: Sequence[Sequence[int]]) -> list[list[int]]:
    """A basis of all whole-number rows u with u A = 0 [-].

    Steps on the rows that can be undone bring A to echelon form; what they did to the rows that became zero
    is the basis.

    >>> whole_annihilators([[18], [-18]])
    [[1, 1]]
    """
    width = len(matrix[0]) if matrix else 0
    rows = [[*row, *(int(k == number) for k in range(len(matrix)))] for number, row in enumerate(matrix)]
    top = 0
    for column in range(width):
        while len(busy := [row for row in rows[top:] if row[column]]) > 1:
            least = min(busy, key=lambda row: abs(row[column]))
            for row in busy:
                if row is not least:
                    times = row[column] // least[column]
                    row[:] = [
                        number - times * subtracted for number, subtracted in zip(row, least, strict=True)
                    ]
        if busy:
            place = next(k for k in range(top, len(rows)) if rows[k] is busy[0])
            rows[top], rows[place] = rows[place], rows[top]
            top += 1
    return [row[width:] for row in rows[top:]]


def common_divisor(numbers: Sequence[int]) -> int:
    """Greatest common divisor of whole numbers of any sign [-]; 0 if all are 0.

    >>> common_divisor([-84, 36]), common_divisor([])
    (12, 0)
    """
    return math.gcd(*numbers) if numbers else 0
