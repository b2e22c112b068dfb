"""What a simulated term must come to: held against its truth, and every mark explained from its page alone.

The pages are read as a student reads them: points of answers, of questions, and what was decided, with
nothing taken from the package.
"""

import csv
import html
import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction as F

from simulatedterm import ANSWERS, SETS, Term, run

TOTAL = re.compile(r'<p class="total"><b>([^<]*)</b> <span>(?:of ([\d.]+))?')
HEAD = re.compile(
    r'<section class="question" id="q\d+">\s*<h2><span>\d+\. [^<]*</span>'
    r'<span class="worth">([\d.?]+) of ([\d.]+)'
)
ANSWER = re.compile(r'<span class="worth">([\d.?]+) of ([\d.]+)</span></h3>')
TAKEN = re.compile(r"([\d.]+) points? taken off")
BY_HAND = re.compile(r"Set to ([\d.]+) of ([\d.]+) points")


def table(path):
    """The rows of a CSV file by their id."""
    with open(path, encoding="utf-8-sig", newline="") as file:
        return {row["id"]: row for row in csv.DictReader(file)}


def near(text, truth):
    """Whether a number as shown, with two decimals, is the true one."""
    return abs(F(text) - truth) <= F(5, 1000)


def marks_are_true(term: Term, decided: bool):
    """Every student's points in every set, out of what; gives how many marks were held."""
    count = 0
    for name in SETS:
        rows = table(term.course / "results" / name / "gradebook.csv")
        assert list(rows) == term.ids
        for student in term.ids:
            points, out_of, _ = term.set_points(name, student, decided)
            row = rows[student]
            assert (row["points"] == "") == (points is None), (name, student, row, points)
            assert near(row["out of"], out_of), (name, student, row)
            if points is not None:
                assert near(row["points"], points), (name, student, row, float(points))
            count += 1
    return count


def pages_explain(term: Term):
    """Answers add up to questions, questions and decisions to the mark; gives how many answers were read."""
    count = 0
    for name in SETS:
        rows = table(term.course / "results" / name / "gradebook.csv")
        for student in term.ids:
            path = term.course / "results" / name / "feedback" / f"{student}.html"
            points, _, why = term.set_points(name, student)
            if not path.is_file():
                assert why == "missing", (name, student)
                continue
            text = path.read_text(encoding="utf-8")
            if why == "excused":
                assert "no mark" in text and "Excused." in text and "Ill, with a note." in text
                continue
            shown, of = TOTAL.search(text).groups()
            assert shown == rows[student]["points"] and of == rows[student]["out of"], (name, student)
            head = text.split('<section class="question"')[0]
            if student not in term.typed[name]:
                assert "Absent." in head and "No word." in head and shown == "0"
                continue
            reached = possible = F(0)
            for part, question in zip(
                text.split('<section class="question"')[1:], SETS[name][1].split(), strict=True
            ):
                count += _question_explained(
                    term, name, student, question, '<section class="question"' + part
                )
                own, own_of = HEAD.search('<section class="question"' + part).groups()
                reached += F(own.replace("?", "0"))
                possible += F(own_of)
            off = sum((F(taken) for taken in TAKEN.findall(head)), F(0))
            assert reached - off == F(shown) and possible == F(of), (name, student, reached, off, shown)
    return count


def _question_explained(term, name, student, question, part):
    """A question of a page: its answers are the true ones and add up; gives how many there are."""
    own, own_of = HEAD.search(part).groups()
    answers = ANSWER.findall(part)
    assert len(answers) == len(ANSWERS[question]), (name, student, question)
    for (shown, _), answer in zip(answers, ANSWERS[question], strict=True):
        truth = term.answer_points(name, student, question, answer)
        assert shown == "?" if truth is None else near(shown, truth), (name, student, question, answer, shown)
    by_hand = BY_HAND.search(part)
    if by_hand:
        assert by_hand.groups() == (own, own_of), (name, student, question)
        assert "The way was right on paper." in part
    elif own != "?":
        assert sum(F(shown.replace("?", "0")) for shown, _ in answers) == F(own), (name, student, question)
    assert sum(F(of) for _, of in answers) == F(own_of)
    return len(answers)


def changes_are_listed(term: Term):
    """Points of every set before and after the decisions stand in changes.csv; gives how many."""
    count = 0
    for name in SETS:
        path = term.course / "results" / name / "changes.csv"
        with open(path, encoding="utf-8-sig", newline="") as file:
            listed = {row["id"]: row for row in csv.DictReader(file) if row["question"] == "in all"}
        for student in term.ids:
            before, out_before, _ = term.set_points(name, student, decided=False)
            after, out_after, _ = term.set_points(name, student)
            if (before, out_before) == (after, out_after) or (before is None and after is None):
                continue
            row = listed[student]
            for shown, truth in ((row["before"], before), (row["after"], after)):
                assert (shown == "") == (truth is None) and (truth is None or near(shown, truth)), row
            count += 1
    return count


def twins_are_named(term: Term):
    """The twins, and nobody else, stand on the page of pairs; gives how many pairs."""
    text = (term.course / "results" / "homework-1" / "pairs.html").read_text(encoding="utf-8")
    pairs = [
        re.findall(r'class="code">(\d{5})<', part) for part in text.split('<section class="question">')[1:]
    ]
    true = list(zip(term.roles["twin"], term.roles["copy"], strict=True))
    assert sorted(map(sorted, pairs)) == sorted(map(sorted, true)), (pairs, true)
    return len(pairs)


