"""The capstone, from hand-out to feedback: a sound design, and three that fail in different ways.

Every number a student hands in is worked out here by hand from the sheet, by the plain definitions: C = m (N1
+ N2) / 2, d_o = m (N + 2); along the wheel's shaft 8.5 + 6 + 2.5 + 25 + 3 = 45 mm; wall of the hub (28 - 10)
/ 2 = 9 mm and 0.5 mm of flat leave 9.5 mm for the screw; crank torque = F m N5 / 2 N1 / (N2 eta^3), opening
angle = 2 asin(s / 2 A).
"""

import csv
import json
import math
import re

import pytest
from greenhouse import hand_in, sheet_of

from gearlab.contents import content_folder
from gearlab.course import Roster, Student, hand_out, make_key, mark

SET = content_folder("exercises") / "sets" / "homework_8.toml"
ROSTER = Roster(
    [
        Student("001", "Ada Lind"),
        Student("002", "Ben Oak"),
        Student("003", "Cy Reed"),
        Student("004", "Di Marsh"),
    ]
)
# the drive as it should be
SOUND = {"hole_spacing": 78.75, "plate_length": 220.0, "hub_diameter": 28.0, "screw_length": 8.0}
BRIEF, REPAIR = "design-brief", "repair-with-one-change"
BROKEN = ("no undercut", "hub below the root circle", "screw below the surface")


def letters(question: dict, words: tuple[str, ...]) -> str:
    return ", ".join(
        "abcdefgh"[place] for place, text in enumerate(question["options"]) if text.startswith(words)
    )


def teeth_for(givens: dict) -> int:
    return math.floor(18 * float(givens["wanted_ratio"]) + 0.5)


def brief(who: str, givens: dict) -> dict[str, str]:
    """The six numbers of a student's design."""
    wheel, longest = teeth_for(givens), givens["longest_plate"]
    good = {
        "driver_teeth": "18",
        "driven_teeth": f"{wheel} teeth",
        "hole_spacing": f"{1.25 * (18 + wheel)} mm",
        "plate_length": longest,
        "shaft_length": "45",
        "screw_length": "8 mm",
    }
    return (
        good
        | {
            "001": {},
            # from the outside diameters
            "002": {"hole_spacing": f"{1.25 * (18 + wheel + 4)}"},
            # a shaft 5 mm short; a screw 2.5 mm too long
            "003": {"shaft_length": "40", "screw_length": "1.2 cm"},
            "004": {
                "driver_teeth": "14",
                "driven_teeth": "45",
                "hole_spacing": "73.75",
                "plate_length": "230",
                "screw_length": "M5",
            },
        }[who]
    )


def repair(who: str, givens: dict) -> dict[str, str]:
    """What a student makes of the failing design."""
    now = {
        name: givens[given]
        for name, given in (
            ("hole_spacing", "spacing_now"),
            ("plate_length", "plate_now"),
            ("hub_diameter", "hub_now"),
            ("screw_length", "screw_now"),
        )
    }
    mended = {name: f"{value:g}" for name, value in SOUND.items()}
    return {
        "001": mended,
        "002": now,
        "003": (
            mended | {"plate_length": "240"}
            if now["plate_length"] == "220"
            else mended | {"hub_diameter": "27"}
        ),
        "004": mended,
    }[who]


def answers_of(who: str, sheet: dict) -> dict[str, dict[str, str]]:
    asked = {question["id"]: question for question in sheet["questions"]}
    force, drive = asked["hand-force"]["givens"], asked["opening-angle"]["givens"]
    force = {name: float(text) for name, text in force.items()}
    torque = force["design_force"] * force["module"] * force["vent_pinion_teeth"] / 2000
    crank = torque * force["driver_teeth"] / force["driven_teeth"] / force["efficiency"] ** 3
    angle = 2 * math.degrees(math.asin(float(drive["rack_travel"]) / 2 / float(drive["joint_distance"])))
    return {
        "crank-turns-formula": {"crank_turns": "s*N2/(pi*m*N5*N1)"},
        "hand-force": {
            "vent_torque": f"{torque:.5g} Nm",
            "crank_torque": f"{crank:.5g} N m",
            "hand_force": f"{1000 * crank / force['crank_radius']:.5g} N",
        },
        "opening-angle": {"opening_angle": f"{angle:.2f}°"},
        "which-lines-fail": {"choice": letters(asked["which-lines-fail"], BROKEN)},
        "repair-with-one-change": repair(who, asked["repair-with-one-change"]["givens"]),
        "design-brief": brief(who, asked["design-brief"]["givens"]),
        "before-the-crank-turns": {
            "choice": letters(
                asked["before-the-crank-turns"], ("Not yet",) if who != "004" else ("Yes: the review",)
            ),
            "reason": "A review sees no brake.",
        },
    }


