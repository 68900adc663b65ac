"""A workbook as a file: the same bytes from the same content, every formula with its value."""

from __future__ import annotations

import contextlib
import datetime
import io
import os
import re
import zipfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.drawing.spreadsheet_drawing import SpreadsheetDrawing
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.writer.excel import ExcelWriter

from dxf2veneer.textio.whole_files import BLANK_SEAL, PROGRAM, write_whole
from dxf2veneer.writers.workbook.plain_xml import plain_xml
from dxf2veneer.writers.workbook.values import Values

_APPLICATION = re.compile(rb"(<Application>)[^<]*(</Application>)")
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")


class _InMemory(ExcelWriter):
    """Sheets are made in memory, not in files beside: where the disk is full, only our own file
    fails, and says so."""

    def write_worksheet(self, ws: Any) -> None:
        """Write a sheet into the archive.

        Args:
            ws: The sheet.
        """
        ws._drawing = SpreadsheetDrawing()
        ws._drawing.charts, ws._drawing.images = ws._charts, ws._images
        held = io.BytesIO()
        writer: Any = WorksheetWriter(ws, held)
        try:
            writer.write()
        except BaseException:  # an interrupt: closed here, or the half sheet complains when freed
            with contextlib.suppress(Exception):
                writer.xf.close()
            raise
        ws._rels = writer._rels
        archive: Any = vars(self)["_archive"]
        archive.writestr(ws.path[1:], held.getvalue())
        self.manifest.append(ws)


def save_book(make: Callable[[], Workbook], path: Path, *, sealed: bool = True) -> None:
    """Write a workbook, whole or not at all.

    Args:
        make: Makes the workbook.
        path: Where it belongs.
        sealed: Whether it is known again as ours; not where a person's changes are in it.

    Raises:
        OSError: It can't be written.
    """
    with plain_xml():
        book = make()
        book.properties.created = stamp = _stamp()
        held = io.BytesIO()
        with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
            _InMemory(book, archive).save()
    settled = _settled(held.getvalue(), stamp, book.sheetnames, sealed=sealed)
    write_whole(path, lambda draft: draft.write_bytes(settled))


def _stamp() -> datetime.datetime:
    """The date that the file carries; zip files know none before 1980."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    first = datetime.datetime(1980, 1, 1)
    if not epoch.isdigit():
        return first
    return max(
        first, datetime.datetime.fromtimestamp(int(epoch), datetime.UTC).replace(tzinfo=None)
    )


def _settled(raw: bytes, stamp: datetime.datetime, titles: Sequence[str], *, sealed: bool) -> bytes:
    """The same zip file with the values of its formulas, every date in it set to ``stamp``, and a
    place for the seal where it has one."""
    values = Values(raw, titles)
    written = stamp.strftime("%Y-%m-%dT%H:%M:%SZ").encode()
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(raw)) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            content = values.within(name, old.read(name))
            if name == "docProps/core.xml":
                content = _MODIFIED.sub(rb"\g<1>" + written + rb"\g<2>", content)
            if name == "docProps/app.xml":
                content = _APPLICATION.sub(rf"\g<1>{PROGRAM}\g<2>".encode(), content)
            entry = zipfile.ZipInfo(name, stamp.timetuple()[:6])
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o600 << 16
            new.writestr(entry, content)
        if sealed:
            new.comment = BLANK_SEAL.encode()
    return out.getvalue()
