"""What a drawing holds, before any layer is named: the first thing a new user asks.

Counts, outlines and sizes are facts; what a layer could be is a guess from geometry (see
``guess``) and says why.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import SURVEY_CURVES
from dxf2veneer.basics.units import PLAUSIBLE, unit_by_code, unit_by_name
from dxf2veneer.config.job import Job
from dxf2veneer.drawing.content import layer_states, read_shape, report_external
from dxf2veneer.drawing.entities.blocks import PlacedEntity, Walker
from dxf2veneer.drawing.entities.counting import Counting, Counts
from dxf2veneer.drawing.entities.kinds import BAD_DATA, READERS, TEXTS, kind_of, label_of
from dxf2veneer.drawing.entities.ours import own_tags
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.drawing.file.sample import sample
from dxf2veneer.drawing.file.skim import LeftOut
from dxf2veneer.drawing.file.source import SourceDocument, open_source
from dxf2veneer.drawing.guess import Found, Guess, GuessKind, guess_layers
from dxf2veneer.drawing.notice_collector import NoticeCollector
from dxf2veneer.drawing.outlines.tidying import closed_within
from dxf2veneer.drawing.unit import choose_unit, overall
from dxf2veneer.model import LayerState


@dataclass(frozen=True)
class LayerSurvey:
    """One layer: what lies on it, block content included; areas and sizes in drawing units."""

    name: str
    """As the table or an entity spells it."""
    state: str
    """``on``, ``off`` or ``frozen``."""
    counts: tuple[tuple[str, int], ...]
    """(entity kind, number), the most frequent first."""
    closed_outlines: int
    """How many closed outlines were measured."""
    closed_area: float
    """Sum of the areas of the closed outlines, each in full."""
    width: float
    """Of the box round all curves."""
    height: float
    """Of the box round all curves."""
    guess: GuessKind | None
    """What the layer could hold; None where it looks like nothing known."""
    why: Message | None
    """What the guess rests on."""

    @property
    def entities(self) -> int:
        """Number of entities of every kind."""
        return sum(n for _, n in self.counts)


@dataclass(frozen=True)
class UnitSurvey:
    """The measured extent if the drawing were in this unit."""

    unit: str
    """Short name of the unit."""
    width_in: float
    """In inches."""
    height_in: float
    """In inches."""


@dataclass(frozen=True)
class Survey:
    """A whole file. ``units`` is the header's unit, or None; the extent is in drawing units."""

    file: str
    """The path as it was given."""
    dxf_version: str
    """Such as AC1032."""
    units: str | None
    """Short name of the header's unit; None where it names none."""
    unit_code: int
    """The header's $INSUNITS."""
    measured: Message
    """What the extent is of: the outlines of the probable wall layers, or everything shown."""
    width: float
    """Of what was measured, in drawing units."""
    height: float
    """Of what was measured, in drawing units."""
    in_units: tuple[UnitSurvey, ...]
    """The same in each everyday unit."""
    layers: tuple[LayerSurvey, ...]
    """By name, whatever its case."""
    notices: tuple[Notice, ...]
    """What there is to report of the reading."""


def survey(path: Path, job: Job | None = None) -> Survey:
    """What a file holds: everything in model space, counted, and measured where that is quick.

    Args:
        path: The file.
        job: Its gap, unit, scale, code page and limits count; the defaults where it is left out.

    Returns:
        The survey; sizes and areas in drawing units.

    Raises:
        DrawingError: The file can't be read.
    """
    job = job or Job()
    source = open_source(path, job.drawing.encoding, sample, limits=job.limits)
    collector = NoticeCollector(0, job.limits.notices)
    if source.repairs:
        collector.add("DRAWING_REPAIRED", source.repairs)
    report_external(source.document, collector)
    states = layer_states(source.document)
    header, scale = unit_by_code(source.unit_code), job.drawing.scale
    try:
        found = _walked(source, states, job, collector)
    except RecursionError:
        raise DrawingError.of(path, message("blocks-too-deep")) from None
    _count_left_out(source.left_out, found, collector)
    shown = {
        n: f
        for n, f in found.items()
        if job.drawing.include_hidden or not _state(states, n).is_hidden
    }
    guesses = guess_layers(shown)
    measured, boxes = _measured(shown, guesses)
    width, height = _size(boxes)
    return Survey(
        file=str(path),
        dxf_version=source.version,
        units=header.name if header else None,
        unit_code=source.unit_code,
        measured=measured,
        width=width,
        height=height,
        in_units=_in_units(width, height, scale),
        layers=tuple(
            _layer(s, found.get(s.name, Found()), guesses.get(s.name))
            for s in _listed(states, found)
        ),
        notices=collector.notices(),
    )


