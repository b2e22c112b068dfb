"""The cut tooth: its curves against mpmath, its outline, and what cannot be cut."""

import ast
import math
import pathlib
import re

import mpmath
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from teeth import STANDARD, SYSTEMS, any_racks, forms

import gearlab.shape
from gearlab.shape import Rack, ToothForm

# --- the curves -----------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(forms())
def test_flank_is_the_exact_involute(form):
    """Reference library: mpmath, polar form of the involute with the thickness the rack leaves."""
    rolls = np.linspace(*form.flank_range, 7)
    for side in (1, -1):
        points, normals = form.flank(rolls, side)
        for roll, point, normal in zip(rolls, points, normals, strict=True):
            with mpmath.workdps(40):
                phi = mpmath.mpf(form.rack.pressure_angle)
                thickness = (
                    mpmath.pi / 2
                    + 2 * mpmath.mpf(form.profile_shift) * mpmath.tan(phi)
                    - mpmath.mpf(form.thinning)
                )
                alpha = mpmath.atan(mpmath.mpf(roll))
                radius = form.teeth * mpmath.cos(phi) / 2 / mpmath.cos(alpha)
                angle = thickness / form.teeth + (mpmath.tan(phi) - phi) - (mpmath.tan(alpha) - alpha)
                exact = float(radius * mpmath.cos(angle)), float(radius * mpmath.sin(angle)) * side
                facing = angle + mpmath.pi / 2 - alpha
                exact_normal = float(mpmath.cos(facing)), float(mpmath.sin(facing)) * side
            assert math.dist(point, exact) < 1e-12
            assert math.dist(normal, exact_normal) < 1e-13


@settings(max_examples=150, deadline=None)
@given(forms())
def test_curves_join_end_to_end(form):
    tip, flank, fillet, root = form.tip_range, form.flank_range, form.fillet_range, form.root_range
    for side in (1, -1):
        top, bottom = form.flank(flank[1], side), form.flank(flank[0], side)
        assert math.dist(form.tip(side * tip[1])[0], top[0]) < 1e-12
        assert math.dist(form.fillet(fillet[1], side)[0], bottom[0]) < 1e-12
    assert math.dist(form.root(root[0])[0], form.fillet(fillet[0])[0]) < 1e-12
    assert math.dist(form.root(root[0])[1], form.fillet(fillet[0])[1]) < 1e-12
    if not form.undercut:  # then the fillet runs into the flank without a corner
        assert math.dist(form.fillet(fillet[1])[1], form.flank(flank[0])[1]) < 1e-12
    assert math.hypot(*form.flank(flank[0])[0]) == pytest.approx(form.form_radius, abs=1e-12, rel=0)


@settings(max_examples=80, deadline=None)
@given(forms())
def test_normals_are_square_to_the_curves_and_point_out(form):
    """Independent route: central differences of the points; a step along the normal leaves the polygon."""
    gear = shapely.Polygon(form.outline(1e-5))
    for curve, limits in ((form.flank, form.flank_range), (form.fillet, form.fillet_range)):
        low, high = limits
        places = np.linspace(low, high, 9)[1:-1]
        step = 1e-4 * (high - low)
        points, normals = curve(places)
        tangent = curve(places + step)[0] - curve(places - step)[0]
        assert np.allclose(np.hypot(*normals.T), 1.0, rtol=0, atol=1e-14)
        slope = (tangent * normals).sum(axis=1) / np.hypot(*tangent.T)
        assert np.abs(slope).max() < 1e-6
        assert not shapely.contains_xy(gear, points + 5e-5 * normals).any()
        assert shapely.contains_xy(gear, points - 5e-5 * normals).all()


