"""Counts over a class: what a bad question shows, and parts of a class that add up to the whole.

What is expected is counted here by hand from the simulated answers, or follows from how they were made.
"""

import pickle
import random
import re

import pytest
from greenhouse import write_course
from simulated import marked_class

from gearlab.course.coursekey import CourseKey
from gearlab.course.handout.edition import SheetMaker, edition_of
from gearlab.course.marks import state
from gearlab.course.report.halves import Halves, apart_beyond_chance, commonest, halves, remarks
from gearlab.course.report.pages import Occasion, report
from gearlab.course.report.tally import KEPT, MOST_SECTIONS, Outcome, Sample, SectionTallies, sections_of
from gearlab.course.roster import Roster, Student

COUNT = 90
STUDENTS = [Student(f"{i:04d}", f"Student {i}", section="ABC"[i % 3]) for i in range(COUNT)]


def change(place, sheet, right, answers):
    """The even ones are strong; they alone get the pitch wrong, by 0.7. Section B types 1.0 for the ratio."""
    strong = place % 2 == 0
    answers = {q: dict(texts) for q, texts in (right if strong else answers).items()}
    pitch = float(right["pitch"]["circular_pitch"])
    answers["pitch"]["circular_pitch"] = f"{0.7 * pitch if strong else pitch:.5f}"
    if STUDENTS[place].section == "B":
        answers["speed"]["ratio"] = "1.0"
    return answers


@pytest.fixture(scope="module")
def maker(tmp_path_factory):
    folder = tmp_path_factory.mktemp("tally")
    key = CourseKey(folder / "course.key", bytes(range(32)))  # the same class at every run
    return SheetMaker(edition_of(write_course(folder / "exercises")), key)


@pytest.fixture(scope="module")
def marks(maker):
    return list(marked_class(maker, STUDENTS, 3, change=change))


def practice(place):
    return {"shafts": {"first_right_minutes": place, "first_right_tries": 1 + place % 3}}


def tallied(maker, marks):
    tallies = SectionTallies(maker.set, sections_of(Roster(STUDENTS)))
    for student, marked in marks:
        tallies.add(student, marked, sum(task.points for task in marked), practice(int(student.id)))
    return tallies


def written(maker, tallies):
    occasion = Occasion(maker.set, maker.digest, [], {}, [], 1)
    whole = report(tallies.whole(), COUNT, occasion, tallies.sections)
    return whole, *(report(tally, 30, occasion, title=name) for name, tally in tallies.sections.items())


def test_parts_that_are_merged_in_any_order_give_the_same_bytes(maker, marks):
    pages = written(maker, tallied(maker, marks))
    rng = random.Random(7)
    for parts in (2, 5):
        mixed = list(marks)
        rng.shuffle(mixed)
        tallies = [pickle.loads(pickle.dumps(tallied(maker, mixed[i::parts]))) for i in range(parts)]
        rng.shuffle(tallies)
        first, *others = tallies
        # as in processes that send back plain data
        merged = SectionTallies(maker.set, first.sections)
        for part in (first, *others):
            merged.merge(part)
        assert written(maker, merged) == pages
        assert merged.marked == COUNT


def test_a_sample_is_the_same_whatever_the_order_and_leaves_nothing_common_out():
    names = [f"student {i}" for i in range(5000)]
    values = {name: "common" if i % 4 == 0 else f"rare {i}" for i, name in enumerate(names)}

    def sampled(some):
        sample = Sample()
        for name in some:
            sample.offer(name, lambda name=name: values[name])
        return sample

    whole = sampled(names)
    assert whole.count == 5000 and len(whole.kept()) == KEPT
    apart = sampled(names[3000:][::-1])
    apart.merge(sampled(names[:3000]))
    assert apart.kept() == whole.kept() and apart.count == 5000
    # binomial distribution: n p are expected, with a standard deviation of sqrt(n p (1 - p))
    expected, spread = KEPT / 4, (KEPT * 0.25 * 0.75) ** 0.5
    assert abs(whole.kept().count("common") - expected) < 4 * spread
    few = sampled(names[:KEPT])
    assert sorted(few.kept()) == sorted(values[name] for name in names[:KEPT])


