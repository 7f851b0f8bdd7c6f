"""What the docstrings of this floor promise, held against the code."""

import ast
import re
from pathlib import Path

import assistant.thermo

MODULES = sorted(Path(assistant.thermo.__path__[0]).glob("*.py"))
RANGE_CHECKS = {"_check": "OutOfRangeError", "_check_drop": "OutOfRangeError", "_check_fraction": "OutOfRangeError"}


def functions():
    for path in MODULES:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            owner = node.name + "." if isinstance(node, ast.ClassDef) else ""
            if isinstance(node, ast.Module | ast.ClassDef) and not owner.startswith("_"):
                for item in node.body:
                    if isinstance(item, ast.FunctionDef) and not item.name.startswith("_"):
                        yield f"{path.stem}.{owner}{item.name}", item


def raised(function):
    for node in ast.walk(function):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and isinstance(node.exc.func, ast.Name):
            yield node.exc.func.id
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in RANGE_CHECKS:
            yield RANGE_CHECKS[node.func.id]


FUNCTIONS = list(functions())


def test_every_refusal_is_promised():
    """An error that a public function raises itself stands under Raises in its docstring."""
    for name, function in FUNCTIONS:
        promised = (ast.get_docstring(function) or "").partition("Raises:")[2]
        hidden = {error for error in raised(function) if error not in promised and error != "ModuleNotFoundError"}
        if "PhysicsError" in promised:
            hidden -= {"ImpossibleError", "OutOfRangeError"}
        assert not hidden, f"{name} raises {hidden} without saying so"


def test_every_physical_number_has_its_unit():
    """A public function that takes or gives a physical number names a unit in brackets, or says what kind of share."""
    physical = {"float", "Uncertain"}
    for name, function in FUNCTIONS:
        annotations = [a.annotation for a in function.args.args if a.annotation is not None] + [function.returns]
        if {ast.unparse(a) for a in annotations if a is not None} & physical:
            text = ast.get_docstring(function) or ""
            assert re.search(r"\[[^\]]+\]|0 to 1|diameters|-1\.\.1|relative for|absolute \[", text), name


def test_modules_stay_small():
    """No module of this floor is beyond 400 lines."""
    for path in MODULES:
        assert len(path.read_text(encoding="utf-8").splitlines()) <= 400, path.name
