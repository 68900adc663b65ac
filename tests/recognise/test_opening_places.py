"""Which wall an opening belongs to, how much of it counts, and what kind it is."""

import dataclasses
import math

import pytest
from builders import ARCH, JOB, codes, drawing, job, only_wall, shuffled, walls_of

from dxf2veneer.geometry import Path
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

WALL = (0, 0, 200, 100)


def notices(one, code, job=JOB):
    return [n for n in recognise([one], job).notices if n.code == code]


def kinds(**outlines):
    return [o.kind for o in only_wall(drawing(wall=[WALL], **outlines)).openings]


def test_an_opening_belongs_to_the_wall_it_lies_in():
    #  W1        W2
    #  .----.  .------.
    #  |    |  | []   |
    #  '----'  '------'
    first, second = walls_of(
        drawing(wall=[(0, 0, 60, 90), (80, 0, 150, 90)], opening=[(90, 30, 105, 60)])
    )
    assert first.openings == ()
    (opening,) = second.openings
    assert (opening.id, opening.handles, opening.box) == ("W2-O1", ("OPENING1",), (90, 30, 105, 60))
    assert opening.region.area == 450


def test_openings_are_numbered_from_left_to_right_then_upward():
    wall = only_wall(
        drawing(wall=[WALL], opening=[(90, 50, 100, 60), (20, 60, 30, 70), (20, 30, 50, 50)])
    )
    assert [(o.id, o.handles) for o in wall.openings] == [
        ("W1-O1", ("OPENING3",)),
        ("W1-O2", ("OPENING2",)),
        ("W1-O3", ("OPENING1",)),
    ]


def test_openings_begun_a_hair_apart_are_numbered_upward():
    wall = only_wall(drawing(wall=[WALL], opening=[(20, 60, 30, 70), (20.0004, 30, 50, 50)]))
    assert [o.handles for o in wall.openings] == [("OPENING2",), ("OPENING1",)]


def test_an_opening_across_two_walls_is_split_where_they_meet():
    #   .-----|-----.
    #   |   [ | ]   |     18 left of the line at 60, 7 right of it, 20 high
    #   '-----|-----'
    across = drawing(wall=[(0, 0, 60, 90), (60, 0, 150, 90)], opening=[(42, 30, 67, 50)])
    parts = [[o.region.area for o in w.openings] for w in walls_of(across)]
    assert parts == [[pytest.approx(360)], [pytest.approx(140)]]
    (notice,) = notices(across, "OPENING_SPLIT")
    assert (notice.handle, notice.at_in) == ("OPENING1", (54.5, 40))
    assert codes(across) == ["OPENING_SPLIT"]


def test_an_opening_that_touches_the_next_wall_is_not_split():
    assert codes(drawing(wall=[(0, 0, 60, 90), (60, 0, 150, 90)], opening=[(42, 30, 60, 50)])) == []


def test_a_hair_over_the_line_is_drawing_tolerance():
    over = drawing(wall=[(0, 0, 60, 90), (60, 0, 150, 90)], opening=[(42, 30, 60.005, 50)])
    assert [len(w.openings) for w in walls_of(over)] == [1, 0]
    assert codes(over) == []


def test_a_round_opening_across_two_walls_keeps_its_area_exactly():
    across = drawing(wall=[(0, 0, 60, 90), (60, 0, 150, 90)], opening=[Path.circle((55, 45), 12)])
    left, right = (w.openings[0].region.area for w in walls_of(across))
    assert right == pytest.approx(
        144 * math.acos(5 / 12) - 5 * math.sqrt(144 - 25), rel=1e-9
    )  # cap above chord at 5
    assert left + right == pytest.approx(144 * math.pi, rel=1e-9)


def test_overlapping_openings_count_once():
    #   .-------.
    #   |   .---|---.      30 x 20 and 25 x 16, 10 x 8 in common
    #   '---|---'   |
    #       '-------'
    both = drawing(wall=[WALL], opening=[(20, 40, 50, 60), (40, 32, 65, 48)])
    first, second = only_wall(both).openings
    assert first.region.area == 600
    assert second.region.area == pytest.approx(400 - 80)
    (notice,) = notices(both, "OPENINGS_OVERLAP")
    assert notice.handle == "OPENING2"
    assert "OPENING1" in say(notice.message)


def test_an_outline_inside_an_opening_is_part_of_it():
    sash = drawing(wall=[WALL], opening=[(23, 43, 47, 57), (20, 40, 50, 60)])
    assert [o.region.area for o in only_wall(sash).openings] == [600]
    assert [n.handle for n in notices(sash, "OPENING_NESTED")] == ["OPENING1"]


