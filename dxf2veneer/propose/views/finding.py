"""A scene split into its views: the stages in order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from dxf2veneer.propose.arrays import distinct, distinct_of
from dxf2veneer.propose.constants import (
    ALONE_ENTITIES,
    ALONE_LETTERS,
    SCRAP,
    SCRAP_LARGE,
    SCRAP_STROKES,
)
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.scene import Integers, Scene
from dxf2veneer.propose.views.attaching import attach, scraps
from dxf2veneer.propose.views.boxes import (
    area,
    box_of,
    contains,
    distance,
    grown,
    inside,
    middle,
    short,
)
from dxf2veneer.propose.views.clues import Clues, clues_of
from dxf2veneer.propose.views.dimlines import DrawnDimensions, drawn_dimensions
from dxf2veneer.propose.views.frames import Frame, frames_of, frames_within
from dxf2veneer.propose.views.grids import bubbles_of
from dxf2veneer.propose.views.ground import ground_of, levels_stood_on
from dxf2veneer.propose.views.group import Group
from dxf2veneer.propose.views.kinds import judge
from dxf2veneer.propose.views.levels import LevelMark, drawn_for_marks, levels_of
from dxf2veneer.propose.views.paper import paper_titles
from dxf2veneer.propose.views.placing import titled
from dxf2veneer.propose.views.reconsidering import like_a_plan
from dxf2veneer.propose.views.splitting import boxes_of, split
from dxf2veneer.propose.views.tables import is_strip, is_table, is_title_block
from dxf2veneer.propose.views.titles import Title, titles_of
from dxf2veneer.propose.views.view import View


def find_views(scene: Scene, drawn: DrawnDimensions | None = None) -> tuple[View, ...]:
    """The views of a scene, from the top left to the bottom right.

    Args:
        scene: everything visible in the drawing.
        drawn: its dimensions of lines and texts, where they have been looked for already.
    Returns:
        Views with their kinds; sheet frames are views of their own (kind ``sheet``), lone scraps
        and tables are ``other``.
    """
    titles = [*titles_of(scene.texts), *paper_titles(scene)]
    frames = frames_of(scene, titles)
    bubbles, grid = bubbles_of(scene)
    marks, symbols = levels_of(scene)
    lines, strokes = drawn or drawn_dimensions(scene)
    loose = _kept(scene, frames, grid, symbols, marks, strokes)
    groups, small, inner = _sheets_parted(
        scene, *_pieces(scene, loose, range(len(scene.hatches)), titles), titles
    )
    frames += inner
    blocks = _title_blocks(scene, groups, frames)
    groups = [g for g in groups if not any(g is b for b in blocks)]
    kept = [
        t
        for t in titles
        if t.kind != "other" and not any(inside(b.core, middle(t.box)) for b in blocks)
    ]
    if groups or blocks:
        taken = distinct_of(
            np.concatenate([loose, *(f.segments for f in frames)]), len(scene.segments)
        )
        given = attach(scene, groups, blocks, kept, bubbles, marks, lines, taken)
        groups += scraps(scene, groups, blocks, small, given, frames)
        for group in groups:
            stood_on = levels_stood_on(scene, group, marks)
            group.segments = distinct(np.concatenate([group.segments, stood_on]))
    views = [_view(scene, g, _sheet_title(g, groups, frames, blocks, titles)) for g in groups]
    views = [like_a_plan(v, views) for v in views]
    views += [
        View(
            "",
            "sheet",
            "",
            f.box,
            f.box,
            0.9,
            Reason("VIEW_FRAME", {"why": list(f.why)}),
            f.segments,
        )
        for f in frames
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
    """Segments of the views themselves: no frames, grid lines, symbols; no level lines that were
    drawn for their marks."""
    keep = np.ones(len(scene.segments), bool)
    for frame in frames:
        keep[frame.segments] = False
    drop = np.zeros(len(scene.entities), bool)
    drop[grid] = True
    drop[symbols] = True
    keep &= ~drop[scene.owner]
    keep[drawn_for_marks(scene, marks, symbols)] = False
    keep[strokes] = False
    return np.flatnonzero(keep)


def _sheets_parted(
    scene: Scene, groups: Sequence[Group], small: Sequence[Group], titles: Sequence[Title]
) -> tuple[list[Group], list[Group], list[Frame]]:
    """The groups, sheets among them that are small beside the whole drawing parted into their
    views; the small groups; and the frames of those sheets.

     ____
    |_|__|    beside a site that is many times as large
    """
    parted: tuple[list[Group], list[Group]] = [], []
    frames: list[Frame] = []
    for group, is_small in [*((g, False) for g in groups), *((g, True) for g in small)]:
        few = len(group.segments) < SCRAP_STROKES
        own = [] if few else frames_within(scene, titles, group.segments, group.core)
        frames += own
        if own:
            rest = np.concatenate([group.segments, np.array(group.annotation, np.int64)])
            for frame in own:
                rest = np.setdiff1d(rest, frame.segments)
            views, more = _pieces(scene, rest, group.hatches, titles)
            parted[0].extend(views)
            parted[1].extend(more)
        else:
            parted[is_small].append(group)
    return *parted, frames


def _pieces(
    scene: Scene, loose: Integers, hatched: Iterable[int], titles: Sequence[Title]
) -> tuple[list[Group], list[Group]]:
    """The groups of segments that may be views, and the small untitled ones; hatches, of which
    some are given by their numbers, tie as their borders do."""
    titles = [t for t in titles if t.kind != "other"]
    loops = [(n, loop) for n in hatched for loop in scene.hatches[n].loops]
    borders = [np.column_stack((loop, np.roll(loop, -1, 0))) for _, loop in loops]
    whose = [n for n, _ in loops]
    together = np.concatenate((scene.segments[loose], *borders))
    owners = np.concatenate(
        (
            scene.owner[loose],
            *(
                np.full(len(b), len(scene.entities) + n)
                for n, b in zip(whose, borders, strict=True)
            ),
        )
    )
    leads = scene.entities.kind == "LEADER"
    any_leads = bool(leads.any())
    parts = split(together, owners, titles)
    if not parts:
        return [], []
    boxes = [(float(a), float(b), float(c), float(d)) for a, b, c, d in boxes_of(together, parts)]
    largest = max(area(b) for b in boxes)
    own = titled(boxes, titles)
    groups: list[Group] = []
    small: list[Group] = []
    for n, (part, box) in enumerate(zip(parts, boxes, strict=True)):
        title = titles[own[n]] if n in own else None
        hatches = sorted({int(o) - len(scene.entities) for o in owners[part[part >= len(loose)]]})
        own_lines = loose[part[part < len(loose)]]
        led = leads[scene.owner[own_lines]] if any_leads else np.zeros(len(own_lines), bool)
        group = Group(own_lines[~led], box, title, hatches=hatches)
        if led.any() and not led.all():
            lines = part[
                (part >= len(loose)) | ~leads[np.minimum(owners[part], len(scene.entities) - 1)]
            ]
            group.core = box_of(together[lines])
            group.annotation += own_lines[led].tolist()
        group.is_table = is_table(scene, group.segments, box)
        little = (
            area(box) < SCRAP * largest
            or len(part) < 5
            or (area(box) < SCRAP_LARGE * largest and len(part) < SCRAP_STROKES)
        )
        named = title is not None or group.is_table
        is_scrap = little and not named and not _stands_alone(scene, group)
        (small if is_scrap else groups).append(group)
    return groups, small


def _stands_alone(scene: Scene, group: Group) -> bool:
    """Whether a group is drawn with many lines and large in the letters beside it, or in most of
    the drawing's where there are none."""
    owners = scene.owner[group.segments]
    if len(owners) < ALONE_ENTITIES or len(distinct(owners)) < ALONE_ENTITIES:
        return False
    b, reach = scene.text_boxes, short(group.core)
    x0, y0, x1, y1 = grown(group.core, reach)
    beside = (b[:, 0] >= x0) & (b[:, 1] >= y0) & (b[:, 2] <= x1) & (b[:, 3] <= y1)
    heights = [scene.texts[n].height for n in np.flatnonzero(beside).tolist()]
    letters = float(np.median(heights)) if heights else scene.letters
    return 0.0 < ALONE_LETTERS * letters <= reach


