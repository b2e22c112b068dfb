"""The house: who may use whom, what loads, how long a room is, what is written on the doors."""

import ast
import doctest
import gc
import inspect
import re
import subprocess
import sys
from functools import cache, lru_cache
from pathlib import Path

import pytest
from every_row import every

import gearlab
from gearlab.vocabulary import PHRASES, TERMS, WORDINGS

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "gearlab"
# A line may use what stands below it; neighbours on a line never use each other.
FLOORS = (
    {"__main__"},
    {"cli"},
    {"widgets", "course"},
    {"drawing", "practice"},
    {"parts"},
    {"theory", "shape"},
)
# Find lessons and exercises, write numbers, files and faults, hold the words. Used by anything, use nothing.
CELLAR = {"contents", "completing", "digits", "quoting", "schema", "toml", "writing", "vocabulary", "care"}
LEVEL = {room: len(FLOORS) - number for number, floor in enumerate(FLOORS) for room in floor} | dict.fromkeys(
    CELLAR, 0
)
LEVEL["quoting"] = -1  # how a text is quoted, in the faults of the cellar too
MODULES = sorted(PACKAGE.rglob("*.py"))
LIMIT = 500  # lines of a file, as the formatter writes them
LIMIT_OF_FUNCTION = 60  # lines of code, without the docstring


@lru_cache(maxsize=len(MODULES) + 1)
def nodes_in(text):
    """The tree of a file's text and all that hangs on it: many rules walk over the same files."""
    return tuple(ast.walk(ast.parse(text)))


def nodes_of(file):
    return nodes_in(file.read_text(encoding="utf-8"))


def tree_of(file):
    return nodes_of(file)[0]


@pytest.fixture(scope="module", autouse=True)
def _trees_are_dropped():
    """They stay until the last rule has read them; no collector need walk over them meanwhile."""
    gc.disable()
    yield
    nodes_in.cache_clear()
    gc.enable()


def room(dotted):
    parts = dotted.split(".")
    return parts[1] if len(parts) > 1 else None


def dotted_name(file):
    parts = list(file.relative_to(ROOT).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imported(file):
    """Dotted names of everything of ours that a file imports, wherever in the file it does."""
    here = dotted_name(file).split(".")
    package = here if file.name == "__init__.py" else here[:-1]
    for node in nodes_of(file):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name.split(".")[0] == "gearlab")
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            whole = ".".join([*base, *([node.module] if node.module else [])])
            if whole == "gearlab":
                yield from (f"gearlab.{alias.name}" for alias in node.names)
            elif whole.startswith("gearlab."):
                yield whole


def breaches(file):
    mine = room(dotted_name(file))
    if mine is None:
        return []  # gearlab/__init__.py hands names on from anywhere
    found = []
    for name in imported(file):
        other = room(name)
        if other is None or other not in LEVEL:
            other = _home_of(name)
        if other != mine and not LEVEL[other] < LEVEL[mine]:
            found.append(f"{dotted_name(file)} imports {name}")
    return found


def _home_of(name):
    """`from gearlab import Gear` is an import of the room that Gear lives in."""
    thing = getattr(gearlab, room(name) or "", None)
    return room(getattr(thing, "__module__", "")) or "cli"


def test_every_room_has_its_floor():
    rooms = {
        path.name.removesuffix(".py")
        for path in PACKAGE.iterdir()
        if path.suffix == ".py" or (path / "__init__.py").exists()
    } - {"__init__"}
    assert rooms <= set(LEVEL), f"no floor for {rooms - set(LEVEL)}"


@every(MODULES, dotted_name)
def test_imports_go_one_way(file):
    assert not breaches(file)


def test_the_rule_sees_a_breach(tmp_path, monkeypatch):
    """The rule itself is tried on files that break it, by every form of import."""
    monkeypatch.setattr(sys.modules[__name__], "ROOT", tmp_path)
    folder = tmp_path / "gearlab" / "theory"
    folder.mkdir(parents=True)
    for line in (
        "import gearlab.shape.tooth",
        "from gearlab.shape import ToothForm",
        "from gearlab import shape",
        "from ..shape import tooth",
        "from .. import parts",
        "def late():\n    from gearlab.parts import Gear",
        "from gearlab import Gear",
        "from gearlab.cli import main",
    ):
        file = folder / "broken.py"
        file.write_text(line)
        assert breaches(file), line
    for line in (
        "from . import units",
        "from .units import convert",
        "import numpy",
        "from gearlab.theory import units",
        "from gearlab import contents",
    ):
        (folder / "broken.py").write_text(line)
        assert not breaches(folder / "broken.py"), line


