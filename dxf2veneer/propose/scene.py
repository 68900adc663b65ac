"""Everything visible in a drawing, flattened: what the proposal looks at.

Curves are straight segments in one array, so that questions about thousands of lines are questions
to NumPy; what drew them, the texts, dimensions and hatches stand beside. All lengths are drawing
units.

Glossary
--------
segment     a straight line between two points; arcs, circles, ellipses, splines become several
entity      what was drawn with one command; its segments follow each other in the array
reference   an INSERT; all entities of one have the same ``insert`` number
viewport    a window of a layout (a sheet to be plotted) into model space, at a scale
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import NamedTuple, overload

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.messages import Message

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]
Mask = NDArray[np.bool_]
Words = NDArray[np.object_]
Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


class Entity(NamedTuple):
    """One drawn entity.

    ``layer`` is the layer it shows on, ``handle`` what a person can select: for content of a block
    the outermost reference.
    """

    kind: str
    """As in the file; lines of leaders of either kind are LEADER."""
    layer: str
    handle: str
    block: str | None
    """Name of the block of the outermost reference; None for what stands in model space itself."""
    insert: int
    """Number of the outermost reference, the same for all that it places; -1 for none."""
    closed: bool
    """Whether its ends meet or it says that it is closed."""
    box: Box
    colour: int
    """Colour index (DXF reference, code 62), that of the layer where the entity has none of its
    own."""
    linetype: str
    """Name of the line type in upper case, that of the layer where the entity has none of its
    own."""


@dataclass(frozen=True, eq=False)
class Entities(Sequence[Entity]):
    """Drawn entities, each field of theirs a column."""

    kind: Words
    layer: Words
    handle: Words
    block: Words
    insert: Integers
    closed: Mask
    box: Floats
    """Shape (n, 4)."""
    colour: Integers
    linetype: Words

    @staticmethod
    def of(entities: Iterable[Entity]) -> Entities:
        """A table of single entities."""
        rows = list(entities)
        kind, layer, handle, block, insert, closed, boxes, colour, linetype = (
            zip(*rows, strict=True) if rows else [()] * len(Entity._fields)
        )
        return Entities(
            np.array(kind, object),
            np.array(layer, object),
            np.array(handle, object),
            np.array(block, object),
            np.array(insert, np.int64),
            np.array(closed, bool),
            np.array(boxes, float).reshape(-1, 4),
            np.array(colour, np.int64),
            np.array(linetype, object),
        )

    def __len__(self) -> int:
        return len(self.kind)

    @overload
    def __getitem__(self, number: int) -> Entity: ...

    @overload
    def __getitem__(self, number: slice) -> Entities: ...

    def __getitem__(self, number: int | slice) -> Entity | Entities:
        if isinstance(number, slice):
            return Entities(*(getattr(self, f.name)[number] for f in fields(self)))
        x0, y0, x1, y1 = self.box[number].tolist()
        return Entity(
            self.kind[number],
            self.layer[number],
            self.handle[number],
            self.block[number],
            int(self.insert[number]),
            bool(self.closed[number]),
            (x0, y0, x1, y1),
            int(self.colour[number]),
            self.linetype[number],
        )

    def __iter__(self) -> Iterator[Entity]:
        return (self[n] for n in range(len(self)))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Entities) and list(self) == list(other)


def _no_entities() -> Entities:
    return Entities.of(())


class Text(NamedTuple):
    """One line or paragraph of text, codes removed; lines of a paragraph are joined by a line
    feed."""

    text: str
    x: float
    y: float
    """Where it is inserted or aligned."""
    height: float
    """Height of its capitals."""
    layer: str
    handle: str
    block: str | None
    insert: int
    rotation: float
    """Degrees, counter-clockwise from the x axis."""
    box: Box
    """Estimated room of its letters."""
    tag: str = ""
    """Name of the attribute where it is one of a reference."""


class Dimension(NamedTuple):
    """A dimension between two points. ``x0``, ``y0``, ``x1``, ``y1`` are the measured points."""

    measured: float
    """The length in drawing units; for a linear dimension the part along its direction."""
    text: str
    """What a person reads; empty where neither the entity nor its picture says."""
    x0: float
    y0: float
    x1: float
    y1: float
    handle: str
    layer: str
    factor: float
    """Factor of its style from drawing units to what is written (DIMLFAC)."""
    height: float
    """Height of its text in drawing units; 0 where unknown."""
    typed: bool
    """Whether a person typed the text instead of having it measured."""
    box: Box
    """Room of its lines and text."""


class Hatch(NamedTuple):
    """A hatched or filled area; ``loops`` are its boundaries as rows of x, y."""

    pattern: str
    solid: bool
    box: Box
    loops: tuple[Floats, ...]
    handle: str
    layer: str
    block: str | None
    insert: int
    lines: tuple[tuple[float, float, bool], ...]
    """For each family of pattern lines: angle in degrees, distance between its lines, whether
    they are dashed."""


class Viewport(NamedTuple):
    """A viewport of a layout: which part of model space it shows, and where on the sheet."""

    layout: str
    handle: str
    x: float
    y: float
    """Centre in model space."""
    width: float
    height: float
    """Size in model space."""
    paper: Box
    """Place on the sheet, in the sheet's own unit."""
    scale: float
    """Model units for one unit of the sheet."""


