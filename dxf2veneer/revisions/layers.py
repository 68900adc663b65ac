"""Layers that go by another name in a new drawing, found by what lies on them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from dxf2veneer.basics.tolerances import REVISION_LAYER_LEAD, REVISION_LAYER_SHARE
from dxf2veneer.model import Drawing, Recorded
from dxf2veneer.revisions.outlines import Box
from dxf2veneer.revisions.placing import Marked, Places, placing, size_kind

Marks = dict[str, list[Marked]]
"""What lies on each layer, or under each role, by its name."""


class FoundLayer(NamedTuple):
    """A layer of the new drawing that carries what lay on another one."""

    layer: str
    share: float
    """What of it lies alike, from 0 to 1."""


def marks_by_layer(drawings: Iterable[Drawing]) -> Marks:
    """What lies on each layer of some drawings.

    Args:
        drawings: The drawings, each read with all layers.

    Returns:
        Shapes by their size and texts by their words, each with its place.
    """
    found: Marks = {}
    for drawing in drawings:
        for shape in drawing.shapes:
            x0, y0, x1, y1 = shape.path.box
            marked = Marked(size_kind(x1 - x0, y1 - y0), x0, y0, 1.0)
            found.setdefault(shape.layer, []).append(marked)
        for label in drawing.labels:
            marked = Marked(f"text {label.text}", *label.at, 1.0)
            found.setdefault(label.layer, []).append(marked)
    return found


def marks_by_role(record: Recorded) -> Marks:
    """What a result records under each role of layers.

    Args:
        record: The result.

    Returns:
        Outlines of walls under ``wall``, those of openings under ``opening`` and under their kind.
    """
    found: Marks = {}
    for wall in record.walls:
        _add(found, "wall", wall.wall.box)
        for opening in wall.wall.openings:
            _add(found, "opening", opening.box)
            _add(found, opening.kind, opening.box)
    return found


def _add(found: Marks, role: str, box: Box) -> None:
    x0, y0, x1, y1 = box
    found.setdefault(role, []).append(Marked(size_kind(x1 - x0, y1 - y0), x0, y0, 1.0))


def found_layer(old: Iterable[Marked], new: Mapping[str, list[Marked]]) -> FoundLayer | None:
    """The layer of a new drawing that carries what lay on a layer before.

    Args:
        old: What lay on the layer.
        new: What lies on each layer that it can be.

    Returns:
        The layer on which most of it lies, in the same order to one another; None where none has
        enough of it, or two have about as much.
    """
    here = Places(old)
    shares = sorted(
        ((placing(here, Places(marks)).share, layer) for layer, marks in new.items()), reverse=True
    )
    if not shares or shares[0][0] < REVISION_LAYER_SHARE:
        return None
    if len(shares) > 1 and shares[0][0] - shares[1][0] < REVISION_LAYER_LEAD:
        return None
    return FoundLayer(shares[0][1], shares[0][0])
