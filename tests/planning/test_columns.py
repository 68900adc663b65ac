"""Columns of several widths, worked out on paper; four faces of 12 courses, corners in turn.

48 runs with a corner piece each. A panel covers 36 in, less 1/8 in for each cut between two parts.
"""

import exact
import pytest
from shapely.geometry import box

from dxf2veneer.model import Edge
from dxf2veneer.planning.cutting_stock.bounds import job_bounds
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.search import cheapest_plan
from dxf2veneer.planning.sizes import LayingSizes


def sizes(kerf):
    return LayingSizes(
        panel=36.0, corner=36.0, kerf=kerf, stagger=8.0, least=8.0, unequal=1.0, vary=1.0,
        cut=3.6, strip=2.0, height=8.0,
    )  # fmt: skip


def faces(width):
    """The faces' runs: courses alternate between a left-hand and a right-hand corner piece."""

    def run(face, i):
        ends = ("corner", "plain") if (i + face) % 2 else ("plain", "corner")
        edges = [Edge(side, x, 0, 96, "outside") for side, x in (("left", 0), ("right", width))]
        ground = box(0, 8 * i, width, 8 * i + 8)
        return Run(f"W{face}", i, 0.0, float(width), *ends, ground, *edges, turn=i + face)

    return [[[run(face, i)] for i in range(12)] for face in range(4)]


@pytest.mark.parametrize("kerf", [0.0, 0.125])
@pytest.mark.parametrize(
    ("width", "least", "most"),
    [
        (16, 24, 24),  # corner pieces alone (L12): 16 + 16 a panel
        (17, 23, 24),  # 17 + 17 a panel; by length 816 / 36 = 22.7
        (20, 27, 32),  # 960 / 36 = 26.7; pieces of 20 alone would take 48
        (24, 32, 36),  # 1152 / 36 = 32; alone 48
        (27, 36, 42),  # 1296 / 36 = 36; alone 48
    ],
)
def test_a_column_takes_no_panel_a_piece_where_corner_and_flat_save_it(width, least, most, kerf):
    walls = faces(width)
    plan = cheapest_plan(walls, sizes(kerf), within_walls=False)
    assert plan.broken == 0
    assert least <= len(plan.units) <= most
    runs = [run for courses in walls for course in courses for run in course]
    assert job_bounds(runs, exact.Rules(kerf=kerf)).total <= len(plan.units)
    if width == 16:
        assert {one.lengths for one in plan.laid} == {(16.0,)}