@settings(max_examples=60, deadline=None)
@given(forms(), st.sampled_from((1e-2, 1e-3, 1e-4, 1e-5)))
def test_chords_keep_within_the_tolerance(form, tolerance):
    polygon = shapely.LineString(form.tooth_points(tolerance))
    curves = [
        form.tip(np.linspace(*form.tip_range, 301))[0],
        form.root(np.linspace(form.root_range[0], math.pi / form.teeth, 301))[0],
        form.flank(np.linspace(*form.flank_range, 1501))[0],
        form.flank(np.linspace(*form.flank_range, 1501), -1)[0],
        form.fillet(np.linspace(*form.fillet_range, 1501))[0],
        form.fillet(np.linspace(*form.fillet_range, 1501), -1)[0],
    ]
    errors = shapely.distance(polygon, shapely.points(np.concatenate(curves)))
    assert errors.max() <= tolerance * (1 + 1e-9) + 1e-12


def test_chords_keep_within_the_tolerance_where_the_fillet_turns_from_hollow_to_round():
    """A far shifted tooth: the round's centre lies above the pitch line, and the fillet has an inflection."""
    form = ToothForm(137, Rack(0.164, 1.16, 0.62, 0.36), 2.02, 0.34, 0.16)
    assert form.profile_shift - form.rack.dedendum + form.rack.tip_radius > 0
    for tolerance in (1e-3, 1e-4, 1e-5):
        fillet = form.fillet(np.linspace(*form.fillet_range, 4001))[0]
        assert (
            shapely.distance(shapely.LineString(form.tooth_points(tolerance)), shapely.points(fillet)).max()
            <= tolerance
        )


# --- the outline ----------------------------------------------------------------------------------


@settings(max_examples=150, deadline=None)
@given(forms(), st.sampled_from((0.05, 1e-2, 1e-3, 1e-4)))
def test_outline_is_closed_simple_and_counter_clockwise(form, tolerance):
    outline = form.outline(tolerance)
    assert outline.ndim == 2 and outline.shape[1] == 2
    assert (outline[0] == outline[-1]).all()
    ring = shapely.LinearRing(outline)
    assert ring.is_simple and ring.is_ccw
    radii = np.hypot(*outline.T)
    assert radii.max() == pytest.approx(form.tip_radius, abs=1e-12, rel=0)
    assert radii.min() == pytest.approx(form.root_radius, abs=1e-12, rel=0)
    assert np.hypot(*np.diff(outline, axis=0).T).min() > 1e-10  # no point twice


@pytest.mark.parametrize("count", [6, 7, 17, 18, 45, 60, 500])
def test_tooth_points_are_one_pitch_centred_on_the_x_axis(count):
    form = ToothForm(count, STANDARD)
    points = form.tooth_points()
    assert np.allclose(points[::-1] * (1, -1), points, rtol=0, atol=1e-12)
    angles = np.arctan2(points[:, 1], points[:, 0])
    assert angles[-1] == pytest.approx(math.pi / count, abs=1e-14) and angles[0] == pytest.approx(
        -math.pi / count, abs=1e-14
    )
    assert any((point == (form.tip_radius, 0.0)).all() for point in points)
    assert len(form.outline()) == count * (len(points) - 1) + 1
    points[:] = 0.0  # a caller's array is its own
    assert form.tooth_points().any()


def test_area_agrees_with_the_integral_along_the_curves():
    """Independent route.

    Area = half the closed integral of x dy - y dx, by Simpson's rule on each exact curve.
    """
    form = ToothForm(18, STANDARD, 0.1)

    def swept(curve, limits):
        places = np.linspace(*limits, 2001)
        (x, y), step = curve(places)[0].T, (limits[1] - limits[0]) / 2000
        turned = x * np.gradient(y, step, edge_order=2) - y * np.gradient(x, step, edge_order=2)
        weights = np.ones(2001)
        weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
        return abs((turned * weights).sum() * step / 3) / 2

    arcs = (
        form.tip_range[1] * form.tip_radius**2 + (math.pi / 18 - form.root_range[0]) * form.root_radius**2
    ) / 2
    half_tooth = arcs + swept(form.flank, form.flank_range) + swept(form.fillet, form.fillet_range)
    assert shapely.Polygon(form.outline(1e-8)).area == pytest.approx(36 * half_tooth, rel=1e-6)


