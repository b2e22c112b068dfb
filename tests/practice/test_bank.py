"""Banks and sets: what an instructor is told about a file."""

import pytest

from gearlab.practice import BankError, load_bank, load_set


def problems(path):
    with pytest.raises(BankError) as caught:
        load_bank(path)
    return caught.value.problems


def test_a_bank_is_loaded(bank_file):
    bank = load_bank(bank_file())
    assert (bank.title, bank.lesson, bank.name, len(bank)) == ("Vent drive", "03", "03_vent", 1)
    assert [question.id for question in bank] == ["spacing"] and "spacing" in bank
    question = bank["spacing"]
    answer = question.answers[0]
    assert (question.kind, question.version, question.points, question.hints) == (
        "number",
        1,
        2,
        ("a", "b", "c"),
    )
    assert (answer.id, answer.label, answer.unit, answer.asked, answer.dimension, answer.whole) == (
        "centre_distance",
        "centre distance",
        "mm",
        "centre_distance",
        "length",
        False,
    )
    assert load_bank(bank_file().parent)["spacing"].id == "spacing"  # the folder will do
    with pytest.raises(KeyError, match="near: spacing"):
        bank["spaceing"]


# What is changed in the bank, and what the instructor has to read.
WRONG = [
    (
        ('asked = "centre_distance"', 'asked = "center_distance"'),
        ["question 'spacing'", "answers.center_distance", "not a quantity", "centre_distance"],
    ),
    (('asked = "centre_distance"', 'asked = "height"'), ["not a quantity"]),
    (
        (
            "driver_teeth = { from = 18, to = 30, step = 1 }",
            "driver_tooth = { from = 18, to = 30, step = 1 }",
        ),
        ["givens.driver_tooth", "driver_teeth"],
    ),
    (
        ("to = 30, step = 1", "to = 30, step = 5"),
        ["givens.driver_teeth", "no whole number of steps of 5", "the last value before it is 28"],
    ),
    (("from = 18, to = 30", "from = 30, to = 18"), ["givens.driver_teeth", "no values"]),
    (("to = 30, step = 1", "to = 30, step = 0"), ["step must be positive"]),
    (("to = 30, step = 1", "to = 30"), ["givens.driver_teeth", "from, to and step are all needed"]),
    (("from = 18, to = 30, step = 1", "from = 18, to = 30, step = 0.0000001"), ["larger"]),
    (("one_of = [1.5, 2, 2.5, 3]", "one_of = []"), ["givens.module", "at least one value"]),
    (("module = { one_of = [1.5, 2, 2.5, 3] }", "module = { derived = true }"), ["givens.module", "places"]),
    (
        ("one_of = [1.5, 2, 2.5, 3] }", 'one_of = [2], unit = "rpm" }'),
        ["givens.module: unit", "'rpm' measures a speed", "length", "'mm'"],
    ),
    (
        ("one_of = [1.5, 2, 2.5, 3] }", 'one_of = [2], unit = "milimetre" }'),
        ["givens.module: unit", "not known"],
    ),
    (
        ("one_of = [1.5, 2, 2.5, 3] }", 'one_of = [2], unit = "rev/min" }'),
        ["givens.module: unit", "'rev/min' is not known; a bank writes it 'rpm'"],
    ),
    (('unit = "mm"\ntol', 'unit = "rpm"\ntol'), ["answers.centre_distance: unit"]),
    (
        ("of module {module} mm", "of module {modul} mm"),
        ["prompt: {modul} is not a shown given", "near: module"],
    ),
    (
        (
            'formula = "module * (driver_teeth + driven_teeth)"',
            'formula = "module * (driver_teeth + wheel_teeth)"',
        ),
        ["slips.nohalf.formula", "wheel_teeth"],
    ),
    (
        ('formula = "module * (driver_teeth + driven_teeth)"', 'formula = "module * (driver_teeth"'),
        ["slips.nohalf.formula", "closing parenthesis is missing"],
    ),
    (
        ('formula = "module * (driver_teeth + driven_teeth)"', "formula = \"__import__('os')\""),
        ["slips.nohalf.formula", "cannot be read"],
    ),
    (
        ("credit = 0.5", "credit = 1.5"),
        ["answers.1.slips.1.credit", "should be less than or equal to 1 (it is 1.5)"],
    ),
    (("credit = 0.5", "credits = 0.5"), ["answers.1.slips.1.credits", "not a field", "near: credit"]),
    (("points = 2", "point = 2"), ["answers.1.point", "near: points"]),
    (('says = "Halve it: one radius of each gear."\n', ""), ["answers.1.slips.1.says: is missing"]),
    (('id = "spacing"', 'id = "Spacing One"'), ["question 'Spacing One': id", "pattern"]),
    (('title = "Spacing"\n', ""), ["question 'spacing': title: is missing"]),
    (
        ('of = "pair"', 'of = "wheel"'),
        ["question 'spacing': of: 'wheel' is not a kind of theory", "gear, pair, internal pair"],
    ),
    (
        ('of = "pair"', 'of = "pair"\nfeatures = ["set distanc"]'),
        ["features: 'set distanc' is not a feature of the theory of 'pair'", "near: set distance"],
    ),
    (
        ('of = "pair"', 'of = "idler train"\nfeatures = ["reverted"]'),
        ["features: 'reverted' is not a feature of the theory of 'idler train'", "possible: none"],
    ),
    (('of = "pair"', 'of = "pair"\nkind = "choice"'), ["answers: a choice question has options"]),
    (
        ('of = "pair"', 'of = "pair"\nkind = "expression"'),
        ["symbols: an expression question", "names the quantities that may stand in the answer"],
    ),
    (
        ('of = "pair"', 'of = "pair"\nkind = "expression"'),
        ["prompt: an expression question shows no numbers", "write the symbol"],
    ),
    (
        ("points = 2", 'points = 2\nuses = ["driver_pitch_diameter"]'),
        ["uses: 'driver_pitch_diameter' is not an answer that stands before"],
    ),
    (("points = 2", 'points = 2\ngiven = ["driver_teeth", "modules"]'), ["given: 'modules'", "near: module"]),
    (("points = 2", 'points = 2\nwhole = "sideways"'), ["answers.1.whole", "'nearest'"]),
    (("points = 2", 'points = 2\nwhole = "up"\npreferred = "module"'), ["exclude each other"]),
    (("[question.givens]", 'where = ["driver_teeth >"]\n[question.givens]'), ["where", "stops too early"]),
    (
        ("[[question.answers]]", "[[question.options]]\ntext = 'a'\n[[question.answers]]"),
        ["only a choice question has options"],
    ),
    (('title = "Vent drive"', "title = Vent"), ["not valid TOML"]),
]


