"""From shapes on named layers to walls, openings, side edges and corners.

outlines.py   which closed outlines are sound; doubled, crossing, nested ones
openings.py   which opening belongs to which wall, and what kind it is
edges.py      side edges and the marks at them
corners.py    the pairing of corners
marks.py      caps, level lines, names
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from pathlib import Path

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.job import Job
from dxf2veneer.drawing.layers import layer_matches
from dxf2veneer.model import Drawing, EdgeKind, Label, OpeningKind, Recognised, Shape, Wall
from dxf2veneer.recognise.corners import pair_corners
from dxf2veneer.recognise.edges import mark_edges
from dxf2veneer.recognise.marks import give_levels, mark_caps, name_walls, window_name
from dxf2veneer.recognise.openings import assign_openings
from dxf2veneer.recognise.outlines import find_walls, report_overlaps

_EDGE_KINDS: tuple[EdgeKind, ...] = ("outside", "inside", "mitre", "end", "butt")
"""What a line along an edge can mark; ends and plain edges only the job file marks."""


def recognise(drawings: Sequence[Drawing], job: Job) -> Recognised:
    """The walls of all drawings with their openings, edges and marks, and the job's corners.

    Walls are numbered W1, W2, … by drawing, then from left to right and upward, so that the order
    of entities in the file changes nothing.

    Args:
        drawings: What was read, in inches.
        job: Its layers and its section ``recognise`` count.

    Returns:
        The walls in order, the corners, and the notices.
    """
    walls: list[Wall] = []
    notices: list[Notice] = []
    for drawing in drawings:
        found, own = _recognise_one(drawing, job, first=len(walls) + 1)
        walls += found
        notices += own
    paired, corners, unpaired = pair_corners(walls)
    return Recognised(tuple(paired), tuple(corners), (*notices, *unpaired))


def _recognise_one(drawing: Drawing, job: Job, *, first: int) -> tuple[list[Wall], list[Notice]]:
    """The walls of one drawing, numbered from ``first``, with everything but paired corners."""
    notices: list[Notice] = []
    layers = job.layers
    walls = find_walls(_drawn_as(drawing, "wall", layers.wall), job, notices)
    if not walls:
        notices.append(Notice("NO_WALL", message("no-wall", file=Path(drawing.file).name)))
    walls = [
        dataclasses.replace(w, id=f"W{i}", drawing=drawing.index)
        for i, w in enumerate(walls, first)
    ]
    report_overlaps(walls, notices)
    walls = _with_openings(walls, drawing, job, notices)
    walls = _with_edges(walls, drawing, job, notices)
    caps = _drawn_as(drawing, "cap", layers.cap)
    levels = _drawn_as(drawing, "level", layers.level)
    walls = mark_caps(walls, caps, job.recognise.edge_tolerance, notices)
    walls = give_levels(walls, levels, notices)
    walls = name_walls(walls, _texts_on(drawing, layers.name), notices)
    walls = [
        w if w.name else dataclasses.replace(w, name=window_name(w, drawing.windows)) for w in walls
    ]
    return walls, [dataclasses.replace(n, drawing=drawing.index) for n in notices]


def _drawn_as(drawing: Drawing, what: str, patterns: Sequence[str]) -> list[Shape]:
    """What the job file gives as ``what``, then what lies on its layers."""
    drawn = [
        s for s in drawing.shapes if not (s.picked or s.traced) and layer_matches(s.layer, patterns)
    ]
    return [*(s for s in drawing.shapes if s.traced == what), *drawn]


def _texts_on(drawing: Drawing, patterns: Sequence[str]) -> list[Label]:
    return [t for t in drawing.labels if layer_matches(t.layer, patterns)]


def _with_openings(
    walls: list[Wall], drawing: Drawing, job: Job, notices: list[Notice]
) -> list[Wall]:
    layers = job.layers
    kinds: dict[OpeningKind, tuple[str, ...]] = {
        "door": layers.door,
        "garage": (),  # no layer of their own: the job file names them
        "window": layers.window,
        "vent": layers.vent,
        "fixture": layers.fixture,
    }
    candidates = [
        s
        for s in drawing.shapes
        if s.picked
        or s.traced in kinds
        or (
            not s.traced
            and any(layer_matches(s.layer, p) for p in (*kinds.values(), layers.opening))
        )
    ]
    return assign_openings(walls, candidates, kinds, job, notices)


def _with_edges(walls: list[Wall], drawing: Drawing, job: Job, notices: list[Notice]) -> list[Wall]:
    layers = job.layers
    corners: dict[EdgeKind, tuple[str, ...]] = {
        "outside": layers.outside_corner,
        "inside": layers.inside_corner,
        "mitre": layers.bay,
    }
    lines = {kind: _drawn_as(drawing, kind, corners.get(kind, ())) for kind in _EDGE_KINDS}
    tags = {kind: _texts_on(drawing, corners.get(kind, ())) for kind in _EDGE_KINDS}
    return mark_edges(walls, lines, tags, job.recognise, notices)