@every([file for file in MODULES if file.name == "__init__.py"], dotted_name)
def test_a_package_only_hands_names_on(file):
    tree = tree_of(file)
    for node in tree.body:
        docstring = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        names = isinstance(node, ast.Assign) and all(isinstance(target, ast.Name) for target in node.targets)
        lazily = isinstance(node, ast.FunctionDef) and node.name in ("__getattr__", "__dir__")
        assert docstring or names or lazily or isinstance(node, (ast.Import, ast.ImportFrom)), (
            f"{dotted_name(file)} line {node.lineno} does more than hand names on"
        )


def test_import_loads_no_pictures_and_no_widgets():
    code = "import sys, gearlab; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    ).stdout.split()
    assert "sympy" in loaded and "numpy" in loaded
    assert not {
        "matplotlib",
        "ipywidgets",
        "anywidget",
        "shapely",
        "IPython",
        "pydantic",
        "jinja2",
        "typer",
        "rich",
    } & set(loaded)


# -- names ---------------------------------------------------------------------------------------------
def test_public_names_are_few_and_explain_themselves():
    assert len(gearlab.__all__) == len(set(gearlab.__all__)) <= 40
    for name in gearlab.__all__:
        assert inspect.getdoc(getattr(gearlab, name)), name


def public():
    """Functions and classes that theory, parts and shape hand on, with the public methods of the parts."""
    import gearlab.parts
    import gearlab.shape
    import gearlab.theory

    for package in (gearlab.theory, gearlab.parts, gearlab.shape):
        for name in package.__all__:
            thing = getattr(package, name)
            if callable(thing):
                yield f"{package.__name__}.{name}", thing
            if inspect.isclass(thing):
                for method, function in vars(thing).items():
                    if not method.startswith("_") and (
                        inspect.isfunction(function) or isinstance(function, property)
                    ):
                        yield (
                            f"{package.__name__}.{name}.{method}",
                            (function.fget if isinstance(function, property) else function),
                        )


PUBLIC = dict(public())
# Modules, degrees, radians, no unit, a unit by name, or the unit of the part or derivation.
UNIT = re.compile(
    r"\[[^\]]*(?<![A-Za-z])(-|deg|rad|mm|in|modules?|unit|``[^`]+``|rpm|theory|N|lbf|W|MPa|psi|m/s)(?![A-Za-z])[^\]]*\]"
)
#: Annotations of numbers, which carry a unit; what is no number carries none.
NUMBER = re.compile(
    r"(float|int|np\.ndarray|ndarray|ArrayLike|Number|N|Fraction|Sequence\[float\]|None|[ |]+)+"
)
ANY_NUMBER = re.compile(
    r"\b(float|int|ndarray|ArrayLike|Number|Numbers|N|Given|Fraction|Amounts|Told|Any|complex)\b"
)
NO_UNIT = re.compile(r"\[-\]")


def annotations(thing):
    """Annotation of every parameter of a function, or of a class as it is made, as text."""
    known = inspect.signature(thing).parameters
    return {name: str(one.annotation) for name, one in known.items() if name not in ("self", "cls")}


def entries(doc, names):
    """What a docstring tells of each parameter: lines ``name: text`` before its examples, by name."""
    told, last = {}, ()
    for line in doc.split(">>>")[0].splitlines():
        head = re.match(r"(\*{0,2}\w+(?:, \*{0,2}\w+)*): (.*)", line)
        if head and {name.strip("*") for name in head[1].split(", ")} <= set(names):
            last = [name.strip("*") for name in head[1].split(", ")]
            told |= dict.fromkeys(last, head[2])
        elif line.startswith("    ") and last:
            told |= {name: f"{told[name]} {line.strip()}" for name in last}
        else:
            last = ()
    return told


