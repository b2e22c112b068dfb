"""A simulated term: four sets, three sections, and everything that happens to a course; with its own truth.

What each student types is right, a slip that the bank lists with its credit, the inverse ratio, a number that
is far from everything, or nothing, so that its points are known before anything is marked. Right values come
from the plain definitions (greenhouse.py). The truth is added up here by plain arithmetic with fractions and
never by the package; late deductions, the best two of three and the weights are common practice.

In every thirty students each thing happens once; `Term.roles` says to whom.
"""

import csv
import json
import random
import zipfile
from fractions import Fraction as F
from pathlib import Path

from greenhouse import BANK, WHY_PLAY, hand_in, right_answers, sheet_of
from typer.testing import CliRunner

from gearlab.cli import app

REASONS = '[bank]\ntitle = "Play in the vent drive"\nlesson = "08"\n' + WHY_PLAY
# The inverse ratio as a listed slip, so that what it earned before the key was corrected is known.
VENT = BANK.replace(
    'given = ["driver_teeth", "driven_teeth"]\ntolerance = { relative = 0.002 }\n',
    'given = ["driver_teeth", "driven_teeth"]\ntolerance = { relative = 0.002 }\n'
    '[[question.answers.slips]]\nname = "inverse"\ntitle = "the inverse ratio"\n'
    'formula = "driver_teeth/driven_teeth"\nsays = "Which of the two turns more often?"\ncredit = 0.5\n',
)
SETS = {
    "homework-1": (
        "Homework 1: the vent drive",
        "shafts pinion pitch inch-shafts speed formula direction",
    ),
    "homework-2": ("Homework 2: play", "why-play shafts direction"),
    "homework-3": ("Homework 3: sizes", "shafts inch-shafts pinion pitch"),
    "lab-1": ("Lab 1: speeds", "speed inch-shafts formula"),
}
# Points of each answer, as the banks give them; why-play has 2, the set makes 4 of them.
ANSWERS = {
    "shafts": {"centre_distance": F(2)},
    "pinion": {"pitch_diameter": F(1), "outside_diameter": F(1), "base_diameter": F(1)},
    "pitch": {"circular_pitch": F(1)},
    "inch-shafts": {"centre_distance": F(1)},
    "speed": {"driven_speed": F(2), "ratio": F(1)},
    "formula": {"centre_distance": F(1)},
    "direction": {"choice": F(1)},
    "why-play": {"text": F(4)},
}
SLIPS = {"shafts": F(1, 4), "inch-shafts": F(1, 2)}
TERM = """
[term]
title = "Autumn term"
[[term.group]]
name = "homework"
sets = ["homework-1", "homework-2", "homework-3"]
weight = 60
best = 2
[[term.group]]
name = "lab"
sets = ["lab-1"]
weight = 40
"""
GIVEN = [
    "Ada",
    "Ben",
    "Cleo",
    "Dan",
    "Eva",
    "Finn",
    "Gus",
    "Hana",
    "Ivo",
    "Jo",
    "Kim",
    "Lea",
    "Max",
    "Nia",
    "Otto",
    "Pia",
    "Quin",
    "Rosa",
    "Sam",
    "Tess",
]
FAMILY = [
    "North",
    "West",
    "Ford",
    "Hill",
    "Lake",
    "Moor",
    "Reed",
    "Wood",
    "Dale",
    "Marsh",
    "Brook",
    "Stone",
    "Field",
    "Grove",
    "Shaw",
]
BLOCK = 30
ROLES = [
    "late",
    "ill",
    "ill-late",
    "absent",
    "missing",
    "attempts",
    "twin",
    "copy",
    "uploader",
    "owner",
    "by-hand",
    "late-points",
    "extra",
    "open",
]
TEXTS = (
    ("It looks better.", 0),
    ("Gears grow when they are warm.", 1),
    ("The teeth would press on both flanks and the drive would jam.", 1),
    ("Warm gears grow, and without room both flanks touch.", 2),
    ("Holes are never exact, so both flanks could touch and jam.", 2),
)


def run(*words, code=0):
    """A command as an instructor types it; gives what it says."""
    result = CliRunner().invoke(app, [str(word) for word in words], env={"COLUMNS": "200"})
    assert result.exit_code == code, f"{words}: {result.output}"
    return result.output


