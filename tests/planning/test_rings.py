"""Panels whose parts are of the same runs hang together in a ring: those with nothing to spare are
joined with others, so that lengths found to the nearest tick can be made exact.

    panel 1 |=== 20 of run 1 ===|k|= 15 7/8 of run 1 =|     full: 20 + 1/8 + 15 7/8 = 36
    panel 2 |=== 20 of run 2 ===|k|=== 14 of run 2 ===|     1 7/8 to spare
"""

from __future__ import annotations

import pytest
from builders import PRODUCT, job

from dxf2veneer.planning.balancing.pairing import Part, _joined
from dxf2veneer.planning.sizes import LayingSizes

SIZES = LayingSizes.of(job(plan__kerf=0.125), PRODUCT)


def panel(run: int, left: float, right: float):
    """A panel of a run's last part, which keeps its left end, and its first part."""
    return Part((run, "last"), left, "left", True), Part((run, "first"), right, "right", True)


def runs_of(panels):
    return [tuple(part.own[0] for part in panel) for panel in panels]


def test_a_full_ring_changes_left_parts_with_one_that_has_room():
    found = _joined([panel(1, 20.0, 15.875), panel(2, 20.0, 14.0)], [], SIZES)
    assert sorted(runs_of(found)) == [(1, 2), (2, 1)]
    assert sorted(part.length for one in found for part in one) == [14.0, 15.875, 20.0, 20.0]


def test_rings_that_both_have_room_stay_as_they_are():
    panels = [panel(1, 20.0, 14.5), panel(2, 20.0, 14.0)]
    assert runs_of(_joined(panels, [], SIZES)) == [(1, 1), (2, 2)]


@pytest.mark.parametrize("left", [20.5, 21.0])
def test_parts_are_not_changed_where_one_would_not_fit(left):
    # the left part of run 2 beside the right one of run 1: 20 1/2 + 1/8 + 15 7/8 = 36 1/2
    panels = [panel(1, 20.0, 15.875), panel(2, left, 14.0)]
    found = _joined(panels, [], SIZES)
    for one in found:
        assert sum(part.length for part in one) + 0.125 <= 36.0 + 1 / 128
