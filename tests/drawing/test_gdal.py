"""An independent reader, GDAL's DXF driver through pyogrio, sees the same closed outlines.

GDAL flattens arcs to chords (half a degree here): the inscribed polygon of an n-th of a circle is
smaller by a factor of sin(a)/a, 1.3e-5 at half a degree. It leaves circles lines, so those are
measured here as rings.
"""

import pytest
from drawings import VERSIONS, WALL, job, new

from dxf2veneer.drawing import load_drawing

pyogrio = pytest.importorskip("pyogrio")
shapely = pytest.importorskip("shapely")

ARC_ERROR = 2e-5

#        .-'''-.            arch: chord 60, rise 30
#      .'       '.
#      |         |   |\     triangle, and a box with two quarter circles
#      '---------'   |_\
ARCH = [(0, 0, 0), (60, 0, 0), (60, 80, 1), (0, 80, 0)]
TRIANGLE = [(100, 0, 0), (140, 0, 0), (100, 70, 0)]
ROUNDED = [
    (200, 0, 0),
    (280, 0, 0.41421356),
    (300, 20, 0),
    (300, 90, 0),
    (220, 90, 0.41421356),
    (200, 70, 0),
]


def areas_of_gdal(path):
    pyogrio.set_gdal_config_options(
        {
            "DXF_CLOSED_LINE_AS_POLYGON": "YES",
            "DXF_MERGE_BLOCK_GEOMETRIES": "NO",
            "OGR_ARC_STEPSIZE": "0.5",
        }
    )
    _, _, geometries, fields = pyogrio.raw.read(path, columns=["Layer"])
    shapes = [
        g
        for g, layer in zip(shapely.from_wkb(geometries), fields[0], strict=True)
        if layer == "A-WALL"
    ]
    rings = [shapely.Polygon(s.coords) if isinstance(s, shapely.LineString) else s for s in shapes]
    return sorted(r.area for r in rings)


def drawn(version):
    document = new(version)
    space = document.modelspace()
    for outline in (ARCH, TRIANGLE, ROUNDED):
        if version == "R12":
            space.add_polyline2d(outline, format="xyb", close=True, dxfattribs=WALL)
        else:
            space.add_lwpolyline(outline, format="xyb", close=True, dxfattribs=WALL)
    space.add_circle((400, 50), 25, dxfattribs=WALL)
    space.add_polyline2d(
        ARCH, format="xyb", close=True, dxfattribs=WALL | {"extrusion": (0, 0, -1)}
    )
    block = document.blocks.new("BAY")
    block.add_polyline2d(ROUNDED, format="xyb", close=True)
    space.add_blockref(
        "BAY",
        (0, 300),
        dxfattribs=WALL | {"xscale": -1.5, "yscale": 1.5, "zscale": 1.5, "rotation": 25},
    )
    space.add_blockref("BAY", (0, 900), dxfattribs=WALL | {"xscale": 2, "yscale": 0.5})
    document.blocks.new("NEST").add_blockref("BAY", (5, 5), dxfattribs={"rotation": 90})
    space.add_blockref("NEST", (900, 900), dxfattribs=WALL)
    return document


@pytest.mark.parametrize("fmt", ["asc", "bin"])
@pytest.mark.parametrize("version", VERSIONS)
def test_gdal_agrees_on_every_area(version, fmt, tmp_path):
    path = tmp_path / "drawing.dxf"
    drawn(version).saveas(path, fmt=fmt)
    ours = sorted(
        s.path.area for s in load_drawing(path, job(drawing__units="in"), 0).shapes if s.path.closed
    )
    assert ours == pytest.approx(areas_of_gdal(path), rel=ARC_ERROR)
    assert len(ours) == 8


def test_the_real_elevation(real_drawings):
    """Known value: the traced wall is 17,358,240 mm2, its openings 3,792,240 mm2."""
    path = real_drawings / "woodshed-front-traced.dxf"
    chosen = job(layers__wall=("VENEER-WALL",), layers__opening=("veneer-open*",))
    drawing = load_drawing(path, chosen, 0)
    areas = {
        layer: sum(s.path.area for s in drawing.shapes if s.layer == layer) * 25.4**2
        for layer in ("VENEER-WALL", "VENEER-OPENING")
    }
    assert areas == pytest.approx(
        {"VENEER-WALL": 17_358_240, "VENEER-OPENING": 3_792_240}, rel=1e-12
    )


#   a hatch with a round top and two islands, one of them an ellipse of edges
@pytest.mark.parametrize("version", ["R2000", "R2018"])
def test_gdal_measures_the_same_hatched_area(version, tmp_path):
    document = new(version)
    hatch = document.modelspace().add_hatch(dxfattribs=WALL)
    hatch.paths.add_polyline_path(ARCH)
    hatch.paths.add_polyline_path([(10, 10), (25, 10), (25, 40), (10, 40)], flags=16)
    hatch.paths.add_edge_path(flags=16).add_ellipse((40, 60), (0, 15), 0.5, 0, 360)
    path = tmp_path / "hatch.dxf"
    document.saveas(path)
    shapes = load_drawing(path, job(), 0).shapes
    ours = sum(-s.path.area if s.picked else s.path.area for s in shapes)
    assert [s.picked for s in shapes] == [False, True, True]
    assert areas_of_gdal(path) == pytest.approx([ours], rel=5e-5)