@pytest.mark.parametrize("change, says", WRONG, ids=[says[-1] for _, says in WRONG])
def test_a_mistake_is_named_with_its_place(bank_file, change, says):
    path = bank_file(change)
    found = problems(path)
    assert str(path) in found[0]
    # all of it in one line: which place, which field, what is expected
    assert any(all(word in line for word in says) for line in found), found


def test_all_mistakes_are_listed_at_once(bank_file):
    assert (
        len(
            problems(
                bank_file(
                    ("to = 30, step = 1", "to = 30, step = 5"),
                    ("{module} mm", "{modul} mm"),
                    ('asked = "centre_distance"', 'asked = "centre"'),
                )
            )
        )
        == 3
    )


def test_two_questions_of_one_id(bank_file):
    text = bank_file.text
    assert any(
        "stands twice" in line for line in problems(bank_file(text=text + text.partition('lesson = "03"')[2]))
    )


def test_what_theory_cannot_derive_is_said_when_drawn(bank_file):
    path = bank_file(
        ("module = { one_of = [1.5, 2, 2.5, 3] }\n", ""),
        (" of module {module} mm", ""),
        ("module * (driver_teeth", "2 * (driver_teeth"),
    )
    with pytest.raises(
        BankError, match="answers.centre_distance: asked: centre distance cannot be derived .* module"
    ):
        load_bank(path)["spacing"].draw("x")


def test_choice_options(bank_file):
    head = (
        '[bank]\ntitle = "B"\nlesson = "1"\n[[question]]\nid = "q"\nkind = "choice"\ntitle = "T"\nprompt ='
        ' "P"\n'
    )
    for options, says in (
        ("", "at least two"),
        ("[[question.options]]\ntext='a'\nright=true\n", "at least two"),
        ("[[question.options]]\ntext='a'\n[[question.options]]\ntext='b'\n", "at least one needs right"),
        (
            "[[question.options]]\ntext='a'\nright=true\n[[question.options]]\ntext='b'\nright=true\n",
            "must be wrong",
        ),
    ):
        assert says in problems(bank_file(text=head + options))[0]


def test_files_that_cannot_be_read(tmp_path):
    assert "cannot be read" in problems(tmp_path / "nothing.toml")[0]
    (tmp_path / "bank.toml").write_bytes(b"\xff\xfe")
    assert "not valid TOML" in problems(tmp_path)[0]
    (tmp_path / "bank.toml").write_bytes(b"#" * 2_000_001)
    assert "at most" in problems(tmp_path)[0]


def test_sets(bank_file, tmp_path):
    bank = bank_file()
    path = tmp_path / "homework.toml"
    head = '[set]\nname = "homework-1"\ntitle = "Vent drive"\nuse = "marked"\n'
    path.write_text(head + '[[question]]\nbank = "03_vent/bank.toml"\nid = "spacing"\npoints = 6\n')
    homework = load_set(path)
    entry = homework["spacing"]
    assert (homework.name, homework.use, homework.points, len(homework)) == ("homework-1", "marked", 6, 1)
    assert (entry.points, entry.scale, entry.question.points) == (6, 3, 2)
    assert homework.files() == (path, bank.resolve())
    with pytest.raises(KeyError, match="near: spacing"):
        homework["spacings"]
    path.write_text(head + '[[question]]\nbank = "03_vent/bank.toml"\nid = "spacing"\n')
    assert load_set(path).points == 2
    for question, says in (
        ('bank = "03_vent/bank.toml"\nid = "spaces"', "near: spacing"),
        ('bank = "04/bank.toml"\nid = "spacing"', "cannot be read"),
        (
            (
                'bank = "03_vent/bank.toml"\nid = "spacing"\n[[question]]\nbank = "03_vent/bank.toml"\nid ='
                ' "spacing"'
            ),
            "once only",
        ),
        ('bank = "03_vent/bank.toml"\nid = "spacing"\npoints = 0', "greater than 0"),
        (
            'bank = "03_vent/bank.toml"\nid = "spacing"\npoint = 2',
            "'spacing': point: is not a field known here; near: points$",
        ),
    ):
        path.write_text(head + "[[question]]\n" + question)
        with pytest.raises(BankError, match=says):
            load_set(path)
