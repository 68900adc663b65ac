"""Every public function says what it takes, gives and raises: Args, Returns or Yields, Raises."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re

import pytest

import dxf2veneer
from dxf2veneer.basics.messages import TakeoffError

MODULES = sorted(m.name for m in pkgutil.walk_packages(dxf2veneer.__path__, "dxf2veneer."))
Function = ast.FunctionDef | ast.AsyncFunctionDef


def public_functions(source: str) -> list[Function]:
    """Public functions at the top of a module; a command's docstring is its help text."""
    return [
        node
        for node in ast.parse(source).body
        if isinstance(node, Function)
        and not node.name.startswith("_")
        and not any(
            re.search(r"\.(command|group)\b", ast.unparse(made)) for made in node.decorator_list
        )
    ]


def section(doc: str, name: str) -> str:
    """What stands under a heading of a docstring."""
    found = re.search(rf"^{name}:\n((?: {{4}}.*\n?|\n)*)", doc, re.MULTILINE)
    return found[1] if found else ""


def own_nodes(function: Function) -> list[ast.AST]:
    """The nodes of a function without those of functions inside it."""
    found: list[ast.AST] = []
    todo: list[ast.AST] = list(function.body)
    while todo:
        node = todo.pop()
        found.append(node)
        if not isinstance(node, Function | ast.Lambda | ast.ClassDef):
            todo += ast.iter_child_nodes(node)
    return found


def raised(function: Function, names: dict[str, object]) -> set[str]:
    """Public errors for users that a function raises itself: ``X(...)`` and ``X.of(...)``."""
    found = set()
    for node in own_nodes(function):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            name = ast.unparse(node.exc.func).partition(".")[0]
            kind = names.get(name)
            if isinstance(kind, type) and issubclass(kind, TakeoffError) and name[0] != "_":
                found.add(name)
    return found


def lacking(function: Function, names: dict[str, object]) -> list[str]:
    """What a function's docstring leaves out."""
    doc = ast.get_docstring(function) or ""
    given = function.args
    arguments = [a.arg for a in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
    arguments += [f"{s}{a.arg}" for s, a in (("*", given.vararg), ("**", given.kwarg)) if a]
    described = [
        name.strip()
        for line in section(doc, "Args").splitlines()
        if re.match(r" {4}[\w*]", line)
        for name in line.partition(":")[0].split(",")
    ]
    missing = [f"argument {a}" for a in arguments if a not in described]
    missing += [f"no argument {d}" for d in described if d not in arguments]
    gives = ast.unparse(function.returns) if function.returns else "None"
    if gives not in ("None", "NoReturn") and not (section(doc, "Returns") + section(doc, "Yields")):
        missing.append(f"returns {gives}")
    raises = section(doc, "Raises")
    return missing + [f"raises {e}" for e in sorted(raised(function, names)) if e not in raises]


@pytest.mark.parametrize("name", MODULES)
def test_public_functions_document_arguments_returns_and_errors(name):
    module = importlib.import_module(name)
    found = {
        function.name: lacks
        for function in public_functions(inspect.getsource(module))
        if (lacks := lacking(function, vars(module)))
    }
    assert found == {}


def test_the_check_sees_what_is_left_out():
    source = '''
def area(width: float, *, height: float) -> float:
    """The area.

    Args:
        width: In inches.
        depth: In inches.
    """
    if width < 0:
        raise SettingsError(message("negative"))
    def inner():
        raise DrawingError(message("not mine"))
    return width * height
'''
    errors = {"SettingsError": type("SettingsError", (TakeoffError,), {})}
    errors["DrawingError"] = type("DrawingError", (TakeoffError,), {})
    [function] = public_functions(source)
    assert lacking(function, errors) == [
        "argument height",
        "no argument depth",
        "returns float",
        "raises SettingsError",
    ]
