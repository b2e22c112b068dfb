"""What follows from an explorer's lines, and that its states are pure: for every explorer there is."""

import ast
import inspect
import json
import pickle
import random
import re
import sys
import threading
import types
from pathlib import Path

import pytest

from gearlab.theory.quantities import QUANTITIES
from gearlab.widgets import PairExplorer, RatioFinder, SpacingExplorer, TrainBuilder, explorers
from gearlab.widgets.explorers.controls import Choice, Line, Measure, Scale, Whole, tooth_size
from gearlab.widgets.explorers.explorer import Explorer, State
from gearlab.widgets.explorers.state import Cells, Inputs, group, remark, row

ALL = [getattr(explorers, name) for name in explorers.__all__]
FOLDER = Path(explorers.__file__).parent


def beside(explorer, inputs, steps, seed):
    """Inputs some steps of some control away, as far as they can be built."""
    chance, controls = random.Random(seed), [line for line in explorer.declared.values() if not line.fixed]
    for _ in range(steps):
        line = chance.choice(controls)
        after = inputs.but(**{line.name: line.next(explorer, inputs)})
        after = explorer.tidied(after, inputs)
        try:
            explorer.state(after)
        except ValueError:
            continue
        inputs = after
        yield inputs


def kept(explorer):
    """Everything that an explorer holds, by identity."""
    traits = dict(explorer._trait_values)
    fields = {name: value for name, value in vars(explorer).items() if not name.startswith("_trait")}
    return {name: id(value) for name, value in {**traits, **fields}.items()}


@pytest.mark.parametrize("cls", ALL)
def test_a_state_is_a_pure_function_of_the_inputs(cls):
    explorer = cls()
    before = kept(explorer)
    steps = 40 if cls is explorers.ToothAnatomy else 12  # which says something when all names are given
    path = list(beside(explorer, explorer.now(), steps, cls.__name__))
    assert path, "no control can be moved"
    forwards = [json.dumps(explorer.drawn(explorer.state(inputs))) for inputs in path]
    backwards = [json.dumps(explorer.drawn(explorer.state(inputs))) for inputs in reversed(path)]
    assert forwards == backwards[::-1] and len(set(forwards)) > 1
    assert kept(explorer) == before
    # an explorer of its own, that has seen nothing of all this, says the same
    assert json.dumps(cls().drawn(cls().state(path[-1]))) == forwards[-1]


@pytest.mark.parametrize("cls", ALL)
def test_a_state_that_was_worked_out_is_shown_as_if_the_controls_had_been_set(cls):
    shown, handled = cls(), cls()
    *_, inputs = beside(shown, shown.now(), 12, cls.__name__ + "again")
    shown.show_state(shown.state(inputs))
    for at in beside(handled, handled.now(), 12, cls.__name__ + "again"):
        for name, value in at.settings().items():
            setattr(handled, name, value)
    assert shown.now() == handled.now() == inputs
    for name in ("picture", "text", "heading", "readout", "warnings", "controls"):
        assert getattr(shown, name) == getattr(handled, name), name


@pytest.mark.parametrize("cls", ALL)
def test_help_and_signature_tell_every_argument_with_its_limits(cls):
    arguments = inspect.signature(cls).parameters
    for name, line in cls.declared.items():
        if line.argument:
            called = line.argument if isinstance(line.argument, str) else name
            assert called in arguments and f"\n{called} : {line.kind}" in cls.__doc__
            scale = getattr(line, "scale", None)
            if isinstance(scale, Scale):
                words = re.sub(r"\s+", " ", cls.__doc__)
                assert f"{scale.low:g} to {scale.high:g}".replace("-", "\u2212") in words, name
    assert ("driver_speed" in arguments) == ("playing" in arguments) == bool(cls.speed)


