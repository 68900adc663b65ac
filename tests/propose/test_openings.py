"""Openings: the outermost of nested frames, whatever is drawn in them or beside them."""

import itertools

import numpy as np
import pytest
from drawn_sheets import box as box_of_sheet
from drawn_sheets import facade, scene, sheet
from facades import box, framed, rounded
from shapely.geometry import Polygon

from dxf2veneer.propose.openings import Setting, find_openings, kind_of
from dxf2veneer.propose.proposing import proposal_of

WALL = box(0, 0, 12, 5)


def found(lines):
    chosen = find_openings(np.array(lines, float), np.empty(0, dtype=object), metre=1.0)
    return sorted(rounded(c.polygon) for c in chosen)


@pytest.mark.parametrize(
    "inside",
    [
        [],
        [(2.08, 1.08, 3.12, 2.22), (2.08, 2.22, 3.12, 1.08)],  # crossed diagonals
        [(2.6, 1.08, 2.6, 2.22), (2.08, 1.6, 3.12, 1.6)],  # glazing bars
        [(2.08, 1.65, 3.12, 2.22), (2.08, 1.65, 3.12, 1.08)],  # swing lines
        box(2.14, 1.14, 3.06, 2.16),  # a sash
    ],
)
def test_a_window_is_its_outermost_frame(inside):
    assert found([*WALL, *framed(2, 1, 3.2, 2.3), *inside]) == [(2, 1, 3.2, 2.3)]


def test_shutters_and_sills_are_outside():
    """
    |=| +-----+ |=|
    |=| |  w  | |=|     shutters 0.4 wide with louvres at both sides, a sill below
    |=| +-----+ |=|
       =========
    """
    lines = [*WALL, *framed(2, 1, 3.2, 2.3), *box(1.95, 0.94, 3.25, 1)]
    for x in (1.58, 3.22):
        lines += [*box(x, 1, x + 0.4, 2.3), *[(x, y, x + 0.4, y) for y in np.arange(1.1, 2.3, 0.1)]]
    assert found(lines) == [(2, 1, 3.2, 2.3)]


def test_a_round_head_is_kept():
    turn = np.linspace(0, np.pi, 25)
    lines = [*WALL]
    for inset in (0.0, 0.08):
        r = 0.6 - inset
        arc = np.stack([3 + r * np.cos(turn), 2 + r * np.sin(turn)], 1)
        lines += [(*a, *b) for a, b in itertools.pairwise(arc)]
        lines += [
            (3 - r, 1 + inset, 3 - r, 2),
            (3 + r, 1 + inset, 3 + r, 2),
            (3 - r, 1 + inset, 3 + r, 1 + inset),
        ]
    assert found(lines) == [(2.4, 1, 3.6, 2.6)]


def test_boards_and_stones_are_none():
    courses = [(0, y, 12, y) for y in (0.5, 1.0, 1.5, 2.0, 2.5)]
    joints = [
        (x + 0.4 * (k % 2), y, x + 0.4 * (k % 2), y + 0.5)
        for k, y in enumerate((0.5, 1.0, 1.5, 2.0))
        for x in np.arange(0.5, 11.5, 0.9)
    ]
    assert found([*WALL, *courses, *joints]) == []


def test_a_frame_among_boards_is_found():
    boards = [
        line
        for y in np.arange(0.15, 5, 0.15)
        for line in ([(0, y, 2, y), (3.2, y, 12, y)] if 1 < y < 2.3 else [(0, y, 12, y)])
    ]
    assert found([*WALL, *boards, *framed(2, 1, 3.2, 2.3)]) == [(2, 1, 3.2, 2.3)]


@pytest.mark.parametrize(
    ("size", "kind"),
    [
        ((1.2, 1.3), "window"),
        ((0.9, 2.05), "door"),
        ((2.4, 2.1), "garage"),
        ((4.9, 2.2), "garage"),
        ((0.3, 0.3), "vent"),
    ],
)
def test_kinds_go_by_size(size, kind):
    import shapely

    assert kind_of(shapely.box(0, 0, *size), metre=1.0) == kind


def arch(x0, x1, y, rise, count=16):
    """The chords of a curved head from (x0, y) to (x1, y)."""
    half = (x1 - x0) / 2
    radius = (half**2 + rise**2) / (2 * rise)
    turn = np.arcsin(half / radius)
    angle = np.linspace(np.pi / 2 + turn, np.pi / 2 - turn, count + 1)
    points = np.stack(
        [x0 + half + radius * np.cos(angle), y + rise - radius + radius * np.sin(angle)], 1
    )
    return [(*a, *b) for a, b in itertools.pairwise(points)]


