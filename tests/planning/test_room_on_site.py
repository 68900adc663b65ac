"""Plans with room for edges that are off: what is said to hold does, in every corner (rule L27).

The oracle is a linear program written from the rules alone. Every upright that pieces end at is off
by the tolerance, in or out. In each course a row may move; end pieces take up the difference. All
runs that are said to hold have to do at once with pieces of 8 in at least, joints 8 in apart, and
panels with room for their parts and the saw.
"""

from __future__ import annotations

import itertools
import random
from collections import defaultdict
from itertools import pairwise

import numpy as np
import pytest
from builders import drawing, job, line, write_dxf
from houses import house
from scipy.optimize import linprog

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.verify.tolerance import tolerance_of

OFF, PANEL, LEAST, STAGGER, KERF = 0.5, 36.0, 8.0, 8.0, 0.125
ROUNDING = 2e-3


def runs_of(walls):
    """The rows of pieces that touch one another: wall, course, and pieces from the left."""
    for wall in walls:
        by_course = defaultdict(list)
        for piece in wall.courses.pieces:
            by_course[piece.course].append(piece)
        for course, pieces in sorted(by_course.items()):
            row = []
            for piece in sorted(pieces, key=lambda p: p.x0):
                if row and piece.x0 - row[-1].x1 > 0.01:
                    yield wall.wall.id, course, row
                    row = []
                row.append(piece)
            yield wall.wall.id, course, row


class Program:
    """What all runs that are said to hold need, with the uprights off by so much."""

    def __init__(self, runs, held, errors) -> None:
        self.runs, self.held = runs, held
        self.rows, self.limits = [], []
        self.off = [
            (-errors[wall, round(row[0].x0, 2)], errors[wall, round(row[-1].x1, 2)])
            for wall, _, row in runs
        ]
        self.pieces()
        self.joints()

    def at_most(self, terms, limit: float) -> None:
        """The moves of rows, each times a factor, come to so much at most."""
        self.rows.append([terms.get(k, 0.0) for k in range(len(self.runs))])
        self.limits.append(limit + ROUNDING)

    def changes(self, k: int, row):
        """By how much each piece gets longer: for the errors, and for each inch the row moves."""
        (dl, dr), flats = self.off[k], [p for p in row if p.unit == "flat"]
        found = {id(piece): (0.0, 0.0) for piece in row}
        if len(flats) == 1:
            return found | {id(flats[0]): (dl + dr, 0.0)}
        return found | {id(flats[0]): (dl, 1.0), id(flats[-1]): (dr, -1.0)}

    def pieces(self) -> None:
        """Pieces are long enough, and fit into their panels; other runs take no more than drawn."""
        panels = defaultdict(list)
        for k, (_, _, row) in enumerate(self.runs):
            changes = self.changes(k, row)
            for piece in row:
                fixed, by_move = changes[id(piece)] if self.held[k] else (0.0, 0.0)
                length = piece.x1 - piece.x0 + fixed
                panels[piece.stock].append((k, length, by_move))
                if self.held[k]:
                    self.at_most({k: -by_move}, length - LEAST)
        for parts in panels.values():
            terms = defaultdict(float)
            for k, _, by_move in parts:
                terms[k] += by_move
            if any(self.held[k] for k, _, _ in parts):
                lengths = sum(length for _, length, _ in parts)
                self.at_most(terms, PANEL - KERF * (len(parts) - 1) - lengths)

    def joints_of(self, k: int):
        """The joints of a run: x, how far each goes with an edge, and for each inch of the row."""
        dl, dr = self.off[k]
        for a, b in pairwise(self.runs[k][2]):
            if a.unit == "corner":
                yield a.x1, -dl, 0.0
            else:
                yield (a.x1, dr, 0.0) if b.unit == "corner" else (a.x1, 0.0, 1.0)

    def joints(self) -> None:
        """Joints of neighboring courses stand apart."""
        for (k, one), (j, other) in itertools.permutations(enumerate(self.runs), 2):
            if not (self.held[k] and self.held[j] and one[:2] == (other[0], other[1] + 1)):
                continue
            for (x, dx, s), (y, dy, t) in itertools.product(self.joints_of(k), self.joints_of(j)):
                sign = 1.0 if x > y else -1.0
                if abs(x - y) >= STAGGER - ROUNDING:
                    self.at_most({k: -sign * s, j: sign * t}, sign * (x + dx - y - dy) - STAGGER)

    @property
    def is_possible(self) -> bool:
        """Whether there is a move of every row for which all of it is so."""
        free = [(-2.0 * OFF, 2.0 * OFF)] * len(self.runs)
        rows, limits = np.array(self.rows), np.array(self.limits)
        none = np.zeros(len(self.runs))
        return not len(rows) or linprog(none, A_ub=rows, b_ub=limits, bounds=free).status == 0