def test_an_opening_outside_every_wall_is_told_and_not_counted():
    away = drawing(wall=[WALL], opening=[(230, 20, 254, 44)])
    assert only_wall(away).openings == ()
    (notice,) = notices(away, "OPENING_OUTSIDE_WALL")
    assert (notice.handle, notice.at_in, notice.layer) == ("OPENING1", (242, 32), "OPENING")
    assert "4.00 sq ft" in say(notice.message)


def test_of_an_opening_partly_outside_the_inside_counts():
    #  the wall ends at 200: 6 x 24 inside, 18 x 24 = 3 sq ft beyond
    over = drawing(wall=[WALL], opening=[(194, 20, 218, 44)])
    assert [o.region.area for o in only_wall(over).openings] == [pytest.approx(144)]
    (notice,) = notices(over, "OPENING_PARTLY_OUTSIDE")
    assert "3.00 sq ft" in say(notice.message)


@pytest.mark.parametrize(
    ("outline", "code"),
    [
        (Path.polygon([(20, 20), (40, 20), (40, 50)], closed=False), "OPEN_OUTLINE"),
        ([(20, 20), (60, 50), (60, 20), (30, 50)], "SELF_CROSSING"),
        ([(20, 20), (40, 20), (30, 20)], "NO_AREA"),
    ],
)
def test_an_unsound_opening_is_told_and_not_counted(outline, code):
    bad = drawing(wall=[WALL], opening=[outline])
    assert codes(bad) == [code]
    assert only_wall(bad).openings == ()
    assert "opening" in say(notices(bad, code)[0].message)


def test_an_opening_at_the_base_is_a_door_and_told():
    door = drawing(wall=[WALL], opening=[(20, 0, 50, 80), (100, 30, 130, 60)])
    assert [(o.kind, o.touches_base) for o in only_wall(door).openings] == [
        ("door", True),
        ("window", False),
    ]
    assert [n.handle for n in notices(door, "DOOR_ASSUMED")] == ["OPENING1"]


@pytest.mark.parametrize(("sill", "kind"), [(0.99, "door"), (1.0, "door"), (1.01, "window")])
def test_the_base_is_reached_within_the_tolerance(sill, kind):
    # edge_tolerance is 1 in
    assert kinds(opening=[(20, sill, 50, 80)]) == [kind]


def test_a_door_on_the_upper_step_of_a_base():
    #  .---------------.
    #  |        .-.  . |      the base steps from 0 up to 16 at x = 120
    #  |   []   | | [] |
    #  |      __|_|____|
    #  '-----'
    stepped = [(0, 0), (120, 0), (120, 16), (200, 16), (200, 100), (0, 100)]
    wall = only_wall(
        drawing(wall=[stepped], opening=[(140, 16, 170, 90), (30, 16, 60, 60), (180, 40, 190, 60)])
    )
    assert [o.kind for o in wall.openings] == ["window", "door", "window"]


def test_a_door_that_begins_at_the_step():
    #        .-.          its left jamb stands on the riser's line, where the base is
    #        | |          0 as well as 16
    #  |     |_|____
    #  '-----'
    stepped = [(0, 0), (120, 0), (120, 16), (200, 16), (200, 100), (0, 100)]
    assert [
        o.kind for o in only_wall(drawing(wall=[stepped], opening=[(120, 16, 150, 90)])).openings
    ] == ["door"]


def test_doors_on_two_bases_one_above_the_other():
    #  .------.-.---.
    #  |      | |   |  100     the wall's upper arm has its base at 60, over the lower one's
    #  |   .--'-'---'   60     top at 30: a door on each
    #  |   '--.-.---.   30
    #  '------'-'---'
    hollow = [(0, 0), (200, 0), (200, 30), (80, 30), (80, 60), (200, 60), (200, 100), (0, 100)]
    found = only_wall(
        drawing(wall=[hollow], opening=[(120, 0, 150, 25), (120, 60, 150, 95), (90, 70, 100, 80)])
    ).openings
    assert [(o.kind, o.box[1]) for o in found] == [("window", 70), ("door", 0), ("door", 60)]


def test_a_door_on_a_sloped_base():
    #  the base rises from 0 to 20 over 200: the door's threshold follows it
    sloped = [(0, 0), (200, 20), (200, 100), (0, 100)]
    follows = [(100, 10), (130, 13), (130, 90), (100, 90)]
    assert [o.kind for o in only_wall(drawing(wall=[sloped], opening=[follows])).openings] == [
        "door"
    ]