def test_an_arched_frame_with_a_bar_at_its_springing_is_one():
    """
      .-----.
    .' .---. '.     the bar parts what is in the frame; battens end on its outline all round,
    |  |---|  |     so that no end of its jambs is free
    |  +---+  |
    +---------+
    """
    lines = [*WALL, (2, 1, 3.4, 1), (2, 1, 2, 2), (3.4, 1, 3.4, 2), *arch(2, 3.4, 2, 0.5)]
    lines += [(2.1, 1.1, 3.3, 1.1), (2.1, 1.1, 2.1, 2), (3.3, 1.1, 3.3, 2)]
    lines += [*arch(2.1, 3.3, 2, 0.4), (2.1, 2, 3.3, 2), (2.7, 1.1, 2.7, 2)]
    lines += [(x, y, x, 1) for x, y in ((2, 0), (2.7, 0), (3.4, 0))]
    lines += [(2, 2, 2, 5), (3.4, 2, 3.4, 5)]
    assert found(lines) == [(2, 1, 3.4, 2.5)]


def test_a_tree_before_a_window_hides_nothing():
    """
    +--------/--+
    | +-----/-+ |    a trunk and a leader's line run through frame and panes
    | |    /  | |
    | +---/---+ |
    +----/------+
    """
    lines = [*WALL, *framed(2, 1, 3.2, 2.3), (2.6, 1.08, 2.6, 2.22)]
    lines += [(2.3, 0, 2.5, 1.5), (2.5, 1.5, 2.4, 3), (1, 2, 3.5, 1.2), (1.8, 0.8, 2.9, 2.6)]
    assert found(lines) == [(2, 1, 3.2, 2.3)]


def test_a_frame_that_stands_on_a_step_is_whole():
    """
      +-------+         the jambs of frame and leaf end on the step, the outer ones are overdrawn
      | +---+ |         at the head
      | |   | |
    +-+-+---+-+-+
    """
    lines = [*WALL, (2, 0.3, 2, 2.62), (3.1, 0.3, 3.1, 2.6), (1.98, 2.6, 3.1, 2.6)]
    lines += [(2.1, 0.3, 2.1, 2.5), (3, 0.3, 3, 2.5), (2.1, 2.5, 3, 2.5)]
    lines += box(1.8, 0, 3.3, 0.3)
    assert found(lines) == [(2, 0.3, 3.1, 2.6)]


def test_a_frame_drawn_double_closes_where_its_lines_miss_each_other():
    """The head is drawn twice and ends 4 mm before the right jamb, whose top it misses."""
    lines = [*WALL, (2, 1, 3.2, 1), (2, 1, 2, 2.3), (3.2, 1, 3.2, 2.297)]
    lines += [(2, 2.3, 3.196, 2.3), (3.196, 2.3, 2, 2.3), *box(2.1, 1.1, 3.1, 2.2)]
    assert found(lines) == [(2, 1, 3.2, 2.3)]


def test_the_front_of_a_dormer_is_no_frame_of_its_window():
    """
      .-----.       the window stands far from the sides of what is round it
     /       \\
    |   [=]   |
    +---------+
    """
    front = [(3, 5, 3, 6), (5, 5, 5, 6), (3, 6, 4, 6.6), (5, 6, 4, 6.6), (3, 5, 5, 5)]
    assert found([*WALL, *front, *framed(3.5, 5.2, 4.5, 6)]) == [(3.5, 5.2, 4.5, 6)]


def bare(openings, courses, joints, wall=(0, 0, 14, 6)):
    """A wall of slabs whose openings are jambs, and heads and sills that run on to the next."""
    x0, y0, x1, y1 = wall
    lines = list(box(*wall))
    for y in courses:
        at = [x0, *(x for a, b, c, d in sorted(openings) if b < y < d for x in (a, c)), x1]
        lines += [(a, y, b, y) for a, b in zip(at[::2], at[1::2], strict=True)]
    for x in joints:
        at = [y0, *(y for a, b, c, d in sorted(openings) if a < x < c for y in (b, d)), y1]
        lines += [(x, a, x, b) for a, b in zip(at[::2], at[1::2], strict=True)]
    for a, b, c, d in openings:
        lines += [(a, b, a, d), (c, b, c, d), (x0, b, x1, b), (x0, d, x1, d)]
    return lines


