"""TrainArrows and TrainBuilder without a browser: tasks, remarks, readout, refusals."""

import itertools

import pytest

from gearlab import Train
from gearlab.widgets import TrainArrows, TrainBuilder, living


def kinds(explorer):
    return [one["kind"] for one in explorer.warnings]


def set_arrows(explorer, given):
    for number, way in enumerate(given, 1):
        setattr(explorer, f"arrow_{number}", way)


# -- TrainArrows ---------------------------------------------------------------------------------------
# Accept rule of the task (worked answers of the project): each arrow times the next one is -1; their example and their bad example.  # noqa: E501
def test_the_task_of_five_arrows():
    row = TrainArrows()
    assert kinds(row) == ["task"] and not row.readout
    set_arrows(row, (1, -1, 1, -1, 1))
    assert row.done and kinds(row) == ["task", "good"]
    assert row.value("direction_factor") == 1
    row = TrainArrows()
    set_arrows(row, (1, -1, -1, 1, -1))
    assert not row.done and row.wrong == ((2, 3),)
    assert row.warnings[-1]["text"].startswith("gears 2 and 3 are both told to turn clockwise")
    set_arrows(row, (1, 1, 1, 1, 1))
    assert kinds(row) == ["task", "stop"], "one remark, however many meshes contradict"
    assert "1 with 2, 2 with 3, 3 with 4 and 4 with 5" in row.warnings[-1]["text"]


@pytest.mark.parametrize("teeth", [(18, 24, 45), (18, 24, 20, 30), (18, 24, 20, 30, 22)])
def test_exactly_the_two_alternating_rows_are_right(teeth):
    row = TrainArrows(teeth)
    right = []
    for given in itertools.product((1, -1), repeat=len(teeth)):
        set_arrows(row, given)
        if row.done:
            right.append(given)
            assert row.value("direction_factor") == given[0] * given[-1]
    assert len(right) == 2 and all(one == -two for given in right for one, two in itertools.pairwise(given))


def test_gears_turn_only_when_all_arrows_agree():
    row = TrainArrows()
    assert "data-name" not in row.picture and row.picture.count("data-press") == 5
    set_arrows(row, (1, -1, 1, -1, 0))
    assert "data-name" not in row.picture and row.warnings[-1]["text"].startswith("4 of 5 arrows set")
    row.arrow_5 = 1
    assert row.picture.count('data-name="Gear') == 5


def test_the_crank_turns_as_its_arrow_says_and_the_arrows_follow_the_crank():
    row = TrainArrows((18, 24, 45))
    set_arrows(row, (-1, 1, -1))
    assert row.driver_speed == -4.0
    row.driver_speed = 6.0
    assert row.arrows == (1, -1, 1) and row.done


def test_no_arrows_suit_a_triangle():
    triangle = TrainArrows(arrangement="triangle")
    for given in itertools.product((1, -1), repeat=3):
        set_arrows(triangle, given)
        assert not triangle.done and triangle.wrong
        assert (
            kinds(triangle) == ["task", "stop"]
            and "three external gears in a ring lock" in triangle.warnings[-1]["text"]
        )
    triangle.arrangement = "row"
    assert triangle.arrows == (0,) * 5, "another arrangement begins anew"


def test_alternative_text_lists_every_direction():
    row = TrainArrows((18, 24, 45))
    set_arrows(row, (1, -1, 0))
    for words in (
        "gear 1, 18 teeth, counter-clockwise",
        "gear 2, 24 teeth, clockwise",
        "gear 3, 45 teeth, no arrow yet",
    ):
        assert words in row.text


