"""Code pages: how the bytes of an ASCII DXF file stand for characters."""

from __future__ import annotations

import codecs
import re


def code_page(name: str) -> str | None:
    """The proper name of a code page.

    Args:
        name: A name that Python knows, or none.

    Returns:
        Its name; None where there is none or DXF can't be written in it (ASCII must be part of it).
    """
    try:
        known = codecs.lookup(name).name
        fits = _fits(known)
    except (LookupError, ValueError):
        return None
    return known if fits else None


def _fits(name: str) -> bool:
    """Whether ASCII is part of a code page, byte for character, and bytes that are no characters of
    it can be read. Raises LookupError or ValueError where that can't even be asked.

    UTF-16 and ciphers are none, nor is what writes other characters in ASCII: utf-7, escapes.
    """
    plain = "SECTION".encode(name) == b"SECTION" and _ASCII.decode(name).startswith("SECTION")
    return plain and len(_ASCII.decode(name)) == len(_ASCII) and bool(_ODD.decode(name, _KEPT))


_ASCII = rb"SECTION \u0041 \x41 +AGE- ~{VPND~} " + b"\x1b$B!!"
_ODD, _KEPT = b"SECTION\xff", "surrogateescape"


def without_code_page(content: bytes, encoding: str | None) -> bytes:
    r"""A file's content such that no code page matters.

    Args:
        content: Bytes of an ASCII DXF file.
        encoding: Its code page; None leaves the content as it is.

    Returns:
        The content with DXF's escapes (\U+00C4, DXF reference) for what is not ASCII.
    """
    if encoding is None:
        return content
    text = content.decode(encoding, "surrogateescape")
    escaped = re.sub(r"[^\x00-\x7f\udc80-\udcff]", lambda found: f"\\U+{ord(found[0]):04X}", text)
    return escaped.encode("ascii", "surrogateescape")
