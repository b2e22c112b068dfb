"""The reader's own copy of the lessons, and JupyterLab opened on it."""

import datetime
import hashlib
import itertools
import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from gearlab.contents import content_folder
from gearlab.course import landing
from gearlab.practice.workbook.glossary import FORMULAS, GLOSSARY
from gearlab.writing import write_whole

DEFAULT_FOLDER = Path("~/gearlab-workbook")
RECORD = ".gearlab-workbook.json"
# JupyterLab's settings for the workbook: without them it asks about news on its first start.
SETTINGS = Path(__file__).resolve().parent / "lab_settings"


@dataclass(frozen=True)
class Workbook:
    """A reader's folder of lessons after it was brought up to date.

    copied: lessons copied for the first time.
    beside: newer editions put beside the reader's own files.
    """

    folder: Path
    copied: tuple[str, ...]
    beside: tuple[str, ...]

    def lesson(self, wanted: str) -> Path:
        """The reader's file of one lesson.

        wanted: its number (``"3"``, ``"03"``) or the beginning of its name.
        ValueError if no lesson, or more than one, fits.
        """
        names = [path.stem for path in _lessons()]
        plain = wanted.removesuffix(".ipynb")
        number = f"{int(plain):02d}_" if plain.isascii() and plain.isdigit() else plain
        fitting = [name for name in names if name == plain] or [
            name for name in names if name.startswith(number)
        ]
        if len(fitting) != 1:
            raise ValueError(
                f"lesson {wanted!r}: {'several fit' if fitting else 'there is none'}; choose one of"
                f" {', '.join(names)}"
            )
        return self.folder / f"{fitting[0]}.ipynb"


def _lessons() -> list[Path]:
    return sorted(content_folder("notebooks").glob("[0-9]*.ipynb"))


def _companions() -> list[Path]:
    """Files beside the lessons that they show or read: pictures, a design; not the pictures of the README."""
    return sorted(
        path
        for path in content_folder("notebooks").iterdir()
        if path.suffix in (".svg", ".png", ".toml") and not path.name.startswith("readme_")
    )


def bring_up_to_date(folder: Path = DEFAULT_FOLDER, today: datetime.date | None = None) -> Workbook:
    """Make the reader's copy of the lessons, or add what is new; nothing of theirs is overwritten.

    A lesson that has a newer edition than the one copied last is put beside the reader's file, with the
    date in its name.

    folder: the reader's folder, made if missing; ``~`` is the home folder.
    today: the date put into the name of a newer edition; default: today.
    ValueError if the folder cannot be written, or is the project's own folder of lessons.
    """
    folder = Path(folder).expanduser().resolve()
    source = content_folder("notebooks").resolve()
    if folder == source or folder.is_relative_to(source):
        raise ValueError(
            f"folder {folder}: holds the lessons themselves; choose a folder of your own for your copy"
        )
    today = today or datetime.date.today()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return _update(folder, today)
    except OSError as error:
        raise ValueError(
            f"folder {folder}: cannot be written ({error.strerror}); choose another with --folder"
        ) from None


def _update(folder: Path, today: datetime.date) -> Workbook:
    record_file = folder / RECORD
    editions = _read_record(record_file)
    copied, beside = [], []
    for lesson in [*_lessons(), *_companions()]:
        content = lesson.read_bytes()
        edition = hashlib.sha256(content).hexdigest()
        own = folder / lesson.name
        if not own.exists():
            write_whole(own, content)
            copied.append(own.name)
        elif lesson.suffix != ".ipynb" and _digest(own) == editions.get(lesson.name):
            write_whole(own, content)  # nobody changed it: the lessons show or read it by its name
        elif editions.get(lesson.name) != edition and own.read_bytes() != content:
            beside.append(_put_beside(own, today, content))
        editions[lesson.name] = edition
    beside += _bring_course_page(folder, editions, today)
    beside += _bring_pages(folder, editions, today)
    write_whole(record_file, json.dumps(editions, indent=1, sort_keys=True) + "\n")
    return Workbook(folder, tuple(copied), tuple(beside))