@pytest.fixture(scope="module", params=range(8))
def planned(request, tmp_path_factory):
    """A wall drawn by chance, with a window and a corner now and then, laid with room."""
    chance = random.Random(request.param)
    width, courses = chance.uniform(60.0, 200.0), chance.randint(3, 6)
    height = 8.0 * courses
    marks = {}
    if request.param % 2:
        marks["outside_corner"] = [line(0, 0, 0, height)]
    if request.param % 3 == 0:
        x = chance.uniform(20.0, width - 40.0)
        marks["window"] = [(x, 8.0, x + 20.0, 24.0)]
    drawn = drawing(wall=[(0, 0, width, height)], **marks)
    path = write_dxf(drawn, tmp_path_factory.mktemp("room") / "wall.dxf")
    return take_off([path], job(plan__tolerance=OFF, courses__start=0.0))


def test_what_is_said_to_hold_does_in_every_corner_of_the_box(planned):
    runs, found = list(runs_of(planned.walls)), planned.plan.tolerance
    assert (found.off, found.runs) == (OFF, len(runs))
    fragile = {(p.wall, p.course) for p in found.places}
    held = [(wall, course) not in fragile for wall, course, _ in runs]
    ends = [(w, round(x, 2)) for w, _, row in runs for x in (row[0].x0, row[-1].x1)]
    uprights = sorted(set(ends))
    assert any(held)
    for off in itertools.product((-OFF, OFF), repeat=len(uprights)):
        assert Program(runs, held, dict(zip(uprights, off, strict=True))).is_possible


def test_a_plan_with_room_breaks_no_rule(planned):
    assert not [b for b in planned.plan.breaks if not b.forced]


def test_the_oracle_tells_a_plan_that_does_not_hold(tmp_path):
    # 72 in and more of whole panels: an inch more has no panel to come from
    path = write_dxf(drawing(wall=[(0, 0, 72, 8)]), tmp_path / "wall.dxf")
    runs = list(runs_of(take_off([path], job()).walls))
    (wall, _, row), *_ = runs
    uprights = (wall, 0.0), (wall, 72.0)
    assert len(row) == 2
    assert not Program(runs, [True], dict(zip(uprights, (-OFF, OFF), strict=True))).is_possible
    assert Program(runs, [True], dict(zip(uprights, (OFF, -OFF), strict=True))).is_possible


@pytest.fixture(scope="module", params=(1, 13))
def houses(request, tmp_path_factory):
    """A house with room for edges that are off and without, offcuts near and joints quiet; joints
    of the second one, with a bay, stand nearer by a hair of rounding than the stagger."""
    path, rules = house(request.param, tmp_path_factory.mktemp("house"))
    rules = with_settings(rules, plan__offcuts="near", plan__look="quiet")
    return [take_off([path], with_settings(rules, plan__tolerance=off)) for off in (0.0, OFF)]


def test_more_runs_of_a_house_hold_for_two_panels_in_a_hundred_at_most(houses):
    without, room = (takeoff.plan for takeoff in houses)
    assert room.room_panels == room.total - without.total <= 0.02 * without.total
    assert room.room_cuts == room.cuts - without.cuts
    assert room.look_panels == without.look_panels
    assert room.near_panels == without.near_panels
    assert room.tolerance.held > 0.45 * room.tolerance.runs
    assert not [b for b in room.breaks if not b.forced]


def test_a_tolerance_of_nothing_leaves_the_plan_as_it_is(houses):
    plan = houses[0].plan
    assert plan.tolerance is None
    assert (plan.room_panels, plan.room_cuts) == (0, 0)


def test_the_same_house_twice_gives_the_same_plan(tmp_path):
    path, rules = house(4, tmp_path)
    rules = with_settings(rules, plan__tolerance=OFF)
    one, other = (take_off([path], rules) for _ in range(2))
    assert one.walls == other.walls
    assert one.plan == other.plan


def test_each_course_of_a_pier_is_a_run_of_one_piece_with_room(tmp_path):
    # 30 in of a panel of 36: an inch more leaves 5, and four pieces share nothing
    path = write_dxf(drawing(wall=[(0, 0, 30, 32)]), tmp_path / "pier.dxf")
    found = take_off([path], job(plan__tolerance=0.5)).plan.tolerance
    assert (found.runs, found.held, found.places) == (4, 4, ())


def test_a_house_with_a_bay_gets_room_beside_pairs_that_fill_their_panels(tmp_path):
    """House 28: after two rounds of exact lengths the sides of a pair make up their panel but for
    rounding, which must not leave the program without an answer."""
    path, rules = house(28, tmp_path)
    rules = with_settings(rules, plan__look="quiet", plan__offcuts="near")
    asked = with_settings(rules, plan__tolerance=OFF)
    with_room, without = take_off([path], asked), take_off([path], rules)
    held = tolerance_of(without.walls, asked, without.product)
    assert with_room.plan.tolerance.held > held.held
    assert with_room.plan.mitres.count("kept") >= without.plan.mitres.count("kept")
