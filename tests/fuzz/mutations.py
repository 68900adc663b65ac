"""Changes to the tags of a DXF file that a damaged, hand-edited or hostile file might show.

A text file is parted into tags (group code and value) and those into entities; each change is
small, and a mutation is one to six of them.
"""

from __future__ import annotations

import contextlib
import random
from collections.abc import Callable

Tag = tuple[bytes, bytes]

NUMBERS = (
    b"0", b"-0", b"1", b"-1", b"2", b"0.5", b"1e-12", b"1e-300", b"5e-324", b"1e6", b"1e9", b"1e10",
    b"1e12", b"1e16", b"1e100",
    b"1e150", b"1e160", b"1e300", b"-1e300", b"1e308", b"1e999", b"nan", b"-nan", b"inf", b"-inf",
    b"2147483647", b"-2147483648",
    b"4294967296", b"9" * 40, b"9" * 400, b"360", b"6.283185307179586", b"180.0000001", b"0.1",
    b"1e-7", b"", b" ", b"x", b"0x7f", b"1_0",
)  # fmt: skip
TEXTS = (
    b"", b" ", b"A-WALL", b"A-OPNG", b"0", b"*", b"[", b"*Model_Space", b"*Paper_Space", b"OUTER",
    b"INNER", b"%%d%%c%%", b"\\U+D800",
    b"\\U+0000", b"{\\fArial;x", b"\\S1/2;\\A1;", b"{{{{{{{{{{", b"\\", b"%<\\AcVar>%", b"=1+1",
    b"\x00", b"\x1b[2J", b"\xff\xfe\x80",
    b"\xe2\x80\xae", b"a" * 300, b"12'-0\"", b"1/0", b"NORTH", b"SOLID", b"^J^I",
)  # fmt: skip
KINDS = (
    b"LINE", b"LWPOLYLINE", b"POLYLINE", b"VERTEX", b"SEQEND", b"CIRCLE", b"ARC", b"ELLIPSE",
    b"SPLINE", b"HATCH", b"INSERT", b"ATTRIB",
    b"TEXT", b"MTEXT", b"POINT", b"DIMENSION", b"MLINE", b"REGION", b"BLOCK", b"ENDBLK", b"SECTION",
    b"ENDSEC", b"TABLE", b"ENDTAB",
    b"LAYER", b"EOF", b"MPOLYGON", b"LEADER", b"MULTILEADER", b"3DFACE", b"SOLID", b"XLINE",
    b"VIEWPORT", b"WIPEOUT", b"NONSENSE",
)  # fmt: skip
CODES = tuple(str(c).encode() for c in (0, 1, 2, 3, 5, 6, 8, 9, 10, 11, 20, 21, 30, 39, 40, 41, 42,
    44, 45, 50, 66, 67, 70, 71, 72, 73, 75, 90, 91, 92, 93, 97, 98, 100, 102, 210, 220, 230, 290,
    310, 330, 360, 999, 1000, 1001, 1010, 1071, -1, 1072, 5000))  # fmt: skip


def mutated(content: bytes, others: list[bytes], chance: random.Random) -> bytes:
    """A changed copy of a file; ``others`` are files from which entities may be taken."""
    if content.startswith(b"AutoCAD Binary") or chance.random() < 0.06:
        return _bytes_changed(content, chance)
    tags = tags_of(content)
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 4, 6))):
        if len(tags) > 2:
            tags = chance.choice(_CHANGES)(tags, others, chance)
    made = file_of(tags, chance.choice((b"\n", b"\n", b"\n", b"\r\n")))
    return made[: chance.randrange(len(made) + 1)] if chance.random() < 0.03 else made


def tags_of(content: bytes) -> list[Tag]:
    """The tags of a text file, code and value in turn; a last line alone is dropped."""
    lines = [line.strip(b"\r") for line in content.split(b"\n")]
    return [(lines[i].strip(), lines[i + 1]) for i in range(0, len(lines) - 1, 2)]


def file_of(tags: list[Tag], end: bytes = b"\n") -> bytes:
    """The text file of tags."""
    return b"".join(line + end for tag in tags for line in tag)


def _bytes_changed(content: bytes, chance: random.Random) -> bytes:
    changed = bytearray(content)
    for _ in range(chance.randint(1, 8)):
        if not changed:
            break
        at = chance.randrange(len(changed))
        match chance.randrange(4):
            case 0:
                changed[at] = chance.randrange(256)
            case 1:
                del changed[at : at + chance.randint(1, 40)]
            case 2:
                changed[at:at] = changed[at : at + chance.randint(1, 200)]
            case 3:
                changed[at : at + 8] = chance.choice(
                    (b"\xff" * 8, bytes(8), b"\x00" * 6 + b"\xf8\x7f", b"\x00" * 6 + b"\xf0\x7f")
                )
    return bytes(changed)


def _spot(tags: list[Tag], chance: random.Random) -> int:
    """The number of a tag, mostly one of the blocks or entities."""
    if chance.random() < 0.15:
        return chance.randrange(len(tags))
    first = next((i for i, t in enumerate(tags) if t[1].strip() in (b"BLOCKS", b"ENTITIES")), 0)
    if chance.random() < 0.75:
        first = next((i for i, t in enumerate(tags) if t[1].strip() == b"ENTITIES"), first)
    last = next((i for i in range(first, len(tags)) if tags[i][1].strip() == b"OBJECTS"), len(tags))
    return chance.randrange(first, max(last, first + 1))


