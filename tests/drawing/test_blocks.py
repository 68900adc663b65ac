"""References to blocks: placed as a person sees them, whatever was nested, scaled, turned,
mirrored."""

import math

import pytest
from drawings import WALL, new, only_shape, read
from refusals import refused

from dxf2veneer.wording import say

#  the block OPEN, base point (0, 0), on layer 0 unless said otherwise
#      (0,60) .--. (40,60)
#             |  |  ) half circle on the right side, diameter 20, from (40,20) to (40,40)
#      (0,0)  '--' (40,0)
OUTLINE = [(0, 0, 0), (40, 0, 0), (40, 20, 1), (40, 40, 0), (40, 60, 0), (0, 60, 0)]
AREA = 40 * 60 + math.pi * 100 / 2


def with_block(layer="0", base=(0, 0)):
    document = new()
    block = document.blocks.new("OPEN", base_point=base)
    block.add_lwpolyline(OUTLINE, format="xyb", close=True, dxfattribs={"layer": layer})
    return document


def test_layer_0_takes_the_references_layer_and_the_references_handle(tmp_path):
    document = with_block()
    insert = document.modelspace().add_blockref("OPEN", (100, 200), dxfattribs=WALL)
    drawing = read(document, tmp_path)
    (shape,) = drawing.shapes
    assert (shape.layer, shape.handle, shape.entity) == ("A-WALL", insert.dxf.handle, "LWPOLYLINE")
    assert shape.path.box == pytest.approx((100, 200, 150, 260))


def test_content_keeps_its_own_layer(tmp_path):
    document = with_block("A-WALL")
    document.modelspace().add_blockref("OPEN", (0, 0), dxfattribs={"layer": "OTHER"})
    assert only_shape(read(document, tmp_path)).area == pytest.approx(AREA)


def test_base_point_is_where_the_reference_stands(tmp_path):
    document = with_block(base=(10, 5))
    document.modelspace().add_blockref("OPEN", (100, 200), dxfattribs=WALL)
    assert only_shape(read(document, tmp_path)).box == pytest.approx((90, 195, 140, 255))


def test_mirrored_and_turned_stays_exact_and_the_bulge_flips(tmp_path):
    """Mirrored in x, then turned by a quarter: (x, y) -> (-x, y) -> (-y, -x)."""
    document = with_block()
    document.modelspace().add_blockref(
        "OPEN", (0, 0), dxfattribs=WALL | {"xscale": -2, "yscale": 2, "rotation": 90}
    )
    path = only_shape(read(document, tmp_path))
    assert path.area == pytest.approx(4 * AREA, rel=1e-12)
    assert path.box == pytest.approx((-120, -100, 0, 0))
    assert [b for *_, b in path.vertices] == [0, 0, -1, 0, 0, 0]


def test_unequal_scale_turns_arcs_to_ellipses_and_stays_closed(tmp_path):
    """Areas grow by the product of the scales; the half ellipse has half axes 30 and 20."""
    document = with_block()
    document.modelspace().add_blockref("OPEN", (0, 0), dxfattribs=WALL | {"xscale": 3, "yscale": 2})
    path = only_shape(read(document, tmp_path))
    assert path.closed
    assert path.area == pytest.approx(6 * AREA, rel=1e-7)
    assert path.box == pytest.approx((0, 0, 150, 120), abs=1e-4)


def test_circle_under_unequal_scale(tmp_path):
    document = new()
    document.blocks.new("ROUND").add_circle((10, 0), 10)
    document.modelspace().add_blockref(
        "ROUND", (5, 5), dxfattribs=WALL | {"xscale": 4, "yscale": -1, "rotation": 30}
    )
    path = only_shape(read(document, tmp_path))
    assert path.closed
    assert path.area == pytest.approx(math.pi * 10 * 40, rel=1e-7)


def test_nested_blocks_pass_layer_0_outwards(tmp_path):
    """OPEN turned by a quarter in MIDDLE, MIDDLE doubled in the drawing: (x, y) -> (-y, x) ->
    twice."""
    document = with_block()
    document.blocks.new("MIDDLE").add_blockref("OPEN", (10, 0), dxfattribs={"rotation": 90})
    insert = document.modelspace().add_blockref(
        "MIDDLE", (0, 0), dxfattribs=WALL | {"xscale": 2, "yscale": 2, "zscale": 2}
    )
    (shape,) = read(document, tmp_path).shapes
    assert shape.handle == insert.dxf.handle
    assert shape.path.box == pytest.approx((-100, 0, 20, 100))
    assert shape.path.area == pytest.approx(4 * AREA, rel=1e-12)


def test_nested_reference_on_its_own_layer_gives_that_layer(tmp_path):
    document = with_block()
    document.blocks.new("MIDDLE").add_blockref("OPEN", (0, 0), dxfattribs=WALL)
    document.modelspace().add_blockref("MIDDLE", (0, 0), dxfattribs={"layer": "OTHER"})
    assert read(document, tmp_path).shapes[0].layer == "A-WALL"


