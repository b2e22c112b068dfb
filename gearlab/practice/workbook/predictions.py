"""What a lesson asks before it shows anything, and what it says afterwards: ``predictions.toml``.

A prediction is never judged. The file holds the question and its options, for each option whether it held
and what to say of it (why it tempts, or what it rests on), and the text that tells the surprise.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, PlainValidator, ValidationError

from gearlab.contents import lesson_predictions
from gearlab.practice.bank import read_toml
from gearlab.practice.tables import BankError, Kebab, Text
from gearlab.schema import near, spot, told

__all__ = ["Option", "Prediction", "load_predictions", "prediction_of"]

SURPRISE = "surprise"  # the name of the text that every prediction has


def _held(value: Any) -> bool | str:
    if isinstance(value, bool) or (isinstance(value, str) and value.lower() not in ("", "true", "false")):
        return value
    raise ValueError("write true or false without quotes, or in words on what it depends")


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Option(_Table):
    """What a reader may choose.

    held: whether it was so; where that hangs on something, the words for it ("only if ...").
    says: why it tempts, or what it rests on.
    """

    text: Text
    held: Annotated[bool | str, PlainValidator(_held)]
    says: Text


class Prediction(_Table):
    """A question asked before the surprise.

    says: of a question without options, what was to be seen.
    surprise: Markdown that tells the surprise; `texts` are further ones, by name.
    """

    id: Kebab
    question: Text
    options: tuple[Option, ...] = ()
    says: str = ""
    surprise: Text
    texts: dict[Kebab, Text] = {}

    @property
    def choices(self) -> tuple[str, ...]:
        """The words of the options."""
        return tuple(option.text for option in self.options)

    def text(self, name: str = SURPRISE) -> str:
        """The text of that name, in Markdown. ValueError where there is none; near names are told."""
        if name == SURPRISE:
            return self.surprise
        if name not in self.texts:
            names = (SURPRISE, *self.texts)
            raise ValueError(
                f"text {name!r} of the prediction {self.id!r}: there is {', '.join(names)}{near(name, names)}"
            )
        return self.texts[name]

    def told(self, choice: str = "") -> list[str]:
        """What to say of a choice afterwards, in plain paragraphs: of the option chosen, then what held.

        choice: the words of an option, or "" for a reader who looked without a prediction.
        """
        lines, chosen = [], next((option for option in self.options if option.text == choice), None)
        if chosen is not None:
            if isinstance(chosen.held, str):
                verdict = f"That depends: {chosen.held}."
            else:
                verdict = "That held." if chosen.held else "That did not hold."
            lines.append(f"{verdict} {chosen.says}")
        if chosen is None or chosen.held is not True:
            lines += [
                f"What held: {option.text.rstrip('.')}{'' if option.text[-1] in '?!' else '.'} {option.says}"
                for option in self.options
                if option.held is True and option is not chosen
            ]
        return lines + ([self.says] if self.says else [])


class PredictionFile(_Table):
    prediction: list[Prediction] = Field(min_length=1)


def load_predictions(path: str | Path) -> dict[str, Prediction]:
    """The predictions of a file ``predictions.toml``, or of the folder it lies in, by id.

    BankError lists every problem found: file, prediction, field, what is expected.
    """
    path = Path(path)
    path = path / "predictions.toml" if path.is_dir() else path
    data = read_toml(path)
    try:
        table = PredictionFile.model_validate(data)
    except ValidationError as error:
        raise BankError([_problem(path, data, fault) for fault in error.errors()]) from None
    problems: list[str] = []
    seen: dict[str, Prediction] = {}
    for prediction in table.prediction:
        where = f"{path}: prediction {prediction.id!r}"
        if prediction.id in seen:
            problems.append(f"{where}: id: each prediction needs an id of its own; this one stands twice")
        problems += [f"{where}: {fault}" for fault in _faults(prediction)]
        seen[prediction.id] = prediction
    if problems:
        raise BankError(problems)
    return seen


def prediction_of(key: str) -> Prediction:
    """The prediction of a lesson that comes with gearlab.

    key: lesson and id, such as ``"07_contact/ten-teeth"``.
    ValueError where there is none of that name; near names are told.
    """
    lesson, slash, name = str(key).partition("/")
    if not slash:
        raise ValueError(
            f"prediction {key!r}: name the lesson and the prediction, such as '07_contact/ten-teeth'"
        )
    predictions = _loaded(lesson_predictions(lesson))
    if name not in predictions:
        raise ValueError(
            f"prediction {name!r}: lesson {lesson} has {', '.join(predictions)}{near(name, predictions)}"
        )
    return predictions[name]


@lru_cache(maxsize=32)
def _loaded(path: Path) -> dict[str, Prediction]:
    return load_predictions(path)


def _faults(prediction: Prediction) -> list[str]:
    """What does not fit together in a prediction: "field: what is expected"."""
    options, problems = prediction.options, []
    if not options:
        return [] if prediction.says.strip() else ["says: a question without options needs what to say of it"]
    if len(options) == 1:
        problems.append("options: give at least two, or none for a free answer")
    if len(set(prediction.choices)) < len(options):
        problems.append("options: two have the same text")
    if not any(option.held for option in options):
        problems.append("options: none held; give one held = true, or in words on what it depends")
    if all(option.held is True for option in options):
        problems.append("options: every one held; at least one must not")
    if SURPRISE in prediction.texts:
        problems.append(f"texts.{SURPRISE}: this name belongs to the field {SURPRISE}; choose another")
    return problems


def _problem(path: Path, data: dict, fault) -> str:
    """What does not fit at one place of a file, with a prediction's id in place of its number."""
    place, where, model = tuple(fault["loc"]), str(path), PredictionFile
    rows = data.get("prediction")
    if len(place) > 1 and place[0] == "prediction" and isinstance(rows, list):
        row = rows[place[1]]
        name = row.get("id") if isinstance(row, dict) else None
        where += f": prediction {name!r}" if name else f": prediction number {place[1] + 1}"
    words = told(fault, model)
    inside = place[2:] if where != str(path) else place
    return f"{where}: {spot(inside) or 'file'}: {words}"
