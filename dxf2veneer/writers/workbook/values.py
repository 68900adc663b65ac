"""The value of every formula, so that programs that do not calculate show the workbook too."""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.sax.saxutils import escape

import formualizer

_FORMULA = re.compile(rb'<c r="([A-Z]+)([0-9]+)"([^>]*)><f>(.*?)</f><v ?/></c>', re.DOTALL)
_ERRORS = {"Div": "#DIV/0!", "Ref": "#REF!", "Name": "#NAME?", "Num": "#NUM!", "Na": "#N/A"}
"""What a cell shows where a text that a person typed leaves no value."""
_TYPE = re.compile(rb' t="[a-z]+"')


class Values:
    """What a spreadsheet calculates for the formulas of a workbook."""

    def __init__(self, book: bytes, titles: Sequence[str]) -> None:
        """Calculate all formulas.

        Args:
            book: The workbook as a file, its formulas without values.
            titles: Titles of its sheets, in order.
        """
        config = formualizer.EvaluationConfig()
        config.enable_parallel = False
        self._book = formualizer.Workbook.from_bytes(
            book, config=formualizer.WorkbookConfig(eval_config=config)
        )
        self._book.evaluate_all()
        self._titles = {f"xl/worksheets/sheet{n}.xml": title for n, title in enumerate(titles, 1)}

    def within(self, part: str, content: bytes) -> bytes:
        """A part of the workbook's file, with the value of every formula beside it.

        Args:
            part: The part's name.
            content: The part.

        Returns:
            The part; as it was where it is no sheet.
        """
        title = self._titles.get(part)
        if title is None:
            return content
        found = list(_FORMULA.finditer(content))
        values = self._book.evaluate_cells([(title, int(m[2]), _number(m[1])) for m in found])
        made, end = [], 0
        for match, value in zip(found, values, strict=True):
            kind, text = _written(value)
            made += [content[end : match.start()], _cell(match, kind, text)]
            end = match.end()
        return b"".join((*made, content[end:]))


def _cell(match: re.Match[bytes], kind: str, text: str) -> bytes:
    """A formula's cell with its value."""
    rest = _TYPE.sub(b"", match[3]) + (f' t="{kind}"'.encode() if kind else b"")
    value = escape(text).encode()
    return b'<c r="%b%b"%b><f>%b</f><v>%b</v></c>' % (match[1], match[2], rest, match[4], value)


def _number(letters: bytes) -> int:
    """A column's number from 1, by its letters."""
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number


def _written(value: object) -> tuple[str, str]:
    """The type of a cell and its value, as the file spells them (ECMA-376, part 1, 18.18.11)."""
    if isinstance(value, bool):
        return "b", str(int(value))
    if isinstance(value, (int, float)):
        return "", repr(value).removesuffix(".0")
    if value is None:
        return "", "0"  # a formula that reads an empty cell
    if isinstance(value, dict):
        return "e", _ERRORS.get(str(value.get("kind")), "#VALUE!")
    return "str", str(value)
