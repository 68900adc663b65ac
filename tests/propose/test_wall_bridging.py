"""Corners that the end of a cap interrupts."""

from facades import box, proposed, rounded


def test_a_low_plinth_under_a_cap_stands_on_the_ground():
    """
      |         |      corners from y 0.6 up
     ++---------++     cap, y 0.5 to 0.6, 0.05 past both corners; its upper line is not drawn there
      |         |      corners up to y 0.5: lower than any corner
    --+---------+--
    """
    lines = [(-3, 0, 9, 0), *box(-0.4, 3, 6.4, 3.25)]
    for x, out in ((0, -0.05), (6, 6.05)):
        lines += [(x, 0, x, 0.5), (x, 0.6, x, 3)]
        lines += [(out, 0.5, out, 0.6), (x, 0.6, out, 0.6)]
    lines += [(-0.05, 0.5, 6.05, 0.5)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 6, 3)]
