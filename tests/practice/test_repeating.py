"""The schedule of repeating, held against a calendar worked out by hand from its stated rule."""

from __future__ import annotations

from datetime import UTC, date, timedelta

import pytest

from gearlab.practice.workbook.repeating import RULE, STEPS, Go, Memory, due, memories

FIRST = date(2026, 11, 1)


def day(number: int) -> date:
    return FIRST + timedelta(days=number)


def event(number, *, question="a/q", draw=0, verdict="right", attempt=1, answer="x", hints=0, **more):
    bank, _, name = question.partition("/")
    return {
        "at": f"{day(number).isoformat()}T12:00:{attempt:02d}Z",
        "event": "answer",
        "bank": bank,
        "question": name,
        "version": 1,
        "draw": draw,
        "answer": answer,
        "verdict": verdict,
        "try": attempt,
        "hints": hints,
    } | more


def remembered(*events, name="a/q", parts=1) -> Memory:
    return memories(events, {name: (1, parts)}, UTC)[name]


def test_right_again_and_again_comes_after_1_3_7_16_and_35_days():
    # by hand: first right on the 1st; due 2nd, 5th, 12th, 28th; then 35 days on, and 35 for good
    memory, number, dues = Memory(), 0, []
    for draw in range(7):
        memory = memory.after(Go(day(number), draw, True))
        dues.append((memory.due - FIRST).days)
        number = dues[-1]
    assert dues == [1, 4, 11, 27, 62, 97, 132]
    assert STEPS == (1, 3, 7, 16, 35) and "after 1 day, then after 3, 7, 16 and 35 days" in RULE


def test_a_wrong_try_leads_back_to_one_day_even_when_it_is_mended():
    memory = remembered(
        event(0),
        event(1, draw=1),
        event(4, draw=2, verdict="listed slip"),
        event(4, draw=2, attempt=2),
    )
    assert memory.due == day(5) and memory.last_wrong and memory.ever_right and memory.slips == 1


def test_what_comes_before_its_day_moves_nothing_forwards_but_a_slip_counts():
    early = remembered(event(0), *(event(0, draw=draw) for draw in range(1, 6)))
    assert early.due == day(1) and early.step == 0
    slipped = remembered(event(0), event(1, draw=1), event(2, draw=2, verdict="close"))
    assert slipped.due == day(3) and slipped.last_wrong


def test_a_hint_keeps_the_time_and_the_solution_leads_back():
    assert remembered(event(0), event(1, draw=1, hints=1)).due == day(2)
    shown = event(1, draw=1, verdict="")
    shown |= {"event": "solution"}
    assert remembered(event(0), shown).due == day(2)
    assert remembered(event(0), shown).last_wrong
    after = event(0, attempt=2) | {"event": "solution"}
    assert not remembered(event(0), after).last_wrong, "looked at when all was right"


def test_every_answer_has_to_be_right():
    half = [event(0, answer="x"), event(0, answer="y", verdict="another quantity")]
    assert remembered(*half, parts=2).last_wrong
    # what was right is not told again when the other one is mended
    mended = remembered(*half, event(0, answer="y", attempt=2), parts=2)
    assert mended.ever_right and mended.last_wrong and mended.slips == 1
    first = event(0, answer="x")
    assert remembered(first, parts=2).due is None, "an empty field is not yet an answer"
    later = remembered(first, event(2, answer="y"), parts=2)
    assert later.ever_right and later.due == day(3), "the draw was taken up again on another day"


def test_another_version_and_an_unknown_question_tell_nothing():
    assert memories([event(0, version=2), event(0, question="a/gone")], {"a/q": (1, 1)}, UTC) == {}


def test_what_went_wrong_comes_first_and_lessons_are_mixed():
    standing = {
        "a/1": Memory((Go(day(0), 0, True),), 0, day(1)),
        "a/2": Memory((Go(day(0), 0, True),), 0, day(1)),
        "b/1": Memory((Go(day(0), 0, True),), 2, day(2)),
        "b/2": Memory((Go(day(0), 0, False, 1),), -1, day(3)),
        "c/1": Memory((Go(day(0), 0, True),), 0, day(9)),
    }
    asked = due(standing, day(3))
    assert asked[0] == "b/2" and set(asked) == {"a/1", "a/2", "b/1", "b/2"}
    assert [name[0] for name in asked] == ["b", "a", "b", "a"]
    assert due(standing, day(0)) == []


@pytest.mark.parametrize(
    "hour, zone_hours, expected", [("23:30:00", 0, 0), ("23:30:00", 2, 1), ("00:30:00", -5, -1)]
)
def test_days_are_the_readers(hour, zone_hours, expected):
    from datetime import timezone

    from gearlab.practice.workbook.repeating import day_of

    zone = timezone(timedelta(hours=zone_hours))
    assert day_of(f"{FIRST.isoformat()}T{hour}Z", zone) == day(expected)
