"""Both sides of a bay's mitre lie side by side in one panel, so that one cut parts them (rule L13).

        W1          W2           W3              panel   |== end of W1 ==\\== begin of W2 ==|
    =========\\ face of 40 in /=========                  the stone's pattern runs round the corner

A panel of 36 in, a saw cut of 1/8 in. Sides that keep their panel's factory ends lie side by side
where they make up 35 7/8 in.
"""

import dataclasses
import itertools
import math

import pytest
from builders import JOB, PRODUCT
from refusals import refused
from shapely.geometry import Polygon
from test_bay_layouts import bay

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import with_settings
from dxf2veneer.model import PieceRef
from dxf2veneer.recognise import recognise
from dxf2veneer.verify.mitres import mitres_of
from dxf2veneer.verify.plan import judge
from dxf2veneer.wording.mitres import beside_words, mitre_line, mitre_rows

ROOMY = with_settings(JOB, plan__look="quiet", plan__offcuts="near", plan__tolerance=0.5)


THICK = dataclasses.replace(PRODUCT, panel=dataclasses.replace(PRODUCT.panel, thickness=1.5))


def laid_out(face, job=JOB, product=PRODUCT):
    found = recognise([bay(face)], job)
    return lay_out(found.walls, found.corners, job, product)


def pieces_of(laid):
    return {
        PieceRef(w.wall.id, p.course, p.number): p for w in laid.walls for p in w.courses.pieces
    }


@pytest.mark.parametrize("job", [JOB, ROOMY])
def test_sides_of_kept_pairs_are_one_panel_with_one_saw_cut(job):
    laid = laid_out(40, job)
    found, pieces = laid.plan.mitres, pieces_of(laid)
    assert len(found.pairs) == 12 and found.count("kept") >= 6
    for pair in found.pairs:
        one, other = pieces[pair.left], pieces[pair.right]
        assert (one.right, other.left) == ("mitre", "mitre")
        gap = other.at - one.at - one.length if one.stock == other.stock else 36.0
        assert (abs(gap - 0.125) < 1e-6) == (pair.state == "kept")


@pytest.mark.parametrize("face", [16, 24, 40, 48, 60, 72])
@pytest.mark.parametrize("look", ["free", "quiet"])
def test_no_pair_loses_its_place_for_a_look(face, look):
    # a face of 40 in as two pieces of 8 to 32 in: each of its sides leaves 8 in or more of a panel,
    # so all 12 pairs can lie side by side, and moving all joints of a course parts none of them
    off, quiet = (
        laid_out(face, with_settings(JOB, plan__look=word)).plan.mitres for word in ("off", look)
    )
    assert quiet.count("kept") >= off.count("kept")
    if face == 40:
        assert quiet.count("kept") == len(quiet.pairs) == 12


def test_a_face_of_21_in_is_forced_apart_at_some_corners():
    # as one piece 8 + 21 + 8 > 36 less cuts: every second course. As two pieces of 8 to 13 in they
    # want 22 7/8 to 27 7/8 in of W1, which is 100 wide: 8 to 20 or 28 to 36 in are left of panels
    found = laid_out(21).plan.mitres
    assert found.count("forced") == 6
    assert {pair.right.course for pair in found.pairs if pair.state == "forced"} >= {1, 3, 5}


@pytest.mark.parametrize("job", [JOB, ROOMY])
def test_a_face_alone_in_its_run_lies_beside_one_of_its_neighbors_at_least(job):
    # 11 in in the middle of a panel: loose, so it lies against the piece left of it
    found = laid_out(11, job).plan.mitres
    kept = {(pair.corner, pair.right.course) for pair in found.pairs if pair.state == "kept"}
    assert {("C1", course) for course in range(6)} <= kept


def test_the_judge_sees_stone_between_two_sides():
    laid = laid_out(40)
    kept = [pair for pair in laid.plan.mitres.pairs if pair.state == "kept"]
    pair = kept[0]
    walls = [
        dataclasses.replace(
            w,
            courses=dataclasses.replace(
                w.courses,
                pieces=tuple(
                    dataclasses.replace(p, at=p.at - 0.01)
                    if PieceRef(w.wall.id, p.course, p.number) == pair.left
                    else p
                    for p in w.courses.pieces
                ),
            ),
        )
        for w in laid.walls
    ]
    seen = mitres_of(walls, laid.plan, JOB, PRODUCT)
    assert [p.state for p in seen.pairs if p.left == pair.left] == ["broken"]
    assert seen.count("kept") == len(kept) - 1


def test_the_judge_sees_a_part_between_two_sides_and_sides_of_two_panels():
    laid = laid_out(40)
    kept = [pair for pair in laid.plan.mitres.pairs if pair.state == "kept"]
    pair = kept[0]
    (unit,) = [u for u in laid.plan.units if pair.left in u.parts]
    other = PieceRef("W1", 0, 1)
    for parts in ((pair.left, other, pair.right), (pair.right, pair.left)):
        units = tuple(
            dataclasses.replace(u, parts=parts) if u is unit else u for u in laid.plan.units
        )
        seen = mitres_of(laid.walls, dataclasses.replace(laid.plan, units=units), JOB, PRODUCT)
        assert seen.count("kept") == len(kept) - 1


