"""The scrap allowance has one home: the setting in force, whichever output is read.

FRONT, 120 x 96 in                 net 80 sq ft, 2 sq ft a panel: 40 panels by area,
+----------+                       with the usual 10 % 44, with 25 % 50
|          |
+----------+
"""

from __future__ import annotations

import csv
import html
import json
import re

import openpyxl
import pytest
from builders import drawing, write_dxf
from click.testing import CliRunner

from dxf2veneer.cli import main

TEN = re.compile(r"(?<![\d.,])10(?:\.0+)? ?%|\b1\.10?\b|(?<![\w.,$])44(?![\d.,]*\d)")
"""What only an allowance of ten per cent would write: 10 %, the factor 1.1, 44 panels."""


def texts_of(folder, stdout):
    """What people read of every output, by its name."""
    book = openpyxl.load_workbook(folder / "front-takeoff.xlsx")
    cells = [str(c.value) for s in book for row in s.iter_rows() for c in row if c.value]
    page = (folder / "r.html").read_text(encoding="utf-8")
    shown = re.sub(r"<(style|script)\b.*?</\1>", " ", page, flags=re.DOTALL)
    result = json.loads((folder / "r.json").read_text(encoding="utf-8"))
    return {
        "terminal": stdout,
        "workbook": "\n".join(cells),
        "report": html.unescape(re.sub(r"<svg\b.*?</svg>|<[^>]*>", " ", shown, flags=re.DOTALL)),
        "order": (folder / "front-order.csv").read_text(encoding="utf-8-sig"),
        "json": json.dumps([result["order"], result["stock"], result["assumptions"]]),
    }


@pytest.mark.parametrize("plan", ["--plan", "--no-plan"])
def test_no_output_has_another_figure(tmp_path, plan):
    file = write_dxf(drawing(wall=[(0, 0, 120, 96)]), tmp_path / "front.dxf")
    asked = ["takeoff", file, "--wall-layer", "WALL", "--scrap", "25", plan, "-o", tmp_path]
    asked += ["--csv", tmp_path, "--json", tmp_path / "r.json", "--report", tmp_path / "r.html"]
    ran = CliRunner().invoke(main, [str(a) for a in asked])
    assert ran.exit_code == 0, ran.output
    texts = texts_of(tmp_path, ran.output)
    assert {name: TEN.findall(text) for name, text in texts.items() if TEN.search(text)} == {}
    for name in ("terminal", "report"):
        assert re.search("25 ?%", texts[name]) and "50" in texts[name], name
    result = json.loads((tmp_path / "r.json").read_text(encoding="utf-8"))
    if plan == "--plan":
        assert [w["by_area"] for w in result["stock"]["walls"]] == [50]
    rows = list(csv.DictReader(texts["order"].splitlines()))
    by_area = [row for row in rows if row["counted"] == "area"]
    assert by_area and {row["allowance_pct"] for row in by_area} == {"25"}
