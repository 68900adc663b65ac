"""Which sides of walls in different views are proposed as one corner: those that can be no other.

 view S          view E           seen from the south and from the east the house shows one
.------.       .---------.        corner twice, the right side of S and the left side of E;
|  W1  |       |   W2    |        heights alone say so only where the other sides differ
'------'       '---------'
"""

from dxf2veneer.propose.corners import corners_of
from dxf2veneer.propose.proposal import ProposedWall, Reason

WHY = Reason("WALL_BOUNDED", {})


def wall(name, view, x, left, right, width=8.0):
    """A wall whose left and right side have these heights."""
    outline = ((x, 0.0), (x + width, 0.0), (x + width, right), (x, left))
    return ProposedWall(name, view, outline, 0.9, WHY)


def pairs(*walls):
    return [c.edges for c in corners_of(walls, metre=1.0) if len(c.edges) == 2]


def alone(*walls):
    return sorted(c.edges[0] for c in corners_of(walls, metre=1.0) if len(c.edges) == 1)


def test_sides_of_one_height_in_two_views_are_one_corner():
    one, two = wall("W1", "V1", 0, 3.0, 4.0), wall("W2", "V2", 20, 4.0, 5.0)
    assert pairs(one, two) == [(("W1", "right"), ("W2", "left"))]
    assert alone(one, two) == [("W1", "left"), ("W2", "right")]


def test_two_views_never_meet_at_both_of_their_sides():
    """Four sides of one height: the views share one corner, and heights don't say which."""
    one, two = wall("W1", "V1", 0, 4.0, 4.0), wall("W2", "V2", 20, 4.0, 4.0)
    assert pairs(one, two) == []
    assert len(alone(one, two)) == 4


def test_a_side_that_two_others_could_meet_is_left_to_a_person():
    one, two = wall("W1", "V1", 0, 3.0, 4.0), wall("W2", "V2", 20, 3.5, 4.0)
    three = wall("W3", "V3", 40, 4.0, 5.0)
    assert pairs(one, two, three) == []
    assert ("W3", "left") in alone(one, two, three)


def test_sides_of_one_view_are_no_corner():
    assert pairs(wall("W1", "V1", 0, 3.0, 4.0), wall("W2", "V1", 20, 4.0, 5.0)) == []


def test_heights_that_differ_by_more_than_a_slip_are_no_corner():
    assert pairs(wall("W1", "V1", 0, 3.0, 4.0), wall("W2", "V2", 20, 4.2, 5.0)) == []