def uploaders_are_named(term: Term):
    """Who sent another's file stands in problems.csv with whose it is."""
    path = term.course / "results" / "homework-3" / "problems.csv"
    with open(path, encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    for sender, owner in zip(term.roles["uploader"], term.roles["owner"], strict=True):
        told = [
            row for row in rows if row["id"] == sender and (owner in row["reason"] or owner in row["file"])
        ]
        assert told, [row for row in rows if sender in str(row) or owner in str(row)]
    return len(term.roles["uploader"])


# -- the term ------------------------------------------------------------------------------------------
def term_is_true(term: Term):
    """The mark of the term of everybody, and what became of each set; gives how many marks."""
    rows = table(term.course / "results" / "term" / "gradebook.csv")
    assert list(rows) == term.ids
    for student in term.ids:
        row, exact = rows[student], term.term_points(student)
        truth = (Decimal(exact.numerator) / exact.denominator).quantize(Decimal("0.1"), ROUND_HALF_UP)
        assert Decimal(row["points"]) == truth and row["out of"] == "100", (row, float(exact))
        for name in SETS:
            points, _, why = term.set_points(name, student)
            state = row[f"{name} in the sum"]
            if why == "excused":
                assert state == "excused"
            elif why == "missing":
                assert state in ("missing, counts 0", "missing, dropped")
            else:
                assert near(row[f"{name} points"], points or 0), (name, row)
        counting = [
            name for name in list(SETS)[:3] if row[f"{name} in the sum"] in ("counts", "missing, counts 0")
        ]
        assert len(counting) == 2, row
        waits = student in (*term.roles["open"], *term.roles["uploader"])  # what came has another's id in it
        assert (row["open"] != "") == waits, row
    return len(rows)


def term_pages_explain(term: Term):
    """Every sum on a student's page is worked out again from the page; gives how many sums."""
    count = 0
    for student in term.ids:
        path = term.course / "results" / "term" / "students" / f"{student}.html"
        text = html.unescape(path.read_text(encoding="utf-8"))
        shown, of = TOTAL.search(text).groups()
        shares = []
        parts = text.split("<section>")[1:]
        for part in parts[:-1]:
            counted = re.findall(
                r'<tr class="in"[^>]*><td>[^<]*</td><td class="n">([\d.]+) of ([\d.]+)</td>', part
            )
            share = sum(F(points) / F(out_of) for points, out_of in counted) / len(counted)
            weight = F(re.search(r'class="worth">weight ([\d.]+)', part)[1])
            way, sign, told = re.search(r'<p class="sum">(.*?) ([=≈]) ([\d.]+) %</p>', part).groups()
            assert abs(_value(way) - share) < F(1, 10**9) and abs(F(told) / 100 - share) <= F(5, 10**7), (
                student,
                way,
            )
            assert (sign == "=") == (F(told) / 100 == share)
            shares.append((weight, share))
            count += 1
        mark = 100 * sum(w * s for w, s in shares) / sum(w for w, _ in shares)
        way, told = re.search(r'<p class="sum">(.*?), of 100 [=≈] ([\d.]+)</p>', parts[-1]).groups()
        assert abs(100 * _value(way) - mark) < F(1, 1000) and abs(F(told) - mark) <= F(1, 10**4), (
            student,
            way,
        )
        rounded = (Decimal(mark.numerator) / mark.denominator).quantize(Decimal("0.1"), ROUND_HALF_UP)
        assert Decimal(shown) == rounded and of == "100"
        count += 1
    return count


def _value(way):
    """A sum as it stands on a page, worked out exactly."""
    way = re.sub(r"([\d.]+) %", r"(\1/100)", way)
    way = re.sub(r"[\d.]+", lambda found: f"F('{found[0]}')", way)
    assert re.fullmatch(r"[F('\d.)+/×÷ ]*", way), way
    return eval(way.replace("×", "*").replace("÷", "/"), {"__builtins__": {}, "F": F})


def template_is_filled(term: Term, folder):
    """A learning system's own gradebook, filled in and read back; gives how many cells."""
    path = folder / "from_system.csv"
    lines = ['\ufeff"Family name, given name";Login;"Autumn term [of 100]";Remarks']
    for student in reversed(term.ids):  # in its own order, and its program dropped the leading zeros
        given, family = term.names[student].split()
        lines.append(f'"{family}, {given}";{student.lstrip("0")};;"kept; as it is"')
    path.write_bytes("\r\n".join([*lines, ""]).encode("utf-8"))
    said = run("term", "--course", term.course, "--template", path)
    assert "not matched" not in said, said
    filled = (term.course / "results" / "term" / "gradebook_filled.csv").read_bytes().decode("utf-8-sig")
    rows = list(csv.reader(filled.splitlines(), delimiter=";"))
    assert rows[0][2] == "Autumn term [of 100]" and len(rows) == len(term.ids) + 1
    book = table(term.course / "results" / "term" / "gradebook.csv")
    by_number = {student.lstrip("0"): student for student in term.ids}
    for row in rows[1:]:
        assert F(row[2]) == F(book[by_number[row[1]]]["points"]) and row[3] == "kept; as it is", row
    return len(rows) - 1
