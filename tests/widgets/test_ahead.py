"""Working ahead: which states, how many at a time, when not; and what the page is sent of an answer.

The explorer is real; the loop of the kernel and the wire to the page are lists.
"""

import pytest

from gearlab.widgets import PairExplorer, ahead
from gearlab.widgets.ahead import DRAWN, likely

NUMBER = {"kind": "number", "low": 6, "high": 160, "step": 1, "page": 10, "places": 0, "fine": False}
LENGTH = {"kind": "number", "low": -1.0, "high": 2.0, "step": 0.05, "page": 0.5, "places": 2, "fine": True}


class Wired:
    """A pair explorer, what it sends, and what it means to do later."""

    def __init__(self):
        self.explorer, self.due, self.sent, self.updates = PairExplorer(18, 45, playing=False), [], [], []
        self.explorer.ahead.later = lambda delay, act: self.due.append((delay, act))
        self.explorer.send = lambda content, buffers=None: self.sent.append(content)
        self.explorer.send_state = lambda key=None: self.updates.append(set(key))
        self.n = 0

    def change(self, held=0, **settings):
        self.n += 1
        name = next(iter(settings))
        self.explorer.set_state({**settings, "turn": {"n": self.n, "name": name, "held": held}})

    def turn(self):
        """One turn of the loop, of what is due first; what was sent in it."""
        before = len(self.sent)
        delay, act = self.due.pop(min(range(len(self.due)), key=lambda i: self.due[i][0]))
        act()
        return [message["kind"] for message in self.sent[before:]]

    def turns(self):
        while self.due:
            self.turn()
        return [message for message in self.sent if message["kind"] == "ahead"]


@pytest.fixture
def wired(monkeypatch):
    monkeypatch.setattr(ahead, "REST", 600.0)
    monkeypatch.setattr(ahead, "SLOW", 60.0)
    return Wired()


# as the page's keys go (panels.js): a step, a page, Shift for a tenth of a step, no further than the ends
@pytest.mark.parametrize(
    "value, spec, moved, wanted",
    [
        (18, NUMBER, 1, {17, 19, 8, 28}),
        (18, NUMBER, -10, {17, 19, 8, 28}),
        (7, NUMBER, -1, {6, 8, 17}),
        (0.05, LENGTH, 0.05, {0.0, 0.1, 0.55, -0.45}),
        (0.055, LENGTH, 0.005, {0.05, 0.06, 0.555, -0.445}),
    ],
)
def test_a_step_and_a_page_either_way_are_likely(value, spec, moved, wanted):
    assert wanted <= set(likely(value, spec, moved)) and value not in likely(value, spec, moved)


def test_a_held_key_goes_on_along_its_way():
    assert likely(18, NUMBER, -1, held=True)[:6] == [17, 16, 15, 14, 13, 12]
    assert likely(0.1, LENGTH, 0.05, held=True)[:3] == [0.15, 0.2, 0.25]


def test_steps_of_a_held_key_that_became_one_change_are_passed_by():
    assert likely(18, NUMBER, 1, held=True, count=3)[:3] == [21, 22, 23]
    assert 28 not in likely(18, NUMBER, 1, held=True), "a page is worked out when the key has been let go"


def test_a_switch_a_choice_and_a_button_in_the_picture():
    assert likely(True, {"kind": "switch"}) == [False]
    assert likely("mm", {"kind": "choice", "options": [["mm", ""], ["in", ""]]}) == ["in"]
    assert likely(1.0, {}, then=3) == [3.0]


def test_each_state_is_what_python_would_have_answered(wired):
    wired.change(driver_teeth=19)
    for message in wired.turns():
        names = wired.sent[0]["names"]
        other = PairExplorer(18, 45, playing=False)
        other.set_trait("driver_teeth", message["inputs"][names.index("driver_teeth")])
        assert {name: getattr(other, name) for name in DRAWN} == message["drawn"]
    assert len(wired.sent) > 4


def test_one_state_a_turn_of_the_loop_and_new_input_abandons_the_rest(wired):
    wired.change(driver_teeth=19)
    assert wired.turn() == ["likely", "ahead"] and wired.turn() == ["ahead"]
    left = len(wired.due)
    wired.change(driven_teeth=46)
    wired.due, new = wired.due[:left], wired.due[left:]
    assert [wired.turn() for _ in range(left)] == [[]] * left, (
        "what belonged to the older change is not worked out"
    )
    wired.due = new
    assert wired.turn() == ["likely", "ahead"]


