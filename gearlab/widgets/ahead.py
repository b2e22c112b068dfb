"""The next states of an explorer, worked out before they are asked for.

When a change of the page has settled, the likely next states (a step and a page either way on the control
last touched, further along the way a held key goes) are worked out, one in each turn of the kernel's loop,
and sent as messages; the page draws a step that it holds at once and says so. Such a state becomes the
explorer's without being sent again. Whatever is heard meanwhile abandons the rest.
"""

from __future__ import annotations

import asyncio
import json
import math
import statistics
import threading
import time
from collections import OrderedDict, deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Protocol

DRAWN = ("picture", "text", "heading", "readout", "warnings", "controls")
ROOM = 1_000_000  # for the states that are kept, as the page keeps them [characters]
SLOW = 0.040  # a state that takes longer is not worked out ahead [s]
PAUSE = 0.040  # after which a change has settled [s]
HELD = 0.250  # two equal steps within this time are a key that is held [s]
REST = 0.250  # after the last change nothing is begun any more [s]
UNDERWAY = 0.5  # a state that was sent may not have come yet [s]
FURTHER = 6  # how many steps along the way are worked out
AT_ONCE = 3  # of these, at the first key: a key that stays down comes again before a change has settled


class Owner(Protocol):
    """What is asked of an explorer."""

    inputs: Any
    turn: dict
    answer: dict
    seen: int
    controls: list

    def now(self) -> Any: ...
    def following(self, wished: Any, before: Any) -> Any: ...
    def state(self, inputs: Any) -> Any: ...
    def drawn(self, state: Any) -> dict[str, Any]: ...
    def send(self, content: Any, buffers: Any = None) -> None: ...
    def send_state(self, key: Any = None) -> None: ...
    def hold_trait_notifications(self) -> Any: ...


@dataclass
class Kept:
    """A state that was worked out: its number, what the page draws of it, how long that is [characters]."""

    number: int
    state: Any
    drawn: dict[str, Any]
    size: int
    sent: float = -math.inf  # when the page was sent it [s]