def unit_faults(name, doc, parameters, result):
    """What a docstring leaves out or has too many of: a unit on each number told of, none on the rest."""
    told = entries(doc, parameters)
    for word, text in told.items():
        if NUMBER.fullmatch(parameters[word]) and not UNIT.search(text):
            yield f"{name}: {word!r} does not say its unit in brackets"
        if not ANY_NUMBER.search(parameters[word]) and NO_UNIT.search(text):
            yield f"{name}: {word!r} is no number and has no unit"
    if NUMBER.fullmatch(result) and result != "None" and not UNIT.search(doc.split(">>>")[0]):
        yield f"{name} does not say the unit of what it gives"
    if not told and not ANY_NUMBER.search(result) and NO_UNIT.search(doc.split(">>>")[0]):
        yield f"{name} gives no number, which has no unit"


@every(PUBLIC)
def test_units_stand_in_brackets(name):
    thing = PUBLIC[name]
    doc = inspect.getdoc(thing) or ""
    assert doc, f"{name} has no docstring"
    result = "" if inspect.isclass(thing) else str(inspect.signature(thing).return_annotation)
    assert not list(unit_faults(name, doc, annotations(thing), "Any" if inspect.isclass(thing) else result))


def test_the_unit_rule_sees_what_is_missing():
    doc = (
        "Length [mm].\n\nlength: how long.\nangle, turn: how far\n    [deg].\nname: what it is called [-].\n"
    )
    parameters = {"length": "float", "angle": "float | None", "turn": "np.ndarray", "name": "str"}
    assert [fault.split("'")[1] for fault in unit_faults("it", doc, parameters, "float")] == [
        "length",
        "name",
    ]
    assert list(unit_faults("it", "How long.", {}, "float")) and list(
        unit_faults("it", "Its name [-].", {}, "str")
    )
    assert not list(unit_faults("it", "How long [mm].", {}, "float"))


#: Names that say nothing of what they hold; a local is called by the trade's word for it.
EMPTY_NAMES = {"one", "found", "said", "made", "thing", "things", "stuff"}


def empty_names(text):
    """(Line, name) of everything in a file that is given a name that says nothing.

    Assigned names and fields, parameters, targets of loops, comprehensions, `with`, `except`, `match` and
    imports; not functions, which are called for what they do.
    """
    for node in nodes_in(text):
        if isinstance(node, ast.Name):
            names = [node.id] if isinstance(node.ctx, ast.Store) else []
        elif isinstance(node, ast.arg):
            names = [node.arg]
        elif isinstance(node, (ast.ExceptHandler, ast.MatchAs, ast.MatchStar)):
            names = [node.name]
        elif isinstance(node, ast.MatchMapping):
            names = [node.rest]
        elif isinstance(node, (ast.Import, ast.ImportFrom)):
            names = [alias.asname for alias in node.names]
        else:
            continue
        yield from ((node.lineno, name) for name in names if name in EMPTY_NAMES)


def test_names_say_what_they_hold():
    empty = [
        f"{dotted_name(file)} line {line}: {name}"
        for file in MODULES
        for line, name in empty_names(file.read_text(encoding="utf-8"))
    ]
    assert not empty, f"call each by the trade's word for what it holds: {empty}"


def test_the_rule_sees_an_empty_name():
    for line in (
        "one = 1",
        "one, two = gears",
        "thing: int = 1",
        "class Pair:\n    one: int",
        "def mesh(one, two): pass",
        "def mesh(*, found=None): pass",
        "def mesh(*things): pass",
        "for found in gears: pass",
        "[one for one in gears]",
        "key = lambda one: one.teeth",
        "if found := gears: pass",
        "with file as stuff: pass",
        "try: pass\nexcept ValueError as said: pass",
        "match gears:\n    case [made, *_]: pass",
        "match gears:\n    case [_, *things]: pass",
        "match gears:\n    case {**stuff}: pass",
        "import math as thing",
    ):
        assert list(empty_names(line)), line
    for line in ("gear = 1", "one.teeth = 1", "def said(gear): return one", "gears['one'] = made(one=1)"):
        assert not list(empty_names(line)), line


