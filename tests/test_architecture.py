"""The import rule: data flows one way, and each foreign library has its one home.

The table says which parts of the package a part may import (itself always). It is read from the
source text, so that imports deferred into functions count too.
"""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "dxf2veneer"

BASE = {"basics", "geometry", "config", "model"}
"""What every stage may import: values and settings, nothing that makes words."""

MAY_IMPORT = {
    "basics": set(),
    "geometry": {"basics"},
    "textio": {"basics"},
    "config": {"basics", "textio"},
    "model": {"basics", "config", "geometry"},
    "drawing": BASE | {"textio"},
    "propose": BASE | {"drawing", "textio"},
    "recognise": BASE | {"drawing"},
    "site": BASE,
    "revisions": BASE,
    "measure": BASE,
    "coursing": BASE | {"measure"},
    "planning": BASE,
    "verify": BASE,
    "order": BASE,
    "wording": BASE | {"textio"},
    "writers": BASE | {"drawing", "propose", "textio", "wording"},
    "app": BASE
    | {"coursing", "drawing", "measure", "order", "planning", "propose", "recognise"}
    | {"revisions", "site", "verify"}
    | {"textio", "wording", "writers"},
    "page": BASE | {"app", "drawing", "measure", "propose", "recognise", "textio", "wording"},
    "cli": None,  # may import everything
    "__main__": {"cli"},
    "__init__": {"app", "basics"},
}

HOMES = {
    "click": ("cli/",),
    "ezdxf": ("drawing/", "propose/reading/", "writers/overlay/"),
    "openpyxl": (
        "writers/workbook/",
        "writers/bid/sheet.py",
        "writers/change_order/sheet.py",
        "order/tables.py",
    ),
    "formualizer": ("writers/workbook/values.py",),
    "highspy": ("planning/cutting_stock/dual_bound.py", "planning/relaying/program.py"),
    "watchdog": ("app/watch.py",),
    "pandas": ("writers/", "order/"),
    "tomlkit": ("config/toml_file.py", "config/toml_edit.py"),
    "werkzeug": ("page/server.py",),
    "typst": ("writers/typeset.py",),
    "distributed": ("app/batch/spread.py",),
}
"""Foreign library -> beginnings of the paths (within the package) that may import it."""

SOURCES = sorted(PACKAGE.rglob("*.py"))


def imported(source: str) -> list[str]:
    """Every module a source text imports, at its top or inside functions;
    ``from a import b`` gives a and a.b.
    """
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
    broken = (
        []
        if allowed is None
        else [f"{where} imports {p}" for p in sorted(own_parts(source) - allowed - {part})]
    )
    foreign = {name.split(".")[0] for name in imported(source)} & set(HOMES)
    return broken + [
        f"{where} imports {lib}" for lib in sorted(foreign) if not where.startswith(HOMES[lib])
    ]


def test_every_part_has_its_row():
    assert {part_of(path) for path in SOURCES} <= set(MAY_IMPORT)


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_keep_the_rule(path):
    assert (
        broken_rules(path.relative_to(PACKAGE).as_posix(), path.read_text(encoding="utf-8")) == []
    )


@pytest.mark.parametrize(
    ("where", "source", "broken"),
    [
        (
            "measure/walls.py",
            "from dxf2veneer.writers import result",
            "measure/walls.py imports writers",
        ),
        (
            "geometry/paths.py",
            "def f():\n    import dxf2veneer.model",
            "geometry/paths.py imports model",
        ),
        ("basics/units.py", "from dxf2veneer.config import job", "basics/units.py imports config"),
        ("app/pipeline.py", "def f():\n    import click", "app/pipeline.py imports click"),
        ("recognise/walls.py", "from ezdxf import path", "recognise/walls.py imports ezdxf"),
        (
            "writers/result/writing.py",
            "import openpyxl.styles",
            "writers/result/writing.py imports openpyxl",
        ),
    ],
)
def test_a_broken_rule_is_found(where, source, broken):
    assert broken_rules(where, source) == [broken]


def test_imports_inside_the_rule_pass():
    assert (
        broken_rules("writers/overlay/pen.py", "import ezdxf\nfrom dxf2veneer.model import Wall")
        == []
    )
    assert (
        broken_rules("cli/takeoff_command.py", "import click\nfrom dxf2veneer import app, writers")
        == []
    )


def test_the_second_look_shares_no_code_with_what_it_looks_at():
    assert not MAY_IMPORT["verify"] & {"recognise", "measure", "coursing", "planning", "order"}


def test_no_stage_that_computes_makes_words():
    stages = {
        "drawing",
        "propose",
        "recognise",
        "measure",
        "coursing",
        "planning",
        "verify",
        "order",
        "revisions",
    }
    assert not any("wording" in MAY_IMPORT[part] for part in stages | BASE)


def test_the_parts_form_no_circle():
    # parts that import nothing are taken away again and again; a circle would stay
    left = {part: set(allowed or ()) & set(MAY_IMPORT) for part, allowed in MAY_IMPORT.items()}
    while free := {part for part, needs in left.items() if not needs & set(left)}:
        left = {part: needs for part, needs in left.items() if part not in free}
    assert left == {}


def test_no_tolerance_is_named_twice():
    tree = ast.parse(next(PACKAGE.rglob("tolerances.py")).read_text(encoding="utf-8"))
    set_ = [n for n in ast.walk(tree) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)]
    names = [n.id for n in set_]
    assert sorted(set(names)) == sorted(names)
