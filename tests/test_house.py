"""The house itself: its floors, its style, and what may be slow."""

import ast
import importlib
import importlib.util
import subprocess
import sys
import tomllib
from collections.abc import Collection, Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[1]
MODULES = sorted((ROOT / "assistant").rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("test_*.py"))
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "assistant", "trees", "tests", "transcripts_demo"}

# Slow to load: CoolProp takes 1.8 s, numpy and Textual some tenths of a second.
SLOW = ("CoolProp", "numpy", "textual")
LOADED = """
import sys
from assistant.cli.main import main
try:
    main(sys.argv[1:])
except SystemExit as end:
    print(end.code, *sorted({name.partition(".")[0] for name in sys.modules}), file=sys.__stderr__)
"""


def ran(*command: str) -> "subprocess.CompletedProcess[str]":
    """A tool run on this checkout."""
    return subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False)


def test_the_floors_hold() -> None:
    """A lower floor knows nothing of a higher one; CoolProp and Textual are known where the contracts allow it."""
    code = "import sys; from importlinter.cli import lint_imports_command; lint_imports_command(['--no-cache'])"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
    assert f"{len(PROJECT['tool']['importlinter']['contracts'])} kept, 0 broken" in done.stdout


def test_the_code_is_linted() -> None:
    """ruff finds nothing in the package, the tests and what lies beside them."""
    done = ran("ruff", "check", "--no-cache", ".")
    assert done.returncode == 0, done.stdout


def test_the_code_is_formatted() -> None:
    """ruff would change no file."""
    done = ran("ruff", "format", "--no-cache", "--check", ".")
    assert done.returncode == 0, done.stdout


def test_the_types_hold() -> None:
    """mypy in its strict mode finds nothing in the package."""
    done = ran("mypy")
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize(
    "arguments",
    [("--help",), ("trees", "check"), ("pt", "R-410A", "122.8psig"), ("call", "--plain")],
    ids=" ".join,
)
def test_nothing_slow_is_loaded_for_what_comes_first(arguments: tuple[str, ...], tmp_path: Path) -> None:
    """Help, the check of trees, a saturation value and the first question wait for no slow package."""
    done = subprocess.run(
        [sys.executable, "-c", LOADED, *arguments],
        cwd=ROOT,
        input="",
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": str(ROOT), "COILSIDE_HOME": str(tmp_path), "PATH": ""},
    )
    code, *loaded = done.stderr.splitlines()[-1].split()
    assert code == "0", done.stderr
    assert "click" in loaded
    assert [name for name in SLOW if name in loaded] == []
    if arguments[0] == "call":
        assert done.stdout.startswith("What is the complaint?\n")


def test_the_top_level_holds_only_what_it_may() -> None:
    """Beside files with a dot the top level holds the package, its content, its tests, and two pages to read."""
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found - TOP == set()
    assert {"README.md", "pyproject.toml", "assistant", "trees", "tests"} <= found


def test_a_module_is_one_room() -> None:
    """A module says in its first line what it is; it is as long as its subject."""
    texts = {str(path.relative_to(ROOT)): path.read_text(encoding="utf-8") for path in MODULES}
    assert [path for path, text in texts.items() if not ast.get_docstring(ast.parse(text))] == []


def test_what_the_project_file_names_is_there() -> None:
    """Each command, package and import of the project file exists."""
    for target in PROJECT["project"]["scripts"].values():
        module, name = target.split(":")
        assert callable(getattr(importlib.import_module(module), name))
    for contract in PROJECT["tool"]["importlinter"]["contracts"]:
        for name in named_modules(contract):
            assert importlib.util.find_spec(name) is not None, name
    wheel = PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]
    for folder in (*wheel["packages"], *wheel["force-include"]):
        assert (ROOT / folder).is_dir(), folder


def test_the_licence_travels_with_the_package() -> None:
    """Its text lies in the package, so that wheel and source archive hold it, and names no person."""
    (text,) = PROJECT["project"]["license-files"]
    assert (ROOT / text).is_relative_to(ROOT / PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]["packages"][0])
    assert "assistant" in PROJECT["tool"]["hatch"]["build"]["targets"]["sdist"]["include"]
    assert (ROOT / text).read_text(encoding="utf-8").startswith(f"{PROJECT['project']['license']} License\n")


def named_modules(contract: dict[str, Any]) -> list[str]:
    """The modules of ours that a contract names."""
    named = [*contract.get("source_modules", []), *contract.get("layers", [])]
    ignored = [line.split(" -> ")[0] for line in contract.get("ignore_imports", [])]
    return [part.strip() for name in [*named, *ignored] for part in name.split("|")]


