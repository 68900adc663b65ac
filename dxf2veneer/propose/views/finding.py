"""A scene split into its views: the stages in order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import shapely

from dxf2veneer.propose.constants import ATTACH_REACH, SCRAP
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.scene import Box, Floats, Integers, Scene, Text, Viewport
from dxf2veneer.propose.views.boxes import around, contains, distance, inside
from dxf2veneer.propose.views.frames import Frame, frames_of
from dxf2veneer.propose.views.grids import Bubble, bubbles_of
from dxf2veneer.propose.views.ground import ground_of
from dxf2veneer.propose.views.kinds import Clues, clues_of, judge
from dxf2veneer.propose.views.levels import LevelMark, levels_of
from dxf2veneer.propose.views.placing import titled
from dxf2veneer.propose.views.splitting import boxes_of, split
from dxf2veneer.propose.views.tables import is_table
from dxf2veneer.propose.views.titles import Title, kind_named, titles_of
from dxf2veneer.propose.views.view import View


@dataclass
class _Group:
    """A view in the making."""

    segments: Integers
    core: Box
    title: Title | None = None
    annotation: list[int] = field(default_factory=list)
    texts: list[int] = field(default_factory=list)
    hatches: list[int] = field(default_factory=list)
    levels: list[LevelMark] = field(default_factory=list)
    bubbles: list[Bubble] = field(default_factory=list)
    rooms: list[Box] = field(default_factory=list)
    is_table: bool = False


def find_views(scene: Scene) -> tuple[View, ...]:
    """The views of a scene, from the top left to the bottom right.

    Args:
        scene: everything visible in the drawing.
    Returns:
        Views with their kinds; sheet frames are views of their own (kind ``sheet``), lone scraps and
        tables are ``other``.
    """
    titles = [*titles_of(scene.texts), *_paper_titles(scene)]
    frames = frames_of(scene, titles)
    bubbles, grid = bubbles_of(scene)
    marks, symbols = levels_of(scene)
    loose = _kept(scene, frames, grid, symbols, marks)
    groups = _groups(scene, loose, titles)
    blocks = [g for g in groups if g.is_table and any(contains(f.box, g.core) for f in frames)]
    groups = [g for g in groups if not any(g is b for b in blocks)]
    kept = [t for t in titles if not any(inside(b.core, _middle(t.box)) for b in blocks)]
    _attach(scene, groups, blocks, kept, bubbles, marks, loose)
    views = [_view(scene, g, _sheet_title(g, groups, frames, blocks, titles)) for g in groups]
    views += [View("", "sheet", "", f.box, f.box, 0.9, Reason("VIEW_FRAME", {"why": list(f.why)}), f.segments) for f in frames]
    return _numbered(views)


def _kept(scene: Scene, frames: Sequence[Frame], grid: Integers, symbols: Integers, marks: Sequence[LevelMark]) -> Integers:
    """Segments of the views themselves: no frames, grid lines, symbols; no level lines that run far."""
    keep = np.ones(len(scene.segments), bool)
    for frame in frames:
        keep[frame.segments] = False
    drop = np.zeros(len(scene.entities), bool)
    drop[grid] = True
    drop[symbols] = True
    keep &= ~drop[scene.owner]
    keep[[m.line for m in marks if m.line >= 0]] = False
    return np.flatnonzero(keep)


def _groups(scene: Scene, loose: Integers, titles: Sequence[Title]) -> list[_Group]:
    """The groups of segments, scraps left out that nothing belongs to; hatches tie as their borders do."""
    segments, owner = scene.segments[loose], scene.owner[loose]
    borders = [np.column_stack((loop, np.roll(loop, -1, 0))) for h in scene.hatches for loop in h.loops]
    whose = [n for n, h in enumerate(scene.hatches) for _ in h.loops]
    together = np.concatenate((segments, *borders))
    owners = np.concatenate((owner, *(np.full(len(b), len(scene.entities) + n) for n, b in zip(whose, borders, strict=True))))
    parts = split(together, owners, titles)
    if not parts:
        return []
    boxes = [(float(a), float(b), float(c), float(d)) for a, b, c, d in boxes_of(together, parts)]
    largest = max((b[2] - b[0]) * (b[3] - b[1]) for b in boxes)
    own = titled(boxes, titles)
    groups = []
    for n, (part, box) in enumerate(zip(parts, boxes, strict=True)):
        title = titles[own[n]] if n in own else None
        if title is None and ((box[2] - box[0]) * (box[3] - box[1]) < SCRAP * largest or len(part) < 5):
            continue
        hatches = sorted({int(o) - len(scene.entities) for o in owners[part[part >= len(loose)]]})
        group = _Group(loose[part[part < len(loose)]], box, title, hatches=hatches)
        group.is_table = is_table(scene, group.segments, box)
        groups.append(group)
    return groups


def _attach(
    scene: Scene,
    groups: Sequence[_Group],
    blocks: Sequence[_Group],
    titles: Sequence[Title],
    bubbles: Sequence[Bubble],
    marks: Sequence[LevelMark],
    loose: Integers,
) -> None:
    """Give each group what belongs to it: its title, texts, dimensions, bubbles, marks and their lines."""
    for group in (*groups, *blocks):
        group.title = None
    for g, t in titled([g.core for g in groups], titles).items():
        groups[g].title = titles[t]
    targets = [*groups, *blocks]
    if not targets:
        return
    _attach_texts(scene, targets, marks)
    for bubble in bubbles:
        box = bubble.box if bubble.line < 0 else around((bubble.box, _box_of(scene.segments[[bubble.line]])))
        group = min(groups or targets, key=lambda g: (distance(g.core, box), distance(g.core, bubble.box)))
        group.bubbles.append(bubble)
        group.rooms.append(bubble.box if distance(group.core, bubble.box) < 2.0 * _short(group.core) else group.core)
    for dimension in scene.dimensions:
        near = min(targets, key=lambda g: distance(g.core, dimension.box))
        if distance(near.core, dimension.box) <= ATTACH_REACH * _short(near.core):
            near.rooms.append(dimension.box)
    _attach_rest(scene, targets, loose)


def _attach_texts(scene: Scene, targets: Sequence[_Group], marks: Sequence[LevelMark]) -> None:
    by_text = {m.text: m for m in marks}
    for number, text in enumerate(scene.texts):
        near = min(targets, key=lambda g: _text_distance(g, text))
        far = _text_distance(near, text)
        if far <= ATTACH_REACH * _short(near.core) or far <= 2.0 * text.height:
            near.texts.append(number)
            near.rooms.append(text.box)
            if number in by_text:
                near.levels.append(by_text[number])
    for group in targets:
        if group.title is not None:
            group.rooms.append(group.title.box)


def _text_distance(group: _Group, text: Text) -> float:
    far = distance(group.core, text.box)
    return min(far, 0.5 * distance(group.title.box, text.box)) if group.title is not None else far


def _attach_rest(scene: Scene, targets: Sequence[_Group], loose: Integers) -> None:
    """Segments that no group has: lines of grids and marks to the group that they lie nearest to."""
    used = np.zeros(len(scene.segments), bool)
    used[loose] = True
    rest = np.flatnonzero(~used)
    if not len(rest):
        return
    cores = shapely.box(*np.array([g.core for g in targets]).T)
    middles = shapely.points((scene.segments[rest, :2] + scene.segments[rest, 2:]) / 2)
    near = shapely.STRtree(cores).nearest(middles)
    apart = shapely.distance(cores[near], middles)
    for number, g, far in zip(rest.tolist(), near.tolist(), apart.tolist(), strict=True):
        if far <= ATTACH_REACH * _short(targets[g].core):
            targets[g].annotation.append(number)
            x0, y0, x1, y1 = scene.segments[number]
            if max(abs(x1 - x0), abs(y1 - y0)) <= 1.5 * max(targets[g].core[2] - targets[g].core[0], targets[g].core[3] - targets[g].core[1]):
                targets[g].rooms.append((float(min(x0, x1)), float(min(y0, y1)), float(max(x0, x1)), float(max(y0, y1))))


def _view(scene: Scene, group: _Group, title: Title | None) -> View:
    segments = scene.segments[group.segments]
    ground = ground_of(segments, group.core)
    texts = [scene.texts[n] for n in group.texts]
    clues: Clues = clues_of(scene, group.segments, group.core, ground, texts, group.levels, group.bubbles, [scene.hatches[h] for h in group.hatches])
    kind, confidence, reason = judge(clues, title, group.is_table)
    return View(
        id="",
        kind=kind,
        title=group.title.text if group.title else "",
        box=around((group.core, *group.rooms)),
        core=group.core,
        confidence=confidence,
        reason=reason,
        segments=group.segments,
        annotation=np.array(sorted(group.annotation), np.int64),
        texts=tuple(group.texts),
        hatches=tuple(group.hatches),
        ground_y=ground[0] if ground else None,
        levels=tuple(group.levels),
        bubbles=tuple(group.bubbles),
    )


def _sheet_title(group: _Group, groups: Sequence[_Group], frames: Sequence[Frame], blocks: Sequence[_Group], titles: Sequence[Title]) -> Title | None:
    """The group's own title, else that in the title block where the sheet holds this one view."""
    if group.title is not None:
        return group.title
    frame = next((f for f in frames if contains(f.box, group.core)), None)
    if frame is None or sum(contains(frame.box, g.core) and not g.is_table for g in groups) != 1:
        return None
    said = [t for t in titles if contains(frame.box, t.box) and any(inside(b.core, _middle(t.box)) for b in blocks)]
    return max(said, key=lambda t: t.height, default=None)


