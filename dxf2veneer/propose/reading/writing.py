"""Texts and dimensions as a person reads them."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any, NamedTuple

from ezdxf.lldxf.const import DXFError
from ezdxf.math import OCS, Vec3
from ezdxf.tools.text import plain_mtext, plain_text

from dxf2veneer.drawing.layers import clean_text
from dxf2veneer.propose.scene import Dimension, Text

_LETTER = 0.75
"""Width of a letter as a share of its height, mean of common CAD fonts [common practice, no
published source]."""
_LINE = 1.6
"""Distance of lines of a paragraph as a share of the letters' height: 5/3 at the usual spacing
(DXF reference, MTEXT)."""
_LONGEST = 2_000
"""Characters, codes included, of the longest text that is looked at."""
_LINEAR, _ALIGNED = 0, 1
"""Types of dimensions that measure a length between two points (DXF reference, DIMENSION, code
70)."""

TEXTS = ("TEXT", "MTEXT", "ATTRIB")


class Lettering(NamedTuple):
    """How a text stands: its point, its letters' height, and which share of its width and height
    lies left of and below the point."""

    x: float
    y: float
    height: float
    across: float = 0.0
    up: float = 0.0
    rotation: float = 0.0
    """In degrees."""
    width: float = 1.0
    """Factor of the letters' width."""


def text_of(entity: Any, layer: str) -> Text | None:
    """A text entity; None where there is nothing to read.

    Args:
        entity: a TEXT, MTEXT or ATTRIB of the DXF library.
        layer: the layer it shows on.

    Returns:
        The text, or None.
    """
    is_paragraph = entity.dxftype() == "MTEXT"
    plain = str(
        plain_mtext(entity.text[:_LONGEST])
        if is_paragraph
        else plain_text(entity.dxf.get("text", "")[:_LONGEST])
    )
    if not plain.strip():
        return None
    height = float(entity.dxf.get("char_height" if is_paragraph else "height", 0.0))
    x, y, across, up = _paragraph_place(entity) if is_paragraph else _line_place(entity)
    rotation = _rotation(entity, is_paragraph)
    width = 1.0 if is_paragraph else float(entity.dxf.get("width", 1.0))
    tag = str(entity.dxf.get("tag", "")) if entity.dxftype() == "ATTRIB" else ""
    look = Lettering(x, y, height, across, up, rotation, width)
    return lettered(plain, look, layer, str(entity.dxf.get("handle", "")), clean_text(tag))


def lettered(plain: str, look: Lettering, layer: str, handle: str, tag: str = "") -> Text | None:
    """A text in model space or in a block; None where there is nothing to read.

    Args:
        plain: what it says, codes removed.
        look: how it stands.
        layer: the layer it shows on.
        handle: its handle.
        tag: name of the attribute that it is, if any.

    Returns:
        The text, or None.
    """
    lines = _lines(plain)
    if not lines:
        return None
    x, y, height, across, up, rotation, factor = look
    width = max(map(len, lines)) * height * _LETTER * factor
    tall = height * (1.0 + _LINE * (len(lines) - 1))
    box = _turned_box(x, y, width, tall, across, up, math.radians(rotation))
    said = "\n".join(lines)
    return Text(said, x, y, height, layer, handle, None, -1, rotation, box, tag)


@lru_cache(maxsize=1 << 14)
def _lines(plain: str) -> tuple[str, ...]:
    """The lines of a text that are not blank, each without blanks that show nothing."""
    lines = (clean_text(" ".join(line.split())) for line in plain.splitlines())
    return tuple(line for line in lines if line)


def _rotation(entity: Any, is_paragraph: bool) -> float:
    if is_paragraph and entity.dxf.hasattr("text_direction"):
        direction = entity.dxf.text_direction
        return math.degrees(math.atan2(direction.y, direction.x))
    return float(entity.dxf.get("rotation", 0.0))


def _paragraph_place(entity: Any) -> tuple[float, float, float, float]:
    """Insertion point, and the share of width and height that lies left of and below it."""
    insert = Vec3(entity.dxf.insert)
    column, row = (
        (entity.dxf.get("attachment_point", 1) - 1) % 3,
        (entity.dxf.get("attachment_point", 1) - 1) // 3,
    )
    return insert.x, insert.y, column / 2.0, 1.0 - row / 2.0