# -- sizes ---------------------------------------------------------------------------------------------
#: Files beyond the limit, each with its reason.
LONG_FILES: dict[str, str] = {}
#: Functions beyond the limit, each with its reason.
LONG_FUNCTIONS: dict[str, str] = {}


HOLD_STATEMENTS = (ast.Module, ast.stmt, ast.excepthandler, ast.match_case)


def functions(file):
    """Name and lines of code, without the docstring, of every function of a file."""

    def walk(node, name):
        for child in ast.iter_child_nodes(node):
            if not isinstance(child, HOLD_STATEMENTS):
                continue  # an expression holds no function of its own
            inner = f"{name}.{child.name}" if isinstance(child, (ast.FunctionDef, ast.ClassDef)) else name
            if isinstance(child, ast.FunctionDef):
                first = child.body[0]
                told = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
                yield (
                    inner,
                    child.end_lineno
                    - child.lineno
                    + 1
                    - (first.end_lineno - first.lineno + 1 if told else 0),
                )
            yield from walk(child, inner)

    yield from walk(tree_of(file), dotted_name(file))


@every(MODULES, dotted_name)
def test_no_file_is_too_long(file):
    lines = len(file.read_text(encoding="utf-8").splitlines())
    assert (lines > LIMIT) == (dotted_name(file) in LONG_FILES), f"{lines} lines; {LIMIT} are the limit"


def lost_texts(nodes):
    """Lines with a text that does nothing: the end of a sentence that a line break cut off, say."""
    for node in nodes:
        if not isinstance(node, HOLD_STATEMENTS):
            continue
        documented = isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef))
        for field in ("body", "orelse", "finalbody"):
            statements = getattr(node, field, None)
            for statement in statements if isinstance(statements, list) else ():
                text = isinstance(statement, ast.Expr) and (
                    isinstance(statement.value, ast.JoinedStr)
                    or (isinstance(statement.value, ast.Constant) and isinstance(statement.value.value, str))
                )
                if text and not (documented and field == "body" and statement is statements[0]):
                    yield statement.lineno


def test_no_sentence_loses_its_end():
    assert list(lost_texts(nodes_in('def f():\n    yield "a"\n    " b"\n'))) == [3]
    lost = [f"{dotted_name(file)}:{line}" for file in MODULES for line in lost_texts(nodes_of(file))]
    assert lost == [], "put the parts of a long sentence in parentheses"


def test_no_function_is_too_long():
    long = {name for file in MODULES for name, lines in functions(file) if lines > LIMIT_OF_FUNCTION}
    assert long - LONG_FUNCTIONS.keys() == set(), f"{LIMIT_OF_FUNCTION} lines are the limit"
    assert LONG_FUNCTIONS.keys() <= long, "no longer too long: strike them off the list"


# -- circles -------------------------------------------------------------------------------------------
FILES = {dotted_name(path) for path in MODULES if path.name != "__init__.py"}


def files_used(file):
    """Files that a file imports, late or not; not what it imports for its types alone."""
    mine = dotted_name(file)
    package = mine.split(".") if file.name == "__init__.py" else mine.split(".")[:-1]
    nodes = nodes_of(file)
    for_types = {
        id(inner)
        for node in nodes
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)
        for inner in ast.walk(node)
    }
    for node in nodes:
        if isinstance(node, ast.ImportFrom) and id(node) not in for_types:
            base = package[: len(package) - node.level + 1] if node.level else []
            whole = ".".join([*base, *([node.module] if node.module else [])])
            for used in (whole, *(f"{whole}.{alias.name}" for alias in node.names)):
                if used in FILES and used != mine:
                    yield used


@cache
def graph_of(name):
    """What each file of a room uses."""
    return {dotted_name(file): set(files_used(file)) for file in MODULES if room(dotted_name(file)) == name}


def circle(graph):
    """The names on a circle of a graph, [] without one."""
    left = {name: set(uses) for name, uses in graph.items()}
    while True:
        ends = {name for name, uses in left.items() if not uses & left.keys()}
        if not ends:
            return sorted(left)
        for name in ends:
            del left[name]
        if not left:
            return []


