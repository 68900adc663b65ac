"""Mutants of a source text: the same code with one small thing wrong.

    a < b      ->  a <= b        a + b      ->  a - b        if a:      ->  if not a:
    a == b     ->  a != b        a * b      ->  a / b        a and b    ->  a or b
    min(a, b)  ->  max(a, b)     3          ->  4            f(a)       ->  (nothing)
    a += b     ->  a -= b        "text"     ->  "text?"      return a   ->  return None

Docstrings, annotations, type aliases, wording of f-strings, imports and the ``strict`` of a zip are left
alone: no test can or should see them.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

_SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div, ast.Mod: ast.Mult, ast.Pow: ast.Mult,
    ast.And: ast.Or, ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}  # fmt: skip
_CALLS = {
    "min": "max",
    "max": "min",
    "any": "all",
    "all": "any",
    "floor": "ceil",
    "ceil": "floor",
    "sorted": "list",
    "reversed": "list",
}


@dataclass(frozen=True)
class Mutant:
    """One change: its line in the source, what was there and what stands there now, and the whole mutated text."""

    line: int
    before: str
    after: str
    text: str


def mutants(source: str) -> list[Callable[[], Mutant]]:
    """Every mutant of a source text, in order, made when it is asked for."""
    tree = ast.parse(source)
    return [
        partial(_mutant, tree, index, change)
        for index, node in list(_places(tree))
        for change in _changes(node)
    ]


def _places(tree: ast.Module) -> Iterator[tuple[int, ast.AST]]:
    """The nodes that may change, with their number in the tree's own order."""
    spared: set[int] = set()
    for index, node in enumerate(ast.walk(tree)):
        if id(node) in spared:
            spared.update(id(child) for child in ast.iter_child_nodes(node))
            continue
        for child in _left_alone(node):
            spared.add(id(child))
        yield index, node


def _left_alone(node: ast.AST) -> Iterator[ast.AST]:
    """Children of a node that say nothing to a test: annotations, docstrings, type aliases, words."""
    for name in ("annotation", "returns"):
        if child := getattr(node, name, None):
            yield child
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        yield node.value
    if (
        isinstance(node, ast.Subscript)
        and isinstance(node.value, ast.Name)
        and node.value.id in ("Literal", "Callable", "dict", "tuple", "list")
    ):
        yield node.slice
    if isinstance(node, ast.JoinedStr):
        yield from (v for v in node.values if isinstance(v, ast.Constant))
    if isinstance(node, ast.FormattedValue) and node.format_spec:
        yield node.format_spec
    if isinstance(node, ast.Assign) and any(
        isinstance(t, ast.Name) and t.id == "__all__" for t in node.targets
    ):
        yield node.value
    if isinstance(node, ast.keyword) and node.arg == "strict":
        yield node.value
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        yield from node.decorator_list


_Change = Callable[[ast.AST], ast.AST]


def _changes(node: ast.AST) -> Iterator[_Change]:
    """The ways in which a node can be wrong."""
    if isinstance(node, ast.Compare):
        yield from (_swapped_at(i) for i, op in enumerate(node.ops) if type(op) in _SWAPS)
    elif isinstance(node, ast.Constant):
        yield from _constants(node)
    else:
        yield from (change for fits, change in _KINDS if fits(node))


def _constants(node: ast.Constant) -> Iterator[_Change]:
    value = node.value
    if isinstance(value, bool):
        yield lambda n: ast.Constant(not value)
    elif isinstance(value, int | float):
        yield lambda n: ast.Constant(value + 1 if abs(value) >= 0.5 or value == 0 else value * 100)
    elif isinstance(value, str) and value:
        yield lambda n: ast.Constant(value + "?")


def _name(function: ast.AST) -> str:
    return (
        function.id
        if isinstance(function, ast.Name)
        else function.attr
        if isinstance(function, ast.Attribute)
        else ""
    )


def _swapped(node: ast.AST) -> ast.AST:
    node.op = _SWAPS[type(node.op)]()  # type: ignore[attr-defined]
    return node


def _swapped_at(index: int) -> _Change:
    def swap(node: ast.AST) -> ast.AST:
        node.ops[index] = _SWAPS[type(node.ops[index])]()  # type: ignore[attr-defined]
        return node

    return swap


def _renamed(node: ast.AST) -> ast.AST:
    function = node.func  # type: ignore[attr-defined]
    name = _CALLS[_name(function)]
    if isinstance(function, ast.Name):
        function.id = name
    else:
        function.attr = name
    if name == "list":
        node.keywords = []  # type: ignore[attr-defined]
    return node


def _negated(node: ast.AST) -> ast.AST:
    node.test = ast.UnaryOp(ast.Not(), node.test)  # type: ignore[attr-defined]
    return node


def _unfiltered(node: ast.AST) -> ast.AST:
    node.ifs = node.ifs[1:]  # type: ignore[attr-defined]
    return node


_KINDS: list[tuple[Callable[[ast.AST], bool], _Change]] = [
    (
        lambda n: isinstance(n, ast.BinOp | ast.BoolOp | ast.AugAssign) and type(n.op) in _SWAPS,
        _swapped,
    ),
    (
        lambda n: isinstance(n, ast.UnaryOp) and isinstance(n.op, ast.Not | ast.USub),
        lambda n: n.operand,
    ),  # type: ignore[attr-defined]
    (lambda n: isinstance(n, ast.Call) and _name(n.func) in _CALLS, _renamed),
    (lambda n: isinstance(n, ast.If | ast.IfExp | ast.While), _negated),
    (lambda n: isinstance(n, ast.comprehension) and bool(n.ifs), _unfiltered),
    (
        lambda n: (
            isinstance(n, ast.Expr) and isinstance(n.value, ast.Call | ast.Yield | ast.YieldFrom)
        ),
        lambda n: ast.Pass(),
    ),
    (
        lambda n: (
            isinstance(n, ast.Return)
            and n.value is not None
            and getattr(n.value, "value", n) is not None
        ),
        lambda n: ast.Return(ast.Constant(None)),
    ),
    (lambda n: isinstance(n, ast.Break), lambda n: ast.Continue()),
    (lambda n: isinstance(n, ast.Continue), lambda n: ast.Break()),
]


def _mutant(tree: ast.Module, index: int, change: _Change) -> Mutant:
    mutated = copy.deepcopy(tree)
    target = next(n for i, n in enumerate(ast.walk(mutated)) if i == index)
    line = getattr(target, "lineno", 0) or next(
        (n.lineno for n in ast.walk(target) if hasattr(n, "lineno")), 0
    )
    before = ast.unparse(target)
    made = change(target)
    if made is not target:
        _replace(mutated, target, made)
    ast.fix_missing_locations(mutated)
    return Mutant(line, before, ast.unparse(made), ast.unparse(mutated) + "\n")


def _replace(tree: ast.Module, old: ast.AST, new: ast.AST) -> None:
    for parent in ast.walk(tree):
        for name, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, name, new)
            elif isinstance(value, list) and any(v is old for v in value):
                setattr(parent, name, [new if v is old else v for v in value])
