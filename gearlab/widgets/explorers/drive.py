"""A whole design: seen, judged, and any number of any member of it changed."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ...contents import content_folder
from ...drawing import views
from ...drawing.views.driven import letters
from ...parts.design import Design, read_design
from ...parts.review import Ledger, Moved
from ...theory.derivation import Derivation
from .compared import Known, given, known, moved_between, news, reason, side_by_side, whole
from .controls import Choice, Given, Measure, Scale, Switch
from .explorer import Explorer, State
from .findings import advised_line, findings_told, rest_told, verdict_told
from .history import Beginning, Changes, History, changed, history, same_number, titled, touched, written
from .numbers import Number, members, numbers, parted, shown
from .state import Inputs, note

WIDE, FURTHER = 980.0, 90.0  # of the picture, and for each shaft beyond two [points]
NOTHING = "Nothing has moved yet: choose a member and a number of it, and change it."


class _Value(Measure):
    """The number that was chosen: its label, unit, range and steps are those of the number."""

    def __init__(self, label: str):
        super().__init__(0.0, 0.0, 0.0, label, unit="", free=True, argument=False)
        self.scale = lambda maker, inputs: maker.scale_of_number(inputs)  # type: ignore[assignment]

    def usual(self, maker: Any, inputs: Inputs) -> float:
        number = maker.number_of(inputs)
        return number.at if number else 0.0

    def next(self, maker: Any, inputs: Inputs) -> float:
        return super().next(maker, inputs) if maker.number_of(inputs) else inputs.amount

    def _spec(self, maker: Any, inputs: Inputs) -> dict | None:
        number = maker.number_of(inputs)
        if number is None:
            return None
        unit, spec = number.unit, super()._spec(maker, inputs)
        assert spec is not None
        open_end = "" if number.given else ", not given"
        return spec | {
            "label": f"{_first_up(number.words)} of {_called(number)}{open_end}",
            "least": _finite(number.least),
            "most": _finite(number.most),
            "fine": not number.whole,
            "unit": shown(unit),
            "spoken": _spoken(unit),
        }


class _Beside(Switch):
    """Two designs side by side: the one it began with, or another."""

    def usual(self, maker: Any, inputs: Inputs) -> bool:
        return bool(maker.other_name)

    def _spec(self, maker: Any, inputs: Inputs) -> dict | None:
        spec = super()._spec(maker, inputs)
        other = maker.other_name
        return spec and spec | {"label": f"Beside {other}" if other else self.label}


class DriveExplorer(Explorer):
    """A whole design: its plate, its gears turning, every piece along its shafts; what the review says of it;
    what has moved since it began. Any number of any member can be changed, undone and done again.

    Examples
    --------
    >>> explorer = DriveExplorer()
    >>> explorer.member, explorer.number, explorer.amount = "shaft vent", "length", 40.0
    >>> explorer.findings.names, explorer.design.shaft[1].length
    (('shaft-too-short',), 40.0)
    >>> explorer.undo().findings.passes
    True
    """

    speed, positional, broad, judged = 4.0, 2, True, True
    words = ("now *", "first *")
    panelled = ("member", "number", "amount", "history", "side_by_side", "every")
    began = Given(
        None,
        "The design it begins with, or the path or text of its file; the vent drive if left out",
        "Design",
        argument="design",
    )
    other = Given(
        None, "A design to set beside it, or the path or text of its file", "Design", argument="beside"
    )
    history = Changes("Changes", lambda maker, inputs: maker.ways(inputs))
    member = Choice(
        "",
        lambda maker, inputs: maker.listed(inputs),
        "Member",
        first=lambda maker, inputs: maker.first_member(inputs),
        about="The member of which a number is to be changed, such as 'shaft crank' or 'plate'; if left out"
        " the first gear",
    )
    number = Choice(
        "",
        lambda maker, inputs: maker.fields(inputs),
        "Its number",
        first=lambda maker, inputs: next(iter(maker.fields(inputs))),
        about="The number of it, such as 'teeth'",
    )
    amount = _Value("Value")
    side_by_side = _Beside(
        False,
        "Beside the first",
        about="Whether the numbers of both designs are shown side by side",
        argument=False,
    )
    advised = advised_line()
    every = Switch(False, "Every number", about="Whether numbers are shown that follow from others, too")

    def prepare(self) -> None:
        design = self.began if self.began is not None else content_folder("notebooks") / "vent_drive.toml"
        self._began = Beginning(_read(design))
        self._other = None if self.other is None else Beginning(_read(self.other))

    # the design that is changed
    @property
    def design(self) -> Design:
        """The design as it is now, with the text of its file."""
        return written(self._began, history(self.shown.inputs.history).standing)

    @property
    def findings(self) -> Ledger:
        """What the review says of it now."""
        return self.shown.subject.ledger

    @property
    def moved(self) -> Moved:
        """What has moved since the design it began with."""
        return moved_between(known(self._began, ()), self.shown.subject)

    def use(self) -> Design:
        """The design as it is now: here every change is in it at once."""
        return self.design

    def write(self, path: str | Path) -> Path:
        """Write the file of the design as it is now; ValueError where that cannot be."""
        return self.design.write(path)

    def edit(self, **edits: Any) -> DriveExplorer:
        """Change the design as ``Design.with_`` does; it can be undone. ValueError for what does not fit."""
        return self._to(self._past.to(edits))

    def undo(self) -> DriveExplorer:
        """Undo the last change; ValueError where there is none."""
        return self._to(self._past.back, "there is no change to undo")

    def redo(self) -> DriveExplorer:
        """Make the change again that was undone last; ValueError where there is none."""
        return self._to(self._past.on, "nothing was undone that could be made again")

    def restart(self) -> DriveExplorer:
        """Go back to the design it began with; ``redo`` makes the changes again."""
        return self._to(self._past._replace(stand=0))

    @property
    def _past(self) -> History:
        return history(self.shown.inputs.history)

    def _to(self, wanted: History | None, says: str = "") -> DriveExplorer:
        if wanted is None:
            raise ValueError(f"{says}: change a number first")
        changed(self._began, wanted.standing)  # refused before it is shown
        self.history = wanted.text
        return self

    # what the controls ask
    def design_of(self, inputs: Inputs) -> Design:
        """The design at these inputs."""
        return changed(self._began, history(inputs.history).standing)

    @property
    def other_name(self) -> str:
        """What the other design is called; empty where it is the first."""
        return "" if self._other is None else self._other.design.name

    def listed(self, inputs: Inputs) -> dict[str, str]:
        """The members by their keys, and how they are called, with the letters of the picture."""
        design = self.design_of(inputs)
        named, called = letters(design), members(design)
        for kind, tables in (("gear", design.gear), ("rack", design.rack)):
            for name in [table.name for table in tables]:
                called[f"{kind} {name}"] = f"{kind} {named[name]}, {name}"
        return called

    def first_member(self, inputs: Inputs) -> str:
        """The first gear, or what else there is."""
        keys = list(members(self.design_of(inputs)))
        return next((key for key in keys if key.startswith("gear ")), keys[-1])

    def fields(self, inputs: Inputs) -> dict[str, str]:
        """The numbers of the member, by their keys, and how they are called with their values."""
        fields = numbers(self.design_of(inputs), inputs.member)
        return {key: f"{number.words}, {number.said(number.value)}" for key, number in fields.items()}

    def number_of(self, inputs: Inputs) -> Number | None:
        """The number that is chosen."""
        if not inputs.member:
            return None
        return numbers(self.design_of(inputs), inputs.member).get(inputs.number)

    def unit_of(self, inputs: Inputs) -> str:
        return self._began.design.unit

    def scale_of_number(self, inputs: Inputs) -> Scale:
        """The range of the number that is chosen."""
        number = self.number_of(inputs)
        if number is None:
            return Scale(0.0, 0.0, 0.0)
        first = (
            numbers(self._began.design, inputs.member) if _stands(self._began.design, inputs.member) else {}
        )
        return number.scale(first.get(number.key, number).at, self._began.design.unit)

    def ways(self, inputs: Inputs) -> list[tuple[str, str, str | None]]:
        """The buttons of the history: undo, redo, start again; a number that may be left out, or given."""
        past = history(inputs.history)
        last, undone = past.changes[past.stand - 1 : past.stand], past.changes[past.stand : past.stand + 1]
        rows = [
            ("Undo", titled("Undo", last), past.back and past.back.text),
            ("Redo", titled("Redo", undone), past.on and past.on.text),
            (
                "Start again",
                "Start again, with the design as it was",
                past.stand and past._replace(stand=0).text,
            ),
        ]
        number = self.number_of(inputs)
        if number is not None and not number.given:
            words = f"Give {number.words} as {number.said(number.at)}"
            rows.append(("Give it so", f"Give it so: {words}", past.to(number.edit(number.at)).text))
        elif number is not None and number.optional:
            rows.append(
                (
                    "Leave it out",
                    f"Leave it out: {number.words} of {_called(number)}",
                    past.to(number.edit(None)).text,
                )
            )
        return [(text, title, value or None) for text, title, value in rows]

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        past, settings = history(inputs.history), inputs.settings()
        was = before.settings() if before else settings
        news = {name for name in ("member", "number", "amount", "history") if settings[name] != was[name]}
        if news == {"amount"}:
            inputs = inputs.but(history=self._with_value(inputs, past).text)
        elif news == {"history"} and before is not None:
            inputs = self._where(inputs, history(before.history), past)
        if "history" in news or "amount" in news:
            inputs = inputs.but(advised=0)
        design = self.design_of(inputs)
        if inputs.member not in members(design):
            inputs = inputs.but(member=self.first_member(inputs))
        fields = numbers(design, inputs.member)
        if inputs.number not in fields:
            inputs = inputs.but(number=next(iter(fields)))
        return inputs.but(amount=fields[inputs.number].at)

    def _with_value(self, inputs: Inputs, past: History) -> History:
        """The history with the number at its new value; steps the same way on one number are one change."""
        number = self.number_of(inputs)
        assert number is not None
        edit = number.edit(inputs.amount)
        if past.stand and number.given:
            earlier = changed(self._began, past.standing[:-1])
            if _stands(earlier, inputs.member) and same_number(past.changes[past.stand - 1], edit):
                first, step = numbers(earlier, inputs.member)[number.key], number.steps(earlier.unit)[1]
                on, this = number.at - first.at, inputs.amount - number.at
                if first.given and on * this > 0 and abs(this) <= step * (1 + 1e-9):
                    return past.to(edit, instead=True)
        return past.to(edit)

    def _where(self, inputs: Inputs, before: History, after: History) -> Inputs:
        """The controls at the number that another history changes, where it is one."""
        longer = before if before.stand > after.stand else after
        if abs(before.stand - after.stand) != 1:
            return inputs
        key = touched(longer.changes[longer.stand - 1])
        if key and _stands(self.design_of(inputs), key[0]):
            fields = numbers(self.design_of(inputs), key[0])
            wanted = next((word for word, number in fields.items() if number.field == key[1]), None)
            if wanted and (inputs.member != key[0] or fields.get(inputs.number, number_none).field != key[1]):
                return inputs.but(member=key[0], number=wanted)
        return inputs

    # what is shown
    def state(self, inputs: Inputs) -> State:
        past = history(inputs.history)
        now, first = known(self._began, past.standing), known(self._began, ())
        way = 1.0 if inputs.driver_speed >= 0 else -1.0
        member = parted(inputs.member)
        shafts = sum(bool(now.design.on(shaft.name)) for shaft in now.design.standing)
        scene = views.drive(
            now.design,
            marked=member[1] if member[0] == "gear" else "",
            turning=way,
            width=WIDE + FURTHER * max(0, shafts - 2),
        )
        beside = first if self._other is None else known(self._other, ())
        readout = [whole(now, beside if inputs.side_by_side else None), *given(beside, now)]
        if inputs.side_by_side:
            readout += side_by_side(beside, now, inputs.every)
        elif self._other is None:
            readout += news(moved_between(first, now), now, inputs.every)
        return State(
            inputs, scene, now.design.name, readout, self._remarks(now, first, past, inputs.advised), now
        )

    def _remarks(self, now: Known, first: Known, past: History, advised: int) -> list[dict]:
        def take(edit: Mapping[str, Any]) -> str | None:
            wanted = past.to(edit)
            try:
                changed(self._began, wanted.standing)
            except ValueError:
                return None
            return wanted.text

        rows = [verdict_told(now.ledger), *findings_told(now.ledger, advised, take)]
        rows += rest_told(now.ledger)
        change = moved_between(first, now)
        if change.went:
            gone = "; ".join(f"{finding.where}: {finding.what}" for finding in change.went)
            rows.append(note(f"Since the start {len(change.went)} went: {gone}"))
        if not past.standing:
            rows.append(note(NOTHING))
        return rows

    def reason(self, word: str, state: State) -> Derivation:
        return reason(state.subject.design, word)


number_none = Number("", "", "", None, False, "", 0.0, 0.0, False, False, 0.0)


def _read(design: Any) -> Design:
    return design if isinstance(design, Design) else read_design(design)


def _stands(design: Design, member: str) -> bool:
    return member in members(design)


def _called(number: Number) -> str:
    return number.member or {"design": "the drive"}.get(number.table, f"the {number.table}")


def _first_up(words: str) -> str:
    return words[:1].upper() + words[1:]


def _finite(value: float) -> float | None:
    return value if abs(value) < float("inf") else None


def _spoken(unit: str) -> str:
    from_units = {"mm": "millimetres", "in": "inches", "deg": "degrees", "rpm": "turns per minute"}
    return from_units.get(unit, shown(unit))
