"""The import rule: data flows one way, and each foreign library has its one home.

The table says which parts of the package a part may import (itself always). It is read from the
source text, so that imports deferred into functions count too.
"""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "dxf2veneer"

MAY_IMPORT = {
    "units": set(),
    "notices": set(),
    "codepage": set(),
    "escaping": set(),
    "settings": {"units"},
    "geometry": set(),
    "goods": {"settings"},
    "product": {"goods", "settings"},
    "bidding": {"goods", "settings"},
    "limits": {"settings"},
    "job_values": {"codepage", "settings", "units"},
    "job": {"bidding", "job_values", "limits", "settings"},
    "model": {"geometry", "goods", "job", "job_values", "product", "notices", "units"},
    "assumptions": {"model", "job", "product", "settings", "units"},
    "drawing": {"codepage", "limits", "model", "geometry", "job", "job_values", "notices", "units"},
    "recognise": {"drawing", "model", "geometry", "job", "job_values", "notices", "units"},
    "measure": {"model", "geometry", "job", "product", "notices", "units"},
    "coursing": {"model", "measure", "geometry", "job", "product", "notices", "units"},
    "planning": {"model", "geometry", "job", "product", "notices", "units"},
    "judging": {"model", "geometry", "job", "product", "notices", "units"},
    "checking": {"model", "geometry", "job", "product", "notices", "units"},
    "order": {"bidding", "goods", "model", "job", "notices", "product", "settings", "units"},
    "alternates": {"bidding", "job", "model", "notices", "order", "product", "settings"},
    "writers": {"bidding", "codepage", "escaping", "goods", "model", "geometry", "job", "notices", "product", "units"},
    "pipeline": {"alternates", "assumptions", "checking", "coursing", "drawing", "job", "judging", "measure", "model", "notices", "planning", "product", "recognise", "units"},
    "placing": set(),
    "outputs": {"escaping", "job", "model", "placing", "writers"},
    "many": {"drawing", "job", "model", "notices", "outputs", "pipeline", "settings", "terminal", "units", "writers"},
    "changes": {"model", "notices", "units"},
    "watching": {"outputs"},
    "following": {"changes", "drawing", "job", "model", "outputs", "settings"},
    "terminal": {"drawing", "escaping", "model", "notices", "units"},
    "cli": None,  # may import everything
    "__init__": set(),
    "__main__": {"cli"},
}  # fmt: skip

HOMES = {
    "click": ("cli/",),
    "ezdxf": ("drawing/", "writers/overlay/"),
    "openpyxl": ("writers/workbook/",),
    "watchdog": ("watching.py",),
    "pandas": ("writers/", "order/"),
    "typst": ("writers/report/pdf.py",),
}
"""Foreign library -> beginnings of the paths (within the package) that may import it."""

SOURCES = sorted(PACKAGE.rglob("*.py"))


def imported(source: str) -> list[str]:
    """Every module a source text imports, at its top or inside functions; ``from a import b`` gives a and a.b."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports hide where a name comes from"
            found += [node.module or "", *(f"{node.module}.{alias.name}" for alias in node.names)]
    return found


def own_parts(source: str) -> set[str]:
    """The parts of our package that a source text imports."""
    parts = {name.split(".")[1] for name in imported(source) if name.startswith("dxf2veneer.")}
    return {p for p in parts if (PACKAGE / p).is_dir() or (PACKAGE / f"{p}.py").is_file()}


def part_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def broken_rules(where: str, source: str) -> list[str]:
    """What a file at ``where`` (within the package) imports against the tables."""
    part = where.split("/")[0].removesuffix(".py")
    allowed = MAY_IMPORT[part]
    broken = [] if allowed is None else [f"{where} imports {p}" for p in sorted(own_parts(source) - allowed - {part})]
    foreign = {name.split(".")[0] for name in imported(source)} & set(HOMES)
    return broken + [f"{where} imports {lib}" for lib in sorted(foreign) if not where.startswith(HOMES[lib])]


def test_every_part_has_its_row():
    assert {part_of(path) for path in SOURCES} <= set(MAY_IMPORT)


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_keep_the_rule(path):
    assert broken_rules(path.relative_to(PACKAGE).as_posix(), path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("where", "source", "broken"),
    [
        ("measure/walls.py", "from dxf2veneer.writers import result", "measure/walls.py imports writers"),
        ("geometry/paths.py", "def f():\n    import dxf2veneer.model", "geometry/paths.py imports model"),
        ("units.py", "from dxf2veneer import job", "units.py imports job"),
        ("pipeline.py", "def f():\n    import click", "pipeline.py imports click"),
        ("recognise/walls.py", "from ezdxf import path", "recognise/walls.py imports ezdxf"),
        ("writers/result/writing.py", "import openpyxl.styles", "writers/result/writing.py imports openpyxl"),
    ],
)
def test_a_broken_rule_is_found(where, source, broken):
    assert broken_rules(where, source) == [broken]


def test_imports_inside_the_rule_pass():
    assert broken_rules("writers/overlay/pen.py", "import ezdxf\nfrom dxf2veneer.model import Wall") == []
    assert broken_rules("cli/takeoff_command.py", "import click\nfrom dxf2veneer import pipeline, writers") == []


@pytest.mark.parametrize("part", ["judging", "checking"])
def test_judge_and_checks_share_no_code_with_what_they_look_at(part):
    assert not MAY_IMPORT[part] & {"recognise", "measure", "coursing", "planning", "order"}


def test_the_parts_form_no_circle():
    # parts that import nothing are taken away again and again; a circle would stay
    left = {part: set(allowed or ()) & set(MAY_IMPORT) for part, allowed in MAY_IMPORT.items()}
    while free := {part for part, needs in left.items() if not needs & set(left)}:
        left = {part: needs for part, needs in left.items() if part not in free}
    assert left == {}
