"""The names that lessons import: all from gearlab and gearlab.widgets."""

import ast
import json
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

import gearlab
from gearlab import widgets

ROOT = Path(__file__).parents[1]


def _deeper():
    """What a notebook imports from inside gearlab: file and name."""
    for path in sorted((ROOT / "notebooks").rglob("*.ipynb")):
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "code":
                for node in ast.walk(ast.parse("".join(cell["source"]))):
                    if not isinstance(node, ast.ImportFrom) or node.module in ("gearlab", "gearlab.widgets"):
                        continue
                    if (node.module or "").startswith("gearlab."):
                        yield from ((node.module, alias.name) for alias in node.names)


def test_whatever_a_lesson_reaches_for_deeper_is_handed_on():
    handed = [getattr(gearlab, name) for name in gearlab._LATER]
    handed += [getattr(widgets, name) for name in widgets._LATER]
    for module, name in _deeper():
        thing = getattr(import_module(module), name)
        assert any(each is thing for each in handed), f"{module}.{name} is handed on nowhere"


@pytest.mark.parametrize("package", [gearlab, widgets], ids=lambda package: package.__name__)
def test_names_do_not_clash_and_each_says_what_it_is(package):
    assert not set(gearlab._LATER) & set(widgets.__all__)
    for name in package._LATER:
        thing = getattr(package, name)
        assert not callable(thing) or thing.__doc__, name


def test_a_near_name_is_told():
    with pytest.raises(AttributeError, match="did you mean InternalGear"):
        gearlab.internalgear  # noqa: B018
    with pytest.raises(AttributeError, match=r"'qqqqq'$"):
        gearlab.qqqqq  # noqa: B018


def test_handing_on_loads_no_pictures():
    code = (
        "import sys, gearlab; gearlab.convert, gearlab.read_design, gearlab.roll;"
        "print('matplotlib' in sys.modules, 'ipywidgets' in sys.modules)"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert told.stdout.split() == ["False", "False"]
