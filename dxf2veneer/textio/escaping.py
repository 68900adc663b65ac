"""Text from a drawing, a job, a file's name: what becomes of it on its way out. Nothing else
escapes text.

    where it goes                 what could happen there                      the way out
    ----------------------------  -------------------------------------------  -------------
    terminal                      escape sequences move the cursor             for_terminal
    cell of the workbook          a formula runs; a sign the file can't hold   for_cell
    text in a formula of ours     the end of the text, another formula         for_formula
    CSV                           a formula runs behind any separator          for_csv
    page and picture (HTML, SVG)  markup and scripts                           for_markup
    data for the page's script    the end of the script element                for_script
    JSON                          signs that hide, in a viewer                 for_json
    text in a DXF drawing         %% and ^ codes, \\U+ and \\M+ codes            for_dxf
    tags in a DXF drawing         line breaks, texts over 255 bytes            for_xdata
    name of a file                other folders, names a system keeps          for_file_name

Everywhere a sign that can't be seen, or turns the reading direction, is written out as ``\\u202e``,
so that two names that look alike are alike. The list is ours and fixed: it does not grow with
Python's, so that the same text gives the same bytes everywhere.
"""

from __future__ import annotations

import json
import re
from functools import lru_cache

_UNSEEN = (
    "\x00-\x1f\x7f-\x9f"  # control signs
    "\xad\u034f\u061c\u0600-\u0605\u06dd\u070f\u0890\u0891\u08e2\u115f\u1160\u17b4\u17b5\u180b-\u180f"
    # marks of width nothing, of direction, line ends
    "\u200b-\u200f\u2028-\u202e\u2060-\u206f\u2800\u3164"
    "\ud800-\udfff\ufeff\uffa0\ufff0-\ufffb\ufffe\uffff"  # half pairs, byte order, fillers
    "\U000110bd\U000110cd\U00013430-\U0001343f\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff"
)
_HIDDEN = re.compile(f"[{_UNSEEN}]")
_HALF = re.compile("[\ud800-\udfff]")
_BREAKS = re.compile(r"\r\n|[\t\n\r]")

LONGEST_LINE = 2_000
"""Characters of a line in the terminal."""
LONGEST_CELL = 32_767
"""Characters that a workbook's cell can hold, those outside the basic plane counted twice."""
MOST_BREAKS = 253
"""Line breaks that a workbook's cell can hold."""
_LONGEST_LITERAL = 120
"""Signs of one text in a formula; a spreadsheet takes 255, those outside the basic plane counted
twice.
"""
LONGEST_DXF_TEXT = 80
"""Characters of a text in the overlay; the rest is in the workbook."""
LONGEST_XDATA = 255
"""Bytes of a string in extended data (DXF reference)."""
LONGEST_STEM = 120
"""Bytes of a drawing's name in the names of outputs; file systems hold 255 in all,
endings and numbers included.
"""


def visible(text: str) -> str:
    """One line in which every sign can be seen.

    Args:
        text: Any text.

    Returns:
        The text with spaces for tabs and line breaks; what is hidden is written out.
    """
    return _written_out(_BREAKS.sub(" ", text))


def legible(text: str) -> str:
    """A text that can be encoded.

    Args:
        text: Any text, also with bytes of an undeclared code page.

    Returns:
        The text with such bytes written out as ``\\udc81``.
    """
    return _HALF.sub(_code, text)


def for_terminal(text: str) -> str:
    """One line for the terminal, of a length a person can read.

    Args:
        text: Any text.

    Returns:
        The visible text, cut where it is too long.
    """
    return _cut(visible(text), LONGEST_LINE)


def for_json(text: str) -> str:
    """JSON text whose strings hold no hidden sign.

    Args:
        text: JSON as the library writes it.

    Returns:
        The same values; JSON's own escapes stand for hidden signs, so nothing is lost.
    """
    return _HIDDEN.sub(
        lambda found: found[0] if found[0] == "\n" else json.dumps(found[0])[1:-1], text
    )


_ESCAPE_LIKE = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
"""Text such as _x0041_ would be read as an escape (OOXML strings; from memory;
LibreOffice reads the mended text right).
"""


def for_cell(text: str) -> str:
    """The text as a cell of the workbook can hold it.

    Args:
        text: Any text.

    Returns:
        The text with its tabs and line breaks, no longer than a cell takes.
    """
    ends = text.replace("\r\n", "\n").replace("\r", "\n")
    kept = (
        ends if _is_plain(ends) else re.sub("[^\t\n]+", lambda found: _written_out(found[0]), ends)
    )
    lines = _ESCAPE_LIKE.sub("_x005F_", kept).split("\n")
    broken = "\n".join(
        [*lines[:MOST_BREAKS], " ".join(lines[MOST_BREAKS:])] if len(lines) > MOST_BREAKS else lines
    )
    wide = len(broken.encode("utf-16-le")) // 2
    if wide <= LONGEST_CELL:
        return broken
    return broken.encode("utf-16-le")[: 2 * (LONGEST_CELL - 1)].decode("utf-16-le", "ignore") + "…"


