"""Hatches as areas: boundaries are outlines, islands are openings.

     _.-''-._          the shed: 120 wide, 80 to the eaves,
80 .'        '.        and over that a curve of each kind
   |          |
   |   shed   |
 0 +----------+
   0         120
"""

from __future__ import annotations

import math

import pytest
from drawings import OPENING, WALL, job, new, only_shape, read, told

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.wording import say

BODY = 120 * 80
HALF_ROUND = math.pi * 60**2 / 2
HALF_ELLIPSE = math.pi * 60 * 30 / 2
PARABOLA = 2 / 3 * 120 * 30
FRONT = [(0, 0), (240, 0), (240, 100), (0, 100)]


def box(x0, y0, x1, y1):
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def hatched(space, *paths, layer=WALL, **attribs):
    """A hatch of polyline boundaries; only the first is flagged as external, as programs do."""
    hatch = space.add_hatch(dxfattribs={**layer, **attribs})
    for i, path in enumerate(paths):
        hatch.paths.add_polyline_path(path, flags=16 if i else 1)
    return hatch


def edges(space, roof, *, order=(0, 1, 2, 3), **attribs):
    """The shed of edges: sill, right, roof (added by ``roof``), left."""
    path = space.add_hatch(dxfattribs={**WALL, **attribs}).paths.add_edge_path()
    steps = [
        lambda: path.add_line((0, 0), (120, 0)),
        lambda: path.add_line((120, 0), (120, 80)),
        lambda: roof(path),
        lambda: path.add_line((0, 80), (0, 0)),
    ]
    for i in order:
        steps[i]()
    return path


def by_bulge(space):
    hatched(space, [(0, 0), (120, 0), (120, 80, 1.0), (0, 80)])


def by_open_polyline(space):
    hatch = space.add_hatch(dxfattribs=WALL)
    hatch.paths.add_polyline_path(
        [(0, 0), (120, 0), (120, 80, 1.0), (0, 80), (0, 0)], is_closed=False
    )


def round_roof(path):
    path.add_arc((60, 80), 60, 0, 180)


KINDS = {
    "bulge": (by_bulge, BODY + HALF_ROUND, 1e-12),
    "polyline not flagged as closed": (by_open_polyline, BODY + HALF_ROUND, 1e-12),
    "arc": (lambda s: edges(s, round_roof), BODY + HALF_ROUND, 1e-12),
    "the same, walked the other way": (
        lambda s: edges(
            s, lambda p: p.add_arc((60, 80), 60, 0, 180, ccw=False), order=(3, 2, 1, 0)
        ),
        BODY + HALF_ROUND,
        1e-12,
    ),
    "clockwise arc that dips": (
        lambda s: edges(s, lambda p: p.add_arc((60, 80), 60, 180, 360, ccw=False)),
        BODY - HALF_ROUND,
        1e-12,
    ),
    "ellipse": (
        lambda s: edges(s, lambda p: p.add_ellipse((60, 80), (60, 0), 0.5, 0, 180)),
        BODY + HALF_ELLIPSE,
        1e-6,
    ),
    "clockwise ellipse that dips": (
        lambda s: edges(s, lambda p: p.add_ellipse((60, 80), (60, 0), 0.5, 180, 360, ccw=False)),
        BODY - HALF_ELLIPSE,
        1e-6,
    ),
    "spline": (
        lambda s: edges(
            s,
            lambda p: p.add_spline(
                control_points=[(120, 80), (60, 140), (0, 80)],
                degree=2,
                knot_values=[0, 0, 0, 1, 1, 1],
            ),
        ),
        BODY + PARABOLA,
        1e-6,
    ),
    "full circle": (
        lambda s: s.add_hatch(dxfattribs=WALL).paths.add_edge_path().add_arc((70, 30), 25, 0, 360),
        math.pi * 625,
        1e-12,
    ),
    "full ellipse": (
        lambda s: (
            s.add_hatch(dxfattribs=WALL)
            .paths.add_edge_path()
            .add_ellipse((70, 30), (0, 40), 0.25, 0, 360)
        ),
        math.pi * 40 * 10,
        1e-6,
    ),
}


