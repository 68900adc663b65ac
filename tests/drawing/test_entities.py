"""Every kind of entity comes out as a path of the right area and length."""

import math
from itertools import pairwise

import pytest
from drawings import AS_MARKS, OPENING, VERSIONS, WALL, new, only_shape, read, told
from ezdxf.math import closed_uniform_bspline
from scipy.integrate import quad
from scipy.interpolate import BSpline
from scipy.special import ellipe

from dxf2veneer.wording import say

#   (0,120)        (90,120)
#      .--------------.
#      |              |  )   half circle of diameter 60 on the right side
#      |              |  )   from (90,30) to (90,90)
#      '--------------'
#   (0,0)          (90,0)
BOW = [(0, 0, 0), (90, 0, 0), (90, 30, 1), (90, 90, 0), (90, 120, 0), (0, 120, 0)]
BOW_AREA = 90 * 120 + math.pi * 30**2 / 2
BOW_LENGTH = 90 + 30 + math.pi * 30 + 30 + 90 + 120


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("fmt", ["asc", "bin"])
def test_bulged_outline_of_every_version_is_exact(version, fmt, tmp_path):
    document = new(version)
    space = document.modelspace()
    if version == "R12":
        space.add_polyline2d(BOW, format="xyb", close=True, dxfattribs=WALL)
    else:
        space.add_lwpolyline(BOW, format="xyb", close=True, dxfattribs=WALL)
    drawing = read(document, tmp_path, fmt, drawing__units="in")
    path = only_shape(drawing)
    assert path.closed
    assert path.area == pytest.approx(BOW_AREA, rel=1e-12)
    assert path.length == pytest.approx(BOW_LENGTH, rel=1e-12)
    assert drawing.dxf_version == document.dxfversion


def test_polyline_keeps_its_bulges_in_new_versions_too(tmp_path):
    document = new()
    document.modelspace().add_polyline2d(BOW, format="xyb", close=True, dxfattribs=WALL)
    assert only_shape(read(document, tmp_path)).area == pytest.approx(BOW_AREA, rel=1e-12)


def test_segment_with_published_values(tmp_path):
    """checks.md G1, G2: chord 21, rise 6: bulge 2 x 6/21, arc 25.308373, area 89.254148 (MatheAss
    manual)."""
    document = new()
    document.modelspace().add_lwpolyline(
        [(0, 0, 0), (21, 0, 2 * 6 / 21)], format="xyb", close=True, dxfattribs=WALL
    )
    path = only_shape(read(document, tmp_path))
    assert path.area == pytest.approx(89.254148, abs=5e-7)
    assert path.length - 21 == pytest.approx(25.308373, abs=5e-7)


def test_published_polygon(tmp_path):
    """checks.md G5: (3,4) (5,11) (12,8) (9,5) (5,6) has the area 30 (Rosetta Code, shoelace
    task)."""
    document = new()
    document.modelspace().add_lwpolyline(
        [(3, 4), (5, 11), (12, 8), (9, 5), (5, 6)], close=True, dxfattribs=WALL
    )
    assert only_shape(read(document, tmp_path)).area == pytest.approx(30, rel=1e-12)


def test_published_round_headed_window_in_feet(tmp_path):
    """checks.md G4: perimeter 50.7 ft, width 8.8 ft: straight sides 14.0385 ft, area 153.95 sq
    ft."""
    side = (50.7 - 8.8 - math.pi * 4.4) / 2
    document = new(units=2)
    outline = [(0, 0, 0), (8.8, 0, 0), (8.8, side, 1), (0, side, 0)]
    document.modelspace().add_lwpolyline(outline, format="xyb", close=True, dxfattribs=WALL)
    path = only_shape(read(document, tmp_path))
    assert side == pytest.approx(14.0385, abs=5e-5)
    assert path.area / 144 == pytest.approx(153.95, abs=5e-3)
    assert path.length / 12 == pytest.approx(50.7, rel=1e-12)


def test_published_semi_elliptic_head(tmp_path):
    """checks.md G3: w s + pi w rise / 4 (CRC Concise Encyclopedia, Segment); the head is an ELLIPSE
    of its own, since no polyline holds one."""
    document = new()
    document.modelspace().add_ellipse((0, 60), (20, 0), 0.4, 0, math.pi, dxfattribs=OPENING)
    document.modelspace().add_lwpolyline([(-20, 60), (-20, 0), (20, 0), (20, 60)], dxfattribs=WALL)
    drawing = read(document, tmp_path)
    head = next(s.path for s in drawing.shapes if s.entity == "ELLIPSE")
    from dxf2veneer.geometry import Path

    assert not head.closed
    under_head = Path(head.vertices, closed=True).area
    assert 40 * 60 + under_head == pytest.approx(40 * 60 + math.pi * 40 * 8 / 4, rel=1e-7)