@every(sorted(LEVEL))
def test_files_use_each_other_one_way(name):
    assert not circle(graph_of(name)), f"these use each other in a circle: {circle(graph_of(name))}"


def places(graph):
    """The same graph between what stands side by side in a room: its files and its folders."""
    short = {name: ".".join(name.split(".")[:3]) for name in graph}
    return {
        place: {short[used] for name in graph if short[name] == place for used in graph[name] & short.keys()}
        - {place}
        for place in set(short.values())
    }


@every(sorted(LEVEL))
def test_folders_use_each_other_one_way(name):
    graph = places(graph_of(name))
    assert not circle(graph), f"these use each other in a circle: {circle(graph)}"


def test_the_rule_sees_a_circle_of_folders():
    there_and_back = {
        "gearlab.a.b.c": {"gearlab.a.d"},
        "gearlab.a.d": {"gearlab.a.b.e"},
        "gearlab.a.b.e": set(),
    }
    assert not circle(there_and_back)
    assert circle(places(there_and_back)) == ["gearlab.a.b", "gearlab.a.d"]


def test_the_rule_sees_a_circle():
    assert circle({"a": {"b"}, "b": {"c"}, "c": {"b"}, "d": {"a"}}) == ["a", "b", "c", "d"]
    assert circle({"a": {"b"}, "b": {"c"}, "c": set(), "d": {"a", "elsewhere"}}) == []


# -- the ruler -----------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "command",
    [
        ("ruff", "check", "--no-cache", "gearlab", "tests"),
        ("ruff", "format", "--no-cache", "--check", "gearlab", "tests"),
        ("mypy", "--no-error-summary"),
    ],
    ids=lambda command: " ".join(command[:2]),
)
def test_the_code_is_formatted_linted_and_typed(command):
    result = subprocess.run([sys.executable, "-m", *command], capture_output=True, text=True, cwd=ROOT)
    assert result.returncode == 0, result.stdout[-4000:] + result.stderr[-1000:]


# -- words ---------------------------------------------------------------------------------------------
#: Words that stay where they are, each with its reason.
WORDS_THAT_STAY = {
    ("gearlab/vocabulary.py", None): "the table itself",
}


def patterns(table):
    """(Pattern of whole words, what is written in its place), and one pattern that any of them meets."""
    any_of = re.compile("|".join(rf"\b(?:{pattern})\b" for pattern in table), re.I)
    return any_of, [(re.compile(rf"\b(?:{pattern})\b", re.I), better) for pattern, better in table.items()]


def words_not_used():
    return patterns({pattern: term.word for term in TERMS for pattern in term.never} | PHRASES)


@cache
def texts_of(file):
    """What a reader meets in a file: the strings and docstrings of code, the whole of anything else."""
    text = (ROOT / file).read_text(encoding="utf-8")
    if file.suffix != ".py":
        texts = [re.sub(r"`[^`]*`", " ", text)]  # names of files and options are no prose
    else:
        nodes = (node for node in nodes_in(text) if isinstance(node, ast.Constant))
        texts = [node.value for node in nodes if isinstance(node.value, str)]
    return [" ".join(text.split()) for text in texts]


def words_against(table, file, text):
    """(What is to be written, place) of every word of a table in a text of a file."""
    any_of, rows = table
    if any_of.search(text):  # one look instead of one for each row
        for pattern, better in rows:
            for word in pattern.findall(text):
                yield f"{file.as_posix()}: {word!r}; write: {better}", (file.as_posix(), word.lower())


def test_one_word_for_one_idea():
    read = [file.relative_to(ROOT) for file in [*MODULES, *sorted(PACKAGE.rglob("*.toml"))]]
    read += [Path("README.md"), Path("DEVELOPERS.md")]
    read += [file.relative_to(ROOT) for file in sorted((ROOT / "exercises").rglob("*.*"))]
    against, stays, table = [], set(), words_not_used()
    for file in read:
        for sentence, place in words_against(table, file, "\n".join(texts_of(file))):
            if (place[0], None) in WORDS_THAT_STAY or place in WORDS_THAT_STAY:
                stays |= {place, (place[0], None)} & WORDS_THAT_STAY.keys()
            else:
                against.append(sentence)
    assert not against, "\n".join(against)
    assert stays == WORDS_THAT_STAY.keys(), "mended: strike it off the list"


