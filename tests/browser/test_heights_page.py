"""Every explorer fits the part of the notebook that is seen, and is walked through in few Tab stops.

645 px of notebook and 600 px of height are what JupyterLab may leave at 1366 x 768 with its panels open; the
limits are those of the task itself, not measured ones. ``tests/bench/heights.py`` measures it in JupyterLab.
"""

from explorer_calls import CALLS, bare, made

from gearlab.widgets import LineOfAction, PairExplorer, SpacingExplorer

WIDTH, HEIGHT = 645, 600
STOPS = 12
TEETH = 12  # px high at least: where the whole has them lower, a picture begins in its close-up


def test_control_task_and_picture_are_in_sight_together(tabs):
    page = tabs(WIDTH, HEIGHT)
    off = []
    for call in CALLS:
        measured = bare(page, made(call), HEIGHT)
        wrong = {
            "does not fit": measured["needed"] > HEIGHT,
            "is wider than the notebook": measured["over"],
            "has a picture too low": measured["picture"] < 320,
            "has teeth too low": measured["teeth"] is not None and round(measured["teeth"]) < TEETH,
            "has too many Tab stops": measured["stops"] > STOPS,
            "is more than a screen and a half": measured["all"] > 1.5 * HEIGHT,
        }
        off += [f"{call} {what}: {measured}" for what, so in wrong.items() if so]
    assert not off, "\n".join(off)


def test_the_whole_is_one_button_away_where_a_picture_begins_in_its_close_up(tabs):
    page = tabs(WIDTH, HEIGHT)
    for call in ("TrainBuilder(18, 36, 24, 48, module=2.5)", "PairExplorer(60, 120, module=2.5)"):
        bare(page, made(call), HEIGHT)
        button, wide = page.get_by_role("button", name="Close-up"), "() => Number(document.querySelector("
        wide += "'.gl-sheet:not(.gl-under) svg').getAttribute('viewBox').split(' ')[2])"
        begun = page.evaluate(wide)
        assert button.get_attribute("aria-pressed") == "true"
        button.click()
        page.wait_for_function(
            "was => document.querySelector('.gl').living && (" + wide + ")() > 1.4 * was", arg=begun
        )
        assert button.get_attribute("aria-pressed") == "false"
        # it stays so when the room changes
        page.set_viewport_size({"width": WIDTH - 20, "height": HEIGHT})
        page.wait_for_function("width => document.querySelector('.gl').clientWidth < width - 10", arg=WIDTH)
        assert button.get_attribute("aria-pressed") == "false"
        page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
    # a picture with room enough is whole at first
    bare(page, made("PairExplorer(driver_teeth=18, driven_teeth=45, module=2.5)"), HEIGHT)
    assert page.get_by_role("button", name="Close-up").get_attribute("aria-pressed") == "false"


def test_large_type_takes_a_screen_and_a_half_at_most(tabs):
    page = tabs(WIDTH, HEIGHT)
    for call in ("PairExplorer(18, 45, module=2.5)", "TrainBuilder(18, 36, 24, 48, module=2.5)"):
        bare(page, made(call), HEIGHT)
        page.get_by_role("button", name="Large type").click()
        high = page.locator(".gl").bounding_box()["height"]
        assert high <= 1.5 * HEIGHT and page.locator(".gl-stage").bounding_box()["height"] >= 320


def test_a_notebook_of_366_px_keeps_the_teeth_and_a_screen_and_a_half(tabs):
    """What a window of 800 px leaves beside the file browser: every picture, its teeth, its height."""
    page = tabs(366, 646)
    off = []
    for call in CALLS:
        measured = bare(page, made(call), 646)
        low = measured["picture"] < 320 or (
            measured["teeth"] is not None and round(measured["teeth"]) < TEETH
        )
        if low or measured["all"] > 1.5 * 646 or measured["over"]:
            off.append(f"{call}: {measured}")
    assert not off, "\n".join(off)