def test_help_of_the_pair_shows_limits_and_units():
    words = re.sub(r"\s+", " ", PairExplorer.__doc__)
    for told in (
        "driver_teeth : int, default 18 Teeth of the driver, 6 to 160.",
        "0.5 to 10; 2.5 if neither is given [mm]",
        "2 to 64; then lengths are inches [1/in]",
        "\u22122 to 2 mm or \u22120.08 to 0.08 in",
        "-30 to 30 [rpm]",
    ):
        assert told in words


@pytest.mark.parametrize("cls", ALL)
def test_controls_of_the_panel_are_inputs(cls):
    explorer = cls()
    names = [spec["name"] for spec in explorer.controls]
    assert set(names) <= set(cls.inputs) and len(set(names)) == len(names)


def test_every_word_in_the_code_of_an_explorer_is_known():
    """Also in branches that no test reaches."""
    writers = {"length", "plain", "number", "angle", "said", "distance", "cell", "speed_cell"}
    seen = 0
    for path in FOLDER.glob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        classes = [
            getattr(explorers, node.name, None) for node in tree.body if isinstance(node, ast.ClassDef)
        ]
        own = {word for cls in classes if cls for word in (*cls.words, *cls.inputs)}
        for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call) and node.args):
            name = getattr(call.func, "attr", getattr(call.func, "id", ""))
            if name in writers and isinstance(call.args[0], ast.Constant) and own:
                seen += 1
                assert call.args[0].value in QUANTITIES or call.args[0].value in own, (path.name, call.lineno)
    assert seen > 80


def state_of(inputs, scene, word="teeth", kind="note"):
    n = Cells({}, "mm")
    return State(inputs, scene, "", [group("", [row("", n.plain(word, 1.0))])], [remark(kind, "words")])


SCENE = SpacingExplorer().scene


def test_a_class_without_a_state_is_refused_when_it_is_made():
    with pytest.raises(TypeError, match=r"Bare has no state: give it state\(self, inputs\)"):

        class Bare(Explorer):
            teeth = Whole(18, 6, 120, "Teeth")


def test_a_class_without_a_control_is_refused_when_it_is_made():
    with pytest.raises(TypeError, match="Still has no control"):

        class Still(Explorer):
            teeth = Whole(18, 6, 120, "Teeth", fixed=True)

            def state(self, inputs):
                return state_of(inputs, SCENE)


def test_a_mistyped_control_is_refused_when_the_class_is_made():
    with pytest.raises(TypeError, match="no control 'driver_teth'; did you mean driver_teeth?"):

        class Mistyped(Explorer):
            driver_teeth = Whole(18, 6, 120, "Teeth")

            def state(self, inputs):
                return state_of(inputs, SCENE) if inputs.driver_teeth < 20 else [inputs.driver_teth]

    with pytest.raises(TypeError, match="no control 'driver_teth'; did you mean driver_teeth?"):

        class Helper(Explorer):
            driver_teeth = Whole(18, 6, 120, "Teeth")

            def state(self, inputs):
                return state_of(inputs, SCENE)

            @staticmethod
            def _about(inputs):
                return [inputs.driver_teth for _ in range(2)]

    with pytest.raises(TypeError, match="no control 'tooth'; did you mean teeth?"):

        class Panelled(Explorer):
            teeth = Whole(18, 6, 120, "Teeth")
            panelled = ("tooth",)

            def state(self, inputs):
                return state_of(inputs, SCENE)


def test_a_line_that_would_hide_what_every_explorer_has_is_refused():
    with pytest.raises(TypeError, match="cannot have a line called 'speed'"):

        class Hiding(Explorer):
            speed = Measure(1.0, 0.0, 2.0, "Speed", unit="rpm")

            def state(self, inputs):
                return state_of(inputs, SCENE)