def _paper_titles(scene: Scene) -> list[Title]:
    """Titles on layouts, carried into model space through the viewports that they stand under."""
    found = []
    for paper in scene.papers:
        windows = [v for v in scene.viewports if v.layout == paper.name]
        for text in paper.texts:
            named = kind_named(text.text)
            if named is None or not windows:
                continue
            window = min(windows, key=lambda v: distance(v.paper, text.box))
            if distance(window.paper, text.box) <= 0.25 * _short(window.paper):
                box = _through(window, text.box)
                found.append(Title(named[0], text.text.split("\n")[0], box, text.height * window.scale, -1, named[1]))
    return found


def _through(window: Viewport, box: Box) -> Box:
    """A box on the sheet as a box in model space."""
    px, py = (window.paper[0] + window.paper[2]) / 2, (window.paper[1] + window.paper[3]) / 2
    x0, x1 = (window.x + (v - px) * window.scale for v in box[::2])
    y0, y1 = (window.y + (v - py) * window.scale for v in box[1::2])
    return x0, y0, x1, y1


def _numbered(views: Sequence[View]) -> tuple[View, ...]:
    """The views in rows from the top, each row from the left, sheets last."""
    high = np.median([v.box[3] - v.box[1] for v in views if v.kind != "sheet"] or [1.0])
    order = sorted(views, key=lambda v: (v.kind == "sheet", -round(v.box[3] / max(float(high), 1e-300)), v.box[0], -v.box[3]))
    return tuple(replace(v, id=f"V{n}") for n, v in enumerate(order, 1))


def _middle(box: Box) -> tuple[float, float]:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def _short(box: Box) -> float:
    return min(box[2] - box[0], box[3] - box[1])


def _box_of(segments: Floats) -> Box:
    p = segments.reshape(-1, 2)
    (x0, y0), (x1, y1) = p.min(0), p.max(0)
    return float(x0), float(y0), float(x1), float(y1)
