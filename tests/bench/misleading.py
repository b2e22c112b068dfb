"""Whether what is said of a wrong answer is true of it.

    python tests/bench/misleading.py [--draws 2] [--all]

Wrong answers are made from the closed forms of the worked answers (tests/practice/data, written and
evaluated apart from theory) by rewriting the formula itself in one place, never by the library's own
slips: plus and minus exchanged, pi left out or put in, a cosine for a sine or none, degrees read as
radians and the other way round, a square or a root left out, a factor turned over, twice or half of a
given, the finished number multiplied. Each is typed with five digits and judged; then every sentence
that was said is held against the number:

- "twice", "half", "four times", "a quarter", "... times too large" have to be so of the number;
- "a factor pi too many", "missing", "left out pi", "divided by pi": the number has that factor, and pi
  comes into the closed form or does not, as the sentence says;
- "plus and minus", "left out the factor pi", "as radians": the rewritten formulas that do just this, in
  one place or in several, must contain the number with its sign;
- "which was given" is said of numbers of the question only, and of its own number.
"""

from __future__ import annotations

import argparse
import ast
import copy
import itertools
import math
import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

from gearlab.contents import content_folder
from gearlab.practice import load_bank
from gearlab.theory.quantities import QUANTITIES

sys.path.insert(0, str(Path(__file__).parent.parent / "practice"))
from algebra import ALGEBRA  # noqa: E402  (the algebra the closed forms are written in)

DATA = Path(__file__).parent.parent / "practice" / "data"
NEAR = 3e-3


# Said of a step of theory's way that the closed form does not have, and true of it: a centre distance by the
# sum of the counts, the middle of a face hub outwards, a pitch in inches and one in millimetres,
# the half angle of a tooth in degrees.
OTHER_WAY = {
    ("length-of-the-row", "row_length"),
    ("overhung-moment", "moment_drop"),
    ("near-miss-pitches", "pitches_out_of_step"),
    ("across-odd-tips", "tip_reading_shortfall"),
}


def places() -> Iterator[tuple[object, str, str, dict]]:
    """(question, answer id, closed form, symbols) of every answer that has a closed form in numbers."""
    banks: dict[str, object] = {}
    for path in sorted(DATA.glob("worked_*.toml")):
        for worked in tomllib.loads(path.read_text(encoding="utf-8"))["worked"]:
            folder = worked["bank"]
            bank = banks.setdefault(folder, load_bank(content_folder("exercises") / folder))
            question = bank[worked["question"]]
            if question.kind == "number":
                for answer in worked["answers"]:
                    if answer.get("closed_form"):
                        yield question, answer["id"], answer["closed_form"], worked["symbols"]


# -- rewriting a formula -------------------------------------------------------------------------------
def _call(name: str, inner: ast.expr) -> ast.Call:
    return ast.Call(ast.Name(name, ast.Load()), [inner], [])


def _times(node: ast.expr, factor: ast.expr | float) -> ast.BinOp:
    return ast.BinOp(node, ast.Mult(), factor if isinstance(factor, ast.expr) else ast.Constant(factor))


def _is_call(node: ast.AST, *names: str) -> bool:
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names


def rewritings(node: ast.AST) -> Iterator[tuple[str, ast.expr]]:
    """(what was done, the node as it then stands) for one node of a formula."""
    if isinstance(node, ast.BinOp):
        if isinstance(node.op, (ast.Add, ast.Sub)):
            other = ast.Sub() if isinstance(node.op, ast.Add) else ast.Add()
            yield "sign", ast.BinOp(node.left, other, node.right)
            yield "sign", ast.BinOp(_times(node.left, -1), node.op, node.right)
            yield "term", node.left
            yield "term", node.right
        if isinstance(node.op, (ast.Mult, ast.Div)):
            other = ast.Div() if isinstance(node.op, ast.Mult) else ast.Mult()
            yield "turned", ast.BinOp(node.left, other, node.right)
        if isinstance(node.op, ast.Div):
            yield "turned", ast.BinOp(node.right, ast.Div(), node.left)
        if isinstance(node.op, ast.Pow):
            yield "power", node.left
    if isinstance(node, ast.Name) and node.id == "pi":
        yield "pi out", ast.Constant(1)
    elif isinstance(node, ast.Name):
        yield "given", _times(node, 2)
        yield "given", _times(node, 0.5)
    if _is_call(node, "cos", "sin", "tan"):
        for other in {"cos", "sin", "tan"} - {node.func.id}:
            yield "function", _call(other, node.args[0])
        yield "function", ast.Constant(1)
    if _is_call(node, "rad"):
        yield "radian mode", node.args[0]
    if _is_call(node, "deg"):
        yield "in radians", node.args[0]
    if _is_call(node, "sqrt"):
        yield "power", node.args[0]
    if _is_call(node, "floor", "ceiling", "nearest"):
        yield "rounding", node.args[0]