@pytest.mark.parametrize(
    ("options", "error", "words"),
    [
        ({"word": "centre_distence"}, LookupError, "'centre_distence'.*did you mean centre_distance?"),
        ({"word": "gap"}, LookupError, "the word 'gap', which theory does not know and words does not name"),
        ({"kind": "warnig"}, ValueError, "kind 'warnig' is not known.*did you mean warning?"),
    ],
)
def test_a_mistyped_word_or_kind_is_refused_when_the_first_state_is_made(options, error, words):
    class Wrong(Explorer):
        teeth = Whole(18, 6, 120, "Teeth")

        def state(self, inputs):
            return state_of(inputs, SCENE, **options)

    with pytest.raises(error, match=words):
        Wrong()


def test_a_word_of_its_own_and_a_family_of_words_are_declared():
    class Right(Explorer):
        words = ("gap", "error of *")
        teeth = Whole(18, 6, 120, "Teeth")

        def state(self, inputs):
            return state_of(inputs, SCENE, word="gap" if inputs.teeth < 20 else f"error of {inputs.teeth}")

    explorer = Right()
    assert explorer.value("gap") == 1.0
    explorer.teeth = 20
    assert explorer.value("error of 20") == 1.0


def test_a_mistyped_unit_side_or_argument_is_refused_with_the_near_word():
    with pytest.raises(ValueError, match="unit 'degres' is not known; did you mean degrees?"):
        Measure(0.0, 0.0, 1.0, "Angle", unit="degres")
    with pytest.raises(ValueError, match="of = 'drivn' is no gear; did you mean driven?"):
        Whole(18, 6, 120, "Teeth", of="drivn")
    with pytest.raises(
        TypeError, match="PairExplorer has no argument 'driver_teth'; did you mean driver_teeth?"
    ):
        PairExplorer(driver_teth=20)
    with pytest.raises(TypeError, match="only driver_teeth and driven_teeth by place; .* module=2.5 or"):
        PairExplorer(18, 45, 2.5)


def test_what_is_fixed_cannot_be_set_later():
    builder = TrainBuilder()
    with pytest.raises(ValueError, match="wanted_ratio of a TrainBuilder is fixed when it is made"):
        builder.wanted_ratio = 4.0
    assert builder.wanted_ratio == 5.0 and "reach 5 : 1" in builder.warnings[0]["text"]


def test_inputs_never_change():
    inputs = Inputs(teeth=18, module=2.5)
    with pytest.raises(AttributeError, match="cannot be set"):
        inputs.teeth = 19
    with pytest.raises(AttributeError, match="'tooth'; did you mean teeth?"):
        inputs.but(tooth=19)
    other = inputs.but(teeth=19)
    assert (inputs.teeth, other.teeth, other.module) == (18, 19, 2.5) and inputs != other
    assert other.but(teeth=18) == inputs and hash(other.but(teeth=18)) == hash(inputs)
    assert pickle.loads(pickle.dumps(inputs)) == inputs


def test_whole_numbers_are_whole_and_choices_keep_their_type():
    with pytest.raises(ValueError, match="18.5 is no whole number"):
        PairExplorer(18.5, 45)

    class Turned(Explorer):
        angle_to = Choice(20.0, (14.5, 20.0), "Angle")
        module, diametral_pitch = tooth_size()

        def state(self, inputs):
            return state_of(inputs, SCENE)

    assert type(Turned(angle_to=20).angle_to) is float


def test_arrows_of_the_ratio_finder_follow_its_speed():
    """What a state reads is an input: the speed was not, and the arrows stayed."""
    finder = RatioFinder()
    before = finder.picture
    finder.driver_speed = -6.0
    assert finder.picture != before


def test_what_a_cell_sets_while_a_state_is_worked_out_is_not_lost():
    begun, go_on = threading.Event(), threading.Event()

    class Slow(PairExplorer):
        def state(self, inputs):
            if inputs.driver_teeth == 30:
                begun.set()
                assert go_on.wait(20)
            return super().state(inputs)

    explorer = Slow()
    page = threading.Thread(target=lambda: explorer.set_state({"driver_teeth": 30}))
    page.start()
    assert begun.wait(20)
    cell = threading.Thread(target=lambda: setattr(explorer, "centre_distance_error", 0.3))
    cell.start()
    while explorer.centre_distance_error != 0.3:  # set at once; answered when the page's change has been
        assert cell.is_alive()
    go_on.set()
    page.join(20)
    cell.join(20)
    assert (explorer.driver_teeth, explorer.centre_distance_error) == (30, 0.3)
    # (30 + 45) * 2.5 / 2 + 0.3
    assert explorer.value("centre_distance") == pytest.approx(94.05)