def _walked(
    source: SourceDocument, states: dict[str, LayerState], job: Job, collector: NoticeCollector
) -> dict[str, Found]:
    """What lies on each layer, inside the job's windows where it has any."""
    choice = choose_unit(source.unit_code, job)
    gap = job.drawing.gap / choice.to_inches if choice.unit else 0.0
    found: dict[str, Found] = {}
    counting = Counting(source.document)
    walker = Walker(source.document, states, lambda name: True, collector, job.limits.entities)
    for placed in walker.walk_some(1.0):
        if placed.entity.dxftype() == "INSERT":
            _count(counting.of(placed.entity, placed.layer), found)
            continue
        _add(found, placed, gap, job, collector)
    return found


def _count(placed: Counts, found: dict[str, Found]) -> None:
    """Count what lies in a reference that was not opened."""
    for (layer, kind), count in placed.items():
        on_layer = found.setdefault(layer, Found())
        on_layer.kinds[kind] += count
        on_layer.unmeasured += count if kind != "INSERT" else 0


def _count_left_out(
    left_out: Iterable[LeftOut], found: dict[str, Found], collector: NoticeCollector
) -> None:
    """Count what was not looked at, and report it."""
    beyond: Counter[str] = Counter()
    for item in left_out:
        found.setdefault(item.layer, Found()).kinds[item.kind] += item.count
        beyond[item.layer] += item.count
    beyond.update({name: f.unmeasured for name, f in found.items() if f.unmeasured})
    if beyond:
        sampled = message("survey-sampled", layers=len(beyond), counted=sum(beyond.values()))
        collector.add("SURVEY_SAMPLED", sampled)


def _state(states: dict[str, LayerState], name: str) -> LayerState:
    return states.get(name.lower(), LayerState(name))


def _listed(states: dict[str, LayerState], found: Iterable[str]) -> list[LayerState]:
    """Every layer under each spelling that entities use, by name."""
    names = {n.lower() for n in found}
    listed = [_state(states, n) for n in found] + [s for k, s in states.items() if k not in names]
    spelled = [LayerState(n, s.is_off, s.is_frozen) for n, s in zip(found, listed, strict=False)]
    return sorted([*spelled, *listed[len(spelled) :]], key=lambda s: s.name.lower())


def _add(
    layers: dict[str, Found],
    placed: PlacedEntity,
    gap: float,
    job: Job,
    collector: NoticeCollector,
) -> None:
    """Count one entity, and measure it where it is a curve."""
    kind = kind_of(placed.entity)
    found = layers.setdefault(placed.layer, Found())
    if own_tags(placed.entity):  # an overlay's: it is there, and no part of the building
        found.kinds[kind] += 1
        return
    if kind in READERS:
        if len(found.outlines) + len(found.lines) >= SURVEY_CURVES:
            found.kinds[kind] += 1
            found.unmeasured += 1
            return
        shape = read_shape(placed, collector)
        if shape is not None and not _in_windows(shape.path.box, job):
            return
        found.kinds[kind] += 1
        if shape is None:
            return
        closed = closed_within(shape.path, gap_in=gap)
        path = closed[0] if closed else shape.path
        (found.outlines if path.closed else found.lines).append(path)
        return
    found.kinds[kind] += 1
    if kind in TEXTS:
        try:
            found.texts.append(label_of(placed.entity, placed.matrix)[1])
        except BAD_DATA:
            found.kinds[f"{kind} (unusable)"] += 1


def _in_windows(box: _Box, job: Job) -> bool:
    """Whether a curve lies in one of the job's windows at least in part; all do without one."""
    return not job.drawing.window or any(
        box[0] <= w[2] and box[2] >= w[0] and box[1] <= w[3] and box[3] >= w[1]
        for _, w in job.drawing.window
    )


def _layer(state: LayerState, found: Found, guess: Guess | None) -> LayerSurvey:
    width, height = _size([p.box for p in (*found.outlines, *found.lines)])
    return LayerSurvey(
        name=state.name,
        state="frozen" if state.is_frozen else "off" if state.is_off else "on",
        counts=tuple(Counter(found.kinds).most_common()),
        closed_outlines=len(found.outlines),
        closed_area=math.fsum(p.area for p in found.outlines),
        width=width,
        height=height,
        guess=guess.what if guess else None,
        why=guess.why if guess else None,
    )


_Box = tuple[float, float, float, float]


def _measured(shown: dict[str, Found], guesses: dict[str, Guess]) -> tuple[Message, list[_Box]]:
    """What to measure: its description and boxes."""
    walls = [n for n, g in guesses.items() if g.what == "wall"]
    boxes = [p.box for n in walls for p in shown[n].outlines]
    if boxes:
        return message("measured-walls", layers=tuple(walls)), boxes
    outlines = [p.box for f in shown.values() for p in f.outlines]
    every = outlines + [p.box for f in shown.values() for p in f.lines]
    return message("measured-everything"), every


def _size(boxes: list[_Box]) -> tuple[float, float]:
    box = overall(boxes)
    return (box[2] - box[0], box[3] - box[1]) if box else (0.0, 0.0)


def _in_units(width: float, height: float, scale: float) -> tuple[UnitSurvey, ...]:
    sizes = ((name, unit_by_name(name).inches * scale) for name in PLAUSIBLE)
    return tuple(UnitSurvey(name, width * f, height * f) for name, f in sizes)
