"""Charts of contact.

The curves are those of the cut teeth and of published pairs; nothing is told by colour alone.
"""

import math

import numpy as np
import pytest

from gearlab.drawing import style
from gearlab.drawing.charts.contact import contact_ratio, sliding_at, specific_sliding
from gearlab.parts import Gear, Mesh
from gearlab.shape.rolling import Rolling

DRIVE = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))


def curve(ax, dash):
    """The thick curve of a line style: x, y without gaps."""
    line = next(line for line in ax.lines if line.get_linewidth() > 2 and line.get_linestyle() == dash)
    x, y = line.get_data()
    return x[np.isfinite(y)], y[np.isfinite(y)]


def test_axes_carry_quantity_and_unit():
    (ax,) = contact_ratio(45).axes
    assert ax.get_xlabel() == "teeth of the driver [\u2013]" and ax.get_ylabel() == "contact ratio [\u2013]"
    (ax,) = specific_sliding(DRIVE).axes
    assert ax.get_xlabel().endswith("[mm]") and ax.get_ylabel() == "specific sliding [\u2013]"
    (ax,) = specific_sliding(Mesh(Gear(18, diametral_pitch=10), Gear(45, diametral_pitch=10))).axes
    assert ax.get_xlabel().endswith("[in]")


def test_contact_ratio_is_that_of_the_cut_teeth():
    (ax,) = contact_ratio(45, pressure_angles=(20.0, 25.0)).axes
    for angle, dash in ((20.0, "-"), (25.0, "--")):
        x, y = curve(ax, dash)
        for i in range(0, len(x), 9):
            mesh = Mesh(
                Gear(int(x[i]), module=1, pressure_angle=angle), Gear(45, module=1, pressure_angle=angle)
            )
            # independent route: turned until the curves touch
            assert y[i] == pytest.approx(
                Rolling(mesh.driver.tooth, mesh.driven.tooth, mesh.centre_distance).contact_ratio(), abs=1e-4
            )


def test_the_thick_line_begins_where_the_tips_of_the_wheel_meet_a_whole_flank():
    (ax,) = contact_ratio(45).axes
    for dash, angle in (("-", 14.5), ("--", 20.0), (":", 25.0)):

        def met(teeth, angle=angle):
            """Whether the wheel's tips meet the cut pinion outside its form circle.

            A triangle of wheel tip, centres and line of action.
            """
            pinion, wheel = (Gear(count, module=1, pressure_angle=angle).tooth for count in (teeth, 45))
            reach = (pinion.base_radius + wheel.base_radius) * math.tan(math.radians(angle)) - math.sqrt(
                wheel.tip_radius**2 - wheel.base_radius**2
            )
            return reach > 0 and math.hypot(reach, pinion.base_radius) > pinion.form_radius

        assert curve(ax, dash)[0][0] == next(teeth for teeth in range(12, 60) if met(teeth))


def test_equal_gears_and_a_published_pair():
    (ax,) = contact_ratio(None, pressure_angles=(20.0,), driver_teeth=(17, 40)).axes
    x, y = curve(ax, "-")
    # gearbox course project, module 2, 20/20 teeth: path of contact 9.19 mm, base pitch 5.904 mm: 1.557
    assert (
        y[list(x).index(20)] == pytest.approx(1.557, abs=1e-3)
        and ax.get_xlabel() == "teeth of each gear [\u2013]"
    )


def test_sliding_is_what_the_turning_flanks_do():
    # independent route: two flanks in contact, their points' speeds along the common tangent, by small turns
    # of the cut gears
    driver, driven = DRIVE.driver.tooth, DRIVE.driven.tooth
    rolling = Rolling(driver, driven, 31.5)
    for angle in (-0.05, 0.0, 0.06):
        touch = rolling.contact(angle)
        tangent = np.array([-touch.normal[1], touch.normal[0]])
        first = touch.point
        second = touch.point - (31.5, 0.0)
        # speed of a body's point: angular speed across the arm; driver 1 rad/s, driven -18/45 rad/s
        speeds = [
            float(np.array([-arm[1], arm[0]]) * turn @ tangent)
            for arm, turn in ((first, 1.0), (second, -18 / 45))
        ]
        place = np.hypot(*(touch.point - (9.0, 0.0))) * np.sign(touch.point[1]) * 2.5
        ours = sliding_at(DRIVE, place)
        assert [float(one) for one in ours] == pytest.approx(
            [1 - speeds[1] / speeds[0], 1 - speeds[0] / speeds[1]], abs=1e-6
        )


def test_sliding_at_the_ends_agrees_with_theory_and_is_none_at_the_pitch_point():
    chart = specific_sliding(DRIVE)
    numbers = DRIVE.numbers
    assert (
        f"driver from \u2212{numbers['driver_specific_sliding']:.2f}" in chart.text
        and f"to \u2212{numbers['driven_specific_sliding']:.2f}" in chart.text
    )
    assert [float(one) for one in sliding_at(DRIVE, 0.0)] == pytest.approx([0.0, 0.0], abs=1e-12)


def test_two_pairs_are_shaded_between_lines():
    (ax,) = specific_sliding(DRIVE).axes
    spans = sorted((patch.get_x(), patch.get_x() + patch.get_width()) for patch in ax.patches)
    lengths = [end - start for start, end in spans]
    # path 12.05 mm less one base pitch 7.380 mm, at either end (vent-drive data)
    assert lengths == pytest.approx([12.05 - 7.380] * 2, abs=0.005)
    assert all(patch.get_linewidth() > 0 for patch in ax.patches)


@pytest.mark.parametrize(
    "make",
    [lambda theme: contact_ratio(45, theme=theme), lambda theme: specific_sliding(DRIVE, theme)],
    ids=["ratio", "sliding"],
)
def test_lines_differ_without_colour_and_words_are_read(make):
    from matplotlib.colors import to_hex

    for theme in ("light", "dark"):
        chart = make(theme)
        paper = style.colour("paper", "", theme)
        (ax,) = chart.axes
        thick = [line.get_linestyle() for line in ax.lines if line.get_linewidth() > 2]
        assert len(thick) == len(set(thick)) >= 2
        assert min(style.contrast(to_hex(words.get_color()), paper) for words in ax.texts) >= 4.5
        assert chart.png(1.0)[:8] == b"\x89PNG\r\n\x1a\n" and repr(chart) == f"Chart({chart.text!r})"


def test_what_cannot_be_charted_is_refused():
    with pytest.raises(ValueError, match="counts from 10 to 160"):
        contact_ratio(45, driver_teeth=(5, 30))
    with pytest.raises(ValueError, match="one to 3"):
        contact_ratio(45, pressure_angles=(14.5, 17.5, 20, 25))
    with pytest.raises(ValueError, match="without interference"):
        specific_sliding(Mesh(Gear(10, module=2.5), Gear(45, module=2.5)))
