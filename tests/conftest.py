"""Settings of one test run.

How many examples are tried, which tests are long, kernels that treat warnings as errors, answers kept out of
the way.
"""

import gc
import os
import sys
import tempfile
import time
from pathlib import Path

import pytest
import warm_kernel
from hypothesis import settings

# Collecting makes some 11 000 items and drops next to nothing: the collector of garbage would walk over all
# of them again and again, for a fifth of the processor time. ``pytest_collection_finish`` turns it on.
gc.disable()

# The same examples in every run, so that a red test is red for a reason; HYPOTHESIS_PROFILE=wide looks
# further, where a test does not say how many it needs.
for name, examples in {"steady": 40, "wide": 500}.items():
    settings.register_profile(name, max_examples=examples, derandomize=name != "wide", deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


def _keep_bytecode():
    """Where Python is told to leave no bytecode beside the sources, it goes to a folder of the user's own.

    Else every worker rewrites every test, and every process that a test starts compiles all of gearlab, again
    and again: most of what collecting takes.
    """
    if not sys.dont_write_bytecode or not hasattr(os, "getuid"):
        return
    folder = Path(tempfile.gettempdir(), f"gearlab-bytecode-{os.getuid()}")
    folder.mkdir(mode=0o700, exist_ok=True)
    if folder.lstat().st_uid != os.getuid():
        return
    sys.dont_write_bytecode, sys.pycache_prefix = False, str(folder)
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # for workers, kernels and commands
    os.environ["PYTHONPYCACHEPREFIX"] = str(folder)


_keep_bytecode()

# Tests that take more than 1.5 s of processor each (all their cases together), by file: the quick part,
# ``-m "not long"``, leaves them out, with the browser and the notebooks. ``tests/test_house.py`` looks that
# each is there.
LONG = {
    "tests/course/test_bench.py": """
        test_a_failing_design_gets_its_review_first_and_its_files_when_asked_for
        test_what_moved_since_an_earlier_file
        test_a_folder_that_cannot_be_written_is_said
        test_a_gear_of_any_name_stays_in_its_folder
        test_every_sheet_is_there
        test_the_command_writes_reviews_and_warns
        test_the_same_design_gives_the_same_bytes
    """,
    "tests/course/test_lab.py": """
        test_cut_files_have_the_holes_where_the_plates_say
        test_paper_gears_are_true_size_and_the_bad_parts_are_bad
    """,
    "tests/course/test_lab_board.py": "test_nothing_is_lost_while_twenty_benches_write",
    "tests/practice/test_misleading.py": """
        test_no_sentence_is_untrue
        test_the_sentences_that_are_held_against_the_number_are_said
        test_a_right_sign_is_not_called_wrong
    """,
    "tests/practice/test_tutor.py": """
        test_every_cause_of_every_bank_gets_its_helps
    """,
    "tests/course/test_frozen.py": """
        test_every_hand_in_is_marked_as_then
    """,
    "tests/course/test_notebook.py": """
        test_the_notebook_runs_saves_and_is_marked
    """,
    "tests/course/test_odd_hand_ins.py": """
        test_scrambled_files_never_stop_a_marking
    """,
    "tests/drawing/test_cutting.py": """
        test_the_name_is_marked_on_the_body_and_clear_of_bore_and_teeth
    """,
    "tests/drawing/test_involute_scenes.py": """
        test_still_pictures_in_both_outputs
    """,
    "tests/noticed/test_noticed.py": """
        test_a_row_that_is_off_by_a_step_is_noticed
        test_a_wrong_relation_is_noticed
        test_what_is_told_agrees_with_the_outside
    """,
    "tests/parts/review/test_advice.py": """
        test_advice_that_is_followed_comes_to_an_end
        test_every_piece_of_advice_mends_and_says_what_it_does
        test_nearly_every_finding_has_an_edit
    """,
    "tests/parts/test_bad_input.py": """
        test_a_shift_that_leaves_no_tooth_is_refused
        test_huge_numbers_are_refused_or_give_numbers
    """,
    "tests/parts/test_gear.py": """
        test_every_property_explains_itself
        test_size_over_pins_is_what_round_pins_measure
        test_tip_and_root_circles_are_those_of_the_cut_outline
    """,
    "tests/parts/test_planetary.py": """
        test_room_between_planets
    """,
    "tests/parts/test_rack.py": """
        test_the_cut_shapes_say_how_far_the_rack_goes
    """,
    "tests/parts/test_review_kits.py": """
        test_one_failure_is_found_at_any_size
    """,
    "tests/parts/test_ring.py": """
        test_lined_up_teeth_do_not_overlap_and_half_a_pitch_off_they_do
    """,
    "tests/parts/test_true_or_refused.py": """
        test_every_number_that_rolling_can_measure_agrees_or_is_named
        test_polygons_turned_in_small_steps_confirm_the_contact_ratio
    """,
    "tests/practice/test_worked_answers.py": """
        test_the_key_equals_the_closed_form_at_every_draw
    """,
    "tests/practice/test_exercises.py": """
        test_a_bank_has_no_problems
    """,
    "tests/practice/test_expression.py": """
        test_any_text_is_read_or_refused
    """,
    "tests/practice/test_inch_twins.py": """
        test_a_listed_slip_is_named
    """,
    "tests/practice/test_slips.py": """
        test_a_wrong_answer_is_named
    """,
    "tests/practice/test_variation.py": """
        test_few_random_numbers_get_a_cause
        test_most_collected_wrong_answers_are_named_without_being_listed
    """,
    "tests/practice/test_writings.py": """
        test_every_writing_of_the_right_number_is_right_and_no_wrong_one
    """,
    "tests/reference/test_counting.py": """
        test_a_lesson_says_how_sure_its_values_are
        test_every_lesson_has_its_rows_and_every_row_a_lesson
    """,
    "tests/reference/test_reference.py": """
        test_published_value
    """,
    "tests/shape/test_against_theory.py": """
        test_a_pinion_moved_inwards_in_its_ring
        test_contact_ratio_in_a_plain_ring
        test_contact_ratio_path_and_backlash
        test_span_over_every_number_of_teeth
        test_speed_ratio_is_constant_over_a_whole_cycle
        test_undercut_and_form_radius
    """,
    "tests/shape/test_generation.py": """
        test_mates_roll_without_overlap_and_without_play
        test_rack_never_cuts_into_the_outline_and_touches_all_of_it
    """,
    "tests/shape/test_rolling.py": """
        test_first_touch_agrees_with_polygons
        test_flanks_turn_each_other_evenly
        test_path_ends_are_where_first_touch_leaves_the_flanks
    """,
    "tests/shape/test_tooth.py": """
        test_chords_keep_within_the_tolerance
    """,
    "tests/test_cli.py": """
        test_a_real_process_shows_no_traceback_and_starts_without_the_heavy_parts
        test_open_copies_the_lessons_and_starts_the_lab_on_them
        test_the_wheel_carries_lessons_exercises_and_templates
    """,
    "tests/test_house.py": """
        test_files_use_each_other_one_way
        test_imports_go_one_way
        test_no_function_is_too_long
        test_the_code_is_formatted_linted_and_typed
    """,
    "tests/test_notebooks.py": """
        test_a_warning_in_a_notebook_fails
    """,
    "tests/theory/test_fuzz.py": """
        test_random_questions_are_answered_truly_or_refused
        test_the_budget_is_counted_alike_everywhere
        test_what_took_longest_is_answered_or_given_up_soon
    """,
    "tests/theory/test_relations.py": """
        test_every_equation_holds_in_both_worlds
    """,
    "tests/theory/test_smallsteps.py": """
        test_small_steps_lead_to_their_relation_and_to_no_other
    """,
    "tests/widgets/test_measuring_explorers.py": """
        test_jaws_accept_what_the_task_accepts
    """,
}
LONG_FOLDERS = ("tests/browser/", "notebooks/")
# Files that open JupyterLab are run by one worker, which starts it once.
IN_LAB = {
    "tests/browser/test_accessibility_lab.py",
    "tests/browser/test_answerbox_lab.py",
    "tests/browser/test_jupyterlab.py",
    "tests/browser/test_lesson_by_keyboard.py",
    "tests/browser/test_mounting_page.py",
    "tests/browser/test_reopened_lab.py",
    "tests/browser/test_surprise_lab.py",
}
# So are those that go through every bank: deriving all answers and compiling all slips takes 15 s of
# processor, once in a process.
WITH_BANKS = ("tests/practice/", "tests/course/test_frozen.py")


def pytest_collection_modifyitems(config, items):
    for item in items:
        file = _file_of(item)
        name = getattr(item, "originalname", None) or item.name
        if file.startswith(LONG_FOLDERS) or name in LONG.get(file, "").split():
            item.add_marker("long")
        if "lab" in getattr(item, "fixturenames", ()) and file not in IN_LAB:
            raise pytest.UsageError(f"{file} opens JupyterLab: name it in IN_LAB of tests/conftest.py")
    # what takes long begins first, so that no worker is left with it when the others have nothing to do
    items.sort(key=lambda item: _begins(_file_of(item)))


def _file_of(item) -> str:
    root = item.config.rootpath
    return item.path.relative_to(root).as_posix() if item.path.is_relative_to(root) else ""


def _begins(file: str) -> int:
    """The lower, the earlier."""
    return (file in IN_LAB, file.startswith(LONG_FOLDERS), file in LONG, True).index(True)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """A file to a worker, as ``--dist=loadfile`` does it, in the order above.

    JupyterLab's files go to one together, and so do those of the banks.
    """
    if config.getvalue("dist") != "loadfile":
        return None
    from xdist.scheduler import LoadFileScheduling

    class Scheduling(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = super()._split_scope(nodeid)
            if file.startswith(WITH_BANKS):
                return "banks"
            return "JupyterLab" if file in IN_LAB else file

    config.option.loadscopereorder = False
    return Scheduling(config, log)


def pytest_collection_finish(session):
    # What was imported and collected stays for the whole run: the collector of garbage need not walk over it
    # again and again.
    gc.collect()
    gc.freeze()
    # What little is left would be walked over at every turn: a fortieth of the processor time of the tests.
    gc.set_threshold(20_000, 20, 50)
    gc.enable()


def pytest_configure(config):
    config.addinivalue_line("markers", "long: over 1.5 s, a browser or a kernel; not in the quick part")
    # Inherited by the notebook kernels that nbval starts: a warning in a lesson fails it.
    os.environ["PYTHONWARNINGS"] = "error"
    # Inherited as well: nobody is there to predict, so a lesson's surprise shows itself.
    os.environ["GEARLAB_TEST"] = "1"
    config.gearlab_folders = {}
    # Answers typed during a test run never lie beside the lessons, nor do an earlier run's come back.
    _folder_of_the_run(config, "GEARLAB_ANSWERS")
    kernels = _folder_of_the_run(config, "GEARLAB_WARM_KERNELS")
    if kernels and warm_kernel.announce(Path(kernels)):
        os.environ["JUPYTER_PATH"] = os.pathsep.join(filter(None, (kernels, os.environ.get("JUPYTER_PATH"))))
    # the notebooks' "python3" is then the kernel of the run
    config.option.nbval_current_env = not hasattr(os, "fork")


def _folder_of_the_run(config, variable):
    """A fresh folder that an environment variable names until the run is over; None where it names one."""
    if variable in os.environ:
        return None
    folder = tempfile.TemporaryDirectory(prefix=variable.lower().replace("_", "-"))
    config.gearlab_folders[variable] = folder
    os.environ[variable] = folder.name
    return folder.name


def pytest_unconfigure(config):
    for variable, folder in getattr(config, "gearlab_folders", {}).items():
        folder.cleanup()
        os.environ.pop(variable, None)


@pytest.fixture(scope="session")
def processor_time():
    """``processor_time(act, times=3)``: the least processor time [s] of some calls.

    A busy machine lets a test wait, and the clock on the wall runs on; what is counted here is what the call
    itself took, and the bounds that it is held against leave a slower machine several times as much.
    """

    def measured(act, times=3):
        taken = []
        for _ in range(times):
            start = time.process_time()
            act()
            taken.append(time.process_time() - start)
        return min(taken)

    return measured


@pytest.fixture
def answers_folder(tmp_path, monkeypatch):
    """A fresh folder for answers, for a test that types some."""
    monkeypatch.setenv("GEARLAB_ANSWERS", str(tmp_path))
    return tmp_path