# -- TrainBuilder --------------------------------------------------------------------------------------
# Accept rule, example and bad example of the task: worked answers of the project.
@pytest.mark.parametrize(
    ("teeth", "done"),
    [
        ((18, 45, 21, 42), True),
        ((18, 45, 18, 36), False),
        ((20, 50, 25, 50), False),
        ((20, 44, 20, 44), False),
        ((19, 43, 19, 43), False),
        ((24, 54, 24, 54), False),
        ((18, 41, 18, 41), False),
        ((24, 54, 27, 51), False),
    ],
)
def test_the_task_of_five_to_one(teeth, done):
    one, two, three, four = teeth
    accepted = (
        one + two == three + four and abs(two * four / (one * three) - 5) <= 0.05 and min(one, three) >= 18
    )
    builder = TrainBuilder(*teeth)
    assert builder.done == done == accepted
    assert (kinds(builder)[-1] == "good") == done


def test_every_example_of_the_accept_rule_is_accepted_and_nothing_else():
    counts = range(18, 61, 3)
    for teeth in itertools.product(counts, counts, (18, 21, 24), (36, 42, 48)):
        one, two, three, four = teeth
        accepted = one + two == three + four and abs(two * four / (one * three) - 5) <= 0.05
        if accepted or sum(teeth) % 11 == 0:
            assert TrainBuilder(*teeth).done == accepted, teeth


def test_readout_and_reasons():
    builder = TrainBuilder(18, 45, 21, 42, driver_speed=30)
    # sample values of the worked answers: 2.5, 2, 5; -12 and 6 rpm; 78.75 mm; 5 turns
    wanted = {
        "first_stage_ratio": 2.5,
        "second_stage_ratio": 2,
        "train_ratio": 5,
        "second_speed": -12,
        "fourth_speed": 6,
        "first_centre_distance": 78.75,
        "second_centre_distance": 78.75,
        "axis_offset": 0,
        "turns_to_line_up": 5,
    }
    assert {word: builder.value(word) for word in wanted} == pytest.approx(wanted)
    for group in builder.readout:
        for row in group["rows"]:
            for cell in row["cells"]:
                if cell["explained"]:
                    builder.asked = cell["word"]
                    assert (
                        builder.explanation["word"] == cell["word"] and "<math" in builder.explanation["html"]
                    ), cell


def test_what_is_missing_is_said():
    builder = TrainBuilder(18, 45, 18, 36)
    assert [one["text"] for one in builder.warnings[1:]] == [
        "the output is not on the input\u2019s axis: the centre distances are 78.75 mm and 67.50 mm."
    ]
    builder.second_teeth = 36
    assert builder.warnings[1]["text"] == "the ratio is 4, not 5: 2 \u00d7 2."
    builder = TrainBuilder(18, 45, 21, 42, diametral_pitch=10)
    assert "both centre distances are 3.1500 in" in builder.warnings[-1]["text"]


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: TrainArrows((18, 24)), "teeth has 2 gears: give 3 to 7"),
        (lambda: TrainArrows((18, 24, 8)), "teeth = 8 is out of range: give a number from 12 to 60"),
        (lambda: TrainArrows(arrangement="heap"), "choose from row, triangle"),
        (
            lambda: TrainBuilder(17, 45, 21, 42),
            "first_teeth = 17 is out of range: give a number from 18 to 60",
        ),
        (lambda: TrainBuilder(wanted_ratio=0.5), "wanted_ratio = 0.5"),
    ],
)
def test_bad_values_are_named(make, words):
    with pytest.raises(ValueError, match=words):
        make()


def test_repr_is_stable():
    assert repr(TrainArrows()) == "TrainArrows(five gears in a row)"
    assert repr(TrainBuilder()) == "TrainBuilder(18 : 36 + 24 : 48 teeth)"


def test_a_train_lives_and_its_arrows_follow_its_speed():
    train = living(Train.of(18, 24, 45, module=2.5), playing=False)
    assert repr(train) == "Living(18 : 24 : 45 teeth)"
    before = train.picture
    train.driver_speed = 8.0
    assert train.picture == before
    train.driver_speed = -8.0
    assert train.picture != before and train.picture.count("data-name") == 3
