"""A drawing file to the model's ``Drawing``: the stages of reading in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from ezdxf.document import Drawing as Document

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import WHOLE_COPY_BYTES
from dxf2veneer.basics.units import Unit
from dxf2veneer.config.job import Job
from dxf2veneer.config.job_values import OPENING_KINDS, Window
from dxf2veneer.drawing.content import (
    Content,
    is_of_overlay,
    layer_states,
    read_content,
    report_external,
    wanted_of,
)
from dxf2veneer.drawing.errors import DrawingError, UnitMissingError
from dxf2veneer.drawing.file.skim import skim
from dxf2veneer.drawing.file.source import SourceDocument, open_source
from dxf2veneer.drawing.layers import (
    MARK_ROLES,
    OUTLINE_ROLES,
    layer_matches,
    nearest_layers,
    patterns_of,
)
from dxf2veneer.drawing.marks_given import marks_given, walls_given
from dxf2veneer.drawing.notice_collector import NoticeCollector
from dxf2veneer.drawing.outlines.joining import close_across
from dxf2veneer.drawing.outlines.loops import by_layer, close_loose
from dxf2veneer.drawing.outlines.noding import crossed_too_often
from dxf2veneer.drawing.outlines.picking import (
    Face,
    border_lines,
    crop,
    faces,
    labels_in,
    pick_openings,
    pick_walls,
)
from dxf2veneer.drawing.unit import UnitChoice, check_sizes, choose_unit, missing_unit
from dxf2veneer.geometry import Point
from dxf2veneer.model import Drawing, Label, LayerState, Shape


def load(path: Path, job: Job, index: int, keep: Callable[[Path, Document], None]) -> Drawing:
    """A file's wanted layers, as ``load_drawing`` says.

    Args:
        path: The DXF file.
        job: What to read, and how.
        index: Number of the drawing in the takeoff.
        keep: Given the library's document where it need not be read again.

    Returns:
        The drawing, in inches.

    Raises:
        UnitMissingError: Nobody names its unit.
        DrawingError: The file is of no use.
        UnitMissingError: It names no unit, and neither does the job.
    """
    if not (job.layers.wall or job.drawing.wall_outline or job.walls.rows):
        raise DrawingError.of(path, message("no-wall-layer", file=str(path)))
    source = _opened(path, job)
    if source.is_whole:
        keep(path, source.document)
    collector = NoticeCollector(index, job.limits.notices)
    _report_file(source, job, collector)
    states = layer_states(source.document)
    choice = choose_unit(source.unit_code, job)
    content = _content(path, source, states, job, choice.to_inches, collector)
    content = _as_pointed_at(path, content, job, choice.to_inches, collector)
    given = marks_given(job.drawing, choice.to_inches)
    rows = job.walls.rows if index == 0 else ()
    sized = walls_given(rows, (*content.shapes, *given.shapes))
    if rows:
        collector.add(
            "WALLS_NOT_DRAWN", message("walls-not-drawn", walls=tuple(r.name for r in rows))
        )
    shapes = (*content.shapes, *given.shapes, *sized.shapes)
    unit = _unit_checked(path, source, choice, shapes, job, collector)
    return Drawing(
        index=index,
        file=str(path),
        sha256=source.sha256,
        dxf_version=source.version,
        units=unit.name,
        units_from=choice.origin,
        inches_per_unit=choice.to_inches,
        shapes=shapes,
        labels=content.labels,
        layers=tuple(states.values()),
        notices=collector.notices(),
        windows=(*_windows(job, choice.to_inches), *given.names, *sized.names),
        elevations=_scaled(job.drawing.elevation, choice.to_inches),
    )


def _unit_checked(
    path: Path,
    source: SourceDocument,
    choice: UnitChoice,
    shapes: Sequence[Shape],
    job: Job,
    collector: NoticeCollector,
) -> Unit:
    """The unit, sizes that make no sense in it reported; UnitMissingError where there is none."""
    untraced = [s for s in shapes if not s.traced]
    walls = [
        *(s for s in _on(untraced, job.layers.wall) if not s.picked),
        *(s for s in shapes if s.traced == "wall"),
    ]
    openings = [
        *_on(untraced, patterns_of(job.layers, OUTLINE_ROLES[1:])),
        *(s for s in untraced if s.picked),
        *(s for s in shapes if s.traced in OPENING_KINDS),
    ]
    if choice.unit is None:
        why = missing_unit(source.unit_code, walls, openings)
        raise UnitMissingError(message("of-drawing", file=str(path), why=why))
    check_sizes(choice, walls, openings, collector)
    return choice.unit


def load_faces(path: Path, job: Job) -> list[Face]:
    """The faces that lines on the job's outline layers bound.

    Args:
        path: The DXF file.
        job: Its layers, windows and gap count.

    Returns:
        The faces in drawing units, largest first.

    Raises:
        DrawingError: The file can't be read, nothing lies on those layers, or all of it is hidden.
    """
    source = _opened(path, job)
    collector, states = NoticeCollector(0, job.limits.notices), layer_states(source.document)
    scale = choose_unit(source.unit_code, job).to_inches
    content = _content(path, source, states, job, scale, collector, walls=False)
    hidden = next((n for n in collector.notices() if n.code == "HIDDEN_LAYER"), None)
    if hidden and not content.shapes:
        raise DrawingError.of(path, message("faces-hidden", hidden=hidden.message))
    shapes = _in_windows(content.shapes, job, scale, collector)
    _refuse_crossings(path, shapes, job)
    return [f.scaled(1.0 / scale) for f in faces(shapes, gap_in=job.drawing.gap)]


def _opened(path: Path, job: Job) -> SourceDocument:
    """The file without what lies on no wanted layer."""
    wanted = partial(skim, wanted=wanted_of(job), most=job.limits.named)
    return open_source(path, job.drawing.encoding, wanted, limits=job.limits)


def _report_file(source: SourceDocument, job: Job, collector: NoticeCollector) -> None:
    """Report what there is to say of the file before its content."""
    if source.repairs:
        collector.add("DRAWING_REPAIRED", source.repairs)
    output = job.output
    is_turned = (output.dxf_version or output.binary) and not output.overlay_only
    if source.size > WHOLE_COPY_BYTES and is_turned:
        collector.add("WHOLE_COPY", message("whole-copy", megabytes=source.size / 1e6))
    report_external(source.document, collector)


def _content(
    path: Path,
    source: SourceDocument,
    states: dict[str, LayerState],
    job: Job,
    to_inches: float,
    collector: NoticeCollector,
    *,
    walls: bool = True,
) -> Content:
    """What lies on the wanted layers; ``walls`` as in ``_check_layers``."""
    try:
        content = read_content(source.document, states, job, to_inches, collector)
    except DrawingError as error:
        raise DrawingError.of(path, error.message) from None
    _check_layers(path, job, content, states, collector, walls=walls)
    return content


def _as_pointed_at(
    path: Path, content: Content, job: Job, to_inches: float, collector: NoticeCollector
) -> Content:
    """The content inside the windows, loose lines made outlines, walls and openings picked."""
    asked = job.drawing
    windows = [box for _, box in _windows(job, to_inches)]
    shapes, labels = content.shapes, content.labels
    shapes = _in_windows(shapes, job, to_inches, collector)
    _refuse_crossings(path, shapes, job)
    labels = tuple(labels_in(labels, windows)) if windows else labels
    points = _points(job.layers.opening_mark, asked.opening_at, to_inches, shapes, labels)
    wall_points = _points(job.layers.wall_mark, asked.wall_at, to_inches, shapes, labels)
    bounds = _on(shapes, patterns_of(job.layers, OUTLINE_ROLES))
    picked = pick_openings(bounds, points, gap_in=asked.gap, report=collector.add)
    outlines = _with_loops(shapes, job, to_inches, collector)
    walls = [s for s in _on(outlines, job.layers.wall) if not s.picked]
    left_out = set(walls) - set(pick_walls(walls, wall_points, collector.add))
    return replace(
        content, shapes=(*(s for s in outlines if s not in left_out), *picked), labels=labels
    )


def _in_windows(
    shapes: Sequence[Shape], job: Job, to_inches: float, collector: NoticeCollector
) -> tuple[Shape, ...]:
    """The shapes inside the job's windows, closed by their borders where the job says so."""
    windows = [box for _, box in _windows(job, to_inches)]
    if not windows:
        return tuple(shapes)
    inside = crop(shapes, windows, collector.add)
    walls = [s for s in _on(inside, job.layers.wall) if not s.path.closed]
    closing = windows if job.drawing.window_closes else ()
    return (*inside, *(line for window in closing for line in border_lines(walls, window)))


