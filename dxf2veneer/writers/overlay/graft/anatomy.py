"""Where things stand in the bytes of a text DXF file, without reading what they hold.

A line with the group code 0 and a name behind it can be found by its letters alone: were the 0 a
value, the name would stand where a group code belongs. So nothing has to be read from the first
line on, and damage elsewhere does not matter.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice

from ezdxf.filemanagement import dxf_stream_info
from ezdxf.lldxf.const import DXFError

from dxf2veneer.textio.codepage import code_page

R12, R2000, R2007 = "AC1009", "AC1015", "AC1021"
VERSIONS = (R12, "AC1012", "AC1014", R2000, "AC1018", R2007, "AC1024", "AC1027", "AC1032")
"""Versions whose bytes the overlay is put into (DXF reference, $ACADVER)."""

_MOST_HANDLE = 1 << 63
_HANDLE = re.compile(rb"\n[ \t]*1?0?5[ \t]*\r?\n[ \t]*([0-9A-Fa-f]{1,16})[ \t]*(?=\r?\n)")
"""A handle, codes 5 and 105; a number behind a value 5 passes for one too, which does no harm where
the highest is looked for."""
_HANDLE_CODE, _MOST_TAGS = 5, 20_000
"""Group code of an entity's handle, and how many tags of a section are looked at for one."""
_VARIABLE = rb"\n[ \t]*9[ \t]*\r?\n[ \t]*\$%s[ \t]*\r?\n[^\n]*\n[ \t]*([^\r\n]*?)[ \t]*\r?\n"
_SECTION_NAME = re.compile(rb"[ \t]*\r?\n[ \t]*2[ \t]*\r?\n[ \t]*([A-Z]+)[ \t]*\r?\n")
_LINE_END = re.compile(rb"[ \t]*\r?(?:\n|\Z)")
_CODE_0 = re.compile(rb"(?:\A|\n)([ \t]*0[ \t]*\r?\n[ \t]*)\Z")


@dataclass(frozen=True)
class Tag:
    """A group code with its value, and where it begins."""

    at: int
    code: int
    value: bytes


@dataclass(frozen=True)
class Table:
    """One table: where it begins, where its end mark begins, and its entries."""

    start: int
    end: int
    handle: str | None
    entries: tuple[tuple[Tag, ...], ...]

    def named(self, page: str) -> dict[str, tuple[Tag, ...]]:
        """The entries by name, upper and lower case alike."""
        found = {}
        for entry in self.entries:
            name = value_of(entry, 2)
            if name is not None:
                found[name.decode(page, "replace").casefold()] = entry
        return found


@dataclass(frozen=True)
class Anatomy:
    """What has to be known of a file to put something into it."""

    content: bytes
    version: str
    page: str
    line_end: bytes
    has_handles: bool
    next_handle: int
    """The first handle that is free, and so are all above it."""
    seed: tuple[int, int] | None
    """Where the value of $HANDSEED stands; None where the file has none."""
    tables: dict[str, Table]
    tables_end: int | None
    """Where the end mark of the tables begins; None where the file has none."""
    body: int
    """Where the first section of blocks or entities begins."""
    entities: tuple[int, int]
    """Where the entities begin, and where their end mark does."""
    space: str | None
    """Handle of the model space's block record."""
    linetype_scale: float = field(default=1.0)


def anatomy_of(content: bytes, encoding: str | None) -> Anatomy | None:
    """Where things stand in a text file.

    Args:
        content: The file's bytes.
        encoding: Its code page, where the user names one.

    Returns:
        The places; None where the file is of a version before R12 or an unknown one, or where
        something has no place in it: it has to be read and written by the library.
    """
    sections = dict(_sections(content))
    version = _variable(content, b"ACADVER", sections)
    version = R12 if version is None else version
    page = _page(content, sections, encoding)
    if "ENTITIES" not in sections or version not in VERSIONS or page is None:
        return None
    found = [int(m[1], 16) for m in _HANDLE.finditer(content)]
    tables = _tables(content, sections["TABLES"]) if "TABLES" in sections else {}
    seed = _seed(content, sections)
    top = max([0, *found, int(content[slice(*seed)], 16) - 1 if seed else 0])
    if top >= _MOST_HANDLE or tables is None:
        return None
    scale = _variable(content, b"LTSCALE", sections)
    body = min(sections[name][0] for name in ("BLOCKS", "ENTITIES") if name in sections)
    return Anatomy(
        content=content,
        version=version,
        page=page,
        line_end=b"\r\n" if content[: content.find(b"\n")].endswith(b"\r") else b"\n",
        has_handles=bool(found) and (version != R12 or _have_handles(content, sections)),
        next_handle=top + 1,
        seed=seed,
        tables=tables,
        tables_end=sections["TABLES"][2] if "TABLES" in sections else None,
        body=body,
        entities=sections["ENTITIES"][1:],
        space=_model_space(tables, page),
        linetype_scale=_number(scale),
    )


