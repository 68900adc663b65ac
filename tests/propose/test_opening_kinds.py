"""Kinds by where an opening stands and by what parts it."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from facades import box, framed, rounded

from dxf2veneer.propose.lines.runs import runs_of
from dxf2veneer.propose.openings import find_openings, kind_of, kinds_of, setting_of

GAP = 0.008
NONE = np.empty(0, dtype=object)


def dial(x, y, radius):
    """A circle of 24 chords."""
    at = np.linspace(0.0, 2.0 * np.pi, 25)
    points = np.stack([x + radius * np.cos(at), y + radius * np.sin(at)], axis=1)
    return [(*a, *b) for a, b in pairwise(points)]


def _kind(lines, opening, above):
    runs = runs_of(np.array(lines, float), gap=GAP)
    outline = shapely.box(*opening)
    return kind_of(outline, setting=setting_of(outline, above, runs, metre=1.0), metre=1.0)


@pytest.mark.parametrize(
    ("above", "kind"), [(0.0, "door"), (0.15, "door"), (0.55, "door"), (0.9, "window")]
)
def test_a_door_stands_at_grade_or_up_a_few_risers(above, kind):
    """0.9 x 2.1; three risers of 0.18 are 0.54, the sill of a tall window is at 0.9."""
    foot = 10.0 + above
    assert _kind(box(0, 10, 20, 16), (3, foot, 3.9, foot + 2.1), above) == kind


@pytest.mark.parametrize(
    ("slab", "kind"),
    [
        ((2.0, 13.0, 5.0, 13.0), "door"),  # a balcony, 1.0 and 1.1 beyond the jambs
        ((2.9, 13.0, 4.0, 13.0), "window"),  # a sill, 0.1 beyond them
        ((-5.0, 13.0, 25.0, 13.0), "window"),  # a band course, right across
        ((2.0, 12.0, 5.0, 12.0), "window"),  # a metre too low
    ],
)
def test_a_door_high_up_stands_on_a_balcony(slab, kind):
    assert _kind([*box(0, 10, 20, 16), slab], (3, 13, 3.9, 15.1), 3.0) == kind


@pytest.mark.parametrize(("rows", "kind"), [(6, "window"), (2, "door")])
def test_courses_under_a_tall_window_are_no_balcony(rows, kind):
    """
    |  +----+  |      glass 1.0 x 2.1, its sill 1.5 up, between the sides of a wall 2.6 wide
    |  +----+  |
    |==========|      lines 0.2 apart from side to side, the uppermost 0.1 under the sill: courses
    |==========|      where there are many, the slab of a balcony where there are two
    """
    opening = (0.6, 11.5, 1.6, 13.6)
    courses = [(-0.2, 11.4 - 0.2 * i, 2.4, 11.4 - 0.2 * i) for i in range(rows)]
    shell = [(-0.2, 10, -0.2, 16), (2.4, 10, 2.4, 16)]
    assert _kind([*shell, *box(*opening), *courses], opening, 1.5) == kind


def test_glass_parted_by_mullions_is_a_door_and_one_of_sections_a_garage_door():
    """
    +---+---+---+    3.6 x 2.9: mullions from foot to head, in two pieces at a transom; or four
    |   |   |   |    sections with joints from jamb to jamb
    """
    shell, opening = box(0, 0, 20, 6), (5, 0, 8.6, 2.9)
    mullions = [(x, a, x, b) for x in (6.2, 7.4) for a, b in ((0.06, 2.2), (2.25, 2.84))]
    sections = [(5, y, 8.6, y) for y in (0.725, 1.45, 2.175)]
    panels = [(x, a, x, a + 0.5) for x in (5.9, 6.8, 7.7) for a in (0.1, 0.8, 1.6, 2.3)]
    assert _kind([*shell, *box(*opening), *mullions], opening, 0.0) == "door"
    assert _kind([*shell, *box(*opening), *sections, *panels], opening, 0.0) == "garage"
    assert _kind([*shell, *box(*opening)], opening, 0.0) == "garage"


@pytest.mark.parametrize(
    ("parts", "kind"),
    [
        ([(1.0, 0, 4.6, 0.8), (1.0, 0.8, 4.6, 4)], "window"),  # the cap is all of a base of stone
        ([(1.0, 0, 4.6, 4)], "door"),  # nothing changes there: a balcony's edge
    ],
)
def test_the_cap_of_a_wainscot_is_no_balcony(parts, kind):
    """
    |  +----+  |      glass 2.6 x 2.2, its sill 0.9 above the ground and 0.1 above a line from 1.0
    |  |    |  |      to 4.6 between two piers
    |__+----+__|
    |==========|      y 0.8
    1.0      4.6
    """
    glass, line = shapely.box(1.5, 0.9, 4.1, 3.1), (1.0, 0.8, 4.6, 0.8)
    walls = [shapely.box(*part) for part in parts]
    runs = runs_of(np.array([*box(1, 0, 4.6, 4), *box(*glass.bounds), line], float), gap=GAP)
    assert kinds_of([glass], walls, runs, metre=1.0) == [kind]


def test_the_parts_of_one_wall_have_one_foot():
    """A garage door that begins 0.1 above the ground reaches from the wainscot (0 to 0.9) into the
    boards, which have most of it: it is no window over a sill."""
    door = shapely.box(2, 0.1, 7, 2.3)
    walls = [shapely.box(0, 0.9, 9, 4), shapely.box(0, 0, 9, 0.9)]
    runs = runs_of(np.array([*box(0, 0, 9, 4), *box(*door.bounds)], float), gap=GAP)
    assert kinds_of([door], walls, runs, metre=1.0) == ["garage"]


def test_a_balcony_before_one_of_a_row_makes_doors_of_all():
    """Four of 1.4 x 2.4 with their feet at 3.9; the first has a balcony, the third is less high,
    the fourth hangs 0.3 higher."""
    feet = [(1, 3.9, 2.4), (5, 3.8999, 2.4), (9, 3.9, 2.1), (13, 4.2, 2.4)]
    row = [shapely.box(x, foot, x + 1.4, foot + high) for x, foot, high in feet]
    slab = (0.1, 3.9, 3.3, 3.9)
    lines = [*box(0, 0, 16, 8), slab, *(side for o in row for side in box(*o.bounds))]
    runs = runs_of(np.array(lines, float), gap=GAP)
    wall = [shapely.box(0, 0, 16, 8)]
    assert kinds_of(row, wall, runs, metre=1.0) == ["door", "door", "window", "window"]


@pytest.mark.parametrize(
    ("framed_too", "inside", "is_opening"),
    [
        (True, [], False),  # a meter's box beside a window with a frame
        (True, dial(4.7, 1.25, 0.1), False),  # with its dial
        (
            True,
            [(4.53, y, 4.87, y) for y in (1.05, 1.15, 1.25, 1.35, 1.45)],
            True,
        ),  # a vent with slats
        (False, [], True),  # nobody drew frames here: it may be a vent
    ],
)
def test_a_small_bare_box_beside_framed_windows_is_a_meter_s(framed_too, inside, is_opening):
    """
    =================   boards 0.1 apart that end at the box, 4.5-4.9 x 1-1.5, and at three
    ==+--+====+-+====   windows of 1.2 x 1.2, with frames or without
    ==+--+====+-+====
    """
    lines = [*box(0, 0, 8, 3), *box(4.5, 1, 4.9, 1.5), *inside]
    for x in (1, 2.5, 6):
        lines += framed(x, 1, x + 1.2, 2.2) if framed_too else box(x, 1, x + 1.2, 2.2)
    for k in range(1, 30):
        y = k / 10
        holes = [(1, 2.2), (2.5, 3.7), (6, 7.2)] if 1 < y < 2.2 else []
        holes += [(4.5, 4.9)] if 1 < y < 1.5 else []
        xs = [0, *(x for hole in sorted(holes) for x in hole), 8]
        lines += [(a, y, b, y) for a, b in zip(xs[::2], xs[1::2], strict=True)]
    boxes = {rounded(c.polygon) for c in find_openings(np.array(lines, float), NONE, metre=1.0)}
    assert ((4.5, 1, 4.9, 1.5) in boxes) == is_opening
    assert (1, 1, 2.2, 2.2) in boxes


@pytest.mark.parametrize(
    ("foot", "wide", "expected"),
    [(0.3, 2.4, "door"), (0.7, 2.7, "door"), (0.7, 1.0, "door"), (0.9, 2.7, "window")],
)
def test_a_terrace_door_stands_up_to_four_risers_over_the_grade(foot, wide, expected):
    #  2.15 high, two sliding leaves beside each other; the grade falls away from the house
    opening = shapely.box(3, foot, 3 + wide, foot + 2.15)
    lines = [*box(0, 0, 9, 4), *box(*opening.bounds)]
    lines += [(3 + wide / 2, foot, 3 + wide / 2, foot + 2.15)]
    runs = runs_of(np.array(lines, float), gap=GAP)
    assert kinds_of([opening], [shapely.box(0, 0, 9, 4)], runs, metre=1.0) == [expected]