class Ahead:
    """Keeps the states of one explorer, works out the likely next ones, says what the page must be sent."""

    def __init__(self, owner: Owner):
        self._owner = owner
        self._kept: OrderedDict[Any, Kept] = OrderedDict()
        self._lock = threading.Lock()
        self._last = 0  # number of the state worked out last
        self._times: deque[float] = deque(maxlen=3)  # of processor that the last states took [s]
        self._round = 0  # of working ahead; what belongs to an older one is abandoned
        self._touched: tuple[str, Any, float] = ("", None, 0.0)
        self._unsent: set[str] = (
            set()
        )  # traits that the page's model does not have, because the page held them
        self._answering: int | None = None  # the thread that answers a change
        self._shown: Kept | None = None
        self._fresh: set[str] = set()  # traits that this answer has changed
        self._said: dict[str, Any] = {}  # what the page has just said itself
        self.later: Callable[[float, Callable[[], None]], None] = on_the_kernels_loop

    @property
    def unsent(self) -> frozenset[str]:
        """Traits that the page's model lacks, because the page has drawn them from what it held."""
        return frozenset(self._unsent)

    # the states
    def worked_out(self, inputs: Any) -> Kept:
        """The state for tidied inputs, kept or worked out now. ValueError if they cannot be built."""
        with self._lock:
            kept = self._kept.get(inputs)
        if kept:
            return kept
        begun = time.thread_time()  # of the processor: a busy machine makes no state slow
        try:
            state = self._owner.state(inputs)
            drawn = self._owner.drawn(state)
        finally:
            self._times.append(time.thread_time() - begun)
        size = len(json.dumps(drawn))
        with self._lock:
            self._last += 1
            kept = self._kept[inputs] = Kept(self._last, state, drawn, size)
            while sum(other.size for other in self._kept.values()) > ROOM and len(self._kept) > 1:
                self._kept.popitem(last=False)
        return kept

    def forget(self) -> None:
        """Keep no state."""
        with self._lock:
            self._kept.clear()

    # answers
    @contextmanager
    def answering(self) -> Iterator[None]:
        """A change is answered in here: the page hears of it once, and not of what it has drawn itself."""
        if self._answering == threading.get_ident():
            yield
            return
        self._answering, self._shown, self._fresh = threading.get_ident(), None, set()
        owner, before, held = self._owner, dict(self._owner.answer), False
        try:
            yield
            shown, turn = self._shown, owner.turn
            number = turn.get("n", 0)
            held = bool(shown and turn.get("held") == shown.number and number > before.get("turn", 0))
            loud = not held and (shown is not None or not self._fresh.isdisjoint(DRAWN))
            owner.answer = {
                "turn": number,
                "told": before.get("told", 0) + loud,
                "number": shown.number if shown else 0 if loud else before.get("number", 0),
                "inputs": {name: getattr(owner, name) for name in owner.inputs},
            }
        finally:
            self._answering = None
            self._tell(held)

    def _tell(self, held: bool) -> None:
        """Send what was changed in an answer, in one message; but no drawing that the page held."""
        owner = self._owner
        if held:
            self._unsent.difference_update(owner.inputs)  # the page has set them
        self._unsent -= {name for name, value in self._said.items() if getattr(owner, name, None) == value}
        left = self._unsent.intersection(DRAWN) if held else set()
        tell, self._unsent = self._unsent - left, left
        if tell:
            owner.send_state(tell)

    def showing(self, kept: Kept | None) -> None:
        """The answer shows this state."""
        self._shown = kept
        if kept:
            if not self._owner.turn.get("held") and -math.inf < kept.sent < time.monotonic() - UNDERWAY:
                self._sent_nothing()  # it asks for what it was sent: what it held is gone
            kept.sent = time.monotonic()

    def _sent_nothing(self) -> None:
        with self._lock:
            for kept in self._kept.values():
                kept.sent = -math.inf

    def mutes(self, name: str) -> bool:
        """Whether a trait that has changed is told with the answer, not by itself."""
        if self._answering == threading.get_ident():
            self._unsent.add(name)
            self._fresh.add(name)
            return True
        self._unsent.discard(name)
        return False

    def receive(self, changes: dict[str, Any], apply: Callable[[dict[str, Any]], None]) -> None:
        """Changes of the page, each once: one that was sent by two ways may come a second time, and late."""
        heard()
        owner, turn = self._owner, changes.get("turn")
        if turn and turn["n"] <= owner.turn.get("n", 0):
            changes = {name: value for name, value in changes.items() if name not in (*owner.inputs, "turn")}
            turn = None
            if not changes:
                return  # nothing new, and what is worked out ahead is still likely
        self.stop()
        before, self._said = owner.now(), changes
        try:
            apply(changes)
            if turn and owner.answer.get("turn", 0) < turn["n"]:  # there and back before anybody looked
                with self.answering():
                    owner.seen += 1
        finally:
            self._said = {}
        if turn and turn.get("name") in owner.inputs:
            self._touch(turn["name"], getattr(before, turn["name"]))

    def message(self, content: dict[str, Any]) -> None:
        """A message of the page: it has opened, a hand is at a control, or a cell may be run now."""
        if content.get("kind") == "open":
            self._open()
        elif content.get("kind") == "near":
            heard()
            self._near(content.get("name", ""))
        elif content.get("kind") == "now":
            self.receive({**content["inputs"], "turn": content["turn"]}, self._set)

    def _set(self, changes: dict[str, Any]) -> None:
        """Set what the page says, with one answer and without an echo."""
        with self.answering(), self._owner.hold_trait_notifications():
            for name, value in changes.items():
                setattr(self._owner, name, value)

    def _open(self) -> None:
        """A page has opened: it holds nothing, and must have what another one drew from its own."""
        self._sent_nothing()
        tell, self._unsent = self._unsent, set()
        if tell:
            self._owner.answer = self._owner.answer | {"told": self._owner.answer.get("told", 0) + 1}
            self._owner.send_state(tell | {"answer"})

    # working ahead
    @property
    def _usual(self) -> float:
        """The time that a state usually takes [s]; the first one in a process does not count for ever."""
        return statistics.median_low(self._times) if self._times else 0.0

    def stop(self) -> None:
        """Something was heard: what is not begun is abandoned."""
        self._round += 1

    def _touch(self, name: str, before: Any) -> None:
        """A control was changed by the page; its likely next states follow when it has settled."""
        now, value = time.monotonic(), getattr(self._owner.now(), name)
        moved = value - before if _number(value) and _number(before) else None
        before_name, stride, when = self._touched
        again = bool(name == before_name and moved and stride and moved / stride > 0.5 and now - when < HELD)
        # while an answer was waited for, several steps of a held key have become one change
        count = max(1, round(moved / stride)) if again and moved and stride else 1
        self._touched = (name, stride if again else moved, now)
        if again:
            self._plan(name, stride, 2 * PAUSE, False)  # when the key has been let go
        elif moved:
            self._plan(name, moved, 0.0, True, most=AT_ONCE)
        self._plan(name, stride if again else moved, 0.0 if again else PAUSE, again, count)

    def _near(self, name: str) -> None:
        """The hand is at a control that it has not touched yet."""
        self.stop()
        if name in self._owner.inputs:
            self._plan(name, None, PAUSE, False)

    def _plan(
        self,
        name: str,
        moved: float | None,
        pause: float,
        held: bool,
        count: int = 1,
        most: int | None = None,
    ) -> None:
        this = self._round

        def begin() -> None:
            if self._round != this or self._usual > SLOW:
                return
            until = time.monotonic() + REST - pause
            inputs = self._owner.now()
            spec: dict = next((spec for spec in self._owner.controls if spec["name"] == name), {})
            values = likely(getattr(inputs, name), spec, moved, held, self._owner.turn.get("then"), count)
            plan = [inputs.but(**{name: value}) for value in values[:most]]
            plan += first_steps(inputs, name, self._owner.controls) if most is None else ()
            names = list(self._owner.inputs)
            wished = [[getattr(ask, each) for each in names] for ask in plan]
            self._owner.send({"kind": "likely", "names": names, "wished": wished})
            self._next(this, until, inputs, plan)

        self.later(pause, begin)

    def _next(self, this: int, until: float, inputs: Any, plan: list[Any]) -> None:
        """Work out and send one state, and see to it that the rest follow in later turns of the loop."""
        while plan and self._round == this and time.monotonic() + self._usual < until:
            if self._send(inputs, plan.pop(0)):
                if self._times and self._times[-1] > SLOW:
                    return
                self.later(0.0, lambda: self._next(this, until, inputs, plan))
                return

    def _send(self, inputs: Any, wished: Any) -> bool:
        try:
            tidied = self._owner.following(wished, inputs)
            kept = self.worked_out(tidied)
        except ValueError:
            return True  # cannot be built: its reason is said when it is asked for
        if kept.sent > -math.inf:
            return False
        kept.sent = time.monotonic()
        names = self._owner.inputs
        self._owner.send(
            {
                "kind": "ahead",
                "number": kept.number,
                "wished": [getattr(wished, name) for name in names],
                "inputs": [getattr(tidied, name) for name in names],
                "size": kept.size,
                "drawn": kept.drawn,
            }
        )
        return True


