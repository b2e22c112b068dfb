"""Trains: published examples, theory by its own route, and the cut outlines put side by side by shapely."""

import math
import random
import re

import pytest
from shapely import affinity
from shapely.geometry import Polygon

from gearlab import Gear, Mesh, Train, derive

ROW, REVERTED = (18, 24, 45), (18, (45, 21), 42)


def placed(train, angles):
    """The outlines of all gears where they stand, by number [unit]."""
    found = {}
    for one in train.gears:
        turned = affinity.rotate(Polygon(one.gear.outline(1e-4)), angles[one.shaft], origin=(0, 0))
        found[one.number] = affinity.translate(turned, *train.positions[one.shaft])
    return found


def meshing(train):
    """Numbers of the gears that mesh, pair by pair."""
    numbers = [
        [one.number for one in train.gears if one.shaft == shaft] for shaft in range(len(train.shafts))
    ]
    return [(numbers[k][-1], numbers[(k + 1) % len(numbers)][0]) for k in range(len(train.meshes))]


def overlap(train, angles):
    """Largest area that two meshing outlines share [module squared]."""
    outlines = placed(train, angles)
    return (
        max(outlines[one].intersection(outlines[two]).area for one, two in meshing(train))
        / train.gears[0].gear.scale ** 2
    )


# -- published examples --------------------------------------------------------------------------------
# R. L. Mott, Machine Elements in Mechanical Design, 4th ed., section 8-7: train value 10.5 (examples 8-2 and, with an idler of 22 teeth and so the other way, 8-3)  # noqa: E501
# (8-3 from memory).
@pytest.mark.parametrize(
    ("teeth", "value", "speed"), [((20, (70, 18), 54), 10.5, 166.7), ((20, (70, 18), 22, 54), 10.5, -166.7)]
)
def test_mott(teeth, value, speed):
    train = Train.of(*teeth, diametral_pitch=8)
    assert train.ratio == pytest.approx(value, abs=1e-12)
    assert train.speeds(1750)[-1] == pytest.approx(speed, abs=0.05)
    assert train.direction == math.copysign(1, speed)


# Wentzell, Machine Design, example 11.2: 20/65 and 20/22/60 from 3000 rpm and 10 lbf in: 9.75, 307.69 rpm the
# other way, 97.5 lbf in.
def test_wentzell():
    train = Train.of(20, (65, 20), 22, 60, diametral_pitch=10)
    assert (train.ratio, train.direction) == (9.75, -1)
    assert train.speeds(3000)[-1] == pytest.approx(-307.69, abs=0.005)
    assert train.torques(10)[-1] == pytest.approx(97.5, abs=1e-9)
    assert train.idlers == (2,)


# Arithmetic by hand for the roof-vent drive: 2.5 x (18 + 24)/2 = 52.5, 2.5 x (24 + 45)/2 = 86.25; 15 x 18/24
# = 11.25; 15 x 18/45 = 6.
def test_the_vent_drive_with_its_idler():
    train = Train.of(*ROW, module=2.5)
    assert train.centre_distances == (52.5, 86.25)
    assert train.positions == ((0.0, 0.0), (52.5, 0.0), (138.75, 0.0))
    assert train.speeds(15) == (15.0, -11.25, 6.0)
    assert train.directions == (1, -1, 1)
    assert train.ratio == 2.5


def test_reverted_train_is_back_on_its_axis():
    train = Train.of(*REVERTED, module=2.5, line_angles=(0, 180))
    assert train.reverted and train.positions[2] == (0.0, 0.0)
    assert [one.plane for one in train.gears] == [0, 0, 1, 1]
    assert not Train.of(18, (45, 18), 36, module=2.5, line_angles=(0, 180)).reverted
    assert not Train.of(*REVERTED, module=2.5).reverted  # in line the output stands 157.5 mm away