class Term:
    """The whole term of a class in a course folder.

    students: how many, a multiple of thirty.
    """

    def __init__(self, folder, students=30, seed=1):
        assert students % BLOCK == 0
        self.course = Path(folder) / "course"
        self.chance = random.Random(seed)
        self.ids = [f"{n:05d}" for n in range(101, 101 + students)]
        self.names = {i: f"{GIVEN[n % 20]} {FAMILY[n // 20]}" for n, i in enumerate(self.ids)}
        self.section = {i: "ABC"[n % 3] for n, i in enumerate(self.ids)}
        self.roles = {
            role: [self.ids[block + place] for block in range(0, students, BLOCK)]
            for place, role in enumerate(ROLES)
        }
        #: set -> student -> question -> answer -> what was typed: right, slip, inverse, odd, empty, or a text
        self.typed: dict = {name: {} for name in SETS}
        self.reading: dict = {}  # student -> what the two assistants gave: first, second, agreed
        self.files: dict = {name: [] for name in SETS}  # (folder in the zip, file, content)

    # -- what an instructor and students do ------------------------------------------------------------
    def begin(self):
        """Course, class list, sets, sheets."""
        run("course", self.course)
        with open(self.course / "roster.csv", "w", encoding="utf-8", newline="") as file:
            rows = csv.writer(file)
            rows.writerow(("id", "name", "section", "email"))
            rows.writerows(
                (
                    i,
                    self.names[i],
                    self.section[i],
                    f"{self.names[i].replace(' ', '.').lower()}@school.example",
                )
                for i in self.ids
            )
        with open(self.course / "course.toml", "a", encoding="utf-8") as file:
            file.write(TERM)
        sets = self.course / "sets"
        (sets / "vent.toml").write_text(VENT, encoding="utf-8")
        (sets / "play.toml").write_text(REASONS, encoding="utf-8")
        for name, (title, questions) in SETS.items():
            text = f'[set]\nname = "{name}"\ntitle = "{title}"\nuse = "marked"\n'
            for question in questions.split():
                bank, points = ("play", "points = 4\n") if question == "why-play" else ("vent", "")
                text += f'[[question]]\nbank = "{bank}.toml"\nid = "{question}"\n{points}'
            (sets / f"{name}.toml").write_text(text, encoding="utf-8")
            run("hand-out", name, "--course", self.course)

    def hand_in(self):
        """Everybody works on everything; what comes goes into one zip a set, a folder for each sender."""
        for name in SETS:
            for number, student in enumerate(self.ids):
                self._work(name, number, student)
            place = self.course / "hand-ins" / f"{name}.zip"
            with zipfile.ZipFile(place, "w", zipfile.ZIP_DEFLATED) as archive:
                for folder, file, content in self.files[name]:
                    archive.writestr(f"{folder}/{file}", content)

    def _is(self, student, role):
        return student in self.roles[role]

    def _work(self, name, number, student):
        away = (
            (name == "homework-1" and self._is(student, "ill"))
            or (name == "lab-1" and self._is(student, "absent"))
            or (name == "homework-3" and self._is(student, "missing"))
        )
        if away:
            return
        sheet = sheet_of(self.course / "handed-out" / name / "notebooks" / f"{name}_{student}.ipynb")
        answers, kinds = self._answers(name, number, student, sheet)
        self.typed[name][student] = kinds
        folder = f"{self.names[student]}"
        if name == "homework-3" and self._is(student, "uploader"):
            self.typed[name].pop(student)  # sends the owner's file in place of an own one
            return
        self.files[name].append((folder, sheet["file"], hand_in(sheet, answers)))
        if name == "homework-3" and self._is(student, "owner"):
            other = self.ids[self.ids.index(student) - 1]
            self.files[name].append((self.names[other], sheet["file"], hand_in(sheet, answers)))
        if name == "homework-1" and self._is(student, "attempts"):
            worse = {q: dict.fromkeys(a, "") for q, a in answers.items()} | {"formula": answers["formula"]}
            file = sheet["file"].replace(".json", " (1).json")
            self.files[name].append((folder, file, hand_in(sheet, worse, saved=9)))

    def _answers(self, name, number, student, sheet):
        """What a student types in a set, and what each of it is."""
        questions = SETS[name][1].split()
        right = _right(sheet)
        answers: dict = {question: dict(right.get(question, {})) for question in questions}
        kinds = {question: dict.fromkeys(ANSWERS[question], "right") for question in questions}
        for question in questions:
            for answer in ANSWERS[question]:
                kind = self._kind(name, student, question, answer)
                kinds[question][answer] = kind
                if kind == "empty":
                    answers[question][answer] = ""
                elif kind != "right":
                    answers[question][answer] = self._wrong(kind, number, question, answer, sheet)
        if "why-play" in questions:
            text, worth = self.chance.choice(TEXTS)
            answers["why-play"] = {"text": f"{text} Bench {number}."}
            kinds["why-play"] = {"text": text}
            self.reading[student] = self._read(worth)
            if self._is(student, "open"):
                self.reading[student] = (None, None, None)
        if name == "homework-1" and self._is(student, "attempts"):
            answers = {q: dict(right[q]) for q in questions}
            kinds = {q: dict.fromkeys(ANSWERS[q], "right") for q in questions}
        return answers, kinds

    def _kind(self, name, student, question, answer):
        if name == "homework-1" and (self._is(student, "twin") or self._is(student, "copy")):
            return "odd" if question in ("shafts", "pinion", "inch-shafts") else "right"
        chance = self.chance.random()
        if chance < 0.1:
            return "empty"
        if chance < 0.3 and question in SLIPS:
            return "slip"
        return "inverse" if chance < 0.3 and answer == "ratio" else "right"

    @staticmethod
    def _wrong(kind, number, question, answer, sheet):
        givens = _givens(sheet)[question]
        if kind == "inverse":
            return f"{givens['driver_teeth'] / givens['driven_teeth']:.6f}"
        if (
            kind == "odd"
        ):  # the same of both twins, over 2000 times what is asked, which no unit is, and far apart
            place = list(ANSWERS).index(question) + 2 * list(ANSWERS[question]).index(answer)
            return f"{520_000 * (1 + 0.15 * place) + 137.31 * (number // BLOCK):.2f}"
        if question == "shafts":  # the outside radii added
            return f"{givens['module'] * (givens['driver_teeth'] + givens['driven_teeth'] + 4) / 2:.4f} mm"
        both = givens["driver_teeth"] + givens["driven_teeth"]
        return f"{both / givens['diametral_pitch']:.5f} in"  # the diameters added

    def _read(self, worth):
        """Two assistants: the second reads a third of the texts, and sometimes otherwise."""
        first, second, agreed = F(worth), None, None
        if self.chance.random() < 1 / 3:
            second = min(F(2), max(F(0), first + self.chance.choice((F(-1), F(-1, 2), F(0), F(0), F(1, 2)))))
            if abs(second - first) > F(1, 2):
                agreed = (first + second) / 2
        return first, second, agreed

    def mark(self, *names):
        """Mark sets; what is said of each."""
        return {name: run("mark", name, "--course", self.course) for name in names or SETS}

    def read_texts(self):
        """The list of texts, filled in as two assistants would."""
        path = self.course / "reasons" / "homework-2.csv"
        with open(path, encoding="utf-8-sig", newline="") as file:
            rows = list(csv.DictReader(file))
        assert not any(name in path.read_text(encoding="utf-8-sig") for name in self.names.values())
        for row in rows:
            student = self.ids[int(row["text"].rsplit("Bench ", 1)[1].rstrip("."))]
            first, second, agreed = self.reading[student]
            for column, points, by in (("points", first, "by"), ("second points", second, "second by")):
                if points is not None:
                    row[column] = f"{float(points):g}"
                    row[by] = "A. Assistant" if by == "by" else "B. Assistant"
            if agreed is not None:
                row["agreed points"] = f"{float(agreed):g}"
        with open(path, "w", encoding="utf-8-sig", newline="") as file:
            out = csv.DictWriter(file, list(rows[0]))
            out.writeheader()
            out.writerows(rows)

    def decide(self):
        """What people decide after the first marking, one file a set."""
        head = {name: [f'set = "{name}"'] for name in SETS}
        by = 'by = "B. Instructor"\nwhy = "{}"\n'

        def add(name, kind, lines, why):
            head[name].append(f"[[{kind}]]\n{lines}\n" + by.format(why))

        def who(role):
            return f"students = {json.dumps(self.roles[role])}"

        corrected = (
            'question = "speed"\nanswer = "ratio"\nformula = "driver_teeth/driven_teeth"\nold = "stands"'
        )
        add("homework-1", "wrong_key", corrected, "The sentence asked for turns of the wheel.")
        add(
            "homework-1",
            "leave_out",
            'question = "pitch"\npoints = "fall"',
            "The prompt could be read in two ways.",
        )
        days = f"{who('late')}\ndue = 2026-11-20\ncame = 2026-11-23\nper_cent_a_day = 10\nat_most = 50"
        add("homework-1", "late", days, "Three days after the hour.")
        add("homework-1", "extra_time", f"{who('late')}\ndays = 1", "Agreed with the office.")
        add("homework-1", "extra_time", f"{who('extra')}\nminutes = 30", "Agreed with the office.")
        add("homework-1", "excused", who("ill"), "Ill, with a note.")
        add(
            "homework-1",
            "attempt",
            f'{who("attempts")}\ncounts = "best"',
            "The second file was sent by mistake.",
        )
        points = f'{who("by-hand")}\nquestion = "shafts"\npoints = 1.5'
        add("homework-2", "set_points", points, "The way was right on paper.")
        add("homework-3", "excused", who("ill-late"), "Ill, with a note.")
        flat = f"{who('late-points')}\ndays = 4\npoints_a_day = 0.5\nat_most = 1.5"
        add("homework-3", "late", flat, "Four days after the hour.")
        add("lab-1", "absent", who("absent"), "No word.")
        for name, tables in head.items():
            path = self.course / "decisions" / f"{name}.toml"
            path.write_text("\n\n".join(tables), encoding="utf-8")

    # -- the truth, by plain arithmetic ----------------------------------------------------------------
    def answer_points(self, name, student, question, answer, decided=True):
        """Points of one answer; None while they are open."""
        kind, most = self.typed[name][student][question][answer], ANSWERS[question][answer]
        if question == "why-play":
            first, second, agreed = self.reading[student] if decided else (None, None, None)
            if first is None:
                return None
            counts = agreed if agreed is not None else first if second is None else (first + second) / 2
            return counts * most / 2
        if decided and name == "homework-1" and question == "pitch":
            return F(0)
        share = {"right": F(1), "slip": SLIPS.get(question, F(0)), "inverse": F(1, 2)}.get(kind, F(0))
        if decided and name == "homework-1" and kind == "inverse":
            share = F(1)
        return share * most

    def set_points(self, name, student, decided=True):
        """Points of a set and what they are of: (None, None) for no mark, "excused" as a third."""
        out_of = sum(sum(ANSWERS[q].values()) for q in SETS[name][1].split())
        if decided and name == "homework-1":
            out_of -= 1
            if self._is(student, "ill"):
                return None, out_of, "excused"
        if decided and name == "homework-3" and self._is(student, "ill-late"):
            return None, out_of, "excused"
        if decided and name == "lab-1" and self._is(student, "absent"):
            return F(0), out_of, ""
        if student not in self.typed[name]:
            return None, out_of, "missing"
        points = F(0)
        for question in SETS[name][1].split():
            own = sum(self.answer_points(name, student, question, a, decided) or 0 for a in ANSWERS[question])
            if decided and name == "homework-2" and question == "shafts" and self._is(student, "by-hand"):
                own = F(3, 2)
            if not decided and name == "homework-1" and self._is(student, "attempts"):
                own = own if question == "formula" else F(0)  # the later file, which is nearly empty
            points += own
        if decided and name == "homework-1" and self._is(student, "late"):
            points -= points * 2 / 10  # three days, one of them given
        if decided and name == "homework-3" and self._is(student, "late-points"):
            points -= min(points, F(3, 2))
        return points, out_of, ""

    def term_points(self, student):
        """The mark of the term before it is rounded: 60 homework (the best 2), 40 lab."""
        shares = []
        for name in SETS:
            points, out_of, why = self.set_points(name, student)
            shares.append(None if why == "excused" else F(0) if points is None else points / out_of)
        homework = sorted((share for share in shares[:3] if share is not None), reverse=True)[:2]
        return 60 * sum(homework) / len(homework) + 40 * shares[3]


def _givens(sheet):
    return {q["id"]: {n: float(text) for n, text in q["givens"].items()} for q in sheet["questions"]}


def _right(sheet):
    """Right answers to the questions of a sheet, by the plain definitions of greenhouse.py."""
    there = {q["id"] for q in sheet["questions"]}
    whole = {
        "questions": [q for q in sheet["questions"] if q["id"] != "why-play"]
        + [
            {"id": name, "givens": {}, "options": ["Counter-clockwise"]}
            for name in ANSWERS
            if name not in there
        ]
    }
    names = "driver_teeth driven_teeth module teeth pressure_angle diametral_pitch driver_speed"
    for question in whole["questions"]:
        if question["id"] not in there:  # not asked; only so that the whole can be worked out
            question["givens"] = dict.fromkeys(names.split(" "), "1")
    return {name: typed for name, typed in right_answers(whole).items() if name in there}
