"""The marking contract: a right answer given as asked earns all points, a wrong one does not, the words hold.

Sources: rounding with the half going up, three significant figures in hand-worked answers (common practice);
chordal thickness d sin(90 deg / z) and arc m pi / 2 (from memory, as in any handbook of gears).
"""

import math
import tomllib
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from gearlab.course.marks import MarkedTask
from gearlab.practice import Verdict, check_bank, load_bank
from gearlab.practice.contract import Contract, choice_contract, rules, share_text, why
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.verdict import Cause

BANKS = sorted((Path(__file__).parents[2] / "exercises").glob("*/bank.toml"))
BANK = """
[bank]
title = "T"
lesson = "1"

[[question]]
id = "q"
of = "gear"
title = "Pitch diameter"
prompt = "A gear of {teeth} teeth, module {module} mm. PROMPT"
hints = ["One?", "Two.", "Three."]
[question.givens]
teeth = { from = 47, to = 47, step = 1 }
module = { one_of = [2.531] }
[[question.answers]]
asked = "pitch_diameter"
unit = "mm"
tolerance = { relative = 0, absolute = 0.03 }
EXTRA
"""
NEAR = """
[[question.answers.slips]]
name = "near"
title = "left the thousandths out"
formula = "teeth * 2.526"
says = "S"
credit = 0.25
"""


@pytest.fixture
def bank_of(tmp_path):
    def made(extra="", prompt="How large, in mm?", text=BANK):
        path = tmp_path / "bank.toml"
        path.write_text(text.replace("EXTRA", extra).replace("PROMPT", prompt), encoding="utf-8")
        return path

    return made


def rounded(value: float, places: int | None, figures: int = 3) -> str:
    """As it is done by hand: the half goes up."""
    exact = Decimal(f"{value:.12g}")
    places = figures - 1 - exact.adjusted() if places is None else places
    return f"{(exact.scaleb(places)).quantize(Decimal(1), ROUND_HALF_UP).scaleb(-places):f}"


def stated(path: Path) -> dict:
    """(question, answer) to the table of the answer, as it stands in the file."""
    bank = tomllib.loads(path.read_text(encoding="utf-8"))
    return {
        (question["id"], answer.get("id", answer["asked"])): answer
        for question in bank["question"]
        for answer in question.get("answers", [])
    }


@pytest.mark.parametrize("path", BANKS, ids=lambda path: path.parent.name)
def test_right_answers_given_as_asked_earn_all_points(path):
    tables = stated(path)
    for question in load_bank(path):
        if question.kind != "number":
            continue
        for number in range(8):
            draw = question.draw("given as asked", number)
            texts, finer = {}, {}
            for answer, key in zip(question.answers, draw.keys):
                table = tables[question.id, answer.id]
                exact = answer.whole or answer.table.preferred or not key
                places, figures = table.get("places"), table.get("figures", 3)
                texts[answer.id] = f"{key:.12g}" if exact else rounded(key, places, figures)
                finer[answer.id] = (
                    texts[answer.id]
                    if exact
                    else rounded(key, None if places is None else places + 1, figures + 1)
                )
            for given in (texts, finer):
                for name, verdict in question.judge(draw, given).items():
                    assert verdict.right and verdict.points == verdict.out_of and not verdict.carried, (
                        f"{question.id}: {name}: {given[name]} for {draw.keys}: {verdict.kind}"
                    )


@pytest.mark.parametrize("path", BANKS, ids=lambda path: path.parent.name)
def test_no_listed_slip_is_right_however_it_is_rounded(path):
    tables = stated(path)
    for question in load_bank(path):
        if question.kind != "number":
            continue
        for number in range(8):
            draw = question.draw("slips as asked", number)
            for answer in question.answers:
                table = tables[question.id, answer.id]
                key, period = draw.keys[answer.place], answer.period(draw.shown)
                for slip in answer.table.slips:
                    formula, *conditions = (
                        compile_formula(text, question.shown_names) for text in (slip.formula, *slip.where)
                    )
                    if not all(condition(*draw.shown) for condition in conditions):
                        continue
                    wrong = formula(*draw.shown)
                    exact = answer.whole or answer.table.preferred or not wrong
                    texts = [f"{wrong:.10g}"]
                    if not exact:
                        texts.append(rounded(wrong, table.get("places"), table.get("figures", 3)))
                    for text in texts:
                        place = f"{question.id}: {answer.id}: {slip.name}: {text}"
                        number = abs(float(text)) if answer.table.size_only else float(text)
                        # farther off nothing is right; judging it too would compile all slips
                        assert (
                            not answer.reaches(number, key, period)
                            or not question.judge(draw, {answer.id: text})[answer.id].right
                        ), place