def likely(
    value: Any, spec: dict, moved: float | None = None, held: bool = False, then: Any = None, count: int = 1
) -> list[Any]:
    """Values that a control may be given next, the likeliest first.

    ``moved`` is the step that it was last changed by, ``held`` says that a key is held, ``count`` how many
    steps it goes while one answer is on its way, ``then`` is what a button in the picture gives it next.

    >>> teeth = {"kind": "number", "low": 6, "high": 160, "step": 1, "page": 10, "places": 0, "fine": False}
    >>> likely(18, teeth, moved=1)
    [19, 17, 20, 21, 22, 28, 8, 23, 24]
    >>> likely(18, teeth, moved=1, held=True, count=3)[:4]
    [21, 22, 23, 24]
    >>> likely(6, teeth, moved=-1)
    [7, 16]
    >>> likely("b", {"kind": "choice", "options": [["a", "A"], ["b", "B"], ["c", "C"]]})
    ['c', 'a']
    """
    kind = spec.get("kind")
    if kind == "number" and _number(value):
        wanted: Iterable[Any] = _numbers(value, spec, moved, held, count)
    elif kind == "choice":
        options = [option[0] for option in spec["options"]]
        at = options.index(value) if value in options else 0
        wanted = [options[i] for i in (at + 1, at - 1) if 0 <= i < len(options)]
    elif kind == "switch":
        wanted = [not value]
    else:
        wanted = []
    if then is not None:
        wanted = [type(value)(then), *wanted]
    return [other for other in dict.fromkeys(wanted) if other != value]


