"""The chart of backlash and contact ratio.

Its marks stand where the numbers say, its curves are the cut teeth's.
"""

import numpy as np
import pytest

from gearlab.drawing import style
from gearlab.drawing.charts.backlash import Pair, backlash
from gearlab.drawing.charts.chart import Chart
from gearlab.parts import Gear, Mesh
from gearlab.shape.rolling import Rolling

PINION, WHEEL = Gear(18, module=2.5), Gear(45, module=2.5)


@pytest.fixture(scope="module")
def chart():
    return backlash(PINION, WHEEL, wanted=(0.10, 0.25), marked=(78.89, 80.0))


def test_axes_carry_quantity_and_unit(chart):
    upper, lower = chart.axes
    assert (
        upper.get_ylabel().endswith("[mm]")
        and lower.get_xlabel() == "centre distance [mm]"
        and "contact ratio" in lower.get_ylabel()
    )
    inches = backlash(Gear(18, diametral_pitch=10), Gear(45, diametral_pitch=10))
    assert inches.axes[1].get_xlabel() == "centre distance [in]" and "3.1500 in" in inches.text


def test_the_curves_are_those_of_the_cut_teeth(chart):
    for ax, measure in zip(
        chart.axes,
        (lambda pair, c: pair.backlash(c / 2.5 * 45 / 63) * 2.5, lambda pair, c: pair.contact_ratio()),
        strict=True,
    ):
        x, y = max((line.get_data() for line in ax.lines), key=lambda data: len(data[0]))
        for i in np.flatnonzero((x > 78.8) & (x < 80.4))[::12]:
            # independent route: turned until the curves touch
            pair = Rolling(PINION.tooth, WHEEL.tooth, x[i] / 2.5)
            assert y[i] == pytest.approx(measure(pair, x[i]), abs=2e-4)


def test_jam_wanted_range_and_end_of_contact_stand_where_they_belong(chart):
    pair = Pair(PINION, WHEEL)
    assert pair.jams == 78.75  # (18 + 45) * 2.5 / 2
    # 78.89 mm: backlash 0.103 mm, contact ratio 1.58 (worked answers of the project, evaluated apart
    # from this code)
    assert pair.value("backlash", 78.89) == pytest.approx(0.103, abs=5e-4) and pair.value(
        "contact_ratio", 78.89
    ) == pytest.approx(1.58, abs=5e-3)
    end = pair.distance_of("contact_ratio", 1.0)
    assert Rolling(PINION.tooth, WHEEL.tooth, end / 2.5).contact_ratio() == pytest.approx(1.0, abs=1e-6)
    broken = [line for line in chart.axes[0].lines if line.get_linestyle() == "--"]
    assert broken[0].get_xdata()[0] == pytest.approx(end)
    assert any(patch.get_hatch() for patch in chart.axes[0].patches), (
        "the jam side is told apart without colour"
    )


def test_thinned_teeth_jam_nearer():
    thin = [Gear(teeth, module=2.5, tooth_thinning=0.1) for teeth in (18, 45)]
    jams = Pair(*thin).jams
    assert jams < 78.75 and Mesh(*thin, jams).backlash == pytest.approx(0.0, abs=1e-9)
    assert "no backlash at 78.47 mm" in backlash(*thin).text  # 0.2 / (2 tan 20 deg) = 0.27 nearer


def test_it_shows_itself_with_its_sentence(chart):
    data, metadata = chart._repr_mimebundle_()
    assert (
        set(data) == {"image/png", "text/html", "text/plain"}
        and data["text/plain"] == f"Chart({chart.text!r})"
    )
    assert metadata["image/png"]["alt"] == chart.text
    assert chart.png()[:8] == b"\x89PNG\r\n\x1a\n"
    with pytest.raises(ValueError, match="needs a sentence"):
        Chart("  ")


def test_words_are_read_on_light_and_dark():
    for theme in ("light", "dark"):
        made = backlash(PINION, WHEEL, theme=theme)
        paper = style.colour("paper", "", theme)
        from matplotlib.colors import to_hex

        assert (
            min(style.contrast(to_hex(words.get_color()), paper) for ax in made.axes for words in ax.texts)
            >= 4.5
        )


def test_a_falling_range_is_refused():
    with pytest.raises(ValueError, match="wanted is 0.2 to 0.1 mm: give a minimum and a maximum"):
        backlash(PINION, WHEEL, wanted=(0.2, 0.1))