@pytest.mark.parametrize(
    ("courses", "joints"),
    [
        ((1.4, 2.8, 4.2), ()),  # one course ends at each window and goes on behind it
        ((), (1.3, 2.6, 3.9, 5.2, 6.5, 7.8, 9.1, 10.4, 11.7, 13)),  # joints end on head and sill
    ],
)
def test_openings_that_only_part_the_cladding(courses, joints):
    """
    ---+-----+---------+-----+---     heads and sills run on from window to window; what is
       |     |         |     |        between two windows has its cladding
    ---|     |---------|     |---
    ---+-----+---------+-----+---
    """
    openings = [(2, 2, 3.2, 3.5), (6, 2, 7.4, 3.5), (11, 2, 12.2, 3.5)]
    assert found(bare(openings, courses, joints)) == openings


def test_slabs_in_bond_are_no_openings():
    """Joints that take turns from course to course run past none."""
    courses = [(0, y, 14, y) for y in (1.2, 2.4, 3.6, 4.8)]
    joints = [
        (x + 1.1 * (k % 2), y, x + 1.1 * (k % 2), y + 1.2)
        for k, y in enumerate((0, 1.2, 2.4, 3.6, 4.8))
        for x in (1.3, 3.5, 5.7, 7.9, 10.1, 12.3)
    ]
    assert found([*box(0, 0, 14, 6), *courses, *joints]) == []


def test_a_rail_and_a_course_through_a_door_hide_nothing():
    """
      +-------+
      | +---+ |
    ==============     a rail of two lines runs through frame and leaf
      | |   | |
    --+-+---+-+---
    """
    lines = [*WALL, *box(2, 1, 3.1, 3.2), (2.1, 1, 2.1, 3.1), (3, 1, 3, 3.1), (2.1, 3.1, 3, 3.1)]
    lines += [(1.5, 1, 3.6, 1), (1.5, 2, 3.6, 2), (1.5, 2.06, 3.6, 2.06)]
    assert found(lines) == [(2, 1, 3.1, 3.2)]


def test_room_between_a_frame_and_its_shutters_is_outside():
    """
    |=|.+---+.|=|
    |=|.| w |.|=|      shutters stand 20 mm beside the frame, head and sill lines run past both
    |=|.+---+.|=|
    """
    lines = [*WALL, *framed(2, 1, 3.2, 2.3), (1, 1, 4.2, 1), (1, 2.3, 4.2, 2.3)]
    for x in (1.4, 3.22):
        lines += [*box(x, 1, x + 0.58, 2.3), *box(x + 0.04, 1.06, x + 0.54, 2.24)]
    assert found(lines) == [(2, 1, 3.2, 2.3)]


def test_cladding_between_two_posts_is_no_opening():
    """
    ----+-+-----+-+----     boards end at the posts and go on behind them
    ----| |-----| |----
    ----+-+-----+-+----
    """
    lines = [*WALL, *box(3, 0, 3.2, 2.4), *box(5, 0, 5.2, 2.4), (2.5, 2.4, 6, 2.4)]
    for y in np.arange(0.2, 2.4, 0.2):
        lines += [(0, y, 3, y), (3.2, y, 5, y), (5.2, y, 12, y)]
    lines += [(0, y, 12, y) for y in np.arange(2.6, 5, 0.2)]
    assert found(lines) == []


def test_panels_make_one_garage_door():
    """
    +-----------+
    | [] [] []  |     panels of which a trunk before the door frames one; no frame round all
    | [] [] [/] |
    +-----------+
    """
    lines = [*WALL, *box(2, 0, 4.4, 2.2)]
    for x in (2.1, 2.9, 3.7):
        for y in (0.1, 0.8, 1.5):
            lines += box(x, y, x + 0.6, y + 0.6)
    lines += box(3.75, 0.85, 4.25, 1.35)
    assert found(lines) == [(2, 0, 4.4, 2.2)]


def test_a_wheel_is_none():
    turn = np.linspace(0, 2 * np.pi, 33)
    rim = np.stack([3 + 0.32 * np.cos(turn), 0.32 + 0.32 * np.sin(turn)], 1)
    wheel = [(*a, *b) for a, b in itertools.pairwise(rim)]
    assert found([*WALL, *wheel, (2.9, 0.32, 3.1, 0.32)]) == []