def test_in_large_type_the_whole_picture_is_seen_at_once(tabs):
    page = tabs(932, 646)
    for call in ("TrainArrows(controls=['arrangement'])", "SpacingExplorer(18, 45, module=2.5)"):
        bare(page, made(call), 646)
        page.get_by_role("button", name="Large type").click()
        page.wait_for_function("() => document.querySelector('.gl').classList.contains('gl-big')")
        stage = page.locator(".gl-stage").bounding_box()
        assert stage["y"] + stage["height"] <= 646 and stage["height"] >= 320, call


def stops(page, count=40):
    """Names of what Tab reaches, in order, until it leaves the explorer."""
    names = []
    page.evaluate("() => document.activeElement?.blur()")
    for _ in range(count):
        page.keyboard.press("Tab")
        name = page.evaluate(
            "() => { const at = document.activeElement; return at.closest('.gl')"
            " && (at.getAttribute('aria-label') || at.labels?.[0]?.textContent || at.textContent) }"
        )
        if not name or (names and name == names[0]):
            return names
        names.append(name)
    return names


def test_the_picture_comes_first_and_the_numbers_are_one_stop(page_with_widget):
    page = page_with_widget(LineOfAction(), width=WIDTH, height=HEIGHT).page
    names = stops(page)
    assert names[0].startswith("Driver A") and len(names) <= STOPS, names
    assert not any(name.endswith((": less", ": more")) for name in names), (
        "plus and minus leave the Tab order"
    )
    assert page.get_by_role("button", name="Tilt of the line: more").is_visible(), "for the pointer they stay"
    assert sum("Why?" in name or name == "All numbers" for name in names) == 1
    # arrow keys inside: to the last of them, which opens all numbers, and on to one that explains itself
    page.locator(".gl-readout [tabindex='0']").first.focus()
    page.keyboard.press("End")
    assert page.evaluate("document.activeElement.textContent") == "All numbers"
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.querySelector('.gl-more-readout').open")
    page.keyboard.press("ArrowDown")
    assert "Why?" in page.evaluate("document.activeElement.getAttribute('aria-label')")
    page.keyboard.press("Enter")
    page.wait_for_function(
        "() => /[=]/.test(document.querySelector('.gl-why:not(:empty)')?.textContent || '')"
    )


def test_less_used_controls_open_by_key_and_nothing_is_lost(page_with_widget):
    shown = page_with_widget(PairExplorer(playing=False), width=WIDTH, height=HEIGHT)
    page = shown.page
    controls = len(shown.widget.controls)
    sight = page.locator(".gl-control:visible").count()
    assert 2 <= sight < controls == page.locator(".gl-control").count()
    page.focus(".gl-more-controls summary")
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.querySelector('.gl-more-controls').open")
    assert page.locator(".gl-control:visible").count() == controls
    assert shown.page.evaluate("model.get('disclosed')") == "controls"


def test_a_number_is_typed_on_the_slider(page_with_widget):
    shown = page_with_widget(
        SpacingExplorer(18, 45, module=2.5, centre_distance=83.0), width=WIDTH, height=HEIGHT
    )
    page = shown.page
    slider = page.get_by_role("slider", name="Centre distance")
    slider.focus()
    page.keyboard.type("79,25")
    page.keyboard.press("Enter")
    page.wait_for_function("() => model.get('centre_distance') === 79.25")
    assert slider.evaluate("node => node === document.activeElement"), "Enter leads back to the slider"
    page.keyboard.type("8")
    page.keyboard.press("Escape")
    assert slider.evaluate("node => node === document.activeElement")
    assert page.get_by_role("textbox", name="Centre distance").input_value() == "79.25"
    page.keyboard.type("7")
    page.keyboard.press("Enter")  # too small: it is said, and the hand stays in the field
    assert "too small" in page.locator(".gl-note").first.inner_text()
    assert shown.widget.centre_distance == 79.25