def _refuse_crossings(path: Path, shapes: Sequence[Shape], job: Job) -> None:
    """DrawingError where loose lines on outline layers cross more often than the limit."""
    most = job.limits.crossings
    layer = crossed_too_often(_on(shapes, patterns_of(job.layers, OUTLINE_ROLES)), most)
    if layer is not None:
        raise DrawingError.of(path, message("too-many-crossings", layer=layer, most=most))


def _windows(job: Job, to_inches: float) -> tuple[Window, ...]:
    """The job's windows in inches."""
    return _scaled(job.drawing.window, to_inches)


def _scaled(windows: Iterable[Window], to_inches: float) -> tuple[Window, ...]:
    """Boxes in the drawing's units, in inches."""
    return tuple(
        Window(name, (x0 * to_inches, y0 * to_inches, x1 * to_inches, y1 * to_inches))
        for name, (x0, y0, x1, y1) in windows
    )


def _points(
    layers: tuple[str, ...],
    asked: Iterable[Point],
    to_inches: float,
    shapes: Iterable[Shape],
    labels: Iterable[Label],
) -> list[Point]:
    """The points asked for, insertion points and middles of curves on mark layers."""
    points = [(x * to_inches, y * to_inches) for x, y in asked]
    points += [t.at for t in labels if layer_matches(t.layer, layers)]
    boxes = [s.path.box for s in _on(shapes, layers)]
    return points + [((x0 + x1) / 2, (y0 + y1) / 2) for x0, y0, x1, y1 in boxes]


