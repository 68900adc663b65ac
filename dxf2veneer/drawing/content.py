"""What lies on the wanted layers of a document: shapes and labels in inches, each as it is read."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from textwrap import shorten

from ezdxf.document import Drawing as Document

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import ENDS_MEET_IN, LIBRARY_TEXT_LETTERS
from dxf2veneer.config.job import Job
from dxf2veneer.drawing.entities.blocks import PlacedEntity, Walker, own_layer
from dxf2veneer.drawing.entities.hatches import boundaries, pattern_of
from dxf2veneer.drawing.entities.kinds import BAD_DATA, READERS, TEXTS, kind_of, label_of
from dxf2veneer.drawing.entities.numbers import refuse_numbers
from dxf2veneer.drawing.entities.ours import own_tags
from dxf2veneer.drawing.errors import EntityError
from dxf2veneer.drawing.file.weight import refuse_many
from dxf2veneer.drawing.layers import (
    LABEL_ROLES,
    OUTLINE_ROLES,
    clean_text,
    layer_matches,
    patterns_of,
)
from dxf2veneer.drawing.notice_collector import NoticeCollector
from dxf2veneer.drawing.outlines.tidying import closed_within, tidy
from dxf2veneer.model import Label, LayerState, Shape

_EXTERNAL = 4 | 8
"""Flags of a block that stands for another file: external, overlaid (DXF reference, BLOCK)."""


@dataclass(frozen=True)
class Content:
    """What was read of the wanted layers."""

    shapes: tuple[Shape, ...]
    """On layers of outlines and marks, in inches."""
    labels: tuple[Label, ...]
    """On layers whose texts mean something, in inches."""
    layers_met: frozenset[str]
    """Layers on which anything lies, hidden or unusable things included."""


def layer_states(document: Document) -> dict[str, LayerState]:
    """Every layer of the table, and those that only entities name.

    Args:
        document: The drawing.

    Returns:
        The layers by lower-case name.
    """
    states: dict[str, LayerState] = {}
    for layer in document.layers:
        name = clean_text(layer.dxf.get("name", ""))
        states[name.lower()] = LayerState(name, is_off=layer.is_off(), is_frozen=layer.is_frozen())
    spaces = [document.modelspace(), *(b for b in document.blocks if not b.is_any_layout)]
    used = {own_layer(e) for space in spaces for e in space if e.is_alive}
    for name in sorted(used - {""}):
        states.setdefault(name.lower(), LayerState(name))
    return states


def report_external(document: Document, collector: NoticeCollector) -> None:
    """Report every block that stands for another file.

    Args:
        document: The drawing.
        collector: Takes the notices.
    """
    for block in document.blocks:
        head = block.block
        if head is None or not head.is_alive or not head.dxf.get("flags", 0) & _EXTERNAL:
            continue
        name, other = clean_text(block.name), clean_text(head.dxf.get("xref_path", ""))
        collector.add(
            "EXTERNAL_REFERENCE",
            message("external-reference", block=name, file=other)
            if other
            else message("external-reference-unnamed", block=name),
        )


def wanted_of(job: Job) -> Callable[[str], bool]:
    """Which layers a job reads; an overlay's own never, whatever wildcard matches them.

    Args:
        job: Its sections ``layers`` and ``output`` count.

    Returns:
        A test of a layer's name.
    """
    wanted = patterns_of(job.layers)
    return lambda name: layer_matches(name, wanted) and not is_of_overlay(name, job)


def is_of_overlay(name: str, job: Job) -> bool:
    """Whether a layer is one of those that the overlay draws on.

    Args:
        name: The layer's name.
        job: Its ``output.layer_prefix`` counts.

    Returns:
        Whether the name begins with the prefix.
    """
    return layer_matches(name, (f"{job.output.layer_prefix}-*",))


def read_content(
    document: Document,
    states: dict[str, LayerState],
    job: Job,
    to_inches: float,
    collector: NoticeCollector,
) -> Content:
    """The shapes and labels on the job's layers, hidden ones left out unless the job wants them.

    Args:
        document: The drawing.
        states: Its layers by lower-case name.
        job: Its layers, gap, limits and section ``drawing`` count.
        to_inches: Inches in one drawing unit.
        collector: Takes the notices.

    Returns:
        Shapes and labels in inches.

    Raises:
        DrawingError: There are more of them than the job's limit; the error names no file.
    """
    outline, label = patterns_of(job.layers, OUTLINE_ROLES), patterns_of(job.layers, LABEL_ROLES)
    walker = Walker(document, states, wanted_of(job), collector, job.limits.entities)
    shapes: list[Shape] = []
    labels: list[Label] = []
    met: dict[str, tuple[bool, bool]] = {}
    for count, placed in enumerate(walker.walk(to_inches), 1):
        refuse_many(count, job.limits.named)
        layer = placed.layer
        if layer not in met:
            met[layer] = layer_matches(layer, outline), layer_matches(layer, label)
        is_outline, is_label = met[layer]
        kind = kind_of(placed.entity)
        if own_tags(placed.entity):
            continue  # an earlier overlay's, under a prefix that this job does not name
        if placed.hidden and not job.drawing.include_hidden:
            collector.hidden(layer, placed.hidden, placed.handle)
        elif kind in READERS:
            shape = read_shape(placed, collector)
            if shape is not None:
                shapes.append(
                    _close_outline(shape, job.drawing.gap, collector) if is_outline else shape
                )
        elif kind == "HATCH" and is_outline:
            shapes.extend(_read_hatch(placed, job, collector))
        elif (kind in TEXTS or kind == "POINT") and is_label:
            labels.extend(_read_label(placed, collector))
        elif is_outline:
            collector.ignored(layer, kind, placed.handle)
    return Content(tuple(shapes), tuple(labels), frozenset(met))


def read_shape(placed: PlacedEntity, collector: NoticeCollector) -> Shape | None:
    """The entity's path.

    Args:
        placed: The entity in its place.
        collector: Takes a notice where it has no usable path.

    Returns:
        The shape in inches, or None.
    """
    kind = placed.entity.dxftype()
    try:
        refuse_numbers(placed.entity)
        path = tidy(READERS[kind](placed.entity, placed.matrix))
    except BAD_DATA as error:
        _unusable(placed, kind, error, collector)
        return None
    return Shape(path, placed.layer, placed.handle, kind)


def _read_hatch(placed: PlacedEntity, job: Job, collector: NoticeCollector) -> list[Shape]:
    """A hatch's outer boundaries as outlines, its islands as openings.

    None where its pattern isn't wanted.
    """
    pattern = pattern_of(placed.entity)
    if job.drawing.hatch_pattern and not layer_matches(pattern, job.drawing.hatch_pattern):
        collector.ignored(placed.layer, f"HATCH {clean_text(pattern)}", placed.handle)
        return []
    try:
        refuse_numbers(placed.entity)
        found = boundaries(placed.entity, placed.matrix, gap_in=job.drawing.gap)
    except BAD_DATA as error:
        _unusable(placed, "HATCH", error, collector)
        return []
    shapes = [
        Shape(b.path, placed.layer, placed.handle, "HATCH", picked=b.is_island) for b in found
    ]
    for shape, boundary in zip(shapes, found, strict=True):
        if boundary.gap_in:
            _report_gap(shape, boundary.gap_in, collector)
    return shapes


def _read_label(placed: PlacedEntity, collector: NoticeCollector) -> Iterable[Label]:
    kind = placed.entity.dxftype()
    try:
        refuse_numbers(placed.entity)
        text, at = label_of(placed.entity, placed.matrix)
    except BAD_DATA as error:
        _unusable(placed, kind, error, collector)
        return ()
    return (
        (Label(clean_text(text), at, placed.layer, placed.handle),)
        if text or kind == "POINT"
        else ()
    )


def _unusable(
    placed: PlacedEntity, kind: str, error: Exception, collector: NoticeCollector
) -> None:
    if isinstance(error, EntityError):
        why = error.message
    else:
        library = shorten(str(error), LIBRARY_TEXT_LETTERS, placeholder=" …")
        why = message("entity-unreadable", library=library)
    collector.add(
        "ENTITY_UNUSABLE",
        message("entity-left-out", kind=kind, why=why),
        layer=placed.layer,
        handle=placed.handle,
    )


def _close_outline(shape: Shape, gap_in: float, collector: NoticeCollector) -> Shape:
    """The shape closed where its ends meet within the gap; reported where there was one to see."""
    closed = closed_within(shape.path, gap_in=gap_in)
    if closed is None:
        return shape
    path, gap = closed
    if gap > ENDS_MEET_IN:
        _report_gap(replace(shape, path=path), gap, collector)
    return replace(shape, path=path)


def _report_gap(shape: Shape, gap: float, collector: NoticeCollector) -> None:
    x, y, _ = shape.path.vertices[0]
    closed = message("gap-closed", kind=shape.entity, gap=Length(gap))
    collector.add("GAP_CLOSED", closed, layer=shape.layer, handle=shape.handle, at=(x, y))
