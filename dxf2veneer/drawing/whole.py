"""Whether a drawing's file has been written to its end, told from its bytes alone."""

from __future__ import annotations

import re

_OTHER_FORMATS = (b"AC10", b"%PDF")
_PADDING = b" \t\r\n\x00\x1a"
_TAIL = 64
_END_MARK = re.compile(rb"(?:(?:^|[\r\n])[ \t]*0[ \t]*[\r\n]+[ \t]*|\x00)EOF$")
"""Group code 0 with the string EOF, in text or (after the code's zero byte) in binary: the last
group of every file (DXF reference, General DXF File Structure)."""


def breaks_off(content: bytes) -> bool:
    """Whether a DXF file lacks its end mark: it is being written yet, or was cut short.

    A file of another format is not spoken of: reading it gives the message that says what it is.
    """
    if content.startswith(_OTHER_FORMATS):
        return False
    return not _END_MARK.search(content.rstrip(_PADDING)[-_TAIL:])