# Worked answers of the project (idler off the line): 18, 24, 45 teeth of module 2.5, shafts 110 mm
# apart: 52.5 mm, 86.25 mm, 50.0454 degrees.
def test_an_idler_off_the_line():
    row = Train.of(*ROW, module=2.5)
    for above in (True, False):
        bent = row.bent(110, above)
        assert bent.centre_distances == (52.5, 86.25) and bent.speeds(15) == row.speeds(15)
        assert bent.line_angles[0] == pytest.approx(50.0454 if above else -50.0454, abs=5e-5)
        assert bent.positions[2] == pytest.approx((110, 0), abs=1e-9) and (bent.positions[1][1] > 0) == above
        assert overlap(bent, bent.alignment(7.0)) < 1e-4
    assert row.bent(138.75).positions[2] == pytest.approx((138.75, 0))
    with pytest.raises(ValueError, match="gears 1 and 3 are in one plane and would overlap"):
        row.bent(80)  # the outer gears need 22.5 + 56.25 mm and two addenda
    with pytest.raises(ValueError, match="only three shafts with one gear each"):
        Train.of(*REVERTED, module=2.5).bent(100)


# -- theory by its own route ---------------------------------------------------------------------------
def random_trains(count, draw):
    for _ in range(count):
        a, b, c, d = (draw.randint(18, 60) for _ in range(4))
        yield draw.choice([(a, b, c), (a, (b, c), d)])


def test_theory_of_three_shafts_agrees():
    for teeth in random_trains(40, random.Random(8)):
        train = Train.of(*teeth, module=2.0)
        last = "fourth" if len(train.gears) == 4 else "third"
        numbers = train.numbers
        assert train.ratio == pytest.approx(numbers["train_ratio"], rel=1e-12)
        assert train.turns_to_line_up == numbers["turns_to_line_up"], teeth
        assert train.centre_distances == pytest.approx(
            (numbers["first_centre_distance"], numbers["second_centre_distance"]), rel=1e-12
        )
        assert train.speeds(37)[-1] == pytest.approx(
            train.explain(f"{last}_speed", first_speed=37.0).result, rel=1e-12
        )
        assert train.speeds(37)[1] == pytest.approx(
            train.explain("second_speed", first_speed=37.0).result, rel=1e-12
        )
        assert train.torques(1.5, 0.95)[-1] == pytest.approx(
            train.explain("last_torque", first_torque=1.5, mesh_efficiency=0.95).result, rel=1e-12
        )


def test_turns_to_line_up_are_counted_by_turning():
    for teeth in random_trains(25, random.Random(9)):
        train = Train.of(*teeth, module=1)
        for k in range(1, 5000):
            if all(abs(turn - round(turn)) < 1e-9 for turn in train.turns(k)):
                break
        assert train.turns_to_line_up == k, teeth


@pytest.mark.parametrize("way", [1, -1])
@pytest.mark.parametrize("bend", [0, 25, 60, 100, -40, -95])
def test_idler_load_against_the_parallelogram_of_theory(bend, way):
    """Two tooth forces as vectors against the closed form.

    Which of its two cases, by which side the bend is on.
    """
    train = Train.of(24, 30, 40, module=2, line_angles=(15, 15 + bend))
    size = math.hypot(*train.idler_load(86, first_direction=way))
    spacing = math.dist(train.positions[0], train.positions[2])
    one, other = (
        derive(
            word,
            {
                "first_teeth": 24,
                "second_teeth": 30,
                "third_teeth": 40,
                "module": 2,
                "shaft_spacing": spacing,
                "mesh_tangential_force": 86,
                "pressure_angle": 20,
            },
            kind="idler train",
        ).result
        for word in ("idler_force_one_way", "idler_force_other_way")
    )
    # one way: the idler's teeth go through the inside of the bend on their way from the driver to the driven
    # gear
    assert size == pytest.approx(one if bend * way > 0 else other, rel=1e-6)
    if bend == 0:
        # Mott, section 9-3: tangential forces add, separating forces cancel
        assert size == pytest.approx(2 * 86, rel=1e-12)


