"""What belongs to which group: titles, dimensions, bubbles, level marks, texts and small pieces."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from dxf2veneer.propose.constants import ATTACH_REACH, BESIDE_LETTERS, BESIDE_SIZE, SPECK
from dxf2veneer.propose.scene import Box, Floats, Integers, Scene
from dxf2veneer.propose.views.boxes import (
    around,
    box_of,
    contains,
    distance,
    distances,
    grown,
    may_touch,
    short,
)
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.views.dimlines import DrawnDimension
from dxf2veneer.propose.views.frames import Frame
from dxf2veneer.propose.views.grids import Bubble
from dxf2veneer.propose.views.group import Group
from dxf2veneer.propose.views.levels import LevelMark
from dxf2veneer.propose.views.paper import give_paper_titles
from dxf2veneer.propose.views.placing import titled
from dxf2veneer.propose.views.titles import Title, kind_named


def attach(
    scene: Scene,
    groups: Sequence[Group],
    blocks: Sequence[Group],
    titles: Sequence[Title],
    bubbles: Sequence[Bubble],
    marks: Sequence[LevelMark],
    lines: Sequence[DrawnDimension],
    taken: Integers,
) -> set[int]:
    """Give each group what is surely its own: title, dimensions, bubbles, level marks, lines.

    Args:
        scene: everything visible in the drawing.
        groups: the views in the making; they are changed.
        blocks: title blocks; they are changed.
        titles: titles of views.
        bubbles: grid bubbles.
        marks: level marks.
        lines: dimensions drawn as plain lines and texts.
        taken: numbers of the segments that groups and frames have.

    Returns:
        Numbers of the texts that are given.
    """
    targets = [*groups, *blocks]
    cores = np.array([g.core for g in targets])
    given: set[int] = set()
    for group in targets:
        group.title = None
    for g, t in titled([g.core for g in groups], titles).items():
        _give_title(scene, groups[g], titles[t], given)
    give_paper_titles(scene, groups)
    for bubble in bubbles:
        box = (
            bubble.box
            if bubble.line < 0
            else around((bubble.box, box_of(scene.segments[[bubble.line]])))
        )
        far = np.lexsort((distances(cores, bubble.box), distances(cores, box)))
        group = _beside_title(targets, bubble) or targets[far[0]]
        group.bubbles.append(bubble)
        if distance(group.core, bubble.box) < 2.0 * short(group.core):
            group.grow(bubble.box)
        given.add(bubble.text)
    for mark in marks:
        _give(scene, targets, cores, mark.text, given).levels.append(mark)
    for drawn in lines:
        near = _give(scene, targets, cores, drawn.text, given)
        near.grow(drawn.box)
    for dimension in scene.dimensions:
        near = targets[int(np.argmin(distances(cores, dimension.box)))]
        if distance(near.core, dimension.box) <= ATTACH_REACH * short(near.core):
            near.grow(dimension.box)
    _attach_rest(scene, targets, taken)
    return given


def _beside_title(targets: Sequence[Group], bubble: Bubble) -> Group | None:
    """The group whose title a bubble without a line stands beside: it numbers the view."""
    if bubble.line >= 0:
        return None
    titles = [
        (distance(g.title.box, bubble.box), n)
        for n, g in enumerate(targets)
        if g.title is not None and g.title.number >= 0
    ]
    far, nearest = min(titles, default=(np.inf, -1))
    return targets[nearest] if far <= 2.0 * bubble.radius else None


def _give(
    scene: Scene, targets: Sequence[Group], cores: Floats, number: int, given: set[int]
) -> Group:
    """Give a text to the group that it is nearest to."""
    text = scene.texts[number]
    near = targets[int(np.argmin(distances(cores, text.box)))]
    near.texts.append(number)
    given.add(number)
    if distance(near.core, text.box) <= 2.0 * ATTACH_REACH * short(near.core):
        near.grow(text.box)
    return near


def _give_title(scene: Scene, group: Group, title: Title, given: set[int]) -> None:
    """Give a title to its group, with the lines under it (a scale, a number)."""
    group.title = title
    if title.number < 0:
        return  # it stands on a layout
    group.grow(title.box)
    x0, y0, x1, _ = title.box
    reach = BESIDE_LETTERS * title.height
    boxes = scene.text_boxes
    under = (boxes[:, 2] >= x0 - reach) & (boxes[:, 0] <= x1 + reach)
    under &= (boxes[:, 3] >= y0 - reach) & (boxes[:, 3] <= y0 + 0.5 * title.height)
    under[title.number] = True
    for number in np.flatnonzero(under).tolist():
        text = scene.texts[number]
        if number == title.number or text.height <= title.height:
            group.texts.append(number)
            group.grow(text.box)
            given.add(number)


def _attach_rest(scene: Scene, targets: Sequence[Group], taken: Integers) -> None:
    """Segments that no group has: lines of grids and marks to the group nearest to them."""
    used = np.zeros(len(scene.segments), bool)
    used[taken] = True
    rest = np.flatnonzero(~used)
    if not len(rest):
        return
    middles = (scene.segments[rest, :2] + scene.segments[rest, 2:]) / 2
    near, apart = _nearest(np.array([g.core for g in targets]), middles)
    sides = np.array([(g.core[2] - g.core[0], g.core[3] - g.core[1]) for g in targets])
    reached = apart <= ATTACH_REACH * sides.min(axis=1)[near]
    rest, near = rest[reached], near[reached]
    low = np.minimum(scene.segments[rest, :2], scene.segments[rest, 2:])
    high = np.maximum(scene.segments[rest, :2], scene.segments[rest, 2:])
    little = np.maximum(*(high - low).T) <= 1.5 * sides.max(axis=1)[near]
    for g in np.unique(near).tolist():
        targets[g].annotation += rest[near == g].tolist()
        own = little & (near == g)
        if own.any():
            targets[g].grow(box_of(np.hstack([low[own], high[own]])))


def _nearest(boxes: Floats, points: Floats) -> tuple[Integers, Floats]:
    """For each point the nearest box and its distance; most points lie in the largest box alone."""
    largest = int(np.argmax((boxes[:, 2:] - boxes[:, :2]).prod(axis=1)))
    x, y = points.T
    x0, y0, x1, y1 = boxes[largest]
    alone = (x >= x0) & (x <= x1) & (y >= y0) & (y <= y1)
    others = np.delete(boxes, largest, axis=0)
    if len(others):
        alone &= ~may_touch(np.hstack([points, points]), others)
    near, apart = np.full(len(points), largest), np.zeros(len(points))
    made, rest = shapely.box(*boxes.T), shapely.points(points[~alone])
    near[~alone] = shapely.STRtree(made).nearest(rest)
    apart[~alone] = shapely.distance(made[near[~alone]], rest)
    return near, apart


def scraps(
    scene: Scene,
    groups: Sequence[Group],
    blocks: Sequence[Group],
    small: Sequence[Group],
    given: set[int],
    frames: Sequence[Frame],
) -> list[Group]:
    """What is left, small pieces and texts: to the view beside or round it, else its own scrap.

    LEGEND
    [////]  stone veneer        pieces and texts that stand within some letters of each other
    [    ]  plaster             are one scrap

    Args:
        scene: everything visible in the drawing.
        groups: the views in the making; they are changed.
        blocks: title blocks; they are changed.
        small: pieces too small to be views.
        given: numbers of the texts that something has.
        frames: the sheet frames.

    Returns:
        The scraps that belong to no view.
    """
    texts = [n for n in range(len(scene.texts)) if n not in given]
    boxes = [g.core for g in small] + [scene.texts[n].box for n in texts]
    if not boxes:
        return []
    reach = [BESIDE_LETTERS * scene.letters / 2] * len(small) + [
        BESIDE_LETTERS * scene.texts[n].height / 2 for n in texts
    ]
    grown_boxes = shapely.box(*np.array([grown(b, r) for b, r in zip(boxes, reach, strict=True)]).T)
    label = components(len(boxes), np.column_stack(shapely.STRtree(grown_boxes).query(grown_boxes)))
    clusters: dict[int, list[int]] = {}
    for n, of in enumerate(label.tolist()):
        clusters.setdefault(of, []).append(n)
    longest = max((max(g.core[2] - g.core[0], g.core[3] - g.core[1]) for g in groups), default=0.0)
    rooms = np.array([g.room for g in groups]).reshape(-1, 4)
    cores = np.array([g.core for g in (*groups, *blocks)]).reshape(-1, 4)
    place = {id(g): n for n, g in enumerate(groups)}
    found: list[Group] = []
    taken: dict[int, list[Group]] = {}
    rooms_of = [around([boxes[n] for n in members]) for members in clusters.values()]
    holders = _holders(cores, np.array(rooms_of))
    for members, box, holder in zip(clusters.values(), rooms_of, holders.tolist(), strict=True):
        pieces = [small[n] for n in members if n < len(small)]
        own_texts = [texts[n - len(small)] for n in members if n >= len(small)]
        letters = (
            0.0 if _is_legend(scene, pieces, own_texts) else max(reach[n] for n in members) * 2.0
        )
        home = (*groups, *blocks)[holder] if holder >= 0 else _beside(groups, rooms, box, letters)
        if home is None:
            speck = not own_texts and max(box[2] - box[0], box[3] - box[1]) < SPECK * longest
            if not speck and (any(contains(f.box, box) for f in frames) or not frames or pieces):
                found.append(
                    Group(
                        _together(pieces),
                        box,
                        texts=own_texts,
                        hatches=[h for p in pieces for h in p.hatches],
                        is_scrap=True,
                    )
                )
            continue
        home.grow(box)
        if id(home) in place:
            rooms[place[id(home)]] = home.room
        home.texts += own_texts
        taken.setdefault(id(home), []).extend(pieces)
        home.hatches += [h for p in pieces for h in p.hatches]
    for group in (*groups, *blocks):
        if id(group) in taken:
            group.segments = np.concatenate((group.segments, _together(taken[id(group)])))
    return found


def _together(pieces: Sequence[Group]) -> Integers:
    return np.concatenate([p.segments for p in pieces]) if pieces else np.zeros(0, np.int64)


def _is_legend(scene: Scene, pieces: Sequence[Group], texts: Sequence[int]) -> bool:
    """Whether a scrap is a legend: it is called so, or has several pieces with a text for each."""
    named = [kind_named(scene.texts[n].text) for n in texts]
    return any(n is not None and n[0] == "other" for n in named) or (
        len(pieces) >= 3 and len(texts) >= len(pieces)
    )


def _holders(cores: Floats, boxes: Floats) -> Integers:
    """For each box the smallest core that it lies in, or has more than half of its area in; -1 for
    none."""
    best, result = np.full(len(boxes), np.inf), np.full(len(boxes), -1)
    x0, y0, x1, y1 = boxes.T
    areas = np.maximum(0.0, x1 - x0) * np.maximum(0.0, y1 - y0)
    for number, core in enumerate(cores):
        wide = np.minimum(core[2], x1) - np.maximum(core[0], x0)
        high = np.minimum(core[3], y1) - np.maximum(core[1], y0)
        holds = (wide > 0.0) & (high > 0.0) & (wide * high > 0.5 * areas)
        holds |= (core[0] <= x0) & (core[1] <= y0) & (core[2] >= x1) & (core[3] >= y1)
        size = max(0.0, core[2] - core[0]) * max(0.0, core[3] - core[1])
        holds &= size < best
        best[holds], result[holds] = size, number
    return result


def _beside(groups: Sequence[Group], rooms: Floats, box: Box, letters: float) -> Group | None:
    """The view that a scrap lies close beside; None where it stands alone."""
    if not len(groups) or not letters:
        return None
    near = groups[int(np.argmin(distances(rooms, box)))]
    return (
        near if distance(near.room, box) <= max(letters, BESIDE_SIZE * short(near.core)) else None
    )