def test_three_figures_are_accepted_where_nothing_is_stated(bank_of):
    # 47 times 2.531 is 118.957; a key of 118.955 typed 119 once earned a quarter and was told of a slip
    question = load_bank(bank_of())["q"]
    draw = question.draw("x", 0)
    assert draw.keys[0] == pytest.approx(118.957, abs=1e-9)

    def kind(text):
        return question.judge(draw, {"pitch_diameter": text})["pitch_diameter"].kind

    right = (
        "119",
        "119.0",
        "118.96",
        "118.957",
        "118.9",
        "119.3 mm",
        "11.9 cm",
        "0.119 m",
        "1,19e2",
        "4.68 in",
    )
    assert [kind(text) for text in right] == ["right"] * len(right)
    assert kind("119.5") == kind("118.4") == kind("118") == "close"
    assert kind("-119") == "wrong sign"
    assert kind("120.5") != "close"


def test_a_listed_slip_within_half_a_figure_stays_one(bank_of):
    """Banks handed out earlier may have such slips; the right number rounded is right there too."""
    question = load_bank(bank_of(NEAR))["q"]
    draw = question.draw("x", 0)
    verdict = question.judge(draw, {"pitch_diameter": "118.722"})["pitch_diameter"]
    assert (verdict.kind, verdict.points) == ("listed slip", 0.25)
    assert question.judge(draw, {"pitch_diameter": "119"})["pitch_diameter"].right


def test_a_stated_precision_is_what_counts_and_changes_no_draw(bank_of):
    plain = load_bank(bank_of(NEAR))["q"]
    before = [plain.draw("s", number).keys for number in range(5)]
    question = load_bank(bank_of("places = 2\n" + NEAR))["q"]
    assert [question.draw("s", number).keys for number in range(5)] == before
    draw = question.draw("x", 0)
    kinds = {
        text: question.judge(draw, {"pitch_diameter": text})["pitch_diameter"].kind
        for text in ("118.96", "118.98", "118.9", "119", "118.72")
    }
    assert kinds == {
        "118.96": "right",
        "118.98": "right",  # within the tolerance
        "118.9": "close",
        "119": "close",
        "118.72": "listed slip",
    }


@pytest.mark.parametrize(
    "extra, prompt, says",
    [
        (NEAR, "How large, in mm?", "too coarse (to three significant figures): the listed slip “left the"),
        ("places = 2\n" + NEAR, "How large, in mm? Two decimals.", None),
        ("", "How large, in mm? Give two decimals.", "asks for 2 decimal places, which no answer states"),
        ("", "How large, in mm, to four significant figures?", "asks for 4 figures, which no answer states"),
        ("figures = 4\n", "How large, in mm, to four significant figures?", None),
        ("", "How large? Give hundredths of a millimetre.", "asks for a hundredth of millimetre"),
        ('label = "outside diameter"\n', "In mm.", "'outside diameter' is another quantity"),
        ('label = "root diameter of it"\n', "In mm.", "says “root”, but asked is the pitch diameter"),
        ('label = "number of teeth"\n', "In mm.", "stands for givens.teeth too"),
        ("places = 2\nfigures = 3\n", "In mm.", "places and figures exclude each other"),
        ('whole = "nearest"\nplaces = 2\n', "In mm.", "only one number is right here"),
        ('same_as = ["width"]\n', "In mm.", "same_as: 'width' is not a quantity"),
    ],
)
def test_checking_looks_at_the_precision_and_its_words(bank_of, extra, prompt, says):
    path = bank_of(extra, prompt)
    try:
        problems = check_bank(path, draws=6)
    except ValueError as error:
        problems = [str(error)]
    about = [line for line in problems if "worked" not in line]
    assert about == [] if says is None else any(says in line for line in about), about


def test_checking_wants_a_unit_and_three_hints(bank_of):
    text = BANK.replace('unit = "mm"\n', "").replace('["One?", "Two.", "Three."]', '["One?"]')
    text = text.replace(" mm. PROMPT", ". How large?")
    problems = check_bank(bank_of(text=text), draws=4)
    assert any("unit: neither prompt nor answer says it (mm is taken)" in line for line in problems)
    assert any("hints: there are 1" in line for line in problems)