def test_rows_and_columns(tmp_path):
    """3 columns 100 apart, 2 rows 150 apart, all turned by a quarter: spacing turns, and isn't
    scaled."""
    document = with_block()
    grid = {
        "column_count": 3,
        "row_count": 2,
        "column_spacing": 100,
        "row_spacing": 150,
        "rotation": 90,
        "xscale": 2,
        "yscale": 2,
    }
    document.modelspace().add_blockref("OPEN", (0, 0), dxfattribs=WALL | grid)
    boxes = sorted(
        (round(s.path.box[2]), round(s.path.box[1])) for s in read(document, tmp_path).shapes
    )
    assert boxes == [(-150, 0), (-150, 100), (-150, 200), (0, 0), (0, 100), (0, 200)]


def test_reference_extruded_along_minus_z(tmp_path):
    document = with_block()
    document.modelspace().add_blockref(
        "OPEN", (100, 0), dxfattribs=WALL | {"extrusion": (0, 0, -1)}
    )
    path = only_shape(read(document, tmp_path))
    assert path.box == pytest.approx((-150, 0, -100, 60))
    assert path.area == pytest.approx(AREA, rel=1e-12)


def test_zero_scale_is_told_and_a_flat_z_is_harmless(tmp_path):
    document = with_block()
    space = document.modelspace()
    broken = space.add_blockref("OPEN", (0, 0), dxfattribs=WALL)
    broken.dxf.__dict__["xscale"] = 0.0  # the library refuses to set it, but files hold it
    space.add_blockref("OPEN", (300, 0), dxfattribs=WALL).dxf.__dict__["zscale"] = 0.0
    drawing = read(document, tmp_path)
    assert only_shape(drawing).area == pytest.approx(AREA, rel=1e-12)
    (notice,) = drawing.notices[:1]
    assert (notice.code, notice.handle) == ("ENTITY_UNUSABLE", broken.dxf.handle)
    assert "scale is zero" in say(notice.message)


def test_block_that_contains_itself_is_stopped(tmp_path):
    document = with_block()
    document.blocks.get("OPEN").add_blockref("OPEN", (5, 5))
    document.modelspace().add_blockref("OPEN", (0, 0), dxfattribs=WALL)
    drawing = read(document, tmp_path)
    assert only_shape(drawing).area == pytest.approx(AREA)
    assert any("contains itself" in say(n.message) for n in drawing.notices)


def test_frozen_reference_hides_all_of_it_an_off_one_only_layer_0(tmp_path):
    """A frozen layer hides the references on it whole; an off layer what shows on it."""
    document = new()
    block = document.blocks.new("MIXED")
    block.add_lwpolyline(OUTLINE, format="xyb", close=True, dxfattribs=WALL)
    document.layers.add("ICE").freeze()
    document.layers.add("DARK").off()
    document.modelspace().add_blockref("MIXED", (0, 0), dxfattribs={"layer": "ICE"})
    document.modelspace().add_blockref("MIXED", (200, 0), dxfattribs={"layer": "DARK"})
    drawing = read(document, tmp_path)
    assert only_shape(drawing).box[0] == pytest.approx(200)
    hidden = next(n for n in drawing.notices if n.code == "HIDDEN_LAYER")
    assert "ICE" in say(hidden.message)
    assert len(read(document, tmp_path, drawing__include_hidden=True).shapes) == 2


def test_attribute_of_a_reference_is_a_label(tmp_path):
    document = with_block()
    insert = document.modelspace().add_blockref("OPEN", (100, 0), dxfattribs=WALL)
    insert.add_attrib("NAME", "West bay", (110, 20), dxfattribs={"layer": "A-NAME"})
    drawing = read(document, tmp_path, layers__name=("A-NAME",))
    assert [(label.text, label.at, label.handle) for label in drawing.labels] == [
        ("West bay", (110, 20), insert.dxf.handle)
    ]


def test_reference_without_content_is_told(tmp_path):
    document = with_block()
    document.blocks.new("EMPTY")
    document.modelspace().add_blockref("OPEN", (0, 0), dxfattribs=WALL)
    document.modelspace().add_blockref("EMPTY", (0, 0), dxfattribs=WALL)
    assert "layer A-WALL: 1 entity of kind INSERT left out" in [
        say(n.message) for n in read(document, tmp_path).notices
    ]


def test_external_reference_is_told(tmp_path):
    document = with_block()
    document.add_xref_def("site.dxf", "SITE")
    document.modelspace().add_blockref("OPEN", (0, 0), dxfattribs=WALL)
    notice = next(n for n in read(document, tmp_path).notices if n.code == "EXTERNAL_REFERENCE")
    assert "site.dxf" in say(notice.message)


def test_references_that_multiply_without_end_are_refused(tmp_path):
    """Ten in ten in ten: each level of nesting multiplies; past the limit the drawing is
    refused."""
    from dxf2veneer.drawing import DrawingError

    document = with_block()
    inner = "OPEN"
    for level in range(3):
        block = document.blocks.new(f"LEVEL{level}")
        for i in range(10):
            block.add_blockref(inner, (i, 0))
        inner = block.name
    document.modelspace().add_blockref(inner, (0, 0), dxfattribs=WALL)
    with refused(DrawingError, match="nest to more than 999"):
        read(document, tmp_path, limits__entities=999)
    assert len(read(document, tmp_path, limits__entities=5000).shapes) == 1000


def test_paper_space_is_never_read(tmp_path):
    document = with_block()
    document.layout("Layout1").add_blockref("OPEN", (0, 0), dxfattribs=WALL)
    document.modelspace().add_blockref("OPEN", (500, 0), dxfattribs=WALL)
    assert only_shape(read(document, tmp_path)).box[0] == pytest.approx(500)