def test_wordings_that_are_no_english_of_the_trade():
    read = [file.relative_to(ROOT) for file in MODULES if file.name != "vocabulary.py"]
    read += [Path("README.md"), Path("DEVELOPERS.md")]
    kinds = ("*.js", "*.html", "*.toml")
    read += [file.relative_to(ROOT) for kind in kinds for file in sorted(PACKAGE.rglob(kind))]
    for place in ("notebooks", "exercises"):
        read += [file.relative_to(ROOT) for file in sorted((ROOT / place).rglob("*.*"))]
    against, table = [], patterns(WORDINGS)
    for file in read:
        text = " ".join(texts_of(file))
        text = re.sub(r"\[\d+ · [^]]*\]", " ", text)  # titles of lessons are the lessons' own
        against += [sentence for sentence, _ in words_against(table, file, text)]
    assert not against, "\n".join(against)


def test_the_table_of_words_contradicts_itself_nowhere():
    for pattern, better in words_not_used()[1]:
        for term in TERMS:
            assert not pattern.search(f"{term.word} {term.everyday}"), (pattern.pattern, term.word)
        assert not pattern.search(better), better


# -- what is kept --------------------------------------------------------------------------------------
def committed():
    listing = subprocess.run(["git", "ls-files", "-z"], capture_output=True, cwd=ROOT)
    if listing.returncode:
        pytest.skip("not a clone: there is no list of committed files")
    return [Path(name) for name in listing.stdout.decode().split("\0") if name and (ROOT / name).exists()]


def test_nothing_but_the_known_lies_at_top_level():
    seen = {path.parts[0] for path in committed()}
    assert {name for name in seen if not name.startswith(".")} <= {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "gearlab",
        "notebooks",
        "tests",
        "exercises",
    }


# Put together here, so that this file does not name what it forbids.
HOSTS = re.compile(
    "|".join(
        (
            r"pypi\." + "org",
            r"files\.python" + "hosted",
            r"registry\.npm" + "js",
            r"cdn\.js" + "delivr",
            "unp" + "kg",
            r"conda\.ana" + "conda",
            r"https?://[^ ]*:[^ /@]*@",
        )
    ),
    re.IGNORECASE,
)
KEY = re.compile(r"^\s*(course_key|secret|key)\s*[=:]\s*[\"']?[0-9a-fA-F]{32,}", re.M)


def test_nothing_private_is_committed():
    for path in committed():
        name = path.name.lower()
        assert not re.search(r"(\.key|\.pem|course[-_ ]?key(\.txt|\.json|\.toml)?)$", name), (
            f"{path} looks like a course key"
        )
        assert not re.fullmatch(
            r"(roster|students|class[-_]?list|gradebook)[^.]*\.(csv|tsv|xlsx|toml|json)", name
        ), f"{path} looks like a roster"
        if path.suffix in (
            ".py",
            ".toml",
            ".md",
            ".json",
            ".js",
            ".css",
            ".html",
            ".ipynb",
            ".yml",
            ".yaml",
            ".txt",
            ".cfg",
            ".csv",
        ):
            text = (ROOT / path).read_text(encoding="utf-8")
            assert not HOSTS.search(text), f"{path} names {HOSTS.search(text).group()}"
            assert not KEY.search(text), f"{path} holds what looks like a key"


def test_the_private_patterns_see_what_they_should():
    assert HOSTS.search("index-url = https://" + "pypi." + "org/simple") and KEY.search(
        'course_key = "' + "0f" * 16 + '"'
    )


def test_the_long_tests_are_there(request):
    plugins = request.config.pluginmanager.get_plugins()
    long = next(plugin.LONG for plugin in plugins if hasattr(plugin, "LONG"))
    for file, names in long.items():
        tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
        assert set(names.split()) <= {
            node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)
        }


def test_the_examples_of_the_readme_hold(monkeypatch):
    monkeypatch.chdir(ROOT)
    options = doctest.NORMALIZE_WHITESPACE
    assert doctest.testfile(str(ROOT / "README.md"), module_relative=False, optionflags=options).failed == 0
