"""The job of a new drawing in which layers go by other names than the job knows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields
from pathlib import Path
from typing import NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.config.job import Job, Layers, with_settings
from dxf2veneer.drawing import load_drawing
from dxf2veneer.drawing.layers import layer_matches
from dxf2veneer.model import Drawing, Recorded
from dxf2veneer.revisions.layers import Marks, found_layer, marks_by_layer, marks_by_role
from dxf2veneer.revisions.placing import Marked

ROLES = tuple(field.name for field in fields(Layers))


def lacks_layers(old: Recorded, new: Sequence[Drawing], job: Job) -> bool:
    """Whether a layer that the job names was there before and is not any more.

    Args:
        old: The takeoff before.
        new: The new drawings.
        job: The job.

    Returns:
        Whether there is one at least.
    """
    there = {layer.name for drawing in new for layer in drawing.layers}
    return next(_lost(old, (), there, job), None) is not None


class _Lost(NamedTuple):
    """A layer that the job names and the new drawing lacks."""

    role: str
    pattern: str
    marks: list[Marked]
    """What lay on it."""


def relayered(
    old: Recorded, old_files: Sequence[Path], new_files: Sequence[Path], job: Job
) -> tuple[Job, tuple[Message, ...]]:
    """The job with the names that its layers have in new drawings.

    Args:
        old: The takeoff before.
        old_files: Its drawings; none where only its result is at hand.
        new_files: The new drawings.
        job: The job, as it reads the drawings before.

    Returns:
        The job for the new drawings, the same one where they have all its layers, and what was
        found or not.
    """
    now = [_whole(path, job) for path in new_files]
    there = {layer.name for drawing in now for layer in drawing.layers}
    before = [_whole(path, job) for path in old_files]
    lost = list(_lost(old, before, there, job))
    if not lost:
        return job, ()
    known = {name for drawing in old.drawings for name in drawing.layers}
    free = {name: marks for name, marks in marks_by_layer(now).items() if name not in known}
    told: list[Message] = []
    for one in lost:
        found = found_layer(one.marks, free)
        if found is None:
            told.append(message("revision-layer-lost", pattern=one.pattern, role=one.role))
            continue
        told.append(
            message("revision-layer-found", pattern=one.pattern, role=one.role, layer=found.layer)
        )
        named = (*getattr(job.layers, one.role), found.layer)
        job = with_settings(job, **{f"layers__{one.role}": named})
    return job, tuple(told)


def _whole(path: Path, job: Job) -> Drawing:
    """A drawing with every layer, its shapes as they are drawn and its texts."""
    nothing: dict[str, tuple[str, ...]] = {f"layers__{role}": () for role in ROLES}
    every = with_settings(job, **(nothing | {f"layers__{r}": ("*",) for r in _READ_AS}))
    return load_drawing(path, every, 0)


_READ_AS = ("wall", "level", "name")
"""Walls, so that there is something to read; level lines, which stay as they are drawn; names."""


def _lost(old: Recorded, before: Sequence[Drawing], there: set[str], job: Job) -> Iterator[_Lost]:
    """The layers that the job names, that were there before and are not any more."""
    by_layer, by_role = marks_by_layer(before), marks_by_role(old)
    known = {name for drawing in old.drawings for name in drawing.layers}
    for role in ROLES:
        for pattern in getattr(job.layers, role):
            if any(layer_matches(name, (pattern,)) for name in there):
                continue
            held = [name for name in known if layer_matches(name, (pattern,))]
            marks = _marks(held, by_layer) if before else by_role.get(role, [])
            if held:
                yield _Lost(role, pattern, marks)


def _marks(layers: Sequence[str], by_layer: Marks) -> list[Marked]:
    return [marked for name in layers for marked in by_layer.get(name, ())]