def test_outline_of_60_teeth_takes_a_millisecond(processor_time):
    """Budget: 1 ms for a new 60-tooth gear at the default tolerance.

    The least of many is the machine's own.
    """
    shifts = iter(range(40))
    assert processor_time(lambda: ToothForm(60, STANDARD, next(shifts) * 1e-4).outline(), 40) < 1e-3


# --- what cannot be cut ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    "given_, words",
    [
        ({"teeth": 8, "profile_shift": 0.8}, "meet in a point"),
        ({"teeth": 20, "thinning": 1.2}, "meet in a point"),
        ({"teeth": 8, "thinning": 2.0}, "nothing is left standing"),
        ({"teeth": 12, "profile_shift": -1.6}, "no involute is left"),
        ({"teeth": 20, "tip_shortening": 2.0}, "no involute is left"),
        ({"teeth": 6, "profile_shift": -2.0}, "past the centre"),
        ({"teeth": 6, "profile_shift": -0.85}, "cuts the tooth off"),
    ],
)
def test_a_tooth_that_cannot_be_cut_is_explained_with_values_that_work(given_, words):
    given_ = {"rack": STANDARD, **given_}
    with pytest.raises(ValueError, match=words) as caught:
        ToothForm(**given_)
    remedies = re.findall(
        r"(\w+) must lie (below|above) (-?[\d.]+) modules \((-?[\d.]+) works\)", str(caught.value)
    )
    least_teeth = re.findall(r"teeth must be at least (\d+)", str(caught.value))
    assert remedies or least_teeth
    for name, side, limit, good in remedies:
        ToothForm(**{**given_, name: float(good)})
        beyond = float(limit) + (0.001 if side == "below" else -0.001)
        with pytest.raises(ValueError):
            ToothForm(**{**given_, name: beyond})
    for count in least_teeth:
        ToothForm(**{**given_, "teeth": int(count)})


@settings(max_examples=60, deadline=None)
@given(st.integers(6, 60), any_racks, st.floats(-2.5, 3.0), st.floats(0.0, 2.0), st.floats(0.0, 2.0))
def test_every_tooth_is_either_cut_whole_or_explained(count, rack, shift, thinning, shortening):
    try:
        form = ToothForm(count, rack, shift, thinning, shortening)
    except ValueError as error:
        assert "To get a tooth" in str(error)
    else:
        assert shapely.LinearRing(form.outline(1e-3)).is_simple
        assert form.root_radius < form.form_radius < form.tip_radius


@pytest.mark.parametrize("count", [5, 501, 20.5, math.nan, True, -20, "20", None])
def test_tooth_counts_outside_6_to_500_are_refused(count):
    with pytest.raises(ValueError, match="whole number from 6 to 500"):
        ToothForm(count, STANDARD)


@pytest.mark.parametrize(
    "name, value",
    [
        ("rack", None),
        ("rack", "full depth"),
        ("profile_shift", "a"),
        ("thinning", None),
        ("profile_shift", math.nan),
        ("profile_shift", math.inf),
        ("thinning", -0.1),
        ("tip_shortening", -0.1),
    ],
)
def test_lengths_out_of_range_are_refused(name, value):
    with pytest.raises(ValueError, match=name):
        ToothForm(**{"teeth": 20, "rack": STANDARD, name: value})


@pytest.mark.parametrize("tolerance", [0.0, -1e-4, 0.06, 1e-10, math.nan, "fine", None])
def test_tolerances_out_of_range_are_refused(tolerance):
    form = ToothForm(20, STANDARD)
    for lay in (form.outline, form.tooth_points):
        with pytest.raises(ValueError, match="tolerance"):
            lay(tolerance)


def test_parameters_off_a_curve_are_refused():
    form = ToothForm(20, STANDARD)
    for curve, limits in (
        (form.flank, form.flank_range),
        (form.fillet, form.fillet_range),
        (form.tip, form.tip_range),
        (form.root, form.root_range),
    ):
        for value in (limits[0] - 1e-6, limits[1] + 1e-6):
            with pytest.raises(ValueError, match="leaves the curve"):
                curve(value)
        for value in (math.nan, math.inf, "far", None):
            with pytest.raises(ValueError, match="Give finite numbers"):
                curve(value)
    with pytest.raises(ValueError, match="side"):
        form.flank(form.flank_range[0], 0)