def tags(content: bytes, start: int, end: int) -> Iterator[Tag]:
    """The tags of a stretch that begins with a group code, comments left out.

    Args:
        content: The file's bytes.
        start: Where the stretch begins.
        end: Where it ends.

    Returns:
        The tags; reading ends where a line that should hold a group code holds none.
    """
    at = start
    while at < end:
        middle = content.find(b"\n", at, end)
        last = content.find(b"\n", middle + 1, end) if middle >= 0 else -1
        if middle < 0:
            return
        last = end if last < 0 else last
        try:
            code = int(content[at:middle])
        except ValueError:
            return
        if code != 999:
            yield Tag(at, code, content[middle + 1 : last].strip())
        at = last + 1


def value_of(entry: tuple[Tag, ...], code: int) -> bytes | None:
    """The first value with a group code.

    Args:
        entry: The tags of an entry.
        code: The group code.

    Returns:
        The value; None where the entry has none.
    """
    return next((tag.value for tag in entry if tag.code == code), None)


def _have_handles(content: bytes, sections: Mapping[str, tuple[int, int, int]]) -> bool:
    """Whether an entity of an R12 file has a handle, not only a text that reads like one's code:
    a text ``5`` with a number behind it. Empty sections leave it to the bytes."""
    spans = [sections[name][1:] for name in ("ENTITIES", "BLOCKS") if name in sections]
    found = [
        [tag.code == _HANDLE_CODE for tag in islice(tags(content, *span), _MOST_TAGS)]
        for span in spans
    ]
    return any(map(any, found)) or not any(found)


def _sections(content: bytes) -> Iterator[tuple[str, tuple[int, int, int]]]:
    """By name: where a section begins, where its content does, and where its end mark does. Of
    several with one name the last counts, as in the library."""
    at = content.find(b"SECTION")
    while at >= 0:
        start, name = _zero_before(content, at), _SECTION_NAME.match(content, at + len(b"SECTION"))
        if start is not None and name:
            end = _end_mark(content, name.end())
            if end is None:
                return
            yield name[1].decode("ascii"), (start, name.end(), end)
            at = end
        at = content.find(b"SECTION", at + 1)


def _end_mark(content: bytes, start: int) -> int | None:
    """Where the end mark of a section begins whose content begins at a place."""
    at = content.find(b"ENDSEC", start)
    while at >= 0:
        begin = _zero_before(content, at)
        if begin is not None and _LINE_END.match(content, at + len(b"ENDSEC")):
            return begin
        at = content.find(b"ENDSEC", at + 1)
    return None


def _zero_before(content: bytes, at: int) -> int | None:
    """Where the group code 0 in front of a name begins; None where another line stands there."""
    window = max(0, at - 40)
    found = _CODE_0.search(content[window:at])
    return None if found is None else window + found.start(1)


def _tables(content: bytes, section: tuple[int, int, int]) -> dict[str, Table] | None:
    """The tables by name; None where one has no end."""
    tables: dict[str, Table] = {}
    entries: list[list[Tag]] = []
    inside = False
    for tag in tags(content, section[1], section[2]):
        if tag.code != 0:
            if entries:
                entries[-1].append(tag)
        elif tag.value == b"ENDTAB" and inside:
            head, *rest = (tuple(entry) for entry in entries)
            name = (value_of(head, 2) or b"").decode("ascii", "replace").upper()
            handle = value_of(head, 5)
            known = Table(
                head[0].at, tag.at, handle.decode("ascii", "replace") if handle else None, (*rest,)
            )
            tables.setdefault(name, known)
            inside, entries = False, []
        elif tag.value == b"TABLE" or inside:
            inside = True
            entries.append([tag])
    return None if inside else tables


def _model_space(tables: dict[str, Table], page: str) -> str | None:
    """The handle of the block record of model space."""
    records = tables["BLOCK_RECORD"].named(page) if "BLOCK_RECORD" in tables else {}
    record = records.get("*model_space") or records.get("$model_space")
    handle = value_of(record, 5) if record else None
    return handle.decode("ascii", "replace") if handle else None


def _variable(content: bytes, name: bytes, sections: dict[str, tuple[int, int, int]]) -> str | None:
    """The value of a header variable."""
    found = _variable_at(content, name, sections)
    return found[1].decode("ascii", "replace") if found else None


def _variable_at(
    content: bytes, name: bytes, sections: dict[str, tuple[int, int, int]]
) -> re.Match[bytes] | None:
    if "HEADER" not in sections:
        return None
    _, start, end = sections["HEADER"]
    return re.compile(_VARIABLE % name).search(content, start - 1, end)


def _seed(content: bytes, sections: dict[str, tuple[int, int, int]]) -> tuple[int, int] | None:
    found = _variable_at(content, b"HANDSEED", sections)
    if found is None or not re.fullmatch(rb"[0-9A-Fa-f]{1,16}", found[1]):
        return None
    return found.span(1)


def _page(
    content: bytes, sections: dict[str, tuple[int, int, int]], encoding: str | None
) -> str | None:
    """The code page, by its proper name; None where it is none that DXF can be written in."""
    if encoding:
        return code_page(encoding)
    if "HEADER" not in sections:
        return "cp1252"
    head = content[: sections["HEADER"][2]] + b"0\nENDSEC\n0\nEOF\n"
    try:
        info = dxf_stream_info(io.TextIOWrapper(io.BytesIO(head), "utf-8", "ignore"))
    except (DXFError, ValueError):
        return None
    return code_page(info.encoding)


def _number(text: str | None) -> float:
    try:
        return float(text or 1.0) or 1.0
    except ValueError:
        return 1.0