def first_steps(inputs: Any, touched: str, controls: list[dict]) -> Iterator[Any]:
    """Where a lesson has set a stage: the inputs a step away by each control on it beside the one touched."""
    staged = [spec for spec in controls if not spec.get("more")]
    if len(staged) == len(controls):
        return
    for spec in staged:
        name = spec["name"]
        if name != touched and spec.get("kind") in ("number", "choice", "switch"):
            yield from (inputs.but(**{name: value}) for value in likely(getattr(inputs, name), spec)[:1])


def _numbers(value: float, spec: dict, moved: float | None, held: bool, count: int) -> list[float]:
    """The values by steps and pages that the page gives by keys, rounded as it rounds them."""
    step, page = spec["step"], spec["page"]
    fine = bool(spec["fine"] and moved and abs(abs(moved) - step / 10) < step / 1000)
    paged = bool(moved and abs(abs(moved) - page) < step / 1000)
    small, way = step / 10 if fine else step, -1 if moved and moved < 0 else 1
    by = page if paged else small
    along = [way * by * k for k in range(count, count + FURTHER)]
    if held:
        moves = [*along, -way * by]
    elif paged:
        moves = [way * page, -way * page, small, -small, *along[1:3]]
    else:
        moves = [way * small, -way * small, *along[1:4], way * page, -way * page, *along[4:]]
    places = spec["places"] + bool(spec["fine"])
    if not held:  # each is a message, and a held key has passed these before they come
        moves += [small, -small, page, -page]
    values = [round(min(spec["high"], max(spec["low"], value + move)), places) for move in moves]
    return [type(value)(other) for other in values]


def _number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def on_the_kernels_loop(delay: float, act: Callable[[], None]) -> None:
    """Do something later in the loop that messages are heard in; nothing where there is no kernel."""
    if _kernel():
        asyncio.get_running_loop().call_later(delay, act)


def _kernel() -> Any:
    """The shell of a kernel with a page; None elsewhere."""
    from IPython import get_ipython

    shell = get_ipython()
    return shell if getattr(shell, "kernel", None) is not None else None


_heard: dict[asyncio.AbstractEventLoop, int] = {}
_watched: list[Any] = []
WAIT = 0.004  # for messages that lie at the door of another thread [s]
TURNS = 25  # of that thread's loop, in which a message that was taken in is dealt with
QUIET = 3  # rounds of this waiting, one after another, in which nothing more was heard
BUSY = 0.020  # a round that took longer was held up by other work, and says nothing [s]
LONGEST = 2.0  # for all rounds; then the cell runs [s]


def heard() -> None:
    """Remember that a page was heard in this thread; a cell that runs beside it lets it finish first.

    JupyterLab sends the messages of widgets to a thread of their own, so a cell that was run right after a
    key could be ahead of it.
    """
    shell = _kernel()
    if shell is None:
        return
    if shell not in _watched:
        _watched.append(shell)
        shell.events.register("pre_run_cell", _listen_first)
    if threading.current_thread() is not threading.main_thread():
        loop = asyncio.get_running_loop()
        _heard[loop] = _heard.get(loop, 0) + 1


def _listen_first(_info: Any) -> None:
    """Before a cell: wait until what the pages have said in other threads is done."""
    until = time.monotonic() + LONGEST
    for loop in list(_heard):
        quiet = 0
        while loop.is_running() and quiet < QUIET and (begun := time.monotonic()) < until:
            before, done = _heard[loop], threading.Event()
            # the loop looks at its sockets before what is due later, so messages that lie there come first
            loop.call_soon_threadsafe(loop.call_later, WAIT, _turns, loop, TURNS, done.set)
            done.wait(until - begun)
            held_up = time.monotonic() - begun > BUSY
            quiet = 0 if _heard[loop] != before else quiet + (not held_up)
        if not loop.is_running():
            _heard.pop(loop, None)


def _turns(loop: asyncio.AbstractEventLoop, left: int, act: Callable[[], None]) -> None:
    """Do something after so many turns of a loop."""
    if left:
        loop.call_soon(_turns, loop, left - 1, act)
    else:
        act()
