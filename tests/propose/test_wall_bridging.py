"""Corners that the end of a cap interrupts."""

from facades import box, framed, proposed, rounded


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


def test_a_belt_over_the_corner_of_a_block_leaves_the_wing_beside_it_a_wall_of_its_own():
    """
    ===============
     |           |          block to y 5, its right corner ends at the belt, y 2 to 2.07
     |           |=======   wing to y 3
     +------+-----+    |    the belt stands out 0.03 past that corner and is drawn in two pieces
     +------+-----+    |
     |           |     |
    -+-----------+-----+-
     0      3    6     9
    """
    lines = [(-3, 0, 12, 0), *box(-0.4, 5, 6.4, 5.2), *box(6, 3, 9.4, 3.2), (9, 0, 9, 3)]
    lines += [(0, 0, 0, 5), (6, 0, 6, 2), (6, 2.07, 6, 5), (6.03, 2, 6.03, 2.07)]
    lines += [(x0, y, x1, y) for x0, x1 in ((0, 3), (3, 6.03)) for y in (2, 2.07)]
    lines += [*framed(1, 0.8, 2, 1.6), *framed(7, 0.8, 8, 1.8)]
    walls, _ = proposed(lines)
    *block, wing = [rounded(w) for w in walls]
    assert wing == (6, 0, 9, 3)
    assert max(x1 for _, _, x1, _ in block) == 6