def _bring_course_page(folder: Path, editions: dict[str, str], today: datetime.date) -> list[str]:
    """The course page with today's page in it; a newer edition takes its place where nobody changed it."""
    source, own, beside = content_folder("notebooks") / landing.COURSE, folder / landing.COURSE, []
    if not source.is_file():
        return []
    content = source.read_bytes()
    newest, kept = landing.edition(content), own.read_bytes() if own.exists() else content
    if editions.get(own.name) not in (None, newest) and landing.edition(kept) == editions[own.name]:
        kept = content
    elif editions.get(own.name) != newest and landing.edition(kept) != newest:
        beside.append(_put_beside(own, today, content))
    editions[own.name] = newest
    told = landing.with_page(kept, folder, today)
    if not own.exists() or told != own.read_bytes():
        write_whole(own, told)
    return beside


def _bring_pages(folder: Path, editions: dict[str, str], today: datetime.date) -> list[str]:
    """Write glossary and formula sheet where they are missing or older; nobody's own is touched."""
    made_of, beside = landing.made_of(), []
    names = [f"{name}.{kind}" for name in (GLOSSARY, FORMULAS) for kind in ("md", "html")]
    if editions.get("pages") == made_of and all((folder / name).exists() for name in names):
        return []
    for name, text in landing.pages().items():
        own, content = folder / name, text.encode()
        if not own.exists() or _digest(own) == editions.get(name):
            write_whole(own, content)
        elif own.read_bytes() != content:
            beside.append(_put_beside(own, today, content))
        editions[name] = hashlib.sha256(content).hexdigest()
    editions["pages"] = made_of
    return beside


def _read_record(path: Path) -> dict[str, str]:
    """Which edition of each lesson was copied last; a damaged record counts as none."""
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return record if isinstance(record, dict) else {}


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _put_beside(own: Path, today: datetime.date, content: bytes) -> str:
    """Write a newer edition beside the reader's file, under a name that takes nobody's place.

    The same edition keeps its name, which is told.
    """
    for count in itertools.count(1):
        again = f", {count}" if count > 1 else ""
        newer = own.with_name(f"{own.stem} (edition {today.isoformat()}{again}){own.suffix}")
        if not newer.exists() or newer.read_bytes() == content:
            break
    write_whole(newer, content)
    return newer.name


def lab_command(workbook: Workbook, lesson: str | None = None, browser: bool = True) -> list[str]:
    """The command that opens JupyterLab on the reader's copy.

    lesson: the lesson to open; default: the course page.
    browser: whether JupyterLab opens a browser window.
    Returns program and arguments.
    """
    lessons = _lessons()
    course = workbook.folder / landing.COURSE
    first = course if course.is_file() else workbook.folder / lessons[0].name if lessons else workbook.folder
    page = workbook.lesson(lesson) if lesson else first
    command = [
        sys.executable,
        "-m",
        "jupyterlab",
        str(page),
        f"--ServerApp.root_dir={workbook.folder}",
        "--Application.log_level=WARN",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        f"--LabApp.app_settings_dir={SETTINGS}",
    ]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        command.append("--allow-root")  # a container's only user; the server listens on this machine alone
    return command if browser else [*command, "--no-browser"]


def open_lab(command: list[str]) -> int:
    """Run JupyterLab until the reader stops it.

    command: what ``lab_command`` gives.
    """
    sys.stdout.flush()
    if os.name == "posix":
        os.execv(command[0], command)  # JupyterLab takes this process over: every signal reaches it
    process = subprocess.Popen(command)
    while True:
        try:
            return process.wait()
        except KeyboardInterrupt:
            continue  # JupyterLab got the same Ctrl+C, and asks or ends by itself
