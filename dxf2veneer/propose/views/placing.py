"""Which title belongs to which group, by where they stand."""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.propose.constants import TITLE_ABOVE, TITLE_REACH, VIEW_LETTERS
from dxf2veneer.propose.scene import Box
from dxf2veneer.propose.views.boxes import gaps
from dxf2veneer.propose.views.titles import Title


def titled(boxes: Sequence[Box], titles: Sequence[Title]) -> dict[int, int]:
    """Match titles to boxes, each at most once, the closest pairs first.

    A title stands under its view, less often over it; beside the middle rather than beside an end.

    Args:
        boxes: of the groups.
        titles: titles of views.
    Returns:
        Number of the group -> number of its title.
    """
    if not titles or not boxes:
        return {}
    largest = max((b[2] - b[0]) * (b[3] - b[1]) for b in boxes)
    costs = []
    for t, title in enumerate(titles):
        for g, box in enumerate(boxes):
            cost = _cost(box, title, largest)
            if cost is not None:
                costs.append((cost, g, t))
    found: dict[int, int] = {}
    used: set[int] = set()
    for _, g, t in sorted(costs):
        if g not in found and t not in used:
            found[g] = t
            used.add(t)
    return found


def _cost(box: Box, title: Title, largest: float) -> float | None:
    """How badly a title fits a box, in letters' heights; None where it does not at all."""
    wide, high = box[2] - box[0], box[3] - box[1]
    if wide * high < 1e-4 * largest or high < VIEW_LETTERS * title.height:
        return None
    across, _ = gaps(box, title.box)
    letters = title.height
    reach = TITLE_REACH * max(letters, 0.05 * high)
    if across > reach / 2:
        return None
    middle = abs((box[0] + box[2]) / 2 - (title.box[0] + title.box[2]) / 2)
    below, above = box[1] - title.box[3], title.box[1] - box[3]
    if below >= -letters:
        far, factor = max(below, 0.0), 1.0
    elif above >= -letters:
        far, factor = max(above, 0.0), TITLE_ABOVE
    else:
        far, factor = min(title.box[1] - box[1], box[3] - title.box[3]), 1.0  # inside
    if far > reach * 1.5:
        return None
    low = 4.0 * letters if high < 2.0 * VIEW_LETTERS * letters else 0.0
    return (far + low + 0.1 * min(middle, wide / 2) + max(across, 0.0)) * factor
