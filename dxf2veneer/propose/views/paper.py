"""Titles on layouts: those within a viewport carried into model space, those beside it given to
what it shows."""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.propose.constants import TITLE_ABOVE
from dxf2veneer.propose.scene import Box, Scene, Viewport
from dxf2veneer.propose.views.boxes import area, contains, gaps, inside, middle, short
from dxf2veneer.propose.views.group import Group
from dxf2veneer.propose.views.titles import Title, kind_named


def give_paper_titles(scene: Scene, groups: Sequence[Group]) -> None:
    """Give titles beside viewports on layouts to untitled groups, the nearest first.

    A title belongs to the viewport over it, less often under it, and to the one large group that
    the viewport shows.

    Args:
        scene: everything visible in the drawing.
        groups: the views in the making; they are changed.
    """
    found = []
    for window in scene.viewports:
        for text in (t for p in scene.papers if p.name == window.layout for t in p.texts):
            far = _from_window(window.paper, text.box)
            if 0.0 < far <= 0.3 * short(window.paper) and kind_named(text.text) is not None:
                found.append((far, window, text))
    used: set[tuple[str, str]] = set()
    for _, window, text in sorted(found, key=lambda f: f[0]):
        seen, named = _seen(window), kind_named(text.text)
        shown = [g for g in groups if inside(seen, middle(g.core))]
        largest = max(shown, key=lambda g: area(g.core), default=None)
        if (
            named is None
            or largest is None
            or largest.title is not None
            or (window.layout, text.handle) in used
        ):
            continue
        if not any(area(g.core) > 0.3 * area(largest.core) for g in shown if g is not largest):
            largest.title = Title(
                named[0], text.text.split("\n")[0], seen, text.height * window.scale, -1, named[1]
            )
            used.add((window.layout, text.handle))


def paper_titles(scene: Scene) -> list[Title]:
    """Titles on layouts that stand within a viewport, carried into model space.

    Args:
        scene: everything visible in the drawing.

    Returns:
        The titles, their boxes in model space.
    """
    found = []
    for window in scene.viewports:
        for text in (t for p in scene.papers if p.name == window.layout for t in p.texts):
            named = kind_named(text.text)
            if named is not None and contains(window.paper, text.box):
                box = _through(window, text.box)
                found.append(
                    Title(
                        named[0],
                        text.text.split("\n")[0],
                        box,
                        text.height * window.scale,
                        -1,
                        named[1],
                    )
                )
    return found


def _through(window: Viewport, box: Box) -> Box:
    """A box on the sheet as a box in model space."""
    px, py = middle(window.paper)
    x0, x1 = (window.x + (v - px) * window.scale for v in box[::2])
    y0, y1 = (window.y + (v - py) * window.scale for v in box[1::2])
    return x0, y0, x1, y1


def _from_window(window: Box, title: Box) -> float:
    """How far a title stands from a viewport: farther where it stands over it, 0 where it stands
    in it."""
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