class _Put(ast.NodeTransformer):
    def __init__(self, places: dict[int, ast.expr]):
        self.places, self.count = places, -1

    def visit(self, node: ast.AST) -> ast.AST:
        self.count += 1
        mine = self.count
        node = copy.copy(node)
        for field, value in ast.iter_fields(node):
            if isinstance(value, list):
                setattr(
                    node, field, [self.visit(part) if isinstance(part, ast.AST) else part for part in value]
                )
            elif isinstance(value, ast.AST):
                setattr(node, field, self.visit(value))
        return self.places.get(mine, node)


def rewritten(formula: str) -> list[tuple[str, object]]:
    """(what was done, compiled formula) of every formula with one thing wrong, or two of the same sort."""
    tree = ast.parse(formula, mode="eval")
    nodes: list[ast.AST] = []

    def collect(node: ast.AST) -> None:
        nodes.append(node)
        for child in ast.iter_child_nodes(node):
            collect(child)

    collect(tree)
    single = [(place, name, put) for place, node in enumerate(nodes) for name, put in rewritings(node)]
    changes = [(name, {place: put}) for place, name, put in single]
    for (a, name, put), (b, other, twin) in itertools.combinations(single, 2):
        if name == other and a != b and name in ("sign", "pi out", "radian mode"):
            changes.append((name, {a: put, b: twin}))
    every = [(place, put) for place, name, put in single if name == "radian mode"]
    changes.append(("radian mode", dict(every)))
    made = []
    for name, where in changes:
        put = ast.fix_missing_locations(_Put(where).visit(tree))
        made.append((name, compile(put, "<closed form>", "eval")))
    return made


def value(code, numbers: dict[str, float]) -> float | None:
    try:
        number = eval(code, ALGEBRA, numbers)  # noqa: S307 (our own test data)
    except (ArithmeticError, ValueError, TypeError, NameError):  # a few forms have functions of their own
        return None
    return float(number) if isinstance(number, (int, float)) and abs(number) < 1e15 else None


FINISHED = {
    "times pi": math.pi,
    "by pi": 1 / math.pi,
    "twice": 2.0,
    "half": 0.5,
    "radians for degrees": math.pi / 180,
    "degrees for radians": 180 / math.pi,
    "thousand": 1000.0,
    "thousandth": 0.001,
    "25.4": 25.4,
    "by 25.4": 1 / 25.4,
    "other sign": -1.0,
}


def typed(number: float) -> str:
    return f"{number:.5g}" if 1e-4 <= abs(number) < 1e5 else f"{number:.9f}"


# -- is it so? -----------------------------------------------------------------------------------------
_OF_THE_NUMBER = [  # what is said of the finished number, and how many times the right one it then is
    (r"^Your number is twice the ", 2.0),
    (r"^Your number is half the ", 0.5),
    (r"^Your number is a quarter of ", 0.25),
    (r"^Your number is four times ", 4.0),
    (r"factor pi too many", math.pi),
    (r"^You left out pi: it belongs in the denominator", math.pi),
    (r"^A factor pi is missing", 1 / math.pi),
    (r"^You divided by pi", 1 / math.pi),
    (r"^Your number is ten times too large", 10.0),
    (r"^Your number is ten times too small", 0.1),
    (r"^Your number is one hundred times too large", 100.0),
    (r"^Your number is one hundred times too small", 0.01),
    (r"^Your number is one thousand times too large", 1000.0),
    (r"^Your number is one thousand times too small", 0.001),
    (r"25\.4 times too large", 25.4),
    (r"25\.4 times too small", 1 / 25.4),
    (r"^Your number is sixty times too large", 60.0),
    (r"^Your number is sixty times too small", 1 / 60),
    (r"^One turn is two pi radians: your number is smaller", 1 / (2 * math.pi)),
    (r"^One turn is two pi radians: your number is larger", 2 * math.pi),
]
_OF_THE_FORMULA = [  # what is said of the way, and the rewriting that has to lead to the number
    (r"^You exchanged plus and minus at", "sign"),
    (r"^You left out the factor pi ", "pi out"),
    (r"^Your calculator read the angle as radians", "radian mode"),
]


