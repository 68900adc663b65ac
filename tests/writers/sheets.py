"""Workbooks written and read back by the tests; LibreOffice Calc recalculates them.

LibreOffice is no part of this project. It may exit 0 and write nothing, so the file it should have
made is looked for.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import zipfile

import openpyxl
import pytest
from takeoffs import takeoff

from dxf2veneer.writers.workbook import write_cuts, write_workbook

TOLERANCE = 1e-6
needs_office = pytest.mark.skipif(
    shutil.which("soffice") is None, reason="LibreOffice is not on this machine"
)


def written(tmp_path, made=None):
    path = tmp_path / "takeoff.xlsx"
    write_workbook(made or takeoff(), path)
    return path


def without_values(path, tmp_path):
    """A copy of the workbook whose formulas carry no values."""
    bare = tmp_path / "bare" / path.name
    bare.parent.mkdir(exist_ok=True)
    cell = re.compile(rb'( t="(?:str|b)")?><f>(.*?)</f><v>[^<]*</v>', re.DOTALL)
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(bare, "w") as new:
        for name in old.namelist():
            new.writestr(name, cell.sub(rb"><f>\2</f><v />", old.read(name)))
    return bare


def written_cuts(tmp_path, made):
    """The piece lists of its plan."""
    path = tmp_path / "cuts.xlsx"
    write_cuts(made, made.plan, path)
    return path


def recalculated(path, tmp_path):
    """The workbook after LibreOffice calculated every formula, read as values."""
    out, path = tmp_path / "recalculated", without_values(path, tmp_path)
    subprocess.run(
        ["soffice", "--headless", f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}",
         "--convert-to", "xlsx", "--outdir", str(out), str(path)],
        check=True, capture_output=True, timeout=300,
    )  # fmt: skip
    made = out / path.name
    assert made.exists(), "LibreOffice wrote nothing"
    return openpyxl.load_workbook(made, data_only=True)


def column(sheet, title, header=4):
    """The column whose heading begins with ``title``."""
    found = [
        c.column
        for c in sheet[header]
        if c.value and str(c.value).replace("\n", " ").startswith(title)
    ]
    assert found, f"{sheet.title} has no column {title}"
    return found[0]


def total(sheet, title):
    """The value under a column, in the row that begins with Total."""
    row = next(r for r in range(5, sheet.max_row + 1) if sheet.cell(r, 1).value == "Total")
    return sheet.cell(row, column(sheet, title)).value


def beside(sheet, label, letters, *, after=1, step):
    """The value ``step`` columns right of a label in one of the columns ``letters``."""
    for row in range(after, sheet.max_row + 1):
        for letter in letters:
            cell = sheet[f"{letter}{row}"]
            if cell.value == label:
                return cell.offset(column=step).value
    raise AssertionError(f"no {label} on {sheet.title}")


def cells(book):
    return (cell for sheet in book for row in sheet.iter_rows() for cell in row)
