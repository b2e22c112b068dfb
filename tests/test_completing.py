"""Tab completes words inside derive(" and ask("."""

import subprocess
import sys

import pytest

import gearlab.widgets  # noqa: F401  (offers the questions)
from gearlab.completing import offered


@pytest.mark.parametrize(
    ("line", "typed", "word"),
    [
        ('derive("centre_d', "centre_d", "centre_distance"),
        ("derive('", "", "pitch_diameter"),
        ('way = derive("pitch_diameter", given=["tee', "tee", "teeth"),
        ('derive("fourth_teeth", ["first_teeth", "rev', "rev", "reverted"),
        ('derive("C", {"driver_teeth": 18, "mod', "mod", "module"),
        ('derive.explain(Gear(18, module=2.5), "base_di', "base_di", "base_diameter"),
        ('x = 1\nask("03', "03", "03_centre_distance"),
        ('ask("03_centre_distance", "spac', "spac", "spacing-metric"),
        ('ask("centre', "centre", "03_centre_distance"),
    ],
)
def test_words_are_offered(line, typed, word):
    assert offered(line)[0] == typed and word in offered(line)[1]


@pytest.mark.parametrize(
    "line", ['print("centre', 'derive("teeth")', "derive(asked", "", 'x = "derive(', '"', "derive("]
)
def test_nothing_is_offered_elsewhere(line):
    assert offered(line) == ("", [])


def test_words_that_go_with_what_stands_there_come_first():
    words = offered('derive("carrier_speed", ["')[1]
    assert words.index("sun_teeth") < words.index("pitch_diameter") and "carrier_speed" not in words


def test_ipython_completes():
    code = (
        "from IPython.core.interactiveshell import InteractiveShell as S; s = S.instance()\n"
        "from IPython.core.completer import provisionalcompleter\n"
        "s.run_cell('from gearlab import derive; import gearlab.widgets')\n"
        "for line in ('derive(\"centre_di', 'ask(\"03_centre_distance\", \"spacing-m', 'x = deri'):\n"
        "    with provisionalcompleter():\n"
        "        print([each.text for each in s.Completer.completions(line, len(line))])\n"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    first, second, third = told.strip().splitlines()[-3:]
    assert "centre_distance" in first and "spacing-metric" in second and "derive" in third
