"""Which parts share a panel, on parts chosen by hand: panels of 36 in, saw cuts of 1/8 in."""

from __future__ import annotations

import pytest
from shapely.geometry import box

from dxf2veneer.planning.balancing.pairing import Part
from dxf2veneer.planning.crew.rising import Rising
from dxf2veneer.planning.crew.sharing import Prices, shared_out
from dxf2veneer.planning.cutting_stock.panels import PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.runs import Run


def rising(*turns: int, wait: int = 6) -> Rising:
    """One run of one wall in each of some courses."""
    laid = [
        LaidRun(
            Run("W1", n, 0.0, 30.0, "plain", "plain", box(0, 8 * n, 30, 8 * n + 8), turn=n),
            (30.0,),
            (),
        )
        for n in turns
    ]
    return Rising(laid, wait)


def panels(parts, where: Rising, *, over: float = 0.0, far: float | None = None):
    """The positions of the parts of each panel."""
    found = shared_out(parts, 36.0, 0.125, 0.0, where, Prices(far, over, {}))
    return sorted(sorted(parts.index(part) for part in panel) for panel in found)


def moved(run: int, length: float, hand: str) -> Part:
    return Part((run, "last" if hand == "left" else "first"), length, hand, True)


def still(run: int, length: float, hand: str) -> Part:
    return Part(PartRef(run, 0), length, hand, True)


def test_parts_that_fit_with_a_saw_cut_share_a_panel():
    parts = [moved(0, 20.0, "left"), moved(1, 15.875, "right")]
    assert panels(parts, rising(0, 1)) == [[0, 1]]


def test_two_parts_that_keep_the_same_end_share_none():
    parts = [moved(0, 12.0, "left"), moved(1, 12.0, "left")]
    assert panels(parts, rising(0, 1)) == [[0], [1]]


def test_a_lone_part_goes_between_two_others():
    parts = [moved(0, 12.0, "left"), moved(1, 12.0, "right"), still(2, 11.5, "any")]
    assert panels(parts, rising(0, 1, 2)) == [[0, 1, 2]]


def test_parts_a_little_too_long_share_a_panel_where_a_joint_may_still_move():
    parts = [moved(0, 20.0, "left"), moved(1, 16.0, "right")]  # 36 1/8
    assert panels(parts, rising(0, 1)) == [[0], [1]]
    assert panels(parts, rising(0, 1), over=0.25) == [[0, 1]]


def test_parts_of_runs_that_stay_as_they_are_have_to_fit_now():
    parts = [still(0, 15.0, "left"), still(1, 21.0, "any")]  # 36 1/8
    assert panels(parts, rising(0, 1), over=1.0) == [[0], [1]]


@pytest.mark.parametrize(("far", "shared"), [(None, [[0], [1]]), (0.5, [[0, 1]])])
def test_what_waits_too_long_shares_a_panel_only_where_offcuts_may_go_far(far, shared):
    parts = [moved(0, 12.0, "left"), moved(1, 12.0, "right")]
    assert panels(parts, rising(0, 9), far=far) == shared


def test_of_two_that_fit_the_sooner_is_taken():
    parts = [moved(0, 12.0, "left"), moved(1, 12.0, "right"), moved(2, 12.0, "right")]
    assert panels(parts, rising(0, 5, 1)) == [[0, 2], [1]]