def for_formula(text: str) -> str:
    """A text inside a formula of ours.

    Args:
        text: Any text.

    Returns:
        The text quoted, in pieces as short as a formula's texts must be, joined by ``&``.
    """
    shown = _cut(_ESCAPE_LIKE.sub("_x005F_", visible(text)), LONGEST_LINE)
    pieces = [shown[n : n + _LONGEST_LITERAL] for n in range(0, len(shown), _LONGEST_LITERAL)] or [
        ""
    ]
    return "&".join('"' + piece.replace('"', '""') + '"' for piece in pieces)


_GUARD = "’"
"""Stands before a sign that would begin a formula. A straight apostrophe would not do:
it can be a quote itself.
"""
# feet and inches, 4'-6", keep their apostrophe: no quote opens behind a digit
_BEGINS_FORMULA = re.compile(
    r"""(?:^[ ]*|[,;:|"'`][ ]*)(?!(?<=\d')-\d)(?=[=+@＝＋－＠-])|[ ](?=[=+@＝＋－＠-][^ ])"""
)


def for_csv(text: str) -> str:
    """One line that no spreadsheet takes for a formula.

    Args:
        text: Any text.

    Returns:
        The visible text with a guard before whatever would begin a formula, whichever usual
        separator and quote a spreadsheet splits at.
    """
    return _BEGINS_FORMULA.sub(lambda found: found[0] + _GUARD, visible(text))


_SIGNS = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;", "`": "&#96;"}
_IN_SCRIPT = {sign: f"\\u{ord(sign):04x}" for sign in "<>&'\u2028\u2029"}


def for_markup(text: str) -> str:
    """Text as it stands between tags or in a quoted attribute.

    Args:
        text: Any text.

    Returns:
        The visible text, escaped for HTML, SVG and XML.
    """
    return "".join(_SIGNS.get(c, c) for c in visible(text))


def for_script(json_text: str) -> str:
    """JSON text inside a script element of the type application/json.

    Args:
        json_text: JSON.

    Returns:
        The same values; no sign in it can end the element.
    """
    return "".join(_IN_SCRIPT.get(c, c) for c in json_text)


def for_dxf(text: str) -> str:
    """One line that a TEXT entity shows as it is.

    Args:
        text: Any text.

    Returns:
        The visible text, cut where it is too long; what would be taken for a code (``%%``, ``^``,
        ``\\U+``) means nothing.
    """
    one_line = re.sub(r"%{2,}", "%", " ".join(visible(text).split()))
    return _cut(_without_codes(one_line), LONGEST_DXF_TEXT)


@lru_cache(maxsize=10_000)  # tags say the same of many entities
def for_xdata(text: str) -> str:
    """One string of extended data.

    Args:
        text: Any text.

    Returns:
        The visible text, in bytes no longer than it may be however the drawing encodes it.
    """
    one_line = _without_codes(visible(text))
    size = 0
    for at, sign in enumerate(one_line):
        size += 1 if sign.isascii() else len(f"\\U+{ord(sign):04x}")
        if size > LONGEST_XDATA - len(r"\U+2026"):
            return one_line[:at] + "…"
    return one_line


_RESERVED = re.compile(r"(?i)(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)(?=[. ]|$)")
"""Names that Windows keeps for devices, whatever ending follows."""


def for_file_name(text: str) -> str:
    """The beginning of a file's name.

    Args:
        text: Any text.

    Returns:
        A name of no other folder, no hidden file, no option, no device, and not too long.
    """
    plain = re.sub(r'[<>:"/\\|?*]', "_", visible(text)).strip(" ")
    plain = re.sub(r"^[.~_-]+", "_", plain).rstrip(". ")
    plain = plain.encode("utf-8")[:LONGEST_STEM].decode("utf-8", "ignore").rstrip(". ")
    return f"_{plain}" if not plain or _RESERVED.match(plain) else plain


def without_folder(text: str) -> str:
    """A file's name, or a file and line, without the folder.

    Args:
        text: A path, or words that begin with one.

    Returns:
        What stands behind the last slash; folders are nobody's business and differ between
        machines.
    """
    return re.split(r"[\\/]", text)[-1]


def _without_codes(text: str) -> str:
    """``^J`` would break the line and ``\\U+0041`` be the letter A, in texts and in tags: a space
    undoes that, once.

    ``\\U+`` holds four digits, so that signs which need more are written out by themselves.
    """
    short = re.sub("[\U00010000-\U0010ffff]", _code, text)
    return re.sub(r"\^(?! )", "^ ", re.sub(r"\\(?=[UuMm]\+)", r"\\ ", short))


def _is_plain(text: str) -> bool:
    """Whether every sign of it is a printable one of ASCII, as in most texts:
    then there is nothing to look for.
    """
    return text.isascii() and text.isprintable()


def _written_out(text: str) -> str:
    return text if _is_plain(text) else _HIDDEN.sub(_code, text)


def _code(found: re.Match[str]) -> str:
    point = ord(found[0])
    return (
        f"\\x{point:02x}"
        if point < 0x100
        else f"\\u{point:04x}"
        if point < 0x10000
        else f"\\U{point:08x}"
    )


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1] + "…"