def test_every_floor_is_in_the_contract() -> None:
    """No module or package of ours stands outside the layers."""
    layers = PROJECT["tool"]["importlinter"]["contracts"][0]["layers"]
    named = {part.strip().removeprefix("assistant.") for layer in layers for part in layer.split("|")}
    ours = (path for path in (ROOT / "assistant").iterdir() if path.suffix == ".py" or (path / "__init__.py").exists())
    inside = {path.stem for path in ours}
    assert inside - {"__init__"} == named


def imported(path: Path, modules: Collection[str]) -> Iterator[str]:
    """Which of these modules one imports anywhere in it; a package where a name of its own is wanted."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        match node:
            case ast.Import(names=names):
                yield from (each.name for each in names if each.name in modules)
            case ast.ImportFrom(module=str(module), names=names, level=0):
                wanted = (f"{module}.{each.name}" for each in names)
                yield from (name if name in modules else module for name in wanted if {name, module} & set(modules))


def test_no_import_goes_round() -> None:
    """No modules of ours import one another in a circle, also not for their types alone or late, inside a function.

    What is imported late is counted, as it is a thing that a module knows all the same; late is for what is slow.
    """
    names = {".".join(path.relative_to(ROOT).with_suffix("").parts): path for path in MODULES}
    modules = {name.removesuffix(".__init__"): path for name, path in names.items()}
    knows = {name: set(imported(path, modules.keys())) for name, path in modules.items()}
    assert "assistant.source.nearest" in knows["assistant.session.session"]
    assert "assistant.sheet.handing" in knows["assistant.session.keeping_words"], "what is imported late counts"
    assert "assistant.pictures.vapour" in knows["assistant.session.keeping_words"], "what is for types alone counts"
    try:
        TopologicalSorter(knows).prepare()
    except CycleError as error:
        pytest.fail(" -> ".join(error.args[1]))


def test_a_test_says_its_fact() -> None:
    """Every test has a docstring that says what it holds."""
    silent = [
        f"{path.relative_to(ROOT)}: {node.name}"
        for path in TESTS
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.name.startswith("test_")
        and not ast.get_docstring(node)
    ]
    assert silent == []


# What a library calls by name, or what is there for tests: the reason in the end.
CALLED_FROM_OUTSIDE = {
    "list_commands": "click asks a group for it",
    "get_command": "click asks a group for it",
    "convert": "click asks a parameter type for it",
    "saturation_at_temperature": "tests hold the curves against the equation of state by it",
    "liquid_state": "tests hold pictures and the simulator against the equation of state by it",
    "load_catalogue": "tests read a catalogue of one folder by it",
    "check_file": "tests check one file by it",
    "check_folder": "tests check one folder by it",
    "read_tree_string": "tests read a tree that stands in them by it",
    "new_call": "tests keep a call without a session by it",
}


def test_no_public_function_is_there_for_tests_alone() -> None:
    """Every public function outside the screens, whose library calls by name, is named by the package itself."""
    named: set[str] = set()
    public: list[tuple[str, str]] = []
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.Name(id=name) | ast.Attribute(attr=name):
                    named.add(name)
                case ast.Constant(value=str(name)):
                    named.add(name)
                case ast.FunctionDef(name=name, decorator_list=[]) if (
                    not name.startswith("_") and "tui" not in path.parts
                ):
                    public.append((str(path.relative_to(ROOT)), name))
    idle = {name for _, name in public} - named
    assert [(path, name) for path, name in public if name in idle - CALLED_FROM_OUTSIDE.keys()] == []
    assert CALLED_FROM_OUTSIDE.keys() - idle == set()


# Names that two classes still have: parts of a condition and values of a call, a screen and what it shows.
SAME_NAME = {"Choice", "Drawn", "Kept", "Known", "Limit", "Quantity", "Saved", "Transcript", "Unreadable", "_Asked"}

PARTICIPLES = {
    *(
        "begun",
        "carried",
        "done",
        "drawn",
        "given",
        "gone",
        "had",
        "happened",
        "held",
        "kept",
        "known",
        "made",
        "passed",
    ),
    *(
        "rated",
        "scaled",
        "seen",
        "settled",
        "shortened",
        "solved",
        "spoken",
        "swept",
        "taken",
        "told",
        "turned",
        "written",
    ),
}


def test_a_class_has_its_name_alone() -> None:
    """No two classes have one name, but for those that are known to."""
    names = [
        node.name
        for path in MODULES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    ]
    assert {name for name in names if names.count(name) > 1} - SAME_NAME == set()


def test_no_public_function_is_a_bare_participle() -> None:
    """A function says what it does, so that its room is told where it is called; a property may say what is so."""
    found = [
        f"{path.relative_to(ROOT)}: {node.name}"
        for path in MODULES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and node.name in PARTICIPLES and not node.decorator_list
    ]
    assert found == []
