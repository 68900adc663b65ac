"""Rows of a CSV or XLSX table whose first row names the columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from dxf2veneer.config.settings import SettingsError

_NEEDED = ("item", "unit", "price")


def read_rows(path: Path) -> list[tuple[int, dict[str, Any]]]:
    """The rows of a table with their numbers (the first row is 1), cells by lower-case column name.

    Empty rows are left out. Raises SettingsError where the file can't be read or a needed column is missing.
    """
    cells = _csv(path) if path.suffix.lower() == ".csv" else _xlsx(path)
    numbered = [
        (number, row)
        for number, row in enumerate(cells, 1)
        if any(str(c or "").strip() for c in row)
    ]
    if not numbered:
        raise SettingsError(
            f"{path}: the table is empty; its first row names the columns item, unit, price"
        )
    (head, names), *rest = numbered
    columns = [str(n or "").strip().lower() for n in names]
    for column in _NEEDED:
        if column not in columns:
            raise SettingsError(
                f"{path}, row {head}: there is no column {column}; the first row names the columns item, unit, price"
            )
    for number, row in rest:
        if any(str(c or "").strip() for c in row[len(columns) :]):
            raise SettingsError(
                f"{path}, row {number}: has more cells than there are columns; write numbers with a decimal point"
            )
    return [
        (number, {c: v for c, v in zip(columns, row, strict=False) if c}) for number, row in rest
    ]


def _csv(path: Path) -> list[Sequence[Any]]:
    """Rows of a text table with commas, semicolons or tabs between the cells."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise SettingsError(f"{path}: there is no such file") from None
    except (OSError, UnicodeDecodeError) as error:
        raise SettingsError(
            f"{path}: can't be read as UTF-8 text ({type(error).__name__})"
        ) from None
    first = next((line for line in text.splitlines() if line.strip()), "")
    separator = max(",;\t", key=first.count)
    try:
        return [
            row
            for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
        ]
    except csv.Error as error:
        raise SettingsError(f"{path}: not a table of cells ({error})") from None


def _xlsx(path: Path) -> list[Sequence[Any]]:
    """Rows of a workbook's first sheet; a formula counts by the value it had when the file was saved."""
    import zipfile

    import pandas as pd

    try:
        sheet = pd.read_excel(path, header=None, dtype=object, keep_default_na=False, na_values=[])
    except FileNotFoundError:
        raise SettingsError(f"{path}: there is no such file") from None
    except (OSError, ValueError, KeyError, zipfile.BadZipFile) as error:
        raise SettingsError(
            f"{path}: can't be read as a workbook ({type(error).__name__})"
        ) from None
    return [[None if pd.isna(v) else v for v in row] for row in sheet.to_numpy()]
