"""Rows of a CSV or XLSX table whose first row names the columns."""

from __future__ import annotations

import csv
import io
import logging
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import PRICE_BYTES, PRICE_COLUMNS, PRICE_ROWS
from dxf2veneer.config.checks import plain
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.named_files import read_named
from dxf2veneer.config.pricing import COLUMNS, PriceColumn

_LOG = logging.getLogger(__name__)

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
        text = read_named(path).decode("utf-8-sig")
    except UnicodeDecodeError as error:
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
    """Rows of a workbook's first sheet; a formula counts by the value it had when it was saved.

    Cells are taken as they stand in the file, and no more of them than a price list has: the sheet
    that a workbook says it has, and the bytes that it unpacks to, may be without end.
    """
    content = read_named(path)
    try:
        return _cells(path, content)
    except SettingsError:
        raise
    except Exception as error:  # a damaged workbook can bring its reader to any error
        _LOG.debug("a workbook can't be read", exc_info=True)
        raise SettingsError(
            message("table-not-workbook", file=str(path), error=type(error).__name__)
        ) from None


def _cells(path: Path, content: bytes) -> list[Sequence[Any]]:
    """The cells of the first sheet. Raises SettingsError where they reach too far."""
    import openpyxl

    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        unpacked = sum(entry.file_size for entry in archive.infolist())
    if unpacked > PRICE_BYTES:
        raise SettingsError(message("table-unpacks", file=str(path), megabytes=unpacked / 1e6))
    book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    sheet: Any = book.worksheets[0]
    sheet.reset_dimensions()  # what a sheet says of its own size is not to be relied on
    rows: list[Sequence[Any]] = []
    for number, cells in enumerate(sheet.iter_rows(), 1):
        row = [_value(cell) for cell in cells]
        while row and not str("" if row[-1] is None else row[-1]).strip():
            row.pop()
        if row and (number > PRICE_ROWS or len(row) > PRICE_COLUMNS):
            raise SettingsError(
                message(
                    "table-reaches-far",
                    file=str(path),
                    row=number,
                    column=len(row),
                    rows=PRICE_ROWS,
                    columns=PRICE_COLUMNS,
                )
            )
        if number <= PRICE_ROWS:
            rows.append(row)
    return rows


def _value(cell: Any) -> Any:
    """What stands in a cell: whole numbers as such, nothing for an error."""
    value = cell.value
    if cell.data_type == "e":
        return None
    return int(value) if isinstance(value, float) and value.is_integer() else value