def _title_blocks(scene: Scene, groups: Sequence[Group], frames: Sequence[Frame]) -> list[Group]:
    """The title block of each frame: cells that reach the frame, else the table nearest to its
    lower right corner."""
    found = []
    for frame in frames:
        inner = [
            g
            for g in groups
            if contains(grown(frame.box, 1e-6 * (frame.box[2] - frame.box[0])), g.core)
        ]
        reaching = [g for g in inner if is_title_block(scene, g.segments, g.core, frame.box)]
        corner = (frame.box[2], frame.box[1], frame.box[2], frame.box[1])
        across, up = middle(frame.box)
        tables = [g for g in inner if g.is_table and g.core[3] < up and g.core[2] > across]
        found += (
            reaching
            or sorted(
                tables, key=lambda g: distance((g.core[2], g.core[1], g.core[2], g.core[1]), corner)
            )[:1]
        )
    return found


def _view(scene: Scene, group: Group, title: Title | None) -> View:
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
    strip = group.title is not None and is_strip(scene, group.segments, group.title.box)
    kind, confidence, reason = judge(clues, title, group.is_table or group.is_scrap or strip)
    return View(
        id="",
        kind=kind,
        title=group.title.text if group.title else "",
        box=group.room,
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


def _sheet_title(
    group: Group,
    groups: Sequence[Group],
    frames: Sequence[Frame],
    blocks: Sequence[Group],
    titles: Sequence[Title],
) -> Title | None:
    """The group's own title, else that in the title block where the sheet holds this one view."""
    if group.title is not None:
        return group.title
    frame = next((f for f in frames if contains(f.box, group.core)), None)
    if (
        frame is None
        or group.is_scrap
        or sum(contains(frame.box, g.core) and not g.is_table and not g.is_scrap for g in groups)
        != 1
    ):
        return None
    said = [
        t
        for t in titles
        if contains(frame.box, t.box) and any(inside(b.core, middle(t.box)) for b in blocks)
    ]
    return max(said, key=lambda t: t.height, default=None)


def _numbered(views: Sequence[View]) -> tuple[View, ...]:
    """The views in rows from the top, each row from the left, sheets last."""
    high = np.median([v.box[3] - v.box[1] for v in views if v.kind != "sheet"] or [1.0])
    order = sorted(
        views,
        key=lambda v: (
            v.kind == "sheet",
            -round(v.box[3] / max(float(high), 1e-300)),
            v.box[0],
            -v.box[3],
        ),
    )
    return tuple(replace(v, id=f"V{n}") for n, v in enumerate(order, 1))