def test_words_and_figures_say_what_lies_side_by_side():
    found = laid_out(21).plan.mitres
    kept, broken = found.count("kept"), found.count("broken")
    line = mitre_line(found)
    assert line.startswith(f"Miters: {kept} of 12 pairs lie side by side in one panel")
    assert "6 forced apart" in line and ("broken apart" in line) == bool(broken)
    rows = list(mitre_rows(found, lambda _, course: course + 1))
    assert rows[0][1] == f"{kept} of 12" and rows[1][1] == "6"
    told = beside_words(found, lambda _, course: course + 1)
    pair = next(p for p in found.pairs if p.state == "kept")
    assert f"W{pair.right.wall[1:]} course {pair.right.course + 1} piece" in told[pair.left]
    assert beside_words(None, lambda _, course: course + 1) == {}


def test_a_job_without_a_bay_has_no_pairs():
    found = recognise([bay(40)], JOB)
    walls = [dataclasses.replace(w, edges=()) for w in found.walls]
    assert lay_out(walls, (), JOB, PRODUCT).plan.mitres.pairs == ()


# ------------------------------------------------------------ corners that turn toward you


def seen_from_above(length, thickness, angle, ends):
    """A mitred piece from above, its face on y = 0, its back on y = thickness: at each end the cut
    goes along the plane that halves the angle between the walls, away from you (-1) or toward you
    (1)."""
    half = math.radians(angle) / 2.0
    run = thickness * math.cos(half) / math.sin(half)
    left, right = (run * way for way in ends)
    return [(0, 0), (length, 0), (length + right, thickness), (-left, thickness)]


@pytest.mark.parametrize("angle", [90.0, 120.0, 135.0, 150.0])
@pytest.mark.parametrize("way", [-1, 1])
def test_mitred_pieces_from_above_meet_in_one_plane(angle, way):
    """Both pieces turned to their walls: their cuts lie on each other, their faces meet at the
    corner. A by x < 0 along the first wall, B turned by what is missing to a straight angle."""
    a = seen_from_above(20.0, 1.5, angle, (0, way))
    b = seen_from_above(20.0, 1.5, angle, (way, 0))
    turn = math.radians(180.0 - angle) * way
    at_corner = [(x - 20.0, y) for x, y in a[1:3]]
    turned = [
        (x * math.cos(turn) + y * math.sin(turn), -x * math.sin(turn) + y * math.cos(turn))
        for x, y in (b[0], b[3])
    ]
    for one, other in zip(at_corner, turned, strict=True):
        assert one == pytest.approx(other, abs=1e-9)


@pytest.mark.parametrize("job", [JOB, ROOMY])
def test_at_corners_that_turn_toward_you_the_backs_fit_into_the_panel(job):
    """By hand: 1.5 / tan 67.5 degrees = 0.6213 in at each side, 1.2426 in and the saw cut between
    the faces. From above no two pieces of a panel overlap, and all lie within it."""
    inside = with_settings(job, recognise__bay_inside=("p", "C2"))
    laid = laid_out(40, inside, THICK)
    assert [b for b in laid.plan.breaks if not b.forced] == []
    pieces = pieces_of(laid)
    assert laid.plan.mitres.count("kept") >= 4
    for pair in laid.plan.mitres.pairs:
        one, other = pieces[pair.left], pieces[pair.right]
        if pair.state == "kept":
            assert other.at - one.at - one.length == pytest.approx(0.125 + 1.2426, abs=1e-4)
    for unit in laid.plan.units:
        shapes = []
        for piece in (pieces[ref] for ref in unit.parts):
            ends = [int(end == "mitre") for end in (piece.left, piece.right)]
            shape = seen_from_above(piece.length, 1.5, 135.0, ends)
            shapes.append(Polygon([(x + piece.at, y) for x, y in shape]))
        for shape in shapes:
            low, _, high, _ = shape.bounds
            assert low >= -1e-6 and high <= 36.0 + 1e-6
        for one, other in itertools.combinations(shapes, 2):
            assert one.distance(other) >= 0.125 * math.sin(math.radians(67.5)) - 1e-6


def test_the_judge_misses_the_room_of_the_backs_where_the_planner_knew_no_thickness():
    inside = with_settings(JOB, recognise__bay_inside=("P",))
    laid = laid_out(40, inside)
    kept = [p for p in laid.plan.mitres.pairs if p.corner == "C1" and p.state == "kept"]
    found = judge(laid.walls, laid.plan, inside, THICK)
    assert kept and len([b for b in found if b.rule == "stock"]) >= len(kept)
    seen = mitres_of(laid.walls, laid.plan, inside, THICK)
    assert not [p for p in seen.pairs if p.corner == "C1" and p.state == "kept"]


def test_corners_that_turn_away_lose_nothing():
    thick, thin = (laid_out(40, JOB, product).plan for product in (THICK, PRODUCT))
    assert thick.units == thin.units


def test_a_bay_corner_that_is_not_there_is_refused():
    with refused(SettingsError, "no bay corner 'R'; tags and ids of those there are: C1, C2, P, Q"):
        laid_out(40, with_settings(JOB, recognise__bay_inside=("R",)))