class Paper(NamedTuple):
    """A layout: the sheet to be plotted and the texts on it."""

    name: str
    texts: tuple[Text, ...]
    width_mm: float
    height_mm: float
    """Size of the sheet; 0 where the layout has none."""
    unit: str
    """The sheet's own unit: ``mm``, ``in`` or empty."""


class Header(NamedTuple):
    """What the file says of itself, 0 or an empty text where it says nothing (DXF reference,
    HEADER)."""

    insunits: int = 0
    measurement: int | None = None
    """$MEASUREMENT: 0 English, 1 metric."""
    ltscale: float = 0.0
    dimscale: float = 0.0
    lunits: int = 0
    """$LUNITS: 1 scientific, 2 decimal, 3 engineering, 4 architectural, 5 fractional."""
    dimtxt: float = 0.0


def _no_segments() -> Floats:
    return np.zeros((0, 4))


def _no_owners() -> Integers:
    return np.zeros(0, np.int64)


@dataclass(frozen=True)
class Scene:
    """Everything visible in the model space of a drawing."""

    segments: Floats = field(default_factory=_no_segments)
    """One row x0, y0, x1, y1 for each segment, those of an entity one after the other."""
    owner: Integers = field(default_factory=_no_owners)
    """For each segment its entity's number."""
    entities: Entities = field(default_factory=_no_entities)
    texts: tuple[Text, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    hatches: tuple[Hatch, ...] = ()
    header: Header = field(default_factory=Header)
    viewports: tuple[Viewport, ...] = ()
    papers: tuple[Paper, ...] = ()
    hidden_layers: tuple[str, ...] = ()
    """Layers whose content was left out because they are off or frozen."""
    repairs: Message | None = None
    """What had to be repaired to read the file."""
    waver: float = 0.0
    """How far the lines of a traced drawing stood off those that they were made into; 0 where it
    was not traced."""

    @cached_property
    def first(self) -> Integers:
        """For each entity the number of its first segment; at the end the number of segments."""
        counts = np.bincount(self.owner, minlength=len(self.entities))
        return np.concatenate(([0], np.cumsum(counts)))

    @property
    def boxes(self) -> Floats:
        """The entities' boxes as an array of rows x0, y0, x1, y1."""
        return self.entities.box

    @cached_property
    def text_boxes(self) -> Floats:
        """The texts' boxes as an array of rows x0, y0, x1, y1."""
        return np.array([t.box for t in self.texts], float).reshape(-1, 4)

    @cached_property
    def diagonal(self) -> float:
        """Diagonal of the box round all segments; 0 where there are none."""
        if not len(self.segments):
            return 0.0
        x0, y0, x1, y1 = self.segments.T
        wide = max(x0.max(), x1.max()) - min(x0.min(), x1.min())
        high = max(y0.max(), y1.max()) - min(y0.min(), y1.min())
        return float(np.hypot(wide, high))

    @cached_property
    def letters(self) -> float:
        """Height of the letters of most texts; 0 where there are none."""
        return float(np.median([t.height for t in self.texts] or [0.0]))

    @cached_property
    def lengths(self) -> Floats:
        """Length of each segment."""
        x0, y0, x1, y1 = self.segments.T
        return np.asarray(np.hypot(x1 - x0, y1 - y0))

    def not_shorter(self, segments: Integers, least: float) -> Integers:
        """Those of some segments that are at least so long, by their numbers; some that lack a hair
        count too."""
        return segments[self.lengths[segments] >= least * (1.0 - 1e-9)]

    def segments_of(self, entity: int) -> Floats:
        """The segments of one entity."""
        return self.segments[self.first[entity] : self.first[entity + 1]]