def test_three_figures_cannot_tell_the_chord_from_the_arc(bank_of):
    text = """
[bank]
title = "T"
lesson = "1"
[[question]]
id = "chord"
of = "gear"
title = "Chord"
prompt = "The chordal thickness of a tooth, in mm? {teeth} teeth, module {module} mm."
hints = ["One?", "Two.", "Three."]
[question.givens]
teeth = { from = 18, to = 30, step = 1 }
module = { one_of = [2, 3] }
[[question.answers]]
asked = "chordal_thickness"
unit = "mm"
TOLERANCE
"""
    # of 24 teeth the chord is 0.07 % shorter than the arc
    assert 1 - 24 * math.sin(math.radians(90 / 24)) / (math.pi / 2) == pytest.approx(7e-4, abs=1e-4)
    coarse = check_bank(bank_of(text=text.replace("TOLERANCE", "")), draws=12)
    assert any(
        "the tooth thickness on the pitch circle" in line and "counts as right" in line for line in coarse
    )
    fine = "tolerance = { relative = 0, absolute = 0.0008 }\nplaces = 3"
    assert not any(
        "counts as right" in line
        for line in check_bank(bank_of(text=text.replace("TOLERANCE", fine)), draws=12)
    )


def test_the_wanted_and_the_measured_distance_are_told_apart():
    """The sheet called the distance on the drawing "centre distance", while the measured one was asked."""
    bank = load_bank(next(path for path in BANKS if path.parent.name == "03_centre_distance"))
    givens = {given.name: given.label for given in bank["caliper-over-pins"].draw("x", 0).givens}
    assert givens["centre_distance"] == "centre distance on the drawing"


def test_the_contract_does_not_tell_which_answer_is_negative():
    """An idler turns against the crank, the gear behind it with it (common practice): both ask for a sign."""
    told = {
        name: contract.asked
        for path in BANKS
        for question in load_bank(path)
        if question.id in ("idler-speeds", "two-stage-speeds")
        for name, contract in question.contracts.items()
    }
    assert len(told) >= 3 and all(asked.endswith(", with its sign") for asked in told.values()), told


def test_the_contract_in_words():
    sentences = {}
    for path in BANKS:
        for question in load_bank(path):
            for name, contract in question.contracts.items():
                assert isinstance(contract, Contract) and contract.more and all(contract.more)
                text = " ".join([contract.sentence, *contract.more])
                # short enough for a fold, and nothing of how keys are made
                assert len(contract.asked) <= 60 and len(contract.accepts) <= 75 and len(text) < 700, text
                sentences[question.id, name] = text
            if question.kind == "number":
                assert {answer.id for answer in question.answers} == set(question.contracts)
    told = sentences["caliper-over-pins", "spacing_miss"]
    assert told.startswith("In millimetres, to two decimal places, with its sign; right within 0.03 mm.")
    assert "earlier number of yours that was wrong, it earns all points" in told
    assert "Up to three times as far off, three quarters of the points" in told
    assert "right size with the wrong sign, half" in told and "at most a quarter" in told
    several = choice_contract(True)
    assert (
        several.asked == "all or nothing" and "one too many or one too few earns nothing" in several.more[0]
    )
    everything = " ".join(rules(question for path in BANKS for question in load_bank(path)))
    for words in (
        "three quarters",
        "wrong sign",
        "another unit",
        "cause is known",
        "Tick all that fit",
        "formula",
    ):
        assert words in everything


class Entry:
    """Stands for the place of a question in a set."""

    scale = 1.0

    def __init__(self, question):
        self.question = question


def test_each_share_has_its_reason(bank_of):
    assert [share_text(share) for share in (0, 0.25, 1 / 3, 0.5, 0.75, 0.3)] == [
        "no",
        "a quarter",
        "a third",
        "half",
        "three quarters",
        "30 %",
    ]
    slip = Cause("half", "took the half", "S", 0.25, "listed slip")
    rows = [
        (Verdict("right", True, 1, 1), ""),
        (Verdict("close", False, 0.75, 1), "three quarters of the points: close"),
        (Verdict("listed slip", False, 0.25, 1, causes=(slip,)), "a quarter of the points: took the half"),
        (
            Verdict("listed slip", False, 0.5, 1, causes=(slip,)),
            "half of the points: took the half; the sign is right",
        ),
        (Verdict("not recognised", False, 0, 1), "no points: not right, mistake not recognised"),
        (
            Verdict("not recognised", False, 0.5, 1),
            "half of the points: the sign is right, the number is not",
        ),
        (Verdict("cannot read", False, 0, 1), "no points: could not be read"),
    ]
    assert [why(verdict) for verdict, _ in rows] == [words for _, words in rows]
    question = load_bank(bank_of())["q"]
    draw = question.draw("x", 0)
    lost = [
        MarkedTask(Entry(question), draw, {}, {}, {"pitch_diameter": row[0]}).gists["pitch_diameter"].lost
        for row in rows[4:]
    ]
    assert lost == [
        "not right, mistake not recognised",
        "the sign is right, the number is not (50 %)",
        "could not be read",
    ]