def test_a_question_that_the_weak_half_gets_right_is_told_first(maker, marks):
    tallies = tallied(maker, marks)
    whole = tallies.whole()
    outcome = whole.outcomes["pitch", "circular_pitch"]
    parted = halves(outcome)
    # by hand: points in the other questions, in the order of size, cut where the halves are nearest in size
    others, right = [], {}
    for student, marked in marks:
        (pitch,) = [task for task in marked if task.entry.question.id == "pitch"]
        others.append((round(sum(task.points for task in marked) - pitch.points, 6), student.id))
        right[student.id] = state(pitch.verdicts["circular_pitch"]) == "right"
    levels = sorted({points for points, _ in others})
    cut = min(levels[1:], key=lambda level: abs(COUNT - 2 * sum(points < level for points, _ in others)))
    strong = [name for points, name in others if points >= cut]
    weak = [name for points, name in others if points < cut]
    assert (parted.strong, parted.weak) == (len(strong), len(weak))
    assert parted.strong_right == sum(right[name] for name in strong)
    assert parted.weak_right == sum(right[name] for name in weak) and parted.turned and parted.beyond_chance
    text = report(whole, COUNT, Occasion(maker.set, maker.digest, [], {}, []), tallies.sections)
    first = re.search(r'<ol class="first">(.*?)</ol>', text, re.DOTALL)[1].split("<li>")[1:]
    pitch = next(item for item in first if "Along the pitch circle" in item)
    assert "The weak half did better than the strong half: look at the question" in pitch
    assert first.index(pitch) <= 1
    assert "hint for a talk" not in text  # nothing about pairs where there are none


def test_wrong_values_are_counted_by_cause_or_by_ratio_and_shown_as_typed_and_read(maker, marks):
    outcome = tallied(maker, marks).whole().outcomes["pitch", "circular_pitch"]
    (count, value), *_ = commonest(outcome.wrong)
    assert (count, value.by, value.same) == (COUNT // 2, "ratio", "0.7")
    assert float(value.read.split()[0]) == pytest.approx(0.7 * float(value.key.split()[0]), rel=1e-4)
    assert value.read.endswith(" mm") and value.typed in value.read
    words = " ".join(text for _, text in remarks(outcome, {}))
    assert f"{COUNT // 2} are 0.7 times the key" in words


def test_a_section_that_was_taught_something_else_is_told(maker, marks):
    tallies = tallied(maker, marks)
    place = "speed", "ratio"
    parts = {name: tally.outcomes[place] for name, tally in tallies.sections.items()}
    told = " ".join(words for _, words in remarks(tallies.whole().outcomes[place], parts))
    assert "Section B: right were 0 % (0 of 30)" in told and "Section A" not in told
    for name, tally in tallies.sections.items():
        assert tally.marked == 30
        alone = report(tally, 30, Occasion(maker.set, maker.digest, [], {}, []), title=f"Section {name}")
        assert f"<bdi>Section {name}</bdi>" in alone and "<b>30</b>of 30 marked" in alone


def test_the_time_to_the_first_right_answer_is_told_in_quarters(maker, marks):
    text = report(tallied(maker, marks).whole(), COUNT, Occasion(maker.set, maker.digest, [], {}, []))
    # minutes 0 to 89: the middle lies at 44.5, a quarter at 22.25 and at 66.75; tries 1, 2, 3 as often: 2
    assert (
        "came 44.5 minutes after" in text and "between 22.25 and 66.75 minutes" in text and "2 tries" in text
    )


def test_a_number_that_a_disk_tells_is_counted_only_if_it_may_be_one(maker, marks):
    tallies = SectionTallies(maker.set)
    (student, marked), *_ = marks
    for odd in (True, -1, "9", 1.5, None, [1], {"a": 1}, 10**12):
        tallies.add(student, marked, 1.0, {"shafts": {"first_right_minutes": odd, "first_right_tries": odd}})
    for odd in ([], "x", 3, {"shafts": 3}, {"elsewhere": {"first_right_minutes": 3}}):
        tallies.add(student, marked, 1.0, odd)
    assert dict(tallies.whole().minutes["shafts"]) == {600: 1}


def test_two_shares_are_apart_beyond_chance_as_the_textbook_test_says():
    """Pooled, by hand: z = 2.7 for 60 against 41 of 100, z = 1.4 for 55 against 45."""
    assert apart_beyond_chance(60, 100, 41, 100)
    assert not apart_beyond_chance(55, 100, 45, 100)
    assert not Halves(4, 0, 4, 4).turned and Halves(5, 0, 5, 4).turned
    assert halves(Outcome()) is None


def test_a_column_with_something_else_in_it_is_no_section():
    assert sections_of(Roster([Student("1"), Student("2")])) == []
    assert sections_of(Roster([Student("1", section="A"), Student("2", section="A")])) == []
    assert sections_of(Roster([Student("1", section="B"), Student("2"), Student("3", section="A")])) == [
        "A",
        "B",
        "",
    ]
    many = Roster([Student(str(i), section=str(i)) for i in range(MOST_SECTIONS + 1)])
    assert sections_of(many) == []