@pytest.mark.parametrize(
    "change, words",
    [
        ({"pressure_angle": 20.0}, "looks like degrees"),
        ({"pressure_angle": 0.01}, "5 to 45 degrees"),
        ({"addendum": 2.2}, "come to a point"),
        ({"dedendum": 2.2}, "come to a point"),
        ({"addendum": 0.0}, "addendum"),
        ({"tip_radius": 0.48}, "full round"),
        ({"tip_radius": -0.1}, "tip_radius"),
        ({"dedendum": math.nan}, "finite"),
        ({"addendum": "1"}, "finite"),
        ({"tip_radius": None}, "finite"),
    ],
)
def test_racks_that_no_tool_can_have_are_refused(change, words):
    good = {"pressure_angle": math.radians(20), "addendum": 1.0, "dedendum": 1.25, "tip_radius": 0.38}
    with pytest.raises(ValueError, match=words):
        Rack(**{**good, **change})


# Source: ISO 53:1998: profile A has 0.38 (0.25 clearance under the round), profile D a full round of 0.39;
# full round at dedendum 1.25 about 0.47 (from memory of DIN 867 discussions).
@pytest.mark.parametrize("dedendum, printed, half_unit", [(1.4, 0.39, 0.005), (1.25, 0.47, 0.006)])
def test_full_round_agrees_with_the_standard(dedendum, printed, half_unit):
    rack = Rack(math.radians(20), 1.0, dedendum, 0.2)
    assert rack.full_round() == pytest.approx(printed, abs=half_unit, rel=0)
    Rack(math.radians(20), 1.0, dedendum, rack.full_round())  # the limit itself is allowed


def test_full_round_leaves_no_root_arc_and_thinning_gives_it_back():
    form = ToothForm(30, SYSTEMS["full round 20"])
    assert form.root_range[0] == pytest.approx(math.pi / 30, abs=1e-12)
    assert form.root_range[1] == pytest.approx(math.pi / 30, abs=1e-12)
    thinned = ToothForm(30, SYSTEMS["full round 20"], thinning=0.1)
    # The tool's teeth are 0.1 wider on the pitch line, so its tip keeps a flat of 0.1.
    assert (thinned.root_range[1] - thinned.root_range[0]) * 15 == pytest.approx(0.1, abs=1e-12)
    assert thinned.root_radius == form.root_radius


def test_forms_are_values():
    one, other = ToothForm(20, STANDARD, 0.1), ToothForm(20.0, STANDARD, 0.1)
    assert one == other and hash(one) == hash(other) and other.teeth == 20 and isinstance(other.teeth, int)
    assert one != ToothForm(20, STANDARD, 0.2)
    with pytest.raises(AttributeError):
        one.teeth = 21


def test_shape_reads_nothing_but_numpy_and_itself():
    """shapely is read by the module of areas alone, and only when an area is asked for."""
    for path in pathlib.Path(gearlab.shape.__file__).parent.glob("*.py"):
        tree = ast.parse(path.read_text())
        late = {
            id(node)
            for function in ast.walk(tree)
            if isinstance(function, ast.FunctionDef)
            or (isinstance(function, ast.If) and ast.unparse(function.test) == "TYPE_CHECKING")
            for node in ast.walk(function)
        }
        for node in ast.walk(tree):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            names += [node.module] if isinstance(node, ast.ImportFrom) else []
            for name in names:
                assert (
                    name.startswith("gearlab.shape")
                    or name.split(".")[0]
                    in {
                        "__future__",
                        "collections",
                        "math",
                        "numpy",
                        "dataclasses",
                        "functools",
                        "numbers",
                        "typing",
                    }
                    or (name, path.name) == ("shapely", "overlap.py")
                    and id(node) in late
                ), f"{path.name} imports {name}"
