"""The stages of reading a scene in order."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from ezdxf.document import Drawing as Document

from dxf2veneer.basics.messages import Message
from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing import forget
from dxf2veneer.drawing.content import layer_states
from dxf2veneer.drawing.file.columns import PlainEntities
from dxf2veneer.drawing.file.plain import lift_plain
from dxf2veneer.drawing.file.source import open_source
from dxf2veneer.propose.reading.ink import ink_of
from dxf2veneer.propose.reading.placing import Placer
from dxf2veneer.propose.reading.plain import with_plain
from dxf2veneer.propose.reading.reach import beside_ink_within_reach
from dxf2veneer.propose.reading.sheets import papers_of
from dxf2veneer.propose.reading.traced import straightened
from dxf2veneer.propose.scene import Header, Scene


def read_scene(
    path: Path,
    *,
    encoding: str | None = None,
    include_hidden: bool = False,
    limits: Limits = Limits(),
    keep: Callable[[Path, Document], None] = forget,
) -> Scene:
    """Everything visible in a DXF file.

    Args:
        path: the file, of any version, text or binary.
        encoding: its code page, instead of the one it declares.
        include_hidden: whether layers that are off or frozen are read too.
        limits: how much of a drawing is taken on.
        keep: is given the library's document.

    Returns:
        The scene, in drawing units.
    Raises:
        DrawingError: in one line, where the file can't be read or is too much.
    """
    source = open_source(path, encoding, lift_plain if keep is forget else None, limits)
    if source.plain is None:
        keep(path, source.document)
    return scene_of(
        source.document,
        source.plain,
        unit_code=source.unit_code,
        include_hidden=include_hidden,
        limits=limits,
        repairs=source.repairs,
    )


def scene_of(
    document: Document,
    plain: PlainEntities | None = None,
    *,
    unit_code: int | None = None,
    include_hidden: bool = False,
    limits: Limits = Limits(),
    repairs: Message | None = None,
) -> Scene:
    """Everything visible in a document of the DXF library.

    Args:
        document: the document; it is not changed.
        plain: entities of its model space that it lacks.
        unit_code: the header's $INSUNITS where it is known better than the document says.
        include_hidden: whether layers that are off or frozen are read too.
        limits: how much of a drawing is taken on.
        repairs: what had to be repaired to read the file.
    Returns:
        The scene, in drawing units.
    Raises:
        DrawingError: where references nest to more entities than the limit.
    """
    states = layer_states(document)
    frozen = frozenset(n for n, s in states.items() if s.is_frozen)
    hidden = frozenset(n for n, s in states.items() if s.is_hidden)
    placer = Placer(document, hidden, frozen, limits.entities, include_hidden)
    content = placer.read(document.modelspace())
    if plain is None:
        ink = ink_of(content)
    else:
        ink = with_plain(content, plain, placer.is_hidden, include_hidden)
    ink, content = ink.within_reach(), beside_ink_within_reach(content)
    papers, viewports = papers_of(document, placer)
    scene = Scene(
        segments=ink.segments,
        owner=np.repeat(np.arange(len(ink.counts)), ink.counts),
        entities=ink.finished(_layer_styles(document)),
        texts=tuple(content.texts),
        dimensions=tuple(content.dimensions),
        hatches=tuple(content.hatches),
        header=_header(document, unit_code),
        viewports=viewports,
        papers=papers,
        hidden_layers=tuple(sorted(placer.left_out)),
        repairs=repairs,
    )
    return straightened(scene)


def _layer_styles(document: Document) -> dict[str, tuple[int, str]]:
    """Colour and line type of each layer by its lower-case name."""
    return {
        str(layer.dxf.name).lower(): (
            abs(layer.dxf.get("color", 7)),
            str(layer.dxf.get("linetype", "")).upper(),
        )
        for layer in document.layers
    }


def _header(document: Document, unit_code: int | None) -> Header:
    header = document.header

    def number(name: str) -> float:
        value = header.get(name, 0)
        return float(value) if isinstance(value, int | float) else 0.0

    code = int(number("$INSUNITS")) if unit_code is None else unit_code
    measurement = int(number("$MEASUREMENT")) if "$MEASUREMENT" in header else None
    return Header(
        code,
        measurement,
        number("$LTSCALE"),
        number("$DIMSCALE"),
        int(number("$LUNITS")),
        number("$DIMTXT"),
    )
