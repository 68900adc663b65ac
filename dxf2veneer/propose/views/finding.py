"""A scene split into its views: the stages in order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import shapely

from dxf2veneer.propose.constants import (
    ATTACH_REACH,
    BESIDE_LETTERS,
    BESIDE_SIZE,
    SAME_PLAN,
    SCRAP,
    SCRAP_LARGE,
    SCRAP_STROKES,
    TITLE_ABOVE,
    VIEW_HEIGHT_IN,
)
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.scene import Box, Floats, Integers, Scene, Viewport
from dxf2veneer.propose.views.boxes import area, around, contains, distance, gaps, grown, inside, shared
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.views.dimlines import DrawnDimension, drawn_dimensions
from dxf2veneer.propose.views.frames import Frame, frames_of
from dxf2veneer.propose.views.grids import Bubble, bubbles_of
from dxf2veneer.propose.views.ground import ground_of
from dxf2veneer.propose.views.kinds import Clues, clues_of, judge
from dxf2veneer.propose.views.levels import LevelMark, levels_of
from dxf2veneer.propose.views.placing import titled
from dxf2veneer.propose.views.splitting import boxes_of, split
from dxf2veneer.propose.views.tables import is_table, is_title_block
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
    is_scrap: bool = False


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
    lines, strokes = drawn_dimensions(scene)
    loose = _kept(scene, frames, grid, symbols, marks, strokes)
    groups, small = _pieces(scene, loose, [t for t in titles if t.kind != "other"])
    blocks = _title_blocks(scene, groups, frames)
    groups = [g for g in groups if not any(g is b for b in blocks)]
    kept = [t for t in titles if t.kind != "other" and not any(inside(b.core, _middle(t.box)) for b in blocks)]
    if groups or blocks:
        taken = np.union1d(loose, np.concatenate([f.segments for f in frames] or [np.zeros(0, np.int64)]))
        given = _attach(scene, groups, blocks, kept, bubbles, marks, lines, taken)
        groups += _scraps(scene, groups, blocks, small, given, frames)
    views = [_view(scene, g, _sheet_title(g, groups, frames, blocks, titles)) for g in groups]
    views = [_like_a_plan(v, views) for v in views]
    views += [
        View("", "sheet", "", f.box, f.box, 0.9, Reason("VIEW_FRAME", {"why": list(f.why)}), f.segments) for f in frames
    ]
    return _numbered(views)


def _kept(
    scene: Scene,
    frames: Sequence[Frame],
    grid: Integers,
    symbols: Integers,
    marks: Sequence[LevelMark],
    strokes: Integers,
) -> Integers:
    """Segments of the views themselves: no frames, grid lines, symbols; no level lines that run far."""
    keep = np.ones(len(scene.segments), bool)
    for frame in frames:
        keep[frame.segments] = False
    drop = np.zeros(len(scene.entities), bool)
    drop[grid] = True
    drop[symbols] = True
    keep &= ~drop[scene.owner]
    keep[[m.line for m in marks if m.line >= 0]] = False
    keep[strokes] = False
    return np.flatnonzero(keep)


def _pieces(scene: Scene, loose: Integers, titles: Sequence[Title]) -> tuple[list[_Group], list[_Group]]:
    """The groups of segments that may be views, and the small untitled ones; hatches tie as their borders do."""
    segments, owner = scene.segments[loose], scene.owner[loose]
    borders = [np.column_stack((loop, np.roll(loop, -1, 0))) for h in scene.hatches for loop in h.loops]
    whose = [n for n, h in enumerate(scene.hatches) for _ in h.loops]
    together = np.concatenate((segments, *borders))
    owners = np.concatenate(
        (owner, *(np.full(len(b), len(scene.entities) + n) for n, b in zip(whose, borders, strict=True)))
    )
    parts = split(together, owners, titles)
    if not parts:
        return [], []
    boxes = [(float(a), float(b), float(c), float(d)) for a, b, c, d in boxes_of(together, parts)]
    largest = max(area(b) for b in boxes)
    own = titled(boxes, titles)
    groups: list[_Group] = []
    small: list[_Group] = []
    for n, (part, box) in enumerate(zip(parts, boxes, strict=True)):
        title = titles[own[n]] if n in own else None
        hatches = sorted({int(o) - len(scene.entities) for o in owners[part[part >= len(loose)]]})
        group = _Group(loose[part[part < len(loose)]], box, title, hatches=hatches)
        group.is_table = is_table(scene, group.segments, box)
        little = (
            title is None
            and not group.is_table
            and (
                area(box) < SCRAP * largest
                or len(part) < 5
                or (area(box) < SCRAP_LARGE * largest and len(part) < SCRAP_STROKES)
            )
        )
        (small if little else groups).append(group)
    return groups, small


def _title_blocks(scene: Scene, groups: Sequence[_Group], frames: Sequence[Frame]) -> list[_Group]:
    """The title block of each frame: cells that reach the frame, else the table nearest to its lower right corner."""
    found = []
    for frame in frames:
        inner = [g for g in groups if contains(grown(frame.box, 1e-6 * (frame.box[2] - frame.box[0])), g.core)]
        reaching = [g for g in inner if is_title_block(scene, g.segments, g.core, frame.box)]
        corner = (frame.box[2], frame.box[1], frame.box[2], frame.box[1])
        middle = _middle(frame.box)
        tables = [g for g in inner if g.is_table and g.core[3] < middle[1] and g.core[2] > middle[0]]
        found += (
            reaching or sorted(tables, key=lambda g: distance((g.core[2], g.core[1], g.core[2], g.core[1]), corner))[:1]
        )
    return found


def _attach(
    scene: Scene,
    groups: Sequence[_Group],
    blocks: Sequence[_Group],
    titles: Sequence[Title],
    bubbles: Sequence[Bubble],
    marks: Sequence[LevelMark],
    lines: Sequence[DrawnDimension],
    taken: Integers,
) -> set[int]:
    """Give each group what belongs to it for sure: title, dimensions, bubbles, level marks, their lines.

    Returns:
        Numbers of the texts that are given.
    """
    targets = [*groups, *blocks]
    given: set[int] = set()
    for group in targets:
        group.title = None
    for g, t in titled([g.core for g in groups], titles).items():
        _give_title(scene, groups[g], titles[t], given)
    _give_paper_titles(scene, groups)
    for bubble in bubbles:
        box = bubble.box if bubble.line < 0 else around((bubble.box, _box_of(scene.segments[[bubble.line]])))
        group = min(targets, key=lambda g: (distance(g.core, box), distance(g.core, bubble.box)))
        group.bubbles.append(bubble)
        if distance(group.core, bubble.box) < 2.0 * _short(group.core):
            group.rooms.append(bubble.box)
        given.add(bubble.text)
    for mark in marks:
        _give(scene, targets, mark.text, given).levels.append(mark)
    for drawn in lines:
        near = _give(scene, targets, drawn.text, given)
        near.rooms.append(drawn.box)
    for dimension in scene.dimensions:
        near = min(targets, key=lambda g: distance(g.core, dimension.box))
        if distance(near.core, dimension.box) <= ATTACH_REACH * _short(near.core):
            near.rooms.append(dimension.box)
    _attach_rest(scene, targets, taken)
    return given


def _give(scene: Scene, targets: Sequence[_Group], number: int, given: set[int]) -> _Group:
    """Give a text to the group that it is nearest to."""
    text = scene.texts[number]
    near = min(targets, key=lambda g: distance(g.core, text.box))
    near.texts.append(number)
    given.add(number)
    if distance(near.core, text.box) <= 2.0 * ATTACH_REACH * _short(near.core):
        near.rooms.append(text.box)
    return near


def _give_title(scene: Scene, group: _Group, title: Title, given: set[int]) -> None:
    """Give a title to its group, with the lines under it (a scale, a number)."""
    group.title = title
    if title.number < 0:
        return  # it stands on a layout
    group.rooms.append(title.box)
    x0, y0, x1, _ = title.box
    reach = BESIDE_LETTERS * title.height
    for number, text in enumerate(scene.texts):
        under = (
            text.box[2] >= x0 - reach
            and text.box[0] <= x1 + reach
            and y0 - reach <= text.box[3] <= y0 + 0.5 * title.height
        )
        if number == title.number or (under and text.height <= title.height):
            group.texts.append(number)
            group.rooms.append(text.box)
            given.add(number)


def _attach_rest(scene: Scene, targets: Sequence[_Group], taken: Integers) -> None:
    """Segments that no group has: lines of grids and marks to the group that they lie nearest to."""
    used = np.zeros(len(scene.segments), bool)
    used[taken] = True
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
            if max(abs(x1 - x0), abs(y1 - y0)) <= 1.5 * max(
                targets[g].core[2] - targets[g].core[0], targets[g].core[3] - targets[g].core[1]
            ):
                targets[g].rooms.append(
                    (float(min(x0, x1)), float(min(y0, y1)), float(max(x0, x1)), float(max(y0, y1)))
                )


def _scraps(
    scene: Scene,
    groups: Sequence[_Group],
    blocks: Sequence[_Group],
    small: Sequence[_Group],
    given: set[int],
    frames: Sequence[Frame],
) -> list[_Group]:
    """What is left, small pieces and texts: given to the view beside or in which it lies, else a scrap of its own.

    LEGEND
    [////]  stone veneer        pieces and texts that stand within some letters of each other
    [    ]  plaster             are one scrap
    """
    texts = [n for n in range(len(scene.texts)) if n not in given]
    boxes = [g.core for g in small] + [scene.texts[n].box for n in texts]
    if not boxes:
        return []
    usual = float(np.median([t.height for t in scene.texts] or [0.0]))
    reach = [BESIDE_LETTERS * usual / 2] * len(small) + [BESIDE_LETTERS * scene.texts[n].height / 2 for n in texts]
    grown_boxes = shapely.box(*np.array([grown(b, r) for b, r in zip(boxes, reach, strict=True)]).T)
    label = components(len(boxes), np.column_stack(shapely.STRtree(grown_boxes).query(grown_boxes)))
    clusters: dict[int, list[int]] = {}
    for n, of in enumerate(label.tolist()):
        clusters.setdefault(of, []).append(n)
    found = []
    for members in clusters.values():
        box = around([boxes[n] for n in members])
        pieces = [small[n] for n in members if n < len(small)]
        own_texts = [texts[n - len(small)] for n in members if n >= len(small)]
        home = _home(groups, blocks, box, max((reach[n] for n in members), default=0.0) * 2.0)
        if home is None:
            if any(contains(f.box, box) for f in frames) or not frames or pieces:
                found.append(
                    _Group(
                        _together(pieces),
                        box,
                        texts=own_texts,
                        hatches=[h for p in pieces for h in p.hatches],
                        is_scrap=True,
                    )
                )
            continue
        home.rooms.append(box)
        home.texts += own_texts
        home.segments = np.concatenate((home.segments, _together(pieces)))
        home.hatches += [h for p in pieces for h in p.hatches]
    return found


def _together(pieces: Sequence[_Group]) -> Integers:
    return np.concatenate([p.segments for p in pieces]) if pieces else np.zeros(0, np.int64)


def _home(groups: Sequence[_Group], blocks: Sequence[_Group], box: Box, letters: float) -> _Group | None:
    """The view that a scrap lies in or close beside, the title block that it lies in; None where it stands alone."""
    near = min(groups, key=lambda g: distance(around((g.core, *g.rooms)), box), default=None)
    held = [g for g in (*groups, *blocks) if shared(g.core, box) > 0.5 * area(box) or contains(g.core, box)]
    if held:
        return min(held, key=lambda g: area(g.core))
    if near is None:
        return None
    close = distance(around((near.core, *near.rooms)), box) <= max(letters, BESIDE_SIZE * _short(near.core))
    return near if close else None


def _view(scene: Scene, group: _Group, title: Title | None) -> View:
    segments = scene.segments[group.segments]
    ground, past = ground_of(segments, group.core)
    texts = [scene.texts[n] for n in group.texts]
    clues: Clues = clues_of(
        scene,
        group.segments,
        group.core,
        past,
        texts,
        group.levels,
        group.bubbles,
        [scene.hatches[h] for h in group.hatches],
    )
    kind, confidence, reason = judge(clues, title, group.is_table or group.is_scrap)
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
        ground_y=ground,
        levels=tuple(group.levels),
        bubbles=tuple(group.bubbles),
    )


def _like_a_plan(view: View, views: Sequence[View]) -> View:
    """The view, made a plan where nothing names it and it has the footprint of a plan."""
    if view.kind == "plan" or view.reason.code != "VIEW_DRAWN" or view.confidence > 0.75:
        return view
    wide, high = view.core[2] - view.core[0], view.core[3] - view.core[1]
    for other in views:
        w, h = other.core[2] - other.core[0], other.core[3] - other.core[1]
        if other.kind == "plan" and abs(w - wide) <= SAME_PLAN * wide and abs(h - high) <= SAME_PLAN * high:
            return replace(
                view, kind="plan", confidence=0.8, reason=Reason("VIEW_SAME_FOOTPRINT", {"width": wide, "height": high})
            )
    return view


def reconsidered(views: Sequence[View], inches: float) -> tuple[View, ...]:
    """The views once the unit is known: an untitled elevation of no building's height is something else.

    Args:
        views: the views as found.
        inches: inches in one drawing unit.
    Returns:
        The views, some elevations made ``other``.
    """
    result = []
    for view in views:
        high = (view.core[3] - view.core[1]) * inches
        absurd = not VIEW_HEIGHT_IN[0] <= high <= VIEW_HEIGHT_IN[1]
        if view.kind == "elevation" and absurd and view.reason.code != "VIEW_TITLED":
            view = replace(view, kind="other", confidence=0.7, reason=Reason("VIEW_HEIGHT", {"inches": high}))
        result.append(view)
    return tuple(result)


def _sheet_title(
    group: _Group, groups: Sequence[_Group], frames: Sequence[Frame], blocks: Sequence[_Group], titles: Sequence[Title]
) -> Title | None:
    """The group's own title, else that in the title block where the sheet holds this one view."""
    if group.title is not None:
        return group.title
    frame = next((f for f in frames if contains(f.box, group.core)), None)
    if (
        frame is None
        or group.is_scrap
        or sum(contains(frame.box, g.core) and not g.is_table and not g.is_scrap for g in groups) != 1
    ):
        return None
    said = [t for t in titles if contains(frame.box, t.box) and any(inside(b.core, _middle(t.box)) for b in blocks)]
    return max(said, key=lambda t: t.height, default=None)


def _give_paper_titles(scene: Scene, groups: Sequence[_Group]) -> None:
    """Give titles beside viewports on layouts to untitled groups, the nearest first.

    A title belongs to the viewport over it, less often under it, and to the one large group that the
    viewport shows.
    """
    found = []
    for window in scene.viewports:
        for text in (t for p in scene.papers if p.name == window.layout for t in p.texts):
            far = _from_window(window.paper, text.box)
            if 0.0 < far <= 0.3 * _short(window.paper) and kind_named(text.text) is not None:
                found.append((far, window, text))
    used: set[tuple[str, str]] = set()
    for _, window, text in sorted(found, key=lambda f: f[0]):
        seen, named = _seen(window), kind_named(text.text)
        shown = [g for g in groups if inside(seen, _middle(g.core))]
        largest = max(shown, key=lambda g: area(g.core), default=None)
        if named is None or largest is None or largest.title is not None or (window.layout, text.handle) in used:
            continue
        if not any(area(g.core) > 0.3 * area(largest.core) for g in shown if g is not largest):
            largest.title = Title(named[0], text.text.split("\n")[0], seen, text.height * window.scale, -1, named[1])
            used.add((window.layout, text.handle))


def _paper_titles(scene: Scene) -> list[Title]:
    """Titles on layouts that stand within a viewport, carried into model space."""
    found = []
    for window in scene.viewports:
        for text in (t for p in scene.papers if p.name == window.layout for t in p.texts):
            named = kind_named(text.text)
            if named is not None and contains(window.paper, text.box):
                box = _through(window, text.box)
                found.append(Title(named[0], text.text.split("\n")[0], box, text.height * window.scale, -1, named[1]))
    return found


def _through(window: Viewport, box: Box) -> Box:
    """A box on the sheet as a box in model space."""
    px, py = _middle(window.paper)
    x0, x1 = (window.x + (v - px) * window.scale for v in box[::2])
    y0, y1 = (window.y + (v - py) * window.scale for v in box[1::2])
    return x0, y0, x1, y1


def _from_window(window: Box, title: Box) -> float:
    """How far a title stands from a viewport: farther where it stands over it, 0 where it stands in it."""
    across, _ = gaps(window, title)
    far = max(window[1] - title[3], TITLE_ABOVE * (title[1] - window[3]))
    return far + max(across, 0.0) if far > 0.0 else max(across, 0.0)


def _seen(window: Viewport) -> Box:
    """The part of model space that a viewport shows."""
    return (
        window.x - window.width / 2,
        window.y - window.height / 2,
        window.x + window.width / 2,
        window.y + window.height / 2,
    )


def _numbered(views: Sequence[View]) -> tuple[View, ...]:
    """The views in rows from the top, each row from the left, sheets last."""
    high = np.median([v.box[3] - v.box[1] for v in views if v.kind != "sheet"] or [1.0])
    order = sorted(
        views, key=lambda v: (v.kind == "sheet", -round(v.box[3] / max(float(high), 1e-300)), v.box[0], -v.box[3])
    )
    return tuple(replace(v, id=f"V{n}") for n, v in enumerate(order, 1))


def _middle(box: Box) -> tuple[float, float]:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def _short(box: Box) -> float:
    return min(box[2] - box[0], box[3] - box[1])


def _box_of(segments: Floats) -> Box:
    p = segments.reshape(-1, 2)
    (x0, y0), (x1, y1) = p.min(0), p.max(0)
    return float(x0), float(y0), float(x1), float(y1)
