"""Openings: the outermost of nested frames, whatever is drawn in them or beside them."""

import itertools

import numpy as np
import pytest
from facades import box, framed, rounded

from dxf2veneer.propose.openings import find_openings, kind_of

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