@pytest.mark.parametrize("version", ["R2000", "R2018"])
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_boundary_has_its_area(kind, version, tmp_path):
    draw, area, near = KINDS[kind]
    document = new(version)
    draw(document.modelspace())
    drawing = read(document, tmp_path)
    assert only_shape(drawing).area == pytest.approx(area, rel=near)
    assert not drawing.shapes[0].picked
    assert drawing.shapes[0].entity == "HATCH"


def test_edges_may_be_given_in_reverse(tmp_path):
    document = new()
    path = document.modelspace().add_hatch(dxfattribs=WALL).paths.add_edge_path()
    path.add_line((120, 0), (0, 0))  # first, third and last run against the others
    path.add_line((120, 0), (120, 80))
    path.add_arc((60, 80), 60, 0, 180, ccw=False)
    path.add_line((0, 0), (0, 80))
    assert only_shape(read(document, tmp_path)).area == pytest.approx(BODY + HALF_ROUND, rel=1e-12)


@pytest.mark.parametrize(("gap", "code"), [(0.2, "GAP_CLOSED"), (0.3, "ENTITY_UNUSABLE")])
def test_gaps_between_edges_are_closed_as_those_of_outlines(gap, code, tmp_path):
    document = new()
    path = document.modelspace().add_hatch(dxfattribs=WALL).paths.add_edge_path()
    for start, end in (
        ((0, 0), (200, 0)),
        ((200, gap), (200, 100)),
        ((200, 100), (0, 100)),
        ((0, 100), (0, 0)),
    ):
        path.add_line(start, end)
    document.modelspace().add_lwpolyline(box(300, 0, 400, 50), close=True, dxfattribs=WALL)
    drawing = read(document, tmp_path)
    assert [c for c in told(drawing) if c != "NO_SUCH_LAYER"] == [code]
    assert sorted(s.path.area for s in drawing.shapes) == pytest.approx(
        [5000, 20000] if code == "GAP_CLOSED" else [5000]
    )


def placed_in_block(document, space):
    block = document.blocks.new("FACADE")
    edges(block, round_roof)
    space.add_blockref("FACADE", (500, 20), dxfattribs={"xscale": -2, "yscale": 2, "rotation": 30})


@pytest.mark.parametrize(
    ("place", "area", "x0"),
    [
        (placed_in_block, 4 * (BODY + HALF_ROUND), None),
        (
            lambda d, s: edges(s, round_roof, extrusion=(0, 0, -1), elevation=(0, 0, 7)),
            BODY + HALF_ROUND,
            -120,
        ),
    ],
)
def test_in_a_mirrored_block_and_seen_from_behind(place, area, x0, tmp_path):
    document = new()
    place(document, document.modelspace())
    path = only_shape(read(document, tmp_path))
    assert path.area == pytest.approx(area, rel=1e-12)
    if x0 is not None:
        assert path.box == pytest.approx((x0, 0, 0, 140))


def test_unequal_scales_make_arcs_elliptic(tmp_path):
    document = new()
    edges(document.blocks.new("FACADE"), round_roof)
    document.modelspace().add_blockref("FACADE", (0, 0), dxfattribs={"xscale": 3, "yscale": -0.5})
    assert only_shape(read(document, tmp_path)).area == pytest.approx(
        1.5 * (BODY + HALF_ROUND), rel=1e-6
    )


#   100 +-----------------------+
#       |    +-------+  80      |    an island of 60 x 60 at (40, 20),
#       |    | +---+ |          |    in it one of 20 x 20,
#       |    | +---+ |      +--+|    and a door of 30 x 80 that stands on the base
#     0 +----+-------+------+--+|
ISLAND, INNER, DOOR = box(40, 20, 100, 80), box(60, 40, 80, 60), box(190, 0, 220, 80)