def _with_loops(
    shapes: Iterable[Shape], job: Job, to_inches: float, collector: NoticeCollector
) -> tuple[Shape, ...]:
    """The shapes with loose lines on outline layers made outlines; marks stay lines."""
    outline, marks = patterns_of(job.layers, OUTLINE_ROLES), patterns_of(job.layers, MARK_ROLES)
    layers = by_layer(shapes)
    result, used = _across(layers, job, marks, collector)
    for whole in layers.values():
        own = [s for s in whole if s not in used]
        if not own:
            continue
        layer = own[0].layer
        bounds = layer_matches(layer, outline) and not layer_matches(layer, marks)
        if not bounds:
            result += own
            continue
        walls = layer_matches(layer, job.layers.wall)
        result += close_loose(
            own,
            gap_in=job.drawing.gap,
            report=collector.add,
            walls=walls,
            inches=None if walls else to_inches,
        )
    return tuple(result)


def _across(
    layers: dict[str, list[Shape]], job: Job, marks: tuple[str, ...], collector: NoticeCollector
) -> tuple[list[Shape], set[Shape]]:
    """Outlines that layers of one role close together, and the lines that are used up."""
    outlines: list[Shape] = []
    used: set[Shape] = set()
    for role in OUTLINE_ROLES:
        patterns = patterns_of(job.layers, (role,))
        of_role = [
            own
            for name, own in layers.items()
            if layer_matches(name, patterns) and not layer_matches(name, marks)
        ]
        made, spent = close_across(of_role, gap_in=job.drawing.gap, report=collector.add)
        outlines += made
        used |= spent
    return outlines, used


def _on(shapes: Iterable[Shape], patterns: tuple[str, ...]) -> list[Shape]:
    return [s for s in shapes if layer_matches(s.layer, patterns)]


def _check_layers(
    path: Path,
    job: Job,
    content: Content,
    states: dict[str, LayerState],
    collector: NoticeCollector,
    *,
    walls: bool = True,
) -> None:
    """Report patterns that nothing lies on; DrawingError where that is so of every wall layer.

    ``walls`` tells whether the user named it as a wall layer, or only as a layer.
    """
    names = [s.name for s in states.values()]
    if job.layers.wall and not any(layer_matches(n, job.layers.wall) for n in content.layers_met):
        why = message("see-layers", why=_why_empty(job, names, walls), file=str(path))
        raise DrawingError.of(path, why)
    for pattern in patterns_of(job.layers):
        if any(layer_matches(n, (pattern,)) for n in content.layers_met):
            continue
        if any(layer_matches(n, (pattern,)) for n in names):
            why = message("layer-bare", layer=pattern)
        else:
            nearest = nearest_layers(pattern, names)
            why = message("no-such-layer", layer=pattern, nearest=nearest)
        collector.add("NO_SUCH_LAYER", why, layer=pattern)


def _why_empty(job: Job, names: list[str], walls: bool) -> Message:
    """Why nothing was found: no such layer, layers of an overlay, or layers without outlines."""
    there = [n for n in names if layer_matches(n, job.layers.wall)]
    if not there:
        near = dict.fromkeys(n for p in job.layers.wall for n in nearest_layers(p, names))
        return message("layers-missing", walls=walls, layers=job.layers.wall, nearest=tuple(near))
    named = tuple(there[:5])
    if all(is_of_overlay(n, job) for n in there):
        return message("layers-of-overlay", walls=walls, layers=named)
    return message("layers-without-outline", walls=walls, layers=named)