def _line_place(entity: Any) -> tuple[float, float, float, float]:
    across, up = entity.dxf.get("halign", 0), entity.dxf.get("valign", 0)
    place = entity.dxf.get("align_point") if is_aligned(across, up) else None
    where = Vec3(place if place is not None else entity.dxf.insert)
    extrusion = entity.dxf.get("extrusion")
    if extrusion is not None and extrusion.z < 0.0:
        where = OCS(extrusion).to_wcs(where)
    return where.x, where.y, *shares_beside(across, up)


def shares_beside(across: int, up: int) -> tuple[float, float]:
    """Which share of a line of text lies left of and below its point.

    Args:
        across: how it is justified across (DXF reference, TEXT, code 72).
        up: how it is justified upward (DXF reference, TEXT, code 73).

    Returns:
        Both shares, 0 to 1.
    """
    if across == 4:
        return 0.5, 0.5
    return {1: 0.5, 2: 1.0}.get(across, 0.0), {2: 0.5, 3: 1.0}.get(up, 0.0)


def is_aligned(across: int, up: int) -> bool:
    """Whether a line of text stands at its second point, not at the first.

    Args:
        across: how it is justified across (DXF reference, TEXT, code 72).
        up: how it is justified upward (DXF reference, TEXT, code 73).

    Returns:
        Whether it does; what is spread between both points stands at the first.
    """
    return bool(across or up) and across not in (3, 5)


def _turned_box(
    x: float, y: float, width: float, tall: float, across: float, up: float, angle: float
) -> tuple[float, float, float, float]:
    left, low = -width * across, -tall * up
    c, s = math.cos(angle), math.sin(angle)
    x0, x1 = sorted((x + left * c, x + (left + width) * c))
    y0, y1 = sorted((y + left * s, y + (left + width) * s))
    a0, a1 = sorted((low * s, (low + tall) * s))
    b0, b1 = sorted((low * c, (low + tall) * c))
    return x0 - a1, y0 + b0, x1 - a0, y1 + b1


def dimension_of(entity: Any, layer: str) -> Dimension | None:
    """A dimension that measures a length between two points; None for those of angles, radii,
    coordinates.

    Args:
        entity: a DIMENSION of the DXF library.
        layer: the layer it shows on.

    Returns:
        The dimension, or None.
    """
    kind = entity.dimtype
    if kind not in (_LINEAR, _ALIGNED):
        return None
    a, b = Vec3(entity.dxf.defpoint2), Vec3(entity.dxf.defpoint3)
    measured = math.dist((a.x, a.y), (b.x, b.y))
    if kind == _LINEAR:
        angle = math.radians(entity.dxf.get("angle", 0.0))
        measured = abs((b.x - a.x) * math.cos(angle) + (b.y - a.y) * math.sin(angle))
    if measured <= 0.0:
        return None
    text, height, typed = _shown(entity)
    places = [
        Vec3(entity.dxf.get(name))
        for name in ("defpoint", "text_midpoint")
        if entity.dxf.hasattr(name)
    ]
    xs, ys = [p.x for p in (a, b, *places)], [p.y for p in (a, b, *places)]
    return Dimension(
        measured=measured,
        text=text,
        x0=a.x,
        y0=a.y,
        x1=b.x,
        y1=b.y,
        handle=str(entity.dxf.get("handle", "")),
        layer=layer,
        factor=_style_value(entity, "dimlfac", 1.0),
        height=height,
        typed=typed,
        box=(min(xs), min(ys), max(xs), max(ys)),
    )


def _shown(entity: Any) -> tuple[str, float, bool]:
    """The text a person reads, its height in drawing units, and whether it was typed."""
    own = str(entity.dxf.get("text", ""))
    block = entity.get_geometry_block()
    drawn = next((e for e in block or () if e.dxftype() in ("MTEXT", "TEXT")), None)
    height = 0.0
    if drawn is not None:
        height = float(
            drawn.dxf.get("char_height" if drawn.dxftype() == "MTEXT" else "height", 0.0)
        )
    if own.strip() and "<>" not in own:
        return clean_text(" ".join(str(plain_mtext(own)).split())), height, True
    found = text_of(drawn, "") if drawn is not None else None
    return (found.text.replace("\n", " ") if found else ""), height, False


def _style_value(entity: Any, name: str, default: float) -> float:
    """A value of the dimension's style, the entity's own overrides first."""
    try:
        value = entity.override().get(name, default)
        return float(value) if value else default
    except (DXFError, AttributeError, TypeError, ValueError):
        return default