def test_circle_is_two_half_arcs(tmp_path):
    document = new()
    document.modelspace().add_circle((33, 44), 12, dxfattribs=OPENING)
    document.modelspace().add_lwpolyline(BOW, format="xyb", close=True, dxfattribs=WALL)
    circle = next(s.path for s in read(document, tmp_path).shapes if s.entity == "CIRCLE")
    assert circle.area == pytest.approx(math.pi * 144, rel=1e-14)
    assert circle.length == pytest.approx(math.pi * 24, rel=1e-14)
    assert circle.box == pytest.approx((21, 32, 45, 56))


@pytest.mark.parametrize(
    ("start", "end", "sweep"), [(0, 90, 90), (350, 20, 30), (10, 350, 340), (180, 0, 180)]
)
def test_arc_stays_an_exact_arc(start, end, sweep, tmp_path):
    document = new()
    document.modelspace().add_arc((100, 50), 30, start, end, dxfattribs=WALL)
    path = only_shape(read(document, tmp_path, **AS_MARKS))
    assert not path.closed
    assert path.length == pytest.approx(30 * math.radians(sweep), rel=1e-12)
    assert path.points[0] == pytest.approx(
        (100 + 30 * math.cos(math.radians(start)), 50 + 30 * math.sin(math.radians(start)))
    )
    assert path.points[-1] == pytest.approx(
        (100 + 30 * math.cos(math.radians(end)), 50 + 30 * math.sin(math.radians(end)))
    )


@pytest.mark.parametrize(("major", "minor"), [(30, 10), (100, 99), (40, 1)])
def test_ellipse_against_closed_form(major, minor, tmp_path):
    """Area pi a b; perimeter 4 a E(1 - (b/a)^2), the complete elliptic integral from SciPy."""
    document = new()
    document.modelspace().add_ellipse((5, 70), (0, major), minor / major, dxfattribs=WALL)
    path = only_shape(read(document, tmp_path))
    assert path.closed
    assert path.area == pytest.approx(math.pi * major * minor, rel=1e-6)
    assert path.length == pytest.approx(4 * major * ellipe(1 - (minor / major) ** 2), rel=1e-6)


def test_arc_of_an_ellipse_against_integration(tmp_path):
    document = new()
    document.modelspace().add_ellipse((0, 0), (60, 0), 0.5, 0.3, 2.9, dxfattribs=WALL)
    path = only_shape(read(document, tmp_path))
    length = quad(lambda t: math.hypot(60 * math.sin(t), 30 * math.cos(t)), 0.3, 2.9, epsrel=1e-12)[
        0
    ]
    assert not path.closed
    assert path.length == pytest.approx(length, rel=1e-6)


def _integrals(knots, controls, degree):
    """Area and length of a closed spline, integrated stretch by stretch over SciPy's own
    splines."""
    x, y = (BSpline(knots, [c[i] for c in controls], degree) for i in (0, 1))
    dx, dy = x.derivative(), y.derivative()
    breaks = sorted(set(knots[degree : len(controls) + 1]))
    spans = list(pairwise(breaks))
    area = sum(
        quad(lambda t: (x(t) * dy(t) - y(t) * dx(t)) / 2, *s, epsrel=1e-12)[0] for s in spans
    )
    length = sum(quad(lambda t: math.hypot(dx(t), dy(t)), *s, epsrel=1e-12)[0] for s in spans)
    return abs(area), length


def test_periodic_closed_spline_against_integration(tmp_path):
    """Knots reach beyond the curve's domain at both ends, as programs write smooth closed
    splines."""
    controls = [(0, 0), (90, 0), (108, 63), (45, 108), (-27, 54)]
    document = new()
    entity = document.modelspace().add_spline(dxfattribs=WALL)
    tool = closed_uniform_bspline(controls)
    entity.apply_construction_tool(tool)
    entity.closed = True
    path = only_shape(read(document, tmp_path))
    area, length = _integrals(list(tool.knots()), [p.xyz for p in tool.control_points], 3)
    assert path.closed
    assert path.area == pytest.approx(area, rel=1e-6)
    assert path.length == pytest.approx(length, rel=1e-6)


def test_open_spline_against_integration(tmp_path):
    document = new()
    controls = [(0, 0), (40, 90), (80, -30), (120, 60), (150, 0)]
    knots = [0, 0, 0, 0, 0.5, 1, 1, 1, 1]
    document.modelspace().add_open_spline(controls, knots=knots, dxfattribs=WALL)
    path = only_shape(read(document, tmp_path, **AS_MARKS))
    assert not path.closed
    assert path.length == pytest.approx(_integrals(knots, controls, 3)[1], rel=1e-6)


def test_spline_with_a_corner_keeps_it(tmp_path):
    """A knot as often as the degree makes a corner: two straight stretches, (0,0) (60,0)
    (60,40)."""
    controls = [(0, 0), (20, 0), (40, 0), (60, 0), (60, 10), (60, 20), (60, 40)]
    document = new()
    document.modelspace().add_open_spline(
        controls, knots=[0] * 4 + [1] * 3 + [2] * 4, dxfattribs=WALL
    )
    path = only_shape(read(document, tmp_path, **AS_MARKS))
    assert path.length == pytest.approx(100, rel=1e-9)
    assert (60, 0) in [pytest.approx(p) for p in path.points]
    assert len(path.vertices) < 10


