"""The wheels whose keyway on a tooth fits.

A question with options, against the closed form of its worked answer.
"""

import re

from gearlab.contents import content_folder
from gearlab.practice import load_bank


def test_the_right_options_are_the_odd_counts():
    question = load_bank(content_folder("exercises") / "09_lining_up_the_teeth")["which-wheels-go-together"]
    assert question.worked_row == "09.6"
    counts = {
        int(re.match(r"(\d+) teeth$", option.text)[1]): option.right for option in question.table.options
    }
    # worked answers of the project, 09.6: can be assembled = Mod(N2, 2)
    assert counts == {count: count % 2 == 1 for count in counts} and len(set(counts.values())) == 2