def test_more_than_three_shafts_are_told_where_to_ask():
    with pytest.raises(ValueError, match="three shafts in an open row, this train has 4"):
        Train.of(18, 24, 24, 45, module=2.5).explain("train_ratio")
    assert Train.of(18, 45, module=2.5).explain("centre_distance").result == 78.75
    assert (
        Train(
            (Gear(18, module=2), (Gear(47, module=2), Gear(18, module=2.5)), Gear(34, module=2.5)), (0, 180)
        ).numbers["second_centre_distance"]
        == 65.0
    )


# -- shape: teeth into spaces --------------------------------------------------------------------------
def test_aligned_outlines_do_not_overlap_and_turned_ones_do():
    draw = random.Random(17)
    for _ in range(12):
        teeth = [
            draw.randint(18, 40),
            (draw.randint(18, 40), draw.randint(18, 30)),
            draw.randint(18, 30),
            draw.randint(18, 40),
        ]
        train = Train.of(*teeth, module=2.5, line_angles=[draw.uniform(-50, 50) for _ in range(3)])
        first = draw.uniform(-400, 400)
        angles = train.alignment(first)
        assert overlap(train, angles) < 1e-4, train
        for shaft in range(4):
            moved = list(angles)
            moved[shaft] += 180 / max(one.gear.teeth for one in train.gears if one.shaft == shaft)
            assert overlap(train, moved) > 0.05, (train, shaft)
        # turned on, each by its own share, they are still in mesh
        turned = [angle + 360 * turn for angle, turn in zip(angles, train.turns(0.137), strict=True)]
        assert overlap(train, turned) < 1e-4, train


# -- rings ---------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("count", "words"),
    [(3, "three external gears in a ring lock"), (5, "five external gears in a ring lock")],
)
def test_odd_rings_lock(count, words):
    with pytest.raises(ValueError, match=words):
        Train.of(*[20] * count, module=2.5, ring=True)


def test_even_ring_stands_where_it_closes_and_its_teeth_fit():
    ring = Train.of(20, 20, 20, 20, module=2.5, ring=True)  # a square of equal gears
    assert [round(x, 9) for place in ring.positions for x in place] == [0, 0, 50, 0, 50, 50, 0, 50]
    assert overlap(ring, ring.alignment(3.0)) < 1e-4
    assert ring.speeds(10) == (10, -10, 10, -10)


def test_a_ring_fits_exactly_where_its_outlines_do():
    """Each ring, turned until three meshes are right: the fourth is right too, or it is refused."""
    draw, seen = random.Random(4), {True: 0, False: 0}
    for _ in range(30):
        one, two = draw.choice([16, 18, 20, 24]), draw.choice([16, 20, 24])
        teeth = draw.choice([[one] * 4, [one, two, one, two], [one, two, two, one], [one, two, 18, 24]])
        bend = draw.choice([90.0, 90.0, draw.uniform(80, 100)])
        row = Train.of(*teeth[:3], module=2.5, line_angles=(0, bend))
        gaps = [2.5 * (teeth[2] + teeth[3]) / 2, 2.5 * (teeth[0] + teeth[3]) / 2]
        # the fourth shaft by intersection of circles, by hand
        (x, y), base = row.positions[2], math.dist(row.positions[0], row.positions[2])
        along = (gaps[1] ** 2 - gaps[0] ** 2 + base**2) / (2 * base)
        high = math.sqrt(gaps[1] ** 2 - along**2)
        place = (x * along - y * high) / base, (y * along + x * high) / base
        angles, last = row.alignment(0.0), Gear(teeth[3], module=2.5)
        line = math.degrees(math.atan2(place[1] - y, place[0] - x))
        angle = line + Mesh(row.gears[2].gear, last).alignment(angles[2] - line)
        turned = affinity.translate(
            affinity.rotate(Polygon(last.outline(1e-4)), angle, origin=(0, 0)), *place
        )
        fits = turned.intersection(Polygon(row.gears[0].gear.outline(1e-4))).area / 2.5**2 < 1e-4
        seen[fits] += 1
        if fits:
            ring = Train.of(*teeth, module=2.5, line_angles=(0, bend), ring=True)
            assert ring.positions[3] == pytest.approx(place, abs=1e-9)
        else:
            with pytest.raises(ValueError, match="the teeth of this ring do not fit"):
                Train.of(*teeth, module=2.5, line_angles=(0, bend), ring=True)
    assert min(seen.values()) > 3, seen


