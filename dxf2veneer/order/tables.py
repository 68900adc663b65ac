"""Rows of a CSV or XLSX table whose first row names the columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import message
from dxf2veneer.config.checks import plain
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.pricing import COLUMNS, PriceColumn

_NEEDED = ("item", "unit", "price")


def read_rows(path: Path, renamed: Sequence[PriceColumn] = ()) -> list[tuple[int, dict[str, Any]]]:
    """The rows of a table.

    Args:
        path: A file whose name ends in .csv (commas, semicolons or tabs) or .xlsx (first sheet).
        renamed: Columns that stand under other names.

    Returns:
        The number of each row that is not empty (the first row of the file is 1), and its cells by
        lower-case column name.

    Raises:
        SettingsError: The file can't be read, a needed column is missing or
            there twice, or a row is too long.
    """
    cells = _csv(path) if path.suffix.lower() == ".csv" else _xlsx(path)
    numbered = [(number, row) for number, row in enumerate(cells, 1) if _is_filled(row)]
    if not numbered:
        raise SettingsError(message("table-empty", file=str(path)))
    (head, names), *rest = numbered
    columns = [plain(n) for n in names]
    ours = {plain(c.theirs): c.ours for c in renamed}
    for column in (*ours, *(c for c in _NEEDED if c not in ours.values())):
        if column not in columns:
            raise SettingsError(
                message("table-column-missing", file=str(path), row=head, column=column)
            )
    taken = set(ours.values())
    columns = [ours.get(c, "" if c in taken else c) for c in columns]
    for column in COLUMNS:
        if columns.count(column) > 1:
            raise SettingsError(
                message("table-column-twice", file=str(path), row=head, column=column)
            )
    for number, row in rest:
        if _is_filled(row[len(columns) :]):
            raise SettingsError(message("table-row-long", file=str(path), row=number))
    return [
        (number, {c: v for c, v in zip(columns, row, strict=False) if c}) for number, row in rest
    ]


def _is_filled(cells: Sequence[Any]) -> bool:
    """Whether anything stands in one of the cells."""
    return any(str(c or "").strip() for c in cells)


def _csv(path: Path) -> list[Sequence[Any]]:
    """Rows of a text table with commas, semicolons or tabs between the cells."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise SettingsError(message("file-missing", file=str(path))) from None
    except (OSError, UnicodeDecodeError) as error:
        raise SettingsError(
            message("file-not-text", file=str(path), error=type(error).__name__)
        ) from None
    first = next((line for line in text.splitlines() if line.strip()), "")
    separator = max(",;\t", key=first.count)
    try:
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise SettingsError(message("table-not-csv", file=str(path), reason=str(error))) from None


def _xlsx(path: Path) -> list[Sequence[Any]]:
    """Rows of a workbook's first sheet; a formula counts by the value it had when it was saved."""
    import zipfile

    import pandas as pd

    try:
        sheet = pd.read_excel(path, header=None, dtype=object, keep_default_na=False, na_values=[])
    except FileNotFoundError:
        raise SettingsError(message("file-missing", file=str(path))) from None
    except (OSError, ValueError, KeyError, zipfile.BadZipFile) as error:
        raise SettingsError(
            message("table-not-workbook", file=str(path), error=type(error).__name__)
        ) from None
    return [[None if pd.isna(v) else v for v in row] for row in sheet.to_numpy()]
