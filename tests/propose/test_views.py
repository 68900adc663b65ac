"""A sheet split into its views: what hangs together, what it is called, what kind it is."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from drawn_sheets import box, facade, moved, plan, scene, section, sheet, shuffled, text

from dxf2veneer.propose.views import find_views, reconsidered
from dxf2veneer.propose.views.cells import groups_of
from dxf2veneer.propose.views.levels import level_value
from dxf2veneer.propose.views.titles import kind_named


def kinds(views):
    return sorted(v.kind for v in views)


def by_kind(views, kind):
    return [v for v in views if v.kind == kind]


# ------------------------------------------------------------------ titles


@pytest.mark.parametrize(
    ("title", "kind"),
    [
        ("FRONT ELEVATION", "elevation"),
        ("Ansicht Süd", "elevation"),
        ("Südansicht", "elevation"),
        ("FAÇADE NORD", "elevation"),
        ("Alzado lateral derecho", "elevation"),
        ("Prospetto est", "elevation"),
        ("Linker zijgevel", "elevation"),
        ("Elewacja południowa", "elevation"),
        ("GROUND FLOOR PLAN", "plan"),
        ("Grundriss EG", "plan"),
        ("Dachaufsicht", "plan"),
        ("Dakaanzicht", "plan"),
        ("Plan de situation", "plan"),
        ("Planta baja", "plan"),
        ("SECTION A-A", "section"),
        ("Querschnitt", "section"),
        ("Coupe B-B'", "section"),
        ("Przekrój A-A", "section"),
        ("EAVE DETAIL", "detail"),
        ("Detail Traufe M 1:10", "detail"),
        ("WALL SECTION DETAIL", "detail"),
        ("DOOR SCHEDULE", "other"),
        ("Legende", "other"),
        ('FRONT ELEVATION\nSCALE 1/4" = 1\'-0"', "elevation"),
    ],
)
def test_a_title_names_its_kind(title, kind):
    assert kind_named(title) == (kind, True)


@pytest.mark.parametrize("side", ["North", "LEFT SIDE", "Nord", "links"])
def test_a_side_alone_is_an_elevation_but_not_sure(side):
    assert kind_named(side) == ("elevation", False)


@pytest.mark.parametrize(
    "words",
    [
        "SEE DETAIL 3",
        "siehe Schnitt B-B",
        "EL. 100'-0\"",
        "+3.00 elevation",
        "STONE VENEER",
        "Abschnitt 2 der Norm",
        "2450",
        "",
        "all dimensions on this plan are to be verified on site by the contractor before work",
    ],
)
def test_notes_and_levels_are_no_titles(words):
    assert kind_named(words) is None


# ------------------------------------------------------------------ what hangs together


def test_lines_within_the_gap_hang_together():
    """Two strokes 0.9 apart, a third 5 away: with cells of 1 the first two are one group."""
    strokes = np.array([[0, 0, 4, 0], [4.9, 0, 8, 0], [13, 0, 15, 0]], float)
    assert groups_of(strokes, 1.0).tolist() == [0, 0, 1]


def test_segments_of_one_entity_hang_together_however_far():
    strokes = np.array([[0, 0, 1, 0], [50, 0, 51, 0], [99, 0, 100, 0]], float)
    assert groups_of(strokes, 1.0, np.array([7, 3, 7])).tolist() == [0, 1, 0]


# ------------------------------------------------------------------ views


def test_facade_plan_and_section_are_three_views_without_any_title():
    """
    facade (0, 0)      plan (14000, 0)      section (28000, 0)
    """
    document, space = sheet()
    facade(space, 0, 0)
    plan(space, 14000, 0)
    section(space, 28000, 0)
    views = find_views(scene(document))
    assert kinds(views) == ["elevation", "plan", "section"]
    assert [v.kind for v in views] == ["elevation", "plan", "section"], "numbered from the left"
    (elevation,) = by_kind(views, "elevation")
    assert elevation.core == (-1500, 0, 9500, 5200)
    assert elevation.ground_y == 0


def test_titles_name_the_views_they_stand_under():
    """The same facade three times; what is written decides."""
    document, space = sheet()
    for n, title in enumerate(("REAR ELEVATION", "SECTION A-A", "ROOF PLAN")):
        facade(space, 16000 * n, 0)
        text(space, title, 16000 * n + 2000, -900)
    views = find_views(scene(document))
    assert [(v.kind, v.title) for v in views] == [
        ("elevation", "REAR ELEVATION"),
        ("section", "SECTION A-A"),
        ("plan", "ROOF PLAN"),
    ]
    assert all(v.box[1] == -900 for v in views), "a title belongs to the room of its view"


def test_one_ground_line_under_two_facades_does_not_join_them():
    """
         /\\             /\\
        |  |           |  |
    ------------------------------   15 m of ground between, two titles or none
    """
    document, space = sheet()
    facade(space, 0, 0)
    facade(space, 17000, 0)
    space.add_line((-1500, 0), (26500, 0))
    assert kinds(find_views(scene(document))) == ["elevation", "elevation"]


def test_a_blank_wall_between_windows_does_not_part_a_facade():
    """A long flat facade, 20 m of it blank: the eaves over it hold it together.

     ____________________________________
    | []                              [] |
    --------------------------------------
    """
    document, space = sheet()
    box(space, 0, 0, 24000, 3000)
    box(space, 500, 900, 1700, 2100)
    box(space, 22300, 900, 23500, 2100)
    space.add_line((-2000, 0), (26000, 0))
    (view,) = find_views(scene(document))
    assert view.core[0] == -2000 and view.core[2] == 26000


def frame(space, *, twin: bool = True) -> None:
    """A sheet 42000 x 29700 (A3 at 1:100) with a title block in its lower right corner.

     ____________________
    |                    |
    |            ________|
    |           |Project |
    |           |Drawn   |
    |           |Sheet   |
    |___________|________|
    """
    box(space, 0, 0, 42000, 29700, loose=False)
    if twin:
        box(space, 1000, 1000, 41000, 28700, loose=False)
    for n, words in enumerate(("Project", "Drawn", "Date", "Sheet")):
        space.add_line((31000, 1000 + 1000 * n), (41000, 1000 + 1000 * n))
        text(space, words, 31300, 1300 + 1000 * n)
        text(space, "A", 36300, 1300 + 1000 * n)
    space.add_line((31000, 5000), (41000, 5000))
    for x in (31000, 36000):
        space.add_line((x, 1000), (x, 5000))


@pytest.mark.parametrize("twin", [True, False])
def test_a_frame_is_a_sheet_and_holds_its_views_apart(twin):
    document, space = sheet()
    frame(space, twin=twin)
    facade(space, 5000, 18000)
    plan(space, 20000, 8000)
    views = find_views(scene(document))
    assert kinds(views) == ["elevation", "plan", "sheet"]
    assert by_kind(views, "sheet")[0].box == (0, 0, 42000, 29700)
    own = set(by_kind(views, "elevation")[0].segments.tolist()) | set(
        by_kind(views, "plan")[0].segments.tolist()
    )
    assert not own & set(by_kind(views, "sheet")[0].segments.tolist())


def site(space, x: float, y: float, size: float) -> None:
    """A site: streets as a grid that hangs together, a house on each lot.

     _____________
    |_[]_|_[]_|_[]|     far larger than any sheet beside it
    |_[]_|_[]_|_[]|
    """
    for n in range(101):
        at = n * size / 100.0
        space.add_line((x, y + at), (x + size, y + at))
        space.add_line((x + at, y), (x + at, y + size))
    for n in range(100):
        at = n * size / 100.0 + size / 400.0
        box(space, x + at, y + at, x + at + size / 300.0, y + at + size / 250.0)


def test_a_sheet_beside_a_large_site_is_parted_into_its_views():
    document, space = sheet()
    frame(space)
    facade(space, 5000, 18000)
    plan(space, 20000, 8000)
    site(space, 200_000, 0, 2_000_000)
    views = [v for v in find_views(scene(document)) if v.core[0] < 100_000]
    assert kinds(views) == ["elevation", "plan", "sheet"]
    assert by_kind(views, "sheet")[0].box == (0, 0, 42000, 29700)


def brick_facade(space, x: float, y: float) -> None:
    """A facade with forty courses drawn on its wall."""
    facade(space, x, y)
    for n in range(1, 40):
        space.add_line((x, y + 70 * n), (x + 700, y + 70 * n))


@pytest.mark.parametrize("words", ["stone veneer", ""])
def test_an_untitled_facade_stands_alone_beside_a_large_site(words):
    document, space = sheet()
    brick_facade(space, 0, 0)
    text(space, words or "Lot 12", *((1000, 3500) if words else (300_000, -2000)), height=250)
    site(space, 200_000, 0, 2_000_000)
    (found,) = [v for v in find_views(scene(document)) if v.core[0] < 100_000]
    assert found.kind == "elevation"


@pytest.mark.parametrize("height", [250, 600])
def test_a_patch_of_brick_in_a_legend_stands_alone_only_in_small_letters(height):
    document, space = sheet()
    box(space, 0, 0, 5310, 5310)
    for n in range(1, 59):
        space.add_line((0, 90 * n), (5310, 90 * n))
    text(space, "brick", 6000, 2500, height=height)
    site(space, 200_000, 0, 2_000_000)
    near = [v for v in find_views(scene(document)) if v.core[0] < 100_000]
    alone = [v for v in near if v.reason.code != "VIEW_TABLE"]
    assert len(alone) == (12 * height <= 5310)  # twelve letters high


def test_the_title_block_names_the_only_view_of_a_sheet():
    document, space = sheet()
    frame(space)
    facade(space, 12000, 14000)
    text(space, "SECTION A-A", 31300, 5300 - 1000, height=400)
    assert kinds(find_views(scene(document))) == ["section", "sheet"]


def test_a_facade_with_windows_is_no_frame():
    """A flat facade in the proportion of paper, nothing outside: rectangles alone make no sheet."""
    document, space = sheet()
    box(space, 0, 0, 4243, 3000)
    box(space, 700, 900, 1700, 2100)
    box(space, 2500, 900, 3500, 2100)
    assert not by_kind(find_views(scene(document)), "sheet")


def test_grid_lines_do_not_tie_views_and_belong_to_theirs():
    """
    (A)   (B)
     |     |        two facades over each other, the grid runs through both
    """
    document, space = sheet()
    facade(space, 0, 0)
    facade(space, 0, 10000)
    for name, x in (("A", 0), ("B", 8000)):
        space.add_line((x, -2000), (x, 18000))
        space.add_circle((x, 18400), 400)
        text(space, name, x - 90, 18300)
    views = find_views(scene(document))
    assert kinds(views) == ["elevation", "elevation"]
    assert {b.name for v in views for b in v.bubbles} == {"A", "B"}
    uprights = scene(document).segments[views[0].segments]
    assert not any(
        abs(x0 - x1) < 1 and abs(y0 - y1) > 15000 for x0, y0, x1, y1 in uprights.tolist()
    )


@pytest.mark.parametrize(
    ("words", "value"),
    [
        ("+2.85", (2.85, "m?", True)),
        ("±0.00", (0.0, "m?", True)),
        ("-0,45", (-0.45, "m?", True)),
        ("%%p0.00", (0.0, "m?", True)),
        ("OKFF +3.00 m", (3.0, "m", True)),
        ("+3000", (3000.0, "", True)),
        ("EL. 108'-6\"", (108.5, "ft", True)),
        ("T.O. PLATE 9'-1 1/2\"", (9 + 1.5 / 12, "ft", True)),
        ("2.85", (2.85, "m?", False)),
        ("12'-6\"", (12.5, "ft", False)),
        ("2450", None),
        ("A-101", None),
        ("Kitchen", None),
    ],
)
def test_heights_are_read_as_people_write_them(words, value):
    assert level_value(words) == (
        pytest.approx(value) if value is None else (pytest.approx(value[0]), *value[1:])
    )


def mark(space, x: float, y: float, words: str) -> None:
    """A level line with a triangle that points at it, and a height over it."""
    space.add_line((x, y), (x + 1500, y))
    space.add_lwpolyline([(x + 100, y), (x + 250, y + 200), (x - 50, y + 200)], close=True)
    text(space, words, x + 400, y + 60)


def test_level_marks_tell_their_heights_and_belong_to_their_view():
    document, space = sheet()
    facade(space, 0, 0)
    for y, words in ((0, "±0.00"), (2800, "+2.80"), (5200, "+5.20")):
        mark(space, 10500, y, words)
    (view,) = find_views(scene(document))
    assert [(m.y, m.value) for m in sorted(view.levels, key=lambda m: m.y)] == [
        (0, 0.0),
        (2800, 2.8),
        (5200, 5.2),
    ]
    assert view.box[2] >= 12000


def test_a_level_line_on_which_corners_stand_stays_part_of_its_view():
    """The height of the floor is written over the end of the ground line itself."""
    document, space = sheet()
    facade(space, 0, 0)
    text(space, "FLOOR EL. 100'-0\"", 8200, 60, 200)
    seen = scene(document)
    (view,) = find_views(seen)
    assert [m.y for m in view.levels] == [0.0]
    ground = seen.segments[view.levels[0].line]
    assert [ground[0], ground[2]] == [-1500, 9500]
    assert view.levels[0].line in view.segments.tolist()


def test_the_ground_under_a_plinth_whose_sides_are_drawn_apart_stays_part_of_its_view():
    """
     | [ ] |     the sides of the wall end on the plinth, 400 high, whose own sides go on down to
     +-----+     the ground; a mark beside it states the ground's height
    -|_____|-
    """
    document, space = sheet()
    space.add_lwpolyline([(0, 400), (8000, 400), (8000, 3000), (4000, 6000), (0, 3000)], close=True)
    space.add_lwpolyline([(2000, 1200), (3200, 1200), (3200, 2400), (2000, 2400)], close=True)
    space.add_lwpolyline([(2080, 1280), (3120, 1280), (3120, 2320), (2080, 2320)], close=True)
    for x in (0, 8000):
        space.add_line((x, 0), (x, 400))
    space.add_line((-2500, 0), (10500, 0))
    mark(space, -2300, 0, "±0.00")
    seen = scene(document)
    (view,) = find_views(seen)
    rows = seen.segments[view.segments]
    assert [-2500, 0, 10500, 0] in rows.tolist()


def test_a_level_line_that_passes_a_facade_is_no_part_of_it():
    document, space = sheet()
    facade(space, 0, 0)
    space.add_line((-2000, 1400), (11000, 1400))
    text(space, "EL. 104'-7\"", 10000, 1460, 200)
    (view,) = find_views(scene(document))
    assert [m.y for m in view.levels] == [1400.0]
    assert view.levels[0].line not in view.segments.tolist()


def test_the_ground_beside_the_text_of_another_dimension_stays_part_of_its_view():
    """The step of 150 at the door is dimensioned right of the house; its text stands on the ground
    line, between two uprights, but the ground runs on far to the left of them."""
    document, space = sheet()
    facade(space, 0, 0)
    for y in (0, 150):
        space.add_line((8100, y), (9400, y))
    for x in (8800, 9380):
        space.add_line((x, -80), (x, 230))
    text(space, "150", 8950, -100, 150)
    seen = scene(document)
    (view,) = find_views(seen)
    rows = seen.segments[view.segments].tolist()
    assert [-1500, 0, 9500, 0] in rows


def test_an_edge_of_the_building_beside_a_mark_stays_part_of_its_view():
    """The eaves' lower edge over an annexe, from the house's wall at 8000 to the fascia's end at
    10600; the mark of its height points at it."""
    document, space = sheet()
    facade(space, 0, 0)
    for a, b in itertools.pairwise([(8000, 2300), (10600, 2300), (10600, 2480), (8000, 2480)]):
        space.add_line(a, b)
    space.add_line((10400, 0), (10400, 2300))
    space.add_lwpolyline([(10450, 2300), (10550, 2450), (10350, 2450)], close=True)
    text(space, "+2.30", 10500, 2520, 180)
    seen = scene(document)
    (view,) = find_views(seen)
    (level,) = view.levels
    assert seen.segments[level.line].tolist() == [8000, 2300, 10600, 2300]
    assert level.line in view.segments.tolist()


def test_a_piece_of_the_terrain_beside_a_mark_stays_part_of_its_view():
    """The terrain steps down by 150 before the door, as one polyline; ±0.00 is written on the last
    of its pieces, which ends on nothing."""
    document, space = sheet()
    facade(space, 0, 0)
    for line in space.query("LINE"):
        if line.dxf.start.y == line.dxf.end.y == 0:
            space.delete_entity(line)
    steps = [(-1500, 0), (2000, 0), (2000, -150), (3500, -150), (3500, 0), (5000, 0), (11500, 0)]
    space.add_lwpolyline(steps)
    text(space, "+0.00", 10000, 60, 180)
    seen = scene(document)
    (view,) = find_views(seen)
    (level,) = view.levels
    assert seen.segments[level.line].tolist() == [5000, 0, 11500, 0]
    assert level.line in view.segments.tolist()


@pytest.mark.parametrize("marked", ["lower", "upper"])
def test_both_halves_of_a_step_stay_part_of_their_view_though_a_level_is_written_on_one(marked):
    """
          |            |
    ------+---.        |            upper half from -3000 to 3000 at 0
              '--------+-----       lower half from there to 11000 at -1200, a height on one of them
    """
    document, space = sheet()
    space.add_lwpolyline([(-3000, 0), (3000, 0), (3000, -1200), (11000, -1200)])
    space.add_lwpolyline([(0, 0), (0, 2800), (4000, 5200), (8000, 2800), (8000, -1200)])
    space.add_line((0, 2800), (8000, 2800))
    box(space, 700, 900, 1700, 2100)
    box(space, 5300, 900, 6300, 2100)
    x, y = (9200, -1140) if marked == "lower" else (-2900, 60)
    text(space, "EL. 100'-0\"", x, y, 200)
    seen = scene(document)
    (view,) = find_views(seen)
    rows = seen.segments[view.segments]
    level = np.sort(rows[rows[:, 1] == rows[:, 3]][:, [0, 2]], axis=1).tolist()
    assert [3000, 11000] in level
    assert [-3000, 3000] in level


def test_a_trim_line_close_round_the_frame_makes_no_table_of_the_sheet():
    document, space = sheet()
    box(space, 0, 0, 42000, 29700)
    box(space, 150, 150, 41850, 29550)
    for n, (x, y) in enumerate(((5000, 18000), (25000, 18000), (5000, 6000), (25000, 6000))):
        facade(space, x, y)
        text(space, f"{('NORTH', 'SOUTH', 'EAST', 'WEST')[n]} ELEVATION", x + 2000, y - 1200)
    views = find_views(scene(document))
    assert sorted(kinds(views)) == [*["elevation"] * 4, "sheet"]


@pytest.mark.parametrize("strip", ["right", "bottom"])
def test_a_strip_for_the_title_from_edge_to_edge_makes_no_table_of_the_sheet(strip):
    """One frame, and one line that parts the strip with name and number from the drawings.

    +----------------+--+
    |   ____    ____ |  |
    |   |__|    |__| |A1|
    +----------------+--+
    """
    document, space = sheet()
    box(space, 0, 0, 42000, 29700)
    if strip == "right":
        space.add_line((37000, 0), (37000, 29700))
    else:
        space.add_line((0, 4000), (42000, 4000))
    text(space, "A-201", 38000, 1500)
    text(space, "DENTAL OFFICE", 38000, 2500)
    for x, name in ((4000, "NORTH"), (22000, "SOUTH")):
        facade(space, x, 14000)
        text(space, f"{name} ELEVATION", x + 2000, 12800)
    assert kinds(find_views(scene(document))).count("elevation") == 2


def test_a_number_without_sign_or_mark_is_no_level():
    document, space = sheet()
    facade(space, 0, 0)
    text(space, "2.80", 3800, 1400)
    (view,) = find_views(scene(document))
    assert view.levels == ()


def test_a_sloping_ground_line_is_the_ground():
    """
     ______
    |  []  |___
    |______|     ---___       1000 of fall over 14 m
    """
    document, space = sheet()
    space.add_line((-3000, 200), (11000, -800))
    for x in (0, 8000):
        space.add_line((x, 0 - (x + 200) / 14), (x, 3000))
    space.add_line((0, 3000), (8000, 3000))
    box(space, 1000, 1000, 2000, 2200)
    (view,) = find_views(scene(document))
    assert view.kind == "elevation"
    assert view.ground_y == pytest.approx(-300)


def test_a_legend_is_one_scrap_of_its_own():
    """
    LEGEND
    [  ]  stone veneer
    [  ]  plaster
    """
    document, space = sheet()
    facade(space, 0, 0)
    text(space, "LEGEND", 16000, 3000, height=350)
    for n, words in enumerate(("stone veneer", "plaster", "glass")):
        box(space, 16000, 2200 - 700 * n, 16800, 2600 - 700 * n)
        text(space, words, 17100, 2250 - 700 * n)
    views = find_views(scene(document))
    assert kinds(views) == ["elevation", "other"]
    (legend,) = by_kind(views, "other")
    assert legend.box[:2] == (16000, 800) and legend.box[3] == 3350


def test_a_schedule_is_no_elevation():
    """Rows and columns with a text in each cell."""
    document, space = sheet()
    for n in range(7):
        space.add_line((0, 600 * n), (9000, 600 * n))
    for x in (0, 3000, 6000, 9000):
        space.add_line((x, 0), (x, 3600))
    for n in range(6):
        for x in (200, 3200, 6200):
            text(space, f"W{n}", x, 600 * n + 150)
    assert kinds(find_views(scene(document))) == ["other"]


def test_dimensions_of_lines_and_numbers_belong_to_their_view_and_tie_nothing():
    """
    facade
    |--- 8000 ---|      1200 under the ground, its title further down
      FRONT ELEVATION
    """
    document, space = sheet()
    facade(space, 0, 0)
    space.add_line((0, -1200), (8000, -1200))
    for x in (0, 8000):
        space.add_line((x, -400), (x, -1400))
        space.add_line((x - 100, -1300), (x + 100, -1100))
    text(space, "8000", 3600, -1150)
    text(space, "FRONT ELEVATION", 2000, -2600, height=350)
    (view,) = find_views(scene(document))
    assert (view.kind, view.title) == ("elevation", "FRONT ELEVATION")
    assert view.box[1] == -2600


def test_an_upright_dimension_with_a_level_number_beside_it_is_no_line_of_its_view():
    """
     /\\    --/--       line from 30 under to 30 over the marks, 1600 right of the facade; its
    |  |     | 2800    ticks 200 wide, its extension lines end 30 past it
    |__|   --/--       number written level, right of the middle
    """
    document, space = sheet()
    facade(space, 0, 0)
    space.add_line((9600, -30), (9600, 2830))
    for y in (0, 2800):
        space.add_line((8200, y), (9630, y))
        space.add_line((9500, y - 100), (9700, y + 100))
    text(space, "2800", 9650, 1300)
    found = scene(document)
    (view,) = find_views(found)
    ends = found.segments[view.segments]
    assert not ((ends[:, 0] == 9600) & (ends[:, 2] == 9600)).any()
    assert ((ends[:, 0] == 8000) & (ends[:, 2] == 8000)).any()


def test_the_ground_with_a_level_on_it_is_known_under_a_roof_that_hangs_over():
    """
     ____________
    |____________|     roof from -300 to 8300, its sides down to the eaves at 2800
      |        |       corners at 0 and 8000, footings from -100 to -1500
    --+--------+--- 0.00
    """
    document, space = sheet()
    box(space, -300, 2800, 8300, 4600)
    for x in (0, 8000):
        space.add_line((x, 0), (x, 2800))
        space.add_line((x, -100), (x, -1500))
    box(space, 1000, 900, 2200, 2100)
    space.add_line((-2500, 0), (11000, 0))
    text(space, "+0.00", 9500, 60, 180)
    found = scene(document)
    view = find_views(found)[0]
    ends = found.segments[view.segments]
    assert ((ends[:, 1] == 0) & (ends[:, 3] == 0)).any()


def test_a_layout_names_what_its_viewport_shows():
    """The title stands on the sheet, 5 mm under a viewport at 1:100 that shows the facade."""
    document, space = sheet()
    facade(space, 0, 0)
    facade(space, 40000, 0)
    layout = document.layout("Layout1")
    layout.add_viewport(
        (100, 150), size=(140, 80), view_center_point=(4000, 2600), view_height=8000
    )
    layout.add_text("COUPE A-A", height=5).set_placement((70, 100))
    views = find_views(scene(document))
    assert [(v.kind, v.title) for v in views] == [("section", "COUPE A-A"), ("elevation", "")]
    assert views[0].box[1] == 0, "paper is no room in model space"


def test_two_plans_of_one_footprint_are_plans():
    """A roof without any mark of a plan, of the size of the plan beside it."""
    document, space = sheet()
    plan(space, 0, 0)
    box(space, 14000, 0, 23000, 6000)
    space.add_line((14000, 3000), (23000, 3000))
    for x in (17000, 20000):
        space.add_line((x, 0), (x, 6000))
    assert kinds(find_views(scene(document))) == ["plan", "plan"]


def test_what_is_no_building_high_is_no_elevation_once_the_unit_is_known():
    """The facade of 5200 units is 5.2 m in millimetres, 132 m in inches, 5.2 km in metres."""
    document, space = sheet()
    facade(space, 0, 0)
    views = find_views(scene(document))
    assert kinds(reconsidered(views, 1 / 25.4)) == ["elevation"]
    assert kinds(reconsidered(views, 1000 / 25.4)) == ["other"]


def test_nothing_drawn_is_no_view():
    document, _ = sheet()
    assert find_views(scene(document)) == ()


# ------------------------------------------------------------------ laws


def crowded():
    document, space = sheet()
    frame(space)
    facade(space, 4000, 19000)
    plan(space, 18000, 18000)
    section(space, 4500, 7000)
    text(space, "FRONT ELEVATION", 6000, 18000, height=350)
    text(space, "+2.80", 15000, 21900)
    return scene(document)


@pytest.mark.parametrize(
    ("dx", "dy", "size"),
    [(0, 0, 0.001), (5e5, -3e6, 1.0), (-1000, 70, 1 / 304.8), (1e4, 1e4, 12.0)],
)
def test_moving_and_scaling_a_sheet_moves_and_scales_its_views(dx, dy, size):
    before = find_views(crowded())
    after = find_views(moved(crowded(), dx, dy, size))
    assert [(v.kind, v.title, len(v.segments)) for v in after] == [
        (v.kind, v.title, len(v.segments)) for v in before
    ]
    for one, two in zip(before, after, strict=True):
        expected = [v * size + d for v, d in zip(one.box, (dx, dy, dx, dy), strict=True)]
        assert two.box == pytest.approx(expected, abs=1e-6 * 42000 * size + 1e-9)


@pytest.mark.parametrize("seed", range(4))
def test_the_order_of_entities_changes_nothing(seed):
    before, after = find_views(crowded()), find_views(shuffled(crowded(), seed))
    assert [(v.kind, v.title, v.box, len(v.segments)) for v in after] == [
        (v.kind, v.title, v.box, len(v.segments)) for v in before
    ]


def test_no_segment_belongs_to_two_views():
    views = [v for v in find_views(crowded()) if v.kind != "sheet"]
    numbers = np.concatenate([np.concatenate((v.segments, v.annotation)) for v in views])
    assert len(numbers) == len(np.unique(numbers))


# ------------------------------------------------------------------ other people's drawings


def test_the_pavilion_has_two_plans_and_four_elevations(real_drawings):
    from dxf2veneer.propose.reading import read_scene

    views = find_views(read_scene(real_drawings / "pavilion-sheet.dxf"))
    assert kinds(views) == ["elevation"] * 4 + ["plan"] * 2


@pytest.mark.parametrize(
    "name",
    ["woodshed-plan", "woodshed-section-a", "woodshed-roof-front", "woodshed-foundation-front"],
)
def test_sheets_without_a_clad_wall_have_no_elevation(real_drawings, name):
    from dxf2veneer.propose.reading import read_scene

    assert not by_kind(find_views(read_scene(real_drawings / f"{name}.dxf")), "elevation")


def test_a_frame_of_studs_under_its_dimensions_is_a_section():
    """Plates 6500 long with nine studs 45 wide and 2310 high between them, and dimension lines
    1600 over it: no elevation, though the studs are not 0.6 of what is drawn."""
    document, space = sheet()
    for y in (0, 2355):
        box(space, 0, y, 6500, y + 45)
    for x in (0, 600, 1200, 1900, 2600, 3300, 4100, 5100, 6455):
        box(space, x, 45, x + 45, 2355)
    for x in (0, 6500):
        space.add_line((x, 2400), (x, 4000))
        space.add_line((x - 100, 3900), (x + 100, 4100))
    space.add_line((0, 4000), (6500, 4000))
    assert kinds(find_views(scene(document))) == ["section"]


def test_titles_of_one_height_stand_though_the_sheet_s_own_name_is_larger():
    document, space = sheet()
    for n, (x, y) in enumerate(((0, 0), (20000, 0), (0, 15000), (20000, 15000))):
        facade(space, x, y)
        text(space, f"{('FRONT', 'REAR', 'LEFT', 'RIGHT')[n]} ELEVATION", x + 2000, y - 1500, 250)
        text(space, "1:50", x + 2000, y - 1900, 150)
    text(space, "A2.1 ELEVATIONS", 40000, -3000, 350)
    text(space, "SMITHERS RESIDENCE", 40000, -3600, 350)
    text(space, "NOTES: VERIFY ALL", 40000, -4000, 200)
    named = [v.title for v in find_views(scene(document)) if v.kind == "elevation"]
    assert sorted(named)[-4:] == [
        "FRONT ELEVATION",
        "LEFT ELEVATION",
        "REAR ELEVATION",
        "RIGHT ELEVATION",
    ]


def test_a_sign_on_the_facade_does_not_outshout_its_title():
    document, space = sheet()
    facade(space, 0, 0)
    text(space, "MARKET HALL", 2500, 2300, 280)
    text(space, "SOUTH ELEVATION", 2000, -1500, 250)
    (view,) = find_views(scene(document))
    assert (view.kind, view.title) == ("elevation", "SOUTH ELEVATION")


@pytest.mark.parametrize(
    ("words", "aside", "height"),
    [
        ("T.O. PLATE EL. 109'-1\"", 700, 2800),  # beside the circle, at the height of its line
        ("T.O. PLATE EL. 109'-1\"", 500, 2800),  # nearer than the end of the line
    ],
)
def test_a_level_is_the_line_beside_the_circle_and_not_the_circle_s_foot(words, aside, height):
    """
    -----------O  T.O. PLATE      a circle of radius 200 whose middle is at the line's height
    10000  11000
    """
    document, space = sheet()
    facade(space, 0, 0)
    space.add_line((10000, height), (11000, height))
    space.add_circle((11200, height), 200)
    text(space, words, 11000 + aside, height - 60, 200)
    (view,) = find_views(scene(document))
    assert [m.y for m in view.levels] == [height]


def test_a_level_line_is_the_one_its_text_stands_on_and_not_the_longer_ground_under_it():
    """The line of the floor is at 0, its text on it; the ground, 150 lower, runs under both."""
    document, space = sheet()
    facade(space, 0, -150)
    space.add_line((-1500, -150), (13000, -150))
    space.add_line((10000, 0), (11800, 0))
    text(space, "FFL +0.000", 10400, 60, 180)
    (view,) = find_views(scene(document))
    assert [m.y for m in view.levels] == [0.0]


@pytest.mark.parametrize("words", ["EXTERIOR ELEVATIONS", "Ansichten, Grundriss", "PROSPETTI"])
def test_a_strip_with_the_word_for_elevations_in_it_is_none(words):
    """
    ___________          +-------------------+
    |  []  [] |          | house at the lake |     two cells, the sheet's name in the lower one
    |         |          +-------------------+
    ---------------      | ELEVATIONS        |
    NORTH ELEVATION      +-------------------+
    """
    document, space = sheet()
    facade(space, 0, 0)
    text(space, "NORTH ELEVATION", 2000, -1200, 300)
    box(space, 16000, -4000, 26000, -1000)
    space.add_line((16000, -2500), (26000, -2500))
    text(space, "house at the lake", 16500, -2000, 300)
    text(space, words, 16500, -3600, 400)
    assert kinds(find_views(scene(document))).count("elevation") == 1