def has_pi(node: ast.AST) -> bool:
    """Whether a student who works a formula out meets pi as a factor: not inside a cosine."""
    if _is_call(node, "cos", "sin", "tan"):
        return False
    if _is_call(node, "deg") and not _is_call(node.args[0], "acos", "asin", "atan", "arcinv"):
        return True
    if _is_call(node, "rad") or isinstance(node, ast.Name) and node.id == "pi":
        return True
    return any(map(has_pi, ast.iter_child_nodes(node)))


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= NEAR * abs(other) + 1e-12


def untrue(
    question,
    answer,
    draw,
    number: float,
    key: float,
    sentence: str,
    by_sort: dict[str, list[float]],
    pi: bool,
) -> str:
    """What is not so about a sentence said of a number, "" if nothing."""
    turned = "And the sign is not right" in sentence
    mine = -number if turned else number
    if answer.table.size_only:
        mine, key = abs(mine), abs(key)
    for pattern, share in _OF_THE_NUMBER:
        if re.search(pattern, sentence) and not (
            _near(mine, share * key) or answer.whole and abs(mine - share * key) <= 1
        ):
            return f"it is {mine / key:.4g} times the right number"
    for pattern, sort in _OF_THE_FORMULA:
        if re.search(pattern, sentence):
            those = (
                [abs(one) for one in by_sort.get(sort, ())]
                if answer.table.size_only
                else by_sort.get(sort, ())
            )
            other_way = (question.id, answer.id) in OTHER_WAY
            if not other_way and not any(_near(mine, one) for one in those):
                return f"no formula with {sort} leads there"
    may = pi or (question.id, answer.id) in OTHER_WAY
    if (
        sentence.startswith(("A factor pi is missing", "You left out pi", "You left out the factor pi"))
        and not may
    ):
        return "no pi comes in"
    if "pi, which does not come in" in sentence and pi:
        return "pi does come in"
    given = re.match(r"That is the (.+?), which was given\.", sentence)
    if given:
        told = [name for name in question.known_names if QUANTITIES[name].meaning == given[1]]
        if not told:
            return "that was not given"
    inside = re.search(r"is the .+ (in radians|in degrees); the question asks", sentence)
    if inside:
        share = math.pi / 180 if inside[1] == "in radians" else 180 / math.pi
        if not _near(mine, share * key) and not _near(-mine, share * key):
            return "not in that unit"
    return ""


def judged(draws: int = 2, listed: bool = False) -> Iterator[tuple]:
    """(question, answer, what was done, number, key, sentence, what is untrue) of every sentence said."""
    for question, answer_id, formula, symbols in places():
        answer, pi = question.answer(answer_id), has_pi(ast.parse(formula, mode="eval"))
        forms = rewritten(formula)
        for number in range(draws):
            draw = question.draw("misleading", number)
            numbers = {symbol: draw.values[word] for symbol, word in symbols.items()}
            key = draw.keys[question.answers.index(answer)]
            if not key or answer.modular:
                continue
            by_sort: dict[str, list[float]] = {}
            wrongs: dict[str, tuple[str, float]] = {}
            for name, code in forms:
                wrong = value(code, numbers)
                if wrong is not None:
                    by_sort.setdefault(name, []).append(wrong)
                    if wrong:
                        wrongs.setdefault(typed(wrong), (name, wrong))
            for name, share in FINISHED.items():
                wrongs.setdefault(typed(key * share), (name, key * share))
            for text, (name, wrong) in wrongs.items():
                verdict = question.judge(draw, {answer_id: text}, listed_slips=listed)[answer_id]
                if verdict.right:
                    continue
                if not verdict.causes:
                    yield question, answer, name, wrong, key, "", ""
                for cause in verdict.causes:
                    fault = untrue(question, answer, draw, float(text), key, cause.sentence, by_sort, pi)
                    yield question, answer, name, wrong, key, cause.sentence, fault


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--draws", type=int, default=2)
    parser.add_argument("--listed", action="store_true", help="with the banks' listed slips")
    parser.add_argument("--all", action="store_true", help="show every sentence that is not so")
    arguments = parser.parse_args()
    cases = sentences = faults = silent = 0
    for question, answer, name, wrong, key, sentence, fault in judged(arguments.draws, arguments.listed):
        cases += 1
        silent += not sentence
        sentences += bool(sentence)
        faults += bool(fault)
        if fault and arguments.all:
            print(f"{question.id} {answer.id} [{name}] {wrong:.6g} ({key:.6g}): {sentence[:150]} -- {fault}")
    print(f"{cases} wrong answers and sentences: {sentences} said, {silent} times nothing, {faults} not so")


if __name__ == "__main__":
    main()