@pytest.fixture(scope="module")
def marked(tmp_path_factory):
    folder = tmp_path_factory.mktemp("capstone")
    key = make_key(folder / "own.key")
    hand_out(SET, ROSTER, key, folder / "out")
    (folder / "came").mkdir()
    for who in ("001", "002", "003", "004"):
        sheet = sheet_of(folder / "out" / "notebooks" / f"homework-8_{who}.ipynb")
        (folder / "came" / sheet["file"]).write_text(hand_in(sheet, answers_of(who, sheet)))
    mark(folder / "came", SET, ROSTER, key, folder / "results")
    return folder


@pytest.fixture(scope="module")
def verdicts(marked):
    """What became of each answer: (student, question, answer) to its record."""
    return {
        (one["student"], one["question"], one["answer"]): one
        for one in json.loads((marked / "results" / "evidence.json").read_text())["records"]
    }


def page(marked, who: str) -> str:
    return (marked / "results" / "feedback" / f"{who}.html").read_text()


def test_the_sheet_tells_nothing_of_the_conditions(marked):
    sheet = sheet_of(marked / "out" / "notebooks" / "homework-8_001.ipynb")
    assert not re.search("example|finding|fails_for|hub_projection", json.dumps(sheet))
    assert [field["id"] for field in sheet["questions"][5]["answers"]] == [
        "driver_teeth",
        "driven_teeth",
        "hole_spacing",
        "plate_length",
        "shaft_length",
        "screw_length",
    ]


def test_points(marked):
    with open(marked / "results" / "gradebook.csv", encoding="utf-8-sig") as file:
        points = {row["id"]: row["points"] for row in csv.DictReader(file)}
    # of 20. Ben: brief 1 (holes) and 2 (everything else of the review), repair 4 lost; Cy: shaft 1, screw 1
    # and "one change" 2/5 of 4 lost; Di: ratio 1, plate 1, and with a screw that cannot be read the screw's 1
    # and the rest of the review 2; and the choice 1
    assert points == {"001": "20", "002": "13", "003": "16.4", "004": "14"}


def test_the_sound_design_is_right_throughout(marked, verdicts):
    mine = [one for (who, *_), one in verdicts.items() if who == "001"]
    assert {one["verdict"] for one in mine} == {"right"} and sum(one["points"] for one in mine) == 20
    assert "The review finds nothing that will not work or will trouble." in page(marked, "001")


def test_each_failure_is_told_with_its_number(marked, verdicts):
    wheel = teeth_for(
        {
            question["id"]: question["givens"]
            for question in sheet_of(marked / "out" / "notebooks" / "homework-8_002.ipynb")["questions"]
        }["design-brief"]
    )
    tips = 1.25 * (18 + wheel + 4)
    assert verdicts["002", BRIEF, "review"]["causes"] == ["tips-do-not-reach"]
    assert (
        f"Tips do not reach (pinion with wheel): the shafts are {tips:g} mm apart. The tips reach each"
        f" other below {tips:g} mm." in page(marked, "002")
    )
    assert (
        f"Centre distance comes out as {1.25 * (18 + wheel):g} mm; wanted: holes within 0.2 mm of it."
        in page(marked, "002")
    )
    assert (
        verdicts["003", BRIEF, "shaft"]["causes"],
        verdicts["003", BRIEF, "screw"]["causes"],
        verdicts["003", REPAIR, "one-change"]["verdict"],
    ) == (["shaft-too-short"], ["screw-stands-out"], "not met")
    assert "it is 40 mm long, 5 mm short. Collar, plate, gap, gear and end need 45 mm." in page(marked, "003")
    assert (
        "a set screw of 12 mm projects 2.5 mm from the hub. Up to 9.5 mm it stays below the surface."
        in page(marked, "003")
    )
    assert (
        verdicts["004", BRIEF, "ratio"]["verdict"] == "not met"
        and verdicts["004", BRIEF, "plate"]["verdict"] == "not met"
    )
    assert verdicts["004", BRIEF, "screw"][
        "verdict"
    ] == "cannot read" and "“length of the set screw”" in page(marked, "004")


def test_the_report_counts_the_findings(marked):
    report = (marked / "results" / "report.html").read_text()
    for said in ("not met: shaft too short", "not met: screw stands out", "not met: tips do not reach"):
        assert f"<td>{said}</td>" in report, said
