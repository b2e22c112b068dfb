"""Where the lessons and exercises lie: in the clone, or in the installed package.

This module stands below all the others and imports none of them.
"""

import difflib
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent
NAMES = ("notebooks", "exercises")


def content_folder(name: str) -> Path:
    """The folder that holds the lessons or the exercises.

    In a clone of the project the folders lie beside the package; an installed wheel carries them
    inside it, under ``gearlab/content``.

    name: ``"notebooks"`` or ``"exercises"``.
    Returns an existing folder.
    ValueError if the name is another one, or the folder is missing from the installation.

    >>> content_folder("exercises").name
    'exercises'
    """
    if name not in NAMES:
        raise ValueError(f"content folder {name!r}: there are {' and '.join(NAMES)}; use one of them")
    clone = PACKAGE.parent
    places = [PACKAGE / "content" / name]
    # A clone is told from a site-packages folder by its project file: a foreign "notebooks" folder
    # that happens to lie beside the installed package is never taken for ours.
    if (clone / "pyproject.toml").is_file():
        places.insert(0, clone / name)
    for place in places:
        if place.is_dir():
            return place
    raise ValueError(
        f"content folder {name!r}: not found in {' or '.join(map(str, places))}; install gearlab again"
    )


def lesson_bank(lesson: str) -> Path:
    """The question bank of one lesson.

    lesson: name of its folder in the exercises, such as ``"03_centre_distance"``.
    Returns the file ``bank.toml`` of that lesson.
    ValueError if there is no such lesson; the message lists those there are.
    """
    return _lesson_file(lesson, "bank.toml", "question bank")


def lesson_predictions(lesson: str) -> Path:
    """What one lesson asks before it shows anything: the file ``predictions.toml`` in its folder.

    lesson: name of that folder, such as ``"03_centre_distance"``.
    ValueError if there is no such lesson; the message lists those there are.
    """
    return _lesson_file(lesson, "predictions.toml", "file of predictions")


def lessons_with_bank() -> list[str]:
    """The lessons that have a question bank, by the names of their folders."""
    return _lessons("bank.toml")


def _lessons(file: str) -> list[str]:
    return sorted(path.parent.name for path in content_folder("exercises").glob(f"*/{file}"))


def _lesson_file(lesson: str, file: str, what: str) -> Path:
    exercises, lessons = content_folder("exercises"), _lessons(file)
    if lesson not in lessons:
        number = lesson.zfill(2) if lesson.isdigit() else lesson
        near = [name for name in lessons if name.startswith(f"{number}_") or name[3:] == lesson]
        near = near or difflib.get_close_matches(lesson, lessons, 1)
        raise ValueError(
            f"lesson {lesson!r}: no {what} of that name"
            + (f"; did you mean {near[0]}?" if near else "")
            + f" (there are {', '.join(lessons) or 'none'})"
        )
    return exercises / lesson / file


def set_file(name: str) -> Path:
    """The file of a set that comes with the exercises.

    name: its name, such as ``"homework-1"`` or ``"homework_1"``.
    Returns the set's file.
    ValueError if there is no such set; the message lists those there are.
    """
    sets = content_folder("exercises") / "sets"
    file = sets / f"{name.removesuffix('.toml').replace('-', '_')}.toml"
    if file.parent != sets or not file.is_file():
        there = ", ".join(sorted(path.stem.replace("_", "-") for path in sets.glob("*.toml"))) or "none"
        raise ValueError(
            f"set {name}: there is no such file, and no set of that name comes with the exercises; there are"
            f" {there}"
        )
    return file


def lab_file(name: str) -> Path:
    """The file of a run sheet that comes with the exercises.

    name: its name, or the beginning of it, such as ``"lab-1"``.
    ValueError if there is no such run sheet; the message lists those there are.
    """
    labs = content_folder("exercises") / "labs"
    stem = name.removesuffix(".toml").replace("-", "_")
    there = sorted(path for path in labs.glob("*.toml"))
    fits = [path for path in there if path.stem == stem or path.stem.startswith(f"{stem}_")]
    if len(fits) != 1:
        raise ValueError(
            f"run sheet {name}: there is no such file, and none of that name comes with the exercises;"
            f" there are {', '.join(path.stem.replace('_', '-') for path in there) or 'none'}"
        )
    return fits[0]
