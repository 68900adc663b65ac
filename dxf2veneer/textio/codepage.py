"""Code pages: how the bytes of an ASCII DXF file stand for characters."""

from __future__ import annotations

import codecs
import re


def code_page(name: str) -> str:
    """The proper name of a code page known to Python; ValueError where DXF can't be written in it."""
    try:
        known = codecs.lookup(name).name
        fits = "SECTION".encode(known) == b"SECTION"  # UTF-16 and ciphers don't
    except (LookupError, ValueError):
        fits = False
    if not fits:
        raise ValueError("wants the name of a code page")
    return known


def without_code_page(content: bytes, encoding: str | None) -> bytes:
    r"""A file's content such that no code page matters: DXF's escapes (\U+00C4) for what is not ASCII.

    Without an encoding the content stays as it is.
    """
    if encoding is None:
        return content
    text = content.decode(encoding, "surrogateescape")
    escaped = re.sub(r"[^\x00-\x7f\udc80-\udcff]", lambda found: f"\\U+{ord(found[0]):04X}", text)
    return escaped.encode("ascii", "surrogateescape")
