"""Jobs of column faces laid anew: joints that the rules allow, and panels that a hand count gives.

The plan of four faces alike is the hardest: what is laid on one is laid on all.
"""

import dataclasses
import itertools

import pytest
from small_walls import Face, planned_job
from test_bounds_exact import SIZES, optimum

from dxf2veneer.planning.cutting_stock.panels import cut_stock
from dxf2veneer.planning.layout import lay
from dxf2veneer.planning.relaying.faces import faces_anew, is_of_faces
from dxf2veneer.planning.search import cheapest_plan


def job(width, courses, faces=1, alike=False):
    """Faces between outside corners, ``alike`` all laid like the first."""
    walls = planned_job([Face((((0, width),),) * courses, "outside", "outside")] * faces)
    if not alike:
        return walls
    return [
        [[dataclasses.replace(run, like="W1" if n else None) for run in row] for row in wall]
        for n, wall in enumerate(walls)
    ]


def laid_anew(walls):
    """Each way that the faces are laid anew, with its panels."""
    laid = lay(walls, SIZES).laid
    assert is_of_faces(laid, SIZES)
    return [(one, cut_stock(one, SIZES, within_walls=False)) for one in faces_anew(laid, SIZES)]


@pytest.mark.parametrize("width", [17.0, 20.5, 24.0, 26.875, 28.5, 30.0])
def test_every_rule_is_kept_on_every_face(width):
    for laid, panels in laid_anew(job(width, 7, faces=2)):
        for one in laid:
            assert sum(one.lengths) == pytest.approx(width)
            assert all(piece >= 8 - 1e-6 for piece in one.lengths)
            corner = one.lengths[0 if one.run.left == "corner" else -1]
            assert corner <= 36 - 0.125 - 8 + 1e-6  # what the least piece and a cut leave (L4)
        for below, above in itertools.pairwise(laid):
            if below.run.wall == above.run.wall:  # the stagger (L3)
                pairs = itertools.product(below.joints, above.joints)
                assert all(abs(a - b) >= 8 - 1e-6 for a, b in pairs)
        for below, above in zip(laid, laid[2:], strict=False):  # at one edge, two courses apart
            if below.run.wall == above.run.wall and len(below.lengths) == len(above.lengths) == 2:
                at = 0 if below.run.left == "corner" else -1
                assert abs(below.lengths[at] - above.lengths[at]) >= 1 - 1e-6  # cuts vary (L4)
        for panel in panels:
            lengths = [laid[ref.run].lengths[ref.piece] for ref, _ in panel.parts]
            assert sum(lengths) + 0.125 * (len(lengths) - 1) <= 36 + 1e-6
            if panel.kind == "corner":
                assert len(lengths) <= 2
                if len(lengths) == 2 and all(n < width - 1e-6 for n in lengths):
                    assert abs(lengths[0] - lengths[1]) >= 1 - 1e-6  # unequal halves (L4)


@pytest.mark.parametrize("width", [20.0, 22.5, 24.0, 26.0])
def test_a_face_of_four_courses_takes_the_proven_fewest(width):
    walls = [Face((((0, width),),) * 4, "outside", "outside")]
    found = cheapest_plan(planned_job(walls), SIZES, within_walls=False)
    assert (found.broken, len(found.units)) == (0, optimum(walls))


def test_alike_faces_stay_alike_and_take_few_panels():
    # 28.5 wide, 4 x 11 courses: a row of corner pieces of 16 to 20.5 climbs by an inch or more; of
    # 24 right and 20 left ones at most 16 make pairs (a left one goes with a right one that is
    # shorter than both its neighbors), so 28 panels, and 44 flat pieces of 8 to 12.5, three a
    # panel, 15: no plan of the kind has fewer than 43. Pieces of 8 to 12.5 need 24 + 22
    plan = cheapest_plan(job(28.5, 11, faces=4, alike=True), SIZES, within_walls=False)
    assert plan.broken == 0
    assert 43 <= len(plan.units) <= 45
    by_wall = [[one.lengths for one in plan.laid if one.run.wall == f"W{n}"] for n in range(1, 5)]
    assert by_wall[0] == by_wall[1] == by_wall[2] == by_wall[3]


def test_faces_that_need_no_choice_are_left_as_they_are():
    assert laid_anew(job(15.0, 4)) == []


@pytest.mark.parametrize("width", [21.5, 24.0])
def test_faces_that_may_differ_take_no_more_panels_than_alike(width):
    free, alike = (
        cheapest_plan(job(width, 6, faces=3, alike=alike), SIZES, within_walls=False)
        for alike in (False, True)
    )
    assert free.broken == 0
    assert len(free.units) <= len(alike.units)