def test_thinned_teeth_take_up_a_small_misfit():
    for bend in [87 + k / 50 for k in range(100)]:
        try:
            Train.of(18, 20, 24, 22, module=2.5, line_angles=(0, bend), ring=True)
        except ValueError as error:
            miss = float(re.search(r"space by ([\d.]+) mm", str(error)).group(1))
            if 0.01 < miss < 0.1:
                loose = Train.of(
                    18, 20, 24, 22, module=2.5, line_angles=(0, bend), ring=True, tooth_thinning=miss
                )
                assert sum(mesh.backlash for mesh in loose.meshes) / 2 > miss
                return
    raise AssertionError("no ring with a small misfit was met")


def test_compound_ring_whose_ratios_do_not_come_round():
    with pytest.raises(ValueError, match="would have to turn 0.5 times as fast as itself"):
        Train.of(20, (40, 20), 20, 20, module=2.5, ring=True)


def test_a_ring_that_cannot_close():
    with pytest.raises(ValueError, match="the ring does not close: its last shaft needs 50 mm"):
        Train.of(20, 20, 20, 20, module=2.5, line_angles=(0, 0), ring=True)


# -- refusals ------------------------------------------------------------------------------------------
def test_gears_that_cannot_mesh_are_named_with_both_base_pitches():
    # base pitch = pi m cos 20: 5.90426 mm and 7.38033 mm
    with pytest.raises(ValueError, match=r"shaft 2 cannot drive shaft 3: .*5\.90426 mm.*7\.38033 mm"):
        Train((Gear(18, module=2), Gear(24, module=2), Gear(45, module=2.5)))


def test_gears_in_one_plane_must_not_overlap():
    with pytest.raises(ValueError, match="gears 1 and 3 are in one plane and would overlap"):
        Train.of(18, 24, 45, module=2.5, line_angles=(0, 150))
    assert Train.of(18, (24, 24), 45, module=2.5, line_angles=(0, 150)).positions  # in two planes they may


@pytest.mark.parametrize(
    ("build", "words"),
    [
        (lambda: Train.of(18, module=2.5), "a train of 1 shafts is out of range: give 2 or more"),
        (
            lambda: Train.of((18, 20), 24, module=2.5),
            "shaft 1 is at an end of the train and carries two gears",
        ),
        (lambda: Train((18, 24)), "shaft 1 carries 18: give one Gear"),
        (
            lambda: Train((Gear(18, module=1), [Gear(20, module=1)], Gear(18, module=1))),
            "shaft 2 carries .*give one Gear, or two",
        ),
        (
            lambda: Train.of(18, 24, 45, module=2.5, line_angles=(0,)),
            "line_angles has 1 angles; this train needs 2",
        ),
        (
            lambda: Train.of(18, 24, 45, module=2.5).idler_load(86, idler=2),
            "shaft 2 is no idler: idlers here are 1",
        ),
        (lambda: Train.of(18, 24, 45, module=2.5).torques(1, 1.2), "mesh_efficiency = 1.2"),
    ],
)
def test_what_cannot_be_is_refused(build, words):
    with pytest.raises(ValueError, match=words):
        build()
