"""Houses of a row, parted by the lines between them."""

import pytest
from facades import framed, proposed, rounded


def row(*middles, low=0.0):
    """A row 15 wide on the ground with the roof's side lines as long as its walls': fascia at y 5
    to 5.2, ridge at 7.5; lines between its houses from a height up.

    +-----+-----+-----+   y 7.5
    |     |     |     |
    +-----+-----+-----+   y 5 to 5.2
    |  o  |  o  |  o  |
    +-----+-----+-----+
    0     5    10     15
    """
    lines = [(-3, 0, 18, 0), *((0, y, 15, y) for y in (5, 5.2, 7.5))]
    lines += [(0, 0, 0, 7.5), (15, 0, 15, 7.5), *((x, low, x, 7.5) for x in middles)]
    return [*lines, *(line for x in (1, 6, 11) for line in framed(x, 1, x + 1.2, 2.4))]


def test_the_lines_between_the_houses_of_a_row_part_its_wall():
    walls, _ = proposed(row(5, 10))
    assert [rounded(w) for w in walls] == [(0, 0, 5, 5), (5, 0, 10, 5), (10, 0, 15, 5)]


@pytest.mark.parametrize("lines", [row(5, 5.1, 10, 10.1), row(5, 10, low=5.2)])
def test_pipes_and_the_seams_of_a_roof_part_no_wall(lines):
    """Two lines 0.1 apart are a pipe; lines that begin on the fascia are the roof's."""
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 15, 5)]