def test_the_explorer_shown_to_developers_works(monkeypatch):
    guide = (FOLDER.parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = guide.split("### Add an explorer\n")[1].split("\n### ")[0]
    view, explorer, test = re.findall(r"```python\n(.*?)```", section, re.S)
    assert len((explorer + test).splitlines()) <= 40
    for room, source in (("gearlab.drawing.views", view), ("gearlab.widgets.explorers", explorer)):
        module = types.ModuleType(f"{room}.rim")
        module.__package__ = room
        monkeypatch.setitem(sys.modules, module.__name__, module)
        exec(compile(source, f"{room}.rim", "exec"), vars(module))  # noqa: S102
    scope = {"RimExplorer": sys.modules["gearlab.widgets.explorers.rim"].RimExplorer}
    exec(compile(test, "test_rim", "exec"), scope)
    scope["test_a_hub_as_thick_as_the_root_circle_is_refused"]()
    assert all(isinstance(line, Line) for line in scope["RimExplorer"].declared.values())


def test_a_mistyped_word_of_theory_in_a_readout_names_the_near_one():
    cells = Cells({"outside_diameter": 50.0}, "mm")
    with pytest.raises(LookupError, match="no word 'outside_diamter'; did you mean outside_diameter"):
        cells.length("outside_diamter")


def test_a_mistyped_control_of_an_explorer_is_refused_with_the_near_word():
    explorer = PairExplorer(18, 45)
    with pytest.raises(AttributeError, match="no control 'drivr_teeth'; did you mean driver_teeth?"):
        explorer.drivr_teeth = 3
    explorer.driver_teeth = 19
    assert explorer.shown.inputs.driver_teeth == 19


@pytest.mark.parametrize("attribute", ["words", "panelled"])
def test_a_string_in_place_of_a_tuple_is_refused_when_the_class_is_made(attribute):
    with pytest.raises(TypeError, match=rf"{attribute} of Stringy is 'teeth': write a tuple.*\('teeth',\)"):
        type(
            "Stringy",
            (Explorer,),
            {"teeth": Whole(18, 6, 120, "Teeth"), "state": lambda self, inputs: None, attribute: ("teeth")},
        )


GROUP = [group("", [row("", Cells({}, "mm").plain("teeth", 1.0))])]


@pytest.mark.parametrize(
    "given, says",
    [
        (lambda i: None, "state of Odd gives None: return State"),
        (lambda i: State(i, None, "", GROUP), "the scene of Odd is None"),
        (lambda i: State(i, SCENE, "", GROUP[0]["rows"]), "holds a row where group"),
        (lambda i: State(i, SCENE, "", GROUP[0]["rows"][0]["cells"]), "holds a cell where group"),
        (lambda i: State(i, SCENE, "", GROUP[0]), "is a group where a list belongs"),
        (lambda i: State(i, SCENE, "", [group("", ["teeth"])]), r"holds 'teeth' where row\("),
        (lambda i: State(i, SCENE, "", GROUP, ["It turns."]), "remarks of Odd hold 'It turns.'"),
    ],
)
def test_what_is_no_state_is_refused_by_what_is_expected(given, says):
    class Odd(Explorer):
        teeth = Whole(18, 6, 120, "Teeth")

        def state(self, inputs):
            return given(inputs)

    with pytest.raises(TypeError, match=says):
        Odd()
    good = SpacingExplorer()
    good.state = given
    with pytest.raises(TypeError, match=says.replace("Odd", "SpacingExplorer")):
        good.ahead.worked_out(good.now())