def test_a_leaf_braced_from_corner_to_corner_is_an_opening_under_a_track_and_on_the_ground():
    r"""
      ==================   track 0.1 deep
         |\  /|            leaf 2.5 wide, 2.7 high: no frame, its sides are no free corners
         | \/ |
         | /\ |
    -----+/--\+--------
    """
    lines = [*WALL, (-2, 0, 14, 0), *box(3, 0, 5.5, 2.7), *box(2.8, 2.7, 8, 2.8)]
    braces = [(3, 0, 5.5, 2.7), (3, 2.7, 5.5, 0)]
    assert (3, 0, 5.5, 2.7) in found([*lines, *braces])
    assert (3, 0, 5.5, 2.7) not in found([*lines, braces[0]])


def test_what_only_a_hatch_fills_is_stone_and_no_window():
    """Two piers under the wall's edge are hatched as stone, a window's pane as glass."""
    document, space = sheet(units=4)
    facade(space, 0, 0)
    piers = [(2100, 300, 2600, 1300), (5000, 300, 5500, 1300)]

    def hatched(x0, y0, x1, y1, pattern):
        hatch = space.add_hatch()
        hatch.set_pattern_fill(pattern, scale=20)
        hatch.paths.add_polyline_path([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], is_closed=True)

    for x0, y0, x1, y1 in piers:
        box_of_sheet(space, x0, y0, x1, y1)
    boxes = {rounded(Polygon(o.outline)) for o in proposal_of(scene(document)).openings}
    assert set(piers) <= boxes  # outlines of a window's size, and nothing more is known
    for pier in piers:
        hatched(*pier, "BRSTONE")
    boxes = {rounded(Polygon(o.outline)) for o in proposal_of(scene(document)).openings}
    assert boxes
    assert not boxes & set(piers)


@pytest.mark.parametrize(("above", "kind"), [(0.0, "garage"), (0.05, "garage"), (0.45, "window")])
def test_no_car_drives_over_the_wall_under_a_shop_window(above, kind):
    assert (
        kind_of(
            Polygon([(0, 0), (3.8, 0), (3.8, 2.4), (0, 2.4)]),
            setting=Setting(above=above),
            metre=1.0,
        )
        == kind
    )


def test_a_shop_window_over_a_low_wall_is_proposed_as_a_window():
    #  a storey of 8000 with a garage door on the ground and glass of the same size 450 over it
    document, space = sheet(units=4)
    facade(space, 0, 0, width=14000)
    for x, y in ((5000, 0), (9000, 450)):
        box_of_sheet(space, x, y, x + 2800, y + 2200)
        box_of_sheet(space, x + 100, y + (100 if y else 0), x + 2700, y + 2100)
    kinds = {o.outline[0][0]: o.kind for o in proposal_of(scene(document)).openings}
    assert (kinds[5000.0], kinds[9000.0]) == ("garage", "window")


@pytest.mark.parametrize("transom", [False, True])
@pytest.mark.parametrize("wide", [3.0, 7.6])
def test_the_glass_of_a_shop_is_one_opening_by_its_lites(wide, transom):
    """
    +---------------------+  3.2
    | +----+ +----+ +----+|
    | +----+ +----+ +----+|     a transom over each lite, bars 0.1 wide
    | |    | |    | |    ||
    | +----+ +----+ +----+|
    +---------------------+  0.4
    """
    lines = [*box(0, 0, 14, 6), *box(2, 0.4, 2 + wide, 3.2)]
    step = wide / 4
    for k in range(4):
        x0, x1 = 2.05 + k * step, 1.95 + (k + 1) * step
        lines += box(x0, 0.45, x1, 2.35) + box(x0, 2.4, x1, 3.15) if transom else []
        lines += [] if transom else box(x0, 0.45, x1, 3.15)
    assert found(lines) == [(2, 0.4, round(2 + wide, 2), 3.2)]


@pytest.mark.parametrize(
    ("foot", "bottom"),
    [(0, 0), (150, 0), (300, 300)],  # flush; over an apron of 6 in; up two steps, drawn or not
)
def test_a_door_over_a_threshold_goes_down_to_the_foot_of_its_wall(foot, bottom):
    document, space = sheet(units=4)
    facade(space, 0, 0, width=14000)
    box_of_sheet(space, 6000, foot, 7000, foot + 2100)
    box_of_sheet(space, 6080, foot, 6920, foot + 2020)
    box_of_sheet(space, 8000, 150, 9000, 1150)  # a window as low keeps its sill
    box_of_sheet(space, 8080, 230, 8920, 1070)
    boxes = {o.outline[0][0]: rounded(Polygon(o.outline)) for o in _openings(document)}
    assert boxes[6000.0] == (6000, bottom, 7000, foot + 2100)
    assert boxes[8000.0] == (8000, 150, 9000, 1150)


def _openings(document):
    return proposal_of(scene(document)).openings