def _entity(tags: list[Tag], chance: random.Random) -> tuple[int, int]:
    """First tag of an entity and the one behind its last."""
    start = _spot(tags, chance)
    while start > 0 and tags[start][0] != b"0":
        start -= 1
    end = start + 1
    while end < len(tags) and tags[end][0] != b"0":
        end += 1
    return start, end


def _is_number(code: bytes) -> bool:
    return code.isdigit() and (10 <= int(code) < 100 or 140 <= int(code) < 300)


def _value(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    i = _spot(tags, chance)
    code, old = tags[i]
    if code == b"0":
        return [*tags[:i], (code, chance.choice(KINDS)), *tags[i + 1 :]]
    pool = NUMBERS if _is_number(code) else TEXTS
    if chance.random() < 0.1:
        pool = TEXTS if pool is NUMBERS else NUMBERS
    new = chance.choice(pool)
    if _is_number(code) and chance.random() < 0.4:
        with contextlib.suppress(ValueError):
            new = repr(
                float(old) * chance.choice((-1, 2, 10, 1e3, 1e6, 0.5, 1e-6, 1 + 1e-9))
                + chance.choice((0, 0, 1, 1e-9))
            ).encode()
    return [*tags[:i], (code, new), *tags[i + 1 :]]


def _same_value_throughout(
    tags: list[Tag], others: list[bytes], chance: random.Random
) -> list[Tag]:
    """Every tag of one code takes one value."""
    code = tags[_spot(tags, chance)][0]
    if code == b"0":
        return tags
    value = chance.choice(NUMBERS if _is_number(code) else TEXTS)
    return [(c, value) if c == code and chance.random() < 0.7 else (c, v) for c, v in tags]


def _code(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    i = _spot(tags, chance)
    return [*tags[:i], (chance.choice(CODES), tags[i][1]), *tags[i + 1 :]]


def _added(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    i = _spot(tags, chance)
    code = chance.choice(CODES)
    value = chance.choice(KINDS if code == b"0" else NUMBERS if _is_number(code) else TEXTS)
    return [*tags[:i], (code, value), *tags[i:]]


def _tag_gone(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    i = _spot(tags, chance)
    return tags[:i] + tags[i + chance.choice((1, 1, 1, 2, 5)) :]


def _tag_repeated(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    i = _spot(tags, chance)
    return tags[:i] + [tags[i]] * chance.choice((2, 2, 3, 100)) + tags[i + 1 :]


def _order(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    start, end = _entity(tags, chance)
    body = tags[start + 1 : end]
    chance.shuffle(body)
    return [*tags[: start + 1], *body, *tags[end:]]


def _entity_gone(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    start, end = _entity(tags, chance)
    return tags[:start] + tags[end:]


def _entity_repeated(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    start, end = _entity(tags, chance)
    return tags[:end] + tags[start:end] * chance.choice((1, 1, 2, 30)) + tags[end:]


def _entity_moved(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    start, end = _entity(tags, chance)
    taken, rest = tags[start:end], tags[:start] + tags[end:]
    if not rest:
        return tags
    to, _ = _entity(rest, chance)
    return rest[:to] + taken + rest[to:]


def _entity_of_another(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    donor = tags_of(chance.choice(others))
    if len(donor) < 3:
        return tags
    start, end = _entity(donor, chance)
    to, _ = _entity(tags, chance)
    return tags[:to] + donor[start:end] + tags[to:]


def _handle(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    spots = [
        i for i, (code, _) in enumerate(tags) if code in (b"5", b"105", b"330", b"340", b"360")
    ]
    if not spots:
        return tags
    i = chance.choice(spots)
    value = chance.choice(
        (b"0", b"1", b"FFFFFFFFFFFFFFFF", b"-1", b"XYZ", b"", tags[chance.choice(spots)][1])
    )
    return [*tags[:i], (tags[i][0], value), *tags[i + 1 :]]


def _reference(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    """A block's or table's name takes that of another, so that blocks may hold themselves."""
    spots = [i for i, (code, _) in enumerate(tags) if code in (b"2", b"3")]
    if len(spots) < 2:
        return tags
    i = chance.choice(spots)
    return [*tags[:i], (tags[i][0], tags[chance.choice(spots)][1]), *tags[i + 1 :]]


def _layer(tags: list[Tag], others: list[bytes], chance: random.Random) -> list[Tag]:
    """An entity comes onto another layer that is read."""
    spots = [i for i, (code, _) in enumerate(tags) if code == b"8"]
    if not spots:
        return tags
    i = chance.choice(spots)
    layer = chance.choice(
        (
            b"A-WALL",
            b"A-WALL",
            b"A-OPNG",
            b"A-OPNG",
            b"A-ELEV-CORN-OUTS",
            b"A-ELEV-CAPS",
            b"A-ELEV-LEVL",
            b"A-ELEV-IDEN",
            b"0",
        )
    )
    return [*tags[:i], (b"8", layer), *tags[i + 1 :]]


_Change = Callable[[list[Tag], list[bytes], random.Random], list[Tag]]
_CHANGES: tuple[_Change, ...] = (
    _value, _value, _value, _value, _same_value_throughout, _code, _added, _tag_gone, _tag_repeated,
    _order, _entity_gone,
    _entity_repeated, _entity_moved, _entity_of_another, _entity_of_another, _handle, _reference,
    _layer, _layer,
)  # fmt: skip
