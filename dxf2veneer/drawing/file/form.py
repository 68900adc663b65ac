"""What a file is by its bytes alone: of which format, and whether written to its end."""

from __future__ import annotations

import re

from dxf2veneer.basics.tolerances import END_MARK_BYTES

DWG, PDF = b"AC10", b"%PDF"
"""How files of other formats begin."""

_BINARY = b"AutoCAD Binary DXF\r\n\x1a\x00"  # DXF reference, Binary DXF Files
_PADDING = b" \t\r\n\x00\x1a"
_END_MARK = re.compile(rb"(?:(?:^|[\r\n])[ \t]*0[ \t]*[\r\n]+[ \t]*|\x00)EOF$")
"""Group code 0 with the string EOF, in text or (after the code's zero byte) in binary: the last
group of every file (DXF reference, General DXF File Structure)."""


def is_binary(content: bytes) -> bool:
    """Whether it is a binary DXF file.

    Args:
        content: The file's bytes.

    Returns:
        Whether it begins as the DXF reference says (Binary DXF Files).
    """
    return content.startswith(_BINARY)


def breaks_off(content: bytes) -> bool:
    """Whether a DXF file lacks its end mark: it is being written yet, or was cut short.

    A file of another format is not spoken of: reading it gives the message that says what it is.

    Args:
        content: The file's bytes.

    Returns:
        Whether the last group is missing.
    """
    if content.startswith((DWG, PDF)):
        return False
    return not _END_MARK.search(content.rstrip(_PADDING)[-END_MARK_BYTES:])
