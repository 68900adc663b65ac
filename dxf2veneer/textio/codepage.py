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
        fits = "SECTION".encode(known) == b"SECTION"  # UTF-16 and ciphers don't
    except (LookupError, ValueError):
        return None
    return known if fits else None


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