def test_a_change_settles_first_unless_a_key_is_held(wired):
    """But for the next two steps the same way: a key that stays down comes again before that."""
    wired.change(driver_teeth=19)
    assert [delay for delay, _ in wired.due] == [0.0, ahead.PAUSE]
    wired.due.pop()
    assert [message["inputs"][0] for message in wired.turns()] == [20, 21, 22]
    wired.change(driver_teeth=20)
    assert wired.due[-1][0] == 0.0


def test_a_key_is_held_when_several_of_its_steps_come_as_one_change(wired):
    wired.change(driver_teeth=19)
    wired.change(driver_teeth=22)  # while the first was answered it went three steps
    assert wired.due[-1][0] == 0.0
    wired.due = wired.due[-1:]
    ahead_of_hand = [message["inputs"][0] for message in wired.turns()]
    assert ahead_of_hand[:3] == [25, 26, 27], "the hand is three steps further by then"
    wired.change(driver_teeth=21)  # the other way: another key
    assert wired.due[-1][0] == ahead.PAUSE


def test_a_page_that_asks_for_what_it_was_sent_has_lost_it(wired, monkeypatch):
    wired.change(driver_teeth=19)
    first = {message["inputs"][0] for message in wired.turns()}
    assert 20 in first
    monkeypatch.setattr(ahead, "UNDERWAY", 0.0)
    wired.sent.clear()
    wired.change(driver_teeth=20)  # not as a held one
    again = {message["inputs"][0] for message in wired.turns()}
    assert first & again, "sent a second time"


def test_what_comes_a_second_time_leaves_the_work_going_on(wired):
    wired.change(driver_teeth=19)
    wired.turn()
    assert wired.due[-1][0] == 0.0
    wired.explorer.set_state({"driver_teeth": 19, "turn": {"n": 1, "name": "driver_teeth", "held": 0}})
    assert wired.turn() == ["ahead"]


def test_a_slow_state_is_not_worked_out_ahead(wired, monkeypatch):
    monkeypatch.setattr(ahead, "SLOW", 0.0)
    wired.change(driver_teeth=19)
    assert wired.turns() == []


def test_nothing_is_begun_long_after_the_change(wired, monkeypatch):
    monkeypatch.setattr(ahead, "REST", 0.0)
    wired.change(driver_teeth=19)
    assert wired.turns() == []


def test_a_held_state_is_taken_over_and_not_sent(wired):
    wired.change(driver_teeth=19)
    state = next(message for message in wired.turns() if message["inputs"][0] == 20)
    wired.updates.clear()
    wired.change(held=state["number"], driver_teeth=20)
    assert {name: getattr(wired.explorer, name) for name in DRAWN} == state["drawn"]
    assert all(update.isdisjoint(DRAWN) and "answer" in update for update in wired.updates) and wired.updates
    # the next answer brings what the page's model lacks, too
    lacks = wired.explorer.ahead.unsent
    wired.updates.clear()
    wired.change(driver_teeth=50)
    assert lacks and lacks <= wired.updates[-1] and not wired.explorer.ahead.unsent


def test_a_state_that_the_page_did_not_mean_is_sent(wired):
    """A cell has changed another control: what the page held is not what is right now."""
    wired.change(driver_teeth=19)
    state = next(message for message in wired.turns() if message["inputs"][0] == 20)
    wired.explorer.driven_teeth = 60
    wired.updates.clear()
    wired.change(held=state["number"], driver_teeth=20)
    assert "picture" in wired.updates[-1] and wired.explorer.heading == "20 and 60 teeth, module 2.5"


def test_a_change_that_comes_a_second_time_is_not_made_again(wired):
    wired.change(driver_teeth=19)
    wired.explorer.driver_teeth = 40
    wired.explorer.set_state({"driver_teeth": 19, "turn": {"n": 1, "name": "driver_teeth", "held": 0}})
    assert wired.explorer.driver_teeth == 40


def test_what_is_kept_has_a_limit(wired, monkeypatch):
    monkeypatch.setattr(ahead, "ROOM", 100_000)
    for teeth in (30, 60, 90):
        wired.change(driver_teeth=teeth)
        wired.turns()
    kept = wired.explorer.ahead._kept.values()
    assert len(kept) > 1 and sum(state.size for state in kept) <= 100_000