def test_an_arched_door_and_a_round_window():
    assert kinds(opening=[ARCH, Path.circle((30, 50), 10)]) == ["window", "door"]


def test_a_round_opening_that_stands_on_the_base_is_a_door():
    assert kinds(opening=[Path.circle((30, 10), 10)]) == ["door"]


@pytest.mark.parametrize("role", ["window", "door", "vent", "fixture"])
def test_the_layer_says_the_kind_whatever_the_place(role):
    assert kinds(**{role: [(20, 0, 50, 80), (90, 30, 120, 60)]}) == [role, role]
    assert codes(drawing(wall=[WALL], **{role: [(20, 0, 50, 80)]})) == []  # nothing was assumed


def test_the_same_outlines_in_any_order_are_the_same_walls():
    front = drawing(
        wall=[WALL, (200, 0, 320, 90), (60, 20, 70, 30)],
        opening=[
            (20, 0, 50, 80),
            (190, 20, 215, 44),
            (100, 40, 130, 60),
            (120, 32, 145, 48),
            (104, 44, 110, 50),
        ],
        texts=[("name", "FRONT", (5, 5)), ("name", "SIDE", (300, 5)), ("name", "B", (5, 50))],
        outside_corner=[],
    )
    expected = recognise([front], JOB)
    for seed in range(6):
        found = recognise([shuffled(front, seed)], JOB)
        assert found.walls == expected.walls
        assert sorted(map(repr, found.notices)) == sorted(map(repr, expected.notices))


def test_an_outline_that_pokes_out_by_less_than_a_line_is_nested():
    one = drawing(wall=[(0, 0, 200, 100)], window=[(20, 20, 60, 60), (30, 30, 60.004, 50)])
    assert codes(one) == ["OPENING_NESTED"]


# ---------------------------------------------------------- openings pointed at


def pointed_at(outline, reach=2.0, entity="LWPOLYLINE", base=0):
    """The opening that the user pointed at in a wall 200 x 100, and the notices."""
    one = drawing(wall=[(0, base, 200, base + 100)], opening=[outline])
    shapes = tuple(
        dataclasses.replace(s, picked=s.layer == "OPENING", entity=entity) for s in one.shapes
    )
    found = recognise(
        [dataclasses.replace(one, shapes=shapes)],
        job(recognise__door_reach=reach, recognise__edge_tolerance=0.5),
    )
    (opening,) = found.walls[0].openings
    return opening, [
        (say(n.message), n.handle, n.at_in) for n in found.notices if n.code == "DOOR_EXTENDED"
    ]


@pytest.mark.parametrize(
    ("bottom", "extended"), [(0.0, False), (0.005, False), (1.5, True), (2.0, True), (2.01, False)]
)
def test_a_door_that_ends_at_a_threshold_is_taken_down_to_the_base(bottom, extended):
    opening, told = pointed_at((60, bottom, 96, 80))
    above = {1.5: '1 1/2"', 2.0: '2"'}.get(bottom)
    assert told == (
        [
            (
                f"opening in W1 ends {above} above the base and was taken down to it",
                "OPENING1",
                (78, bottom),
            )
        ]
        if extended
        else []
    )
    assert opening.box == pytest.approx((60, 0 if extended else bottom, 96, 80))
    assert opening.kind == ("door" if extended or bottom < 1 else "window")


def test_no_door_is_taken_down_where_the_job_says_so_or_a_hatch_shows_its_end():
    assert pointed_at((60, 1.5, 96, 80), reach=0.0)[1] == []
    assert pointed_at((60, 1.5, 96, 80), entity="HATCH")[1] == []


def test_the_whole_foot_of_a_door_is_taken_down_wherever_the_base_lies():
    #  a corner in the middle of the threshold, on a base at 40: 36 x (80 - 1.5) grow by 36 x 1.5
    door = [(60, 41.5), (78, 41.5), (96, 41.5), (96, 120), (60, 120)]
    opening, told = pointed_at(door, base=40)
    assert (opening.box, opening.region.area) == (
        pytest.approx((60, 40, 96, 120)),
        pytest.approx(36 * 80),
    )
    assert told == [
        (
            'opening in W1 ends 1 1/2" above the base and was taken down to it',
            "OPENING1",
            (78, 41.5),
        )
    ]