def test_rational_spline_draws_a_circle(tmp_path):
    """The nine-point rational quadratic with weights cos 45 degrees is a circle of radius 50."""
    w = math.sqrt(0.5)
    controls = [
        (50, 0),
        (50, 50),
        (0, 50),
        (-50, 50),
        (-50, 0),
        (-50, -50),
        (0, -50),
        (50, -50),
        (50, 0),
    ]
    document = new()
    document.modelspace().add_rational_spline(
        controls,
        [1, w, 1, w, 1, w, 1, w, 1],
        degree=2,
        knots=[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
        dxfattribs=WALL,
    )
    path = only_shape(read(document, tmp_path))
    assert path.closed
    assert path.area == pytest.approx(math.pi * 2500, rel=1e-6)
    assert path.length == pytest.approx(math.pi * 100, rel=1e-6)


def test_fit_points_alone_are_enough(tmp_path):
    """The curve goes through its fit points; closed, it comes back to the first."""
    points = [(0, 0), (90, 0), (90, 60), (0, 60)]
    document = new()
    document.modelspace().add_spline(points, dxfattribs=WALL).closed = True
    path = only_shape(read(document, tmp_path))
    assert path.closed
    for x, y in points:
        assert min(math.dist((x, y), p) for p in path.flatten(rise_in=1e-4)) < 0.05
    assert path.area > 90 * 60


def test_flat_polyline_in_space_is_read_and_a_leaning_one_told(tmp_path):
    document = new()
    space = document.modelspace()
    space.add_polyline3d([(0, 0, 7), (80, 0, 7), (80, 50, 7)], close=True, dxfattribs=WALL)
    space.add_polyline3d([(0, 0, 0), (80, 0, 0), (80, 50, 9)], close=True, dxfattribs=WALL)
    drawing = read(document, tmp_path)
    assert only_shape(drawing).area == pytest.approx(2000)
    assert "ENTITY_UNUSABLE" in told(drawing)


@pytest.mark.parametrize("kind", ["LWPOLYLINE", "POLYLINE", "CIRCLE", "ARC", "TEXT"])
def test_extrusion_along_minus_z_mirrors_x(kind, tmp_path):
    """In the plane extruded along -Z, x runs the other way (DXF reference, arbitrary axis
    algorithm)."""
    document = new()
    space = document.modelspace()
    under = {"layer": "A-WALL", "extrusion": (0, 0, -1)}
    if kind == "LWPOLYLINE":
        space.add_lwpolyline(BOW, format="xyb", close=True, dxfattribs=under)
    elif kind == "POLYLINE":
        space.add_polyline2d(BOW, format="xyb", close=True, dxfattribs=under)
    elif kind == "CIRCLE":
        space.add_circle((60, 50), 20, dxfattribs=under)
    elif kind == "ARC":
        space.add_arc((60, 50), 20, 0, 90, dxfattribs=under)
    else:
        space.add_circle((60, 50), 20, dxfattribs=WALL)
        space.add_text("NORTH", dxfattribs={**under, "layer": "A-NAME", "insert": (60, 50)})
    drawing = read(document, tmp_path, layers__name=("A-NAME",), **AS_MARKS)
    if kind == "TEXT":
        assert drawing.labels[0].at == pytest.approx((-60, 50))
        return
    path = only_shape(drawing)
    expected = {"CIRCLE": (-80, 30, -40, 70), "ARC": (-80, 50, -60, 70)}.get(
        kind, (-120, 0, 0, 120)
    )
    assert path.box == pytest.approx(expected)
    if path.closed and kind != "CIRCLE":
        assert path.area == pytest.approx(BOW_AREA, rel=1e-12)


def test_tilted_plane_is_told(tmp_path):
    document = new()
    document.modelspace().add_circle(
        (0, 0), 20, dxfattribs={"layer": "A-WALL", "extrusion": (0, 1, 1)}
    )
    drawing = read(document, tmp_path)
    assert drawing.shapes == ()
    assert drawing.notices[0].code == "ENTITY_UNUSABLE"
    assert "tilted" in say(drawing.notices[0].message)


def test_spline_fitted_polyline_leaves_its_control_points_out(tmp_path):
    """Vertices with flag 16 are the frame of a fitted curve, not on it (DXF reference, VERTEX)."""
    document = new()
    line = document.modelspace().add_polyline2d(
        [(0, 0), (50, 99), (100, 0), (100, 80), (0, 80)], close=True, dxfattribs=WALL
    )
    line.vertices[1].dxf.flags = 16
    assert only_shape(read(document, tmp_path)).area == pytest.approx(8000)