def test_islands_are_openings_of_the_wall(tmp_path):
    document = new()
    hatched(document.modelspace(), FRONT, ISLAND, DOOR)
    path = tmp_path / "front.dxf"
    takeoff = taken(document, path)
    (wall,) = takeoff.walls
    assert wall.quantities.gross_area == pytest.approx(24000, rel=1e-12)
    assert sorted((o.kind, o.region.area) for o in wall.wall.openings) == [
        ("door", pytest.approx(2400)),
        ("window", pytest.approx(3600)),
    ]


def test_an_island_just_above_the_base_is_not_taken_down_to_it(tmp_path):
    document = new()
    hatched(document.modelspace(), FRONT, box(190, 4, 220, 80))
    (wall,) = taken(document, tmp_path / "front.dxf").walls
    assert wall.wall.openings[0].region.area == pytest.approx(30 * 76)


def taken(document, path, **settings):
    document.saveas(path)
    return take_off([path], job(**settings))


@pytest.mark.parametrize(
    ("style", "expected"),
    [
        (0, [(24000, False), (3600, True), (400, False)]),
        (1, [(24000, False), (3600, True)]),
        (2, [(24000, False)]),
    ],
)
def test_the_style_says_how_deep_the_hatch_goes(style, expected, tmp_path):
    document = new()
    hatched(document.modelspace(), INNER, FRONT, ISLAND, hatch_style=style)
    assert [(s.path.area, s.picked) for s in read(document, tmp_path).shapes] == [
        (pytest.approx(a), p) for a, p in expected
    ]


def test_a_wall_in_an_island_is_told(tmp_path):
    document = new()
    hatched(document.modelspace(), FRONT, ISLAND, INNER, hatch_style=0)
    takeoff = taken(document, tmp_path / "front.dxf")
    assert "NESTED_WALL" in [n.code for n in takeoff.notices]


def test_room_for_a_text_is_no_opening(tmp_path):
    document = new()
    hatched(document.modelspace(), FRONT).paths.add_polyline_path(ISLAND, flags=16 | 8)
    assert [(s.path.area, s.picked) for s in read(document, tmp_path).shapes] == [(24000, False)]


def test_two_hatches_beside_each_other_are_two_walls_and_one_may_hold_two(tmp_path):
    document = new()
    hatched(document.modelspace(), box(0, 0, 100, 80), box(300, 0, 350, 80))
    hatched(document.modelspace(), box(100, 0, 180, 80))
    walls = taken(document, tmp_path / "front.dxf").walls
    assert [w.quantities.gross_area for w in walls] == pytest.approx([8000, 6400, 4000])


def test_a_hatch_on_its_own_outline_counts_once(tmp_path):
    document = new()
    document.modelspace().add_lwpolyline(FRONT, close=True, dxfattribs=WALL)
    hatched(document.modelspace(), FRONT)
    takeoff = taken(document, tmp_path / "front.dxf")
    assert [w.quantities.gross_area for w in takeoff.walls] == pytest.approx([24000])
    assert "DOUBLED_OUTLINE" in [n.code for n in takeoff.notices]


def test_on_an_opening_layer_a_hatch_is_an_opening(tmp_path):
    document = new()
    document.modelspace().add_lwpolyline(FRONT, close=True, dxfattribs=WALL)
    hatched(document.modelspace(), ISLAND, layer=OPENING)
    (wall,) = taken(document, tmp_path / "front.dxf").walls
    assert [o.region.area for o in wall.wall.openings] == pytest.approx([3600])


@pytest.mark.parametrize("first", ["hatch", "polyline"])
def test_an_island_round_a_traced_opening_leaves_it_its_kind(first, tmp_path):
    document = new()
    space = document.modelspace()
    if first == "hatch":
        hatched(space, FRONT, ISLAND)
    space.add_lwpolyline(ISLAND[1:] + ISLAND[:1], close=True, dxfattribs={"layer": "M-VENT"})
    if first == "polyline":
        hatched(space, FRONT, ISLAND)
    (wall,) = taken(document, tmp_path / "front.dxf", layers__vent=("M-VENT",)).walls
    assert [(o.kind, o.region.area) for o in wall.wall.openings] == [("vent", pytest.approx(3600))]


