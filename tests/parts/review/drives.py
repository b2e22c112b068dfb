"""Designs that tests of drives, racks, bevel pairs and planetary sets begin from, and their rows."""

from pathlib import Path

from gearlab.parts.design import Design, read_design
from gearlab.parts.review import Finding, Held, Ledger, Unmade, bevel, drive, planetary, rack, review

KIT = read_design((Path(__file__).parents[3] / "notebooks" / "vent_drive.toml").read_text(encoding="utf-8"))
PINION, WHEEL = "pinion_18T_m2p5_bore10_L27", "wheel_45T_m2p5_bore10_L25"
MESH = f"{PINION} with {WHEEL}"
ROWS = {check.name: check for subject in (drive, rack, bevel, planetary) for check in subject.CHECKS}

#: A rack under the pinion at its usual height: 22.5 mm of pitch radius on 12.5 mm of rack.
RACK = {
    "name": "rack",
    "pinion": PINION,
    "teeth": 54,
    "travel": 400,
    "pitch_height": 12.5,
    "mounting_height": 35,
    "stops": True,
    "guided": True,
    "allowable_stress": 20,
}
#: 20 : 20 teeth of module 2.5: pitch radius 25 mm, cone distance 25 sqrt 2 = 35.36 mm.
CORNER = {
    "name": "corner",
    "teeth": [20, 20],
    "module": 2.5,
    "face_width": 10,
    "driver": "A",
    "driven": "B",
    "mounting": [25, 25],
    "thrust_collars": True,
    "allowable_stress": 20,
}
HEAD = {
    "name": "head",
    "sun": 24,
    "planet": 18,
    "ring": 60,
    "planets": 3,
    "module": 2,
    "face_width": 10,
    "sun_shaft": "A",
    "carrier_shaft": "B",
    "allowable_stress": 20,
}


def with_rack(**fields) -> Design:
    return KIT.with_(rack=[{**RACK, **fields}])


def alone(kind: str, table: dict, load: dict | None = None, **fields) -> Design:
    """A bevel pair or a planetary set alone, between two axes."""
    tables = {
        "design": {"name": "alone"},
        "shaft": [{"name": "A", "diameter": 8}, {"name": "B", "diameter": 8}],
        kind: [{key: value for key, value in {**table, **fields}.items() if value is not None}],
    }
    return Design(**tables, **({} if load is None else {"load": load}))


def outcomes(row: str, design: Design) -> list:
    """What one row of the table comes to."""
    return list(ROWS[row].made(design))


def finding(row: str, design: Design, name: str, where: str = "") -> Finding:
    """The finding of a row by its name, and part if one is given."""
    return next(
        outcome
        for outcome in outcomes(row, design)
        if isinstance(outcome, Finding) and outcome.name == name and where in outcome.where
    )


def holds(row: str, design: Design) -> bool:
    """Whether a row holds for every part that it concerns, and concerns one."""
    told = outcomes(row, design)
    return bool(told) and all(isinstance(outcome, Held) for outcome in told)


def unmade(row: str, design: Design) -> Unmade:
    """The first check of a row that could not be made."""
    return next(outcome for outcome in outcomes(row, design) if isinstance(outcome, Unmade))


def mended(design: Design, name: str, where: str) -> list[Ledger]:
    """The reviews after each piece of advice of a finding of a whole review."""
    told = next(one for one in review(design) if one.name == name and where in one.where)
    assert told.edits, f"{name} has no edit: {told.decision}"
    assert told.change
    after = [review(design.with_(**edit)) for edit in told.edits]
    assert all((name, told.where) not in {(one.name, one.where) for one in ledger} for ledger in after)
    return after
