"""The pages' colours and texts, held against the accessibility guidelines."""

import re

import pytest

from gearlab.course.pages import Frame, css_string, page, part


def colours(text):
    return dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})", text))


def luminance(colour):
    """Relative luminance, WCAG 2.2, definition of 'relative luminance'."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * c for c in colour[1:])
    channels = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    """Contrast ratio, WCAG 2.2, definition of 'contrast ratio'."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_its_own_limits():
    assert contrast("#000000", "#fff") == pytest.approx(21)  # WCAG 2.2: ratios range from 1 to 21
    assert contrast("#777777", "#777") == pytest.approx(1)


@pytest.mark.parametrize("theme", ["light", "dark", "print"])
def test_text_and_verdict_marks_reach_the_contrast_of_level_aa(theme):
    css = part("page.css")
    start = {"light": 0, "dark": css.index("prefers-color-scheme: dark"), "print": css.index("@media print")}[
        theme
    ]
    found = colours(css[start : css.index("}", css.index("--page", start))])
    for ground in ("page", "card"):
        for tone in ("text", "soft", "right", "partly", "wrong", "empty"):
            # 1.4.3 asks 4.5 : 1 of text; the marks are text beside their words.
            assert contrast(found[tone], found[ground]) >= 4.5, (theme, tone, ground)


def test_a_state_is_told_by_sign_and_word_and_not_by_colour_alone():
    from gearlab.course.marking.feedback import SIGNS
    from gearlab.practice import KINDS
    from gearlab.practice.verdict import CONDITION_NAMES, NAMES, STATES

    assert len(set(SIGNS.values())) == 5
    assert set(NAMES) == set(CONDITION_NAMES) == set(KINDS) and set(SIGNS) == set(STATES)
    assert set(STATES.values()) <= {*NAMES.values(), "partly right"}  # one word for one idea


def test_text_never_ends_a_style():
    assert "<" not in css_string("</style><script>") and '"' not in css_string('a"b')[1:-1]


def test_a_frame_names_slots_that_do_not_fit():
    with pytest.raises(ValueError, match="promt"):
        Frame(
            "feedback_question.html",
            ("points", "prompt", "promt", "decided", "answers", "open", "solution"),
            number=1,
            question={"title": ""},
            out_of="1",
        )
    with pytest.raises(Exception, match="prompt"):
        page(
            "feedback_question.html",
            number=1,
            question={"title": ""},
            out_of="1",
            points="",
            decided="",
            answers="",
            open="",
            solution="",
        )