def test_a_wall_mark_keeps_the_islands(tmp_path):
    document = new()
    hatched(document.modelspace(), FRONT, ISLAND)
    hatched(document.modelspace(), box(300, 0, 350, 80))
    (wall,) = taken(document, tmp_path / "front.dxf", drawing__wall_at=("10,10",)).walls
    assert wall.quantities.gross_area == pytest.approx(24000)
    assert [o.region.area for o in wall.wall.openings] == pytest.approx([3600])


@pytest.mark.parametrize(
    ("wanted", "areas"),
    [
        ((), [24000, 800, 500]),
        (("brick*",), [24000]),
        (("Solid", "BRICK"), [24000, 500]),
        (("HONEY",), []),
    ],
)
def test_the_pattern_filters(wanted, areas, tmp_path):
    document = new()
    space = document.modelspace()
    hatched(space, FRONT).set_pattern_fill("BRICK", definition=[[0, (0, 0), (0, 8), []]])
    hatched(space, box(300, 0, 340, 20)).set_pattern_fill(
        "ANSI31", definition=[[45, (0, 0), (0, 8), []]]
    )
    hatched(space, box(400, 0, 425, 20)).set_solid_fill()
    drawing = read(document, tmp_path, drawing__hatch_pattern=wanted)
    assert [s.path.area for s in drawing.shapes] == pytest.approx(areas)
    left_out = [say(n.message) for n in drawing.notices if n.code == "ENTITY_KIND_IGNORED"]
    assert len(left_out) == 3 - len(areas)
    if wanted == ("brick*",):
        assert left_out == [
            f"layer A-WALL: 1 entity of kind HATCH {name} left out" for name in ("ANSI31", "SOLID")
        ]


def no_boundary(hatch):
    hatch.paths.clear()


def nan(hatch):
    hatch.paths.add_polyline_path([(0, 0), (math.nan, 0), (10, 10)])


def one_point(hatch):
    hatch.paths.add_polyline_path([(5, 5)])


def no_points(hatch):
    hatch.paths.add_polyline_path([])


def no_edges(hatch):
    hatch.paths.add_edge_path()


def no_radius(hatch):
    hatch.paths.add_edge_path().add_arc((0, 0), 0, 0, 360)


def endless_line(hatch):
    path = hatch.paths.add_edge_path()
    path.add_line((0, 0), (math.inf, 0))
    path.add_line((math.inf, 0), (0, 0))


def flat_ellipse(hatch):
    hatch.paths.add_edge_path().add_ellipse((0, 0), (10, 0), 0.0, 0, 360)


def wrong_knots(hatch):
    hatch.paths.add_edge_path().add_spline(
        control_points=[(0, 0), (9, 9), (20, 0), (30, 4)], knot_values=[0, 1, 2]
    )


def tilted(hatch):
    hatch.dxf.extrusion = (0, 1, 1)


@pytest.mark.parametrize(
    "spoil",
    [
        no_boundary,
        nan,
        one_point,
        no_points,
        no_edges,
        no_radius,
        endless_line,
        flat_ellipse,
        wrong_knots,
        tilted,
    ],
)
def test_bad_data_costs_that_hatch_only_and_is_told(spoil, tmp_path):
    document = new()
    document.modelspace().add_lwpolyline(box(300, 0, 400, 50), close=True, dxfattribs=WALL)
    hatch = hatched(document.modelspace(), FRONT)
    spoil(hatch)
    drawing = read(document, tmp_path)
    assert only_shape(drawing).area == 5000
    (notice,) = [n for n in drawing.notices if n.code == "ENTITY_UNUSABLE"]
    assert notice.handle == hatch.dxf.handle
    assert say(notice.message).startswith("HATCH left out: ")


def test_a_boundary_that_crosses_itself_is_told(tmp_path):
    document = new()
    hatched(document.modelspace(), FRONT, [(40, 20), (100, 80), (100, 20), (40, 80)])
    takeoff = taken(document, tmp_path / "front.dxf")
    assert [w.quantities.gross_area for w in takeoff.walls] == pytest.approx([24000])
    assert "SELF_CROSSING" in [n.code for n in takeoff.notices]
