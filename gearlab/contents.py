"""Where the lessons and exercises lie: in the clone, or in the installed package.

This module stands below all the others and imports none of them.
"""

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent
NAMES = ("notebooks", "exercises")


def content_folder(name: str) -> Path:
    """The folder that holds the lessons or the exercises.

    In a clone of the project the folders lie beside the package; an installed wheel carries them
    inside it, under ``gearlab/content``.

    Parameters
    ----------
    name : str
        ``"notebooks"`` or ``"exercises"`` [-].

    Returns
    -------
    pathlib.Path
        An existing folder [-].

    Raises
    ------
    ValueError
        If the name is another one, or the folder is missing from the installation.

    Examples
    --------
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

    Parameters
    ----------
    lesson : str
        Name of its folder in the exercises, such as ``"03_centre_distance"`` [-].

    Returns
    -------
    pathlib.Path
        The file ``bank.toml`` of that lesson [-].

    Raises
    ------
    ValueError
        If there is no such lesson; the message lists those there are.
    """
    exercises = content_folder("exercises")
    lessons = sorted(bank.parent.name for bank in exercises.glob("*/bank.toml"))
    if lesson not in lessons:
        raise ValueError(f"lesson {lesson!r}: no question bank of that name; there are {', '.join(lessons) or 'none'}")
    return exercises / lesson / "bank.toml"
