"""Checks against published numbers: the one home of each number, its source and the place in it.

A marked test is given what the source starts from and returns what was found, by name; the numbers
of the source stand in the mark alone, which the test cannot see. Each is then compared, and so is
each number changed a little, which has to be told (``conftest.pytest_pyfunc_call``). The table in
docs/checks.md is made from the marks.
"""

from __future__ import annotations

import importlib
import inspect
import sys
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any, NamedTuple

import pytest

TESTS = Path(__file__).parent
READ = "read in a copy"
SUMMARY = "read in a summary"
FORMULA = "formula read in a copy"
FOLLOWS = "inputs read, the answer follows by hand"

EXACT = 1e-9
"""Relative error of a number that the source gives exactly."""


class Published(NamedTuple):
    """What a source says."""

    what: str
    """What it is that the test works out."""
    values: Mapping[str, float | str]
    """By name. A number is exact; a text is a number as printed, rounded to its last digit."""
    source: str
    place: str
    known: str
    """How the numbers were come by."""


class Check(NamedTuple):
    """A published value and the test that it stands at."""

    published: Published
    test: str
    stage: str
    """The part of the way that the test goes, which its module names as STAGE."""


def published(
    what: str, values: Mapping[str, float | str], source: str, place: str = "", known: str = READ
) -> pytest.MarkDecorator:
    """The mark of a test, or of one set of its parameters."""
    return pytest.mark.published(Published(what, values, source, place, known))


def _within(value: float | str) -> tuple[float, float]:
    """The number, and how far from it a found one may be."""
    if not isinstance(value, str):
        return float(value), EXACT * max(abs(value), 1.0)
    exact = Decimal(value.replace(",", ""))
    return float(exact), float(Decimal(1).scaleb(int(exact.as_tuple().exponent)) / 2) * (1 + EXACT)


def differing(found: Mapping[str, float], values: Mapping[str, float | str]) -> list[str]:
    """Names under which the found number is not the published one, or is not there."""
    wrong = sorted(found.keys() ^ values.keys())
    for name in found.keys() & values.keys():
        value, room = _within(values[name])
        if not abs(float(found[name]) - value) <= room:
            wrong.append(name)
    return wrong


def changed(value: float | str) -> Iterator[float | str]:
    """The number a little greater and a little less: by more than a found one may be off."""
    for sign in (-1, 1):
        if isinstance(value, str):
            exact = Decimal(value.replace(",", ""))
            yield f"{exact + sign * Decimal(2).scaleb(int(exact.as_tuple().exponent)):f}"
        else:
            yield value + sign * 3 * EXACT * max(abs(value), 1.0)


def check(mark: Published, found: Mapping[str, float]) -> None:
    """Hold what was found against what is published.

    Raises:
        AssertionError: They differ, or a changed number would have passed.
    """
    assert mark.values
    wrong = differing(found, mark.values)
    assert not wrong, f"{mark.source}: {[(n, found.get(n), mark.values.get(n)) for n in wrong]}"
    for name, value in mark.values.items():
        for other in changed(value):
            assert differing(found, {**mark.values, name: other}) == [name]


def _marks(test: Any) -> Iterator[Published]:
    for mark in getattr(test, "pytestmark", ()):
        if mark.name == "published":
            yield mark.args[0]
        elif mark.name == "parametrize":
            for case in mark.args[1]:
                for one in getattr(case, "marks", ()):
                    if one.name == "published":
                        yield one.args[0]


def checks() -> Iterator[Check]:
    """Every check of the tests, file by file."""
    for file in sorted(TESTS.rglob("test_*.py")):
        if "from published import" not in file.read_text(encoding="utf-8"):
            continue
        for folder in (str(TESTS), str(file.parent)):
            if folder not in sys.path:
                sys.path.append(folder)
        module = importlib.import_module(file.stem)
        for name, test in vars(module).items():
            for mark in _marks(test) if inspect.isfunction(test) else ():
                where = file.relative_to(TESTS.parent).as_posix()
                yield Check(mark, f"{where}::{name}", module.STAGE)
