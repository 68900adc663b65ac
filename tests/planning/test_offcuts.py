"""Offcuts that may serve other walls never make the job dearer than offcuts that stay on their
wall.

Whatever is laid with each wall by itself is also a plan of the job; the numbers are this project's
own.
"""

import pytest
from builders import JOB, drawing
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.product import load_product
from dxf2veneer.recognise import recognise

PRODUCT = load_product()


def price(sizes, offcuts):
    """What a job of plain walls side by side costs in panels: those bought, and a tenth for each
    crosscut."""
    job = with_settings(JOB, plan__offcuts=offcuts, plan__cuts_per_panel=10.0)
    walls = [(500.0 * i, 0.0, 500.0 * i + width, height) for i, (width, height) in enumerate(sizes)]
    found = recognise([drawing(wall=walls)], job)
    plan = lay_out(found.walls, found.corners, job, PRODUCT).plan
    return plan.flat.units + plan.corner.units + plan.cuts / 10.0


@pytest.mark.parametrize(
    ("count", "size"), [(2, (200.0, 100.0)), (3, (200.0, 100.0)), (4, (200.0, 96.0))]
)
def test_equal_walls_together_cost_no_more_than_each_alone(count, size):
    assert price([size] * count, "job") <= count * price([size], "job")


@settings(max_examples=12)
@given(st.lists(st.tuples(st.integers(3, 25), st.integers(1, 9)), min_size=2, max_size=3))
def test_offcuts_for_the_job_are_never_dearer_than_offcuts_for_the_wall(grid):
    sizes = [(12.0 * width + 1.0, 12.0 * height) for width, height in grid]
    assert price(sizes, "job") <= price(sizes, "wall") + 1e-9
