"""What is visible in a drawing, flattened: every kind of entity, blocks, hidden layers, layouts."""

from __future__ import annotations

import math

import ezdxf
import numpy as np
import pytest
from drawn_sheets import scene, sheet

from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.propose.reading import read_scene, scene_of


def ends(found):
    return {tuple(np.round(row, 6)) for row in found.segments.tolist()}


def test_lines_and_closed_polylines_become_segments():
    document, space = sheet()
    space.add_line((0, 0), (3, 4))
    space.add_lwpolyline([(0, 0), (7, 0), (7, 2)], close=True)
    found = scene(document)
    assert ends(found) == {(0, 0, 3, 4), (0, 0, 7, 0), (7, 0, 7, 2), (7, 2, 0, 0)}
    assert found.owner.tolist() == [0, 1, 1, 1]
    assert [e.closed for e in found.entities] == [False, True]
    assert found.entities[1].box == (0, 0, 7, 2)


@pytest.mark.parametrize(
    ("draw", "length"),
    [
        (lambda s: s.add_circle((5, 5), 2), 4 * math.pi),
        (lambda s: s.add_arc((0, 0), 3, 350, 80), 3 * math.radians(90)),
        (lambda s: s.add_ellipse((0, 0), (4, 0), 0.5, 0, math.tau), 9.688448 * 2),
        (lambda s: s.add_lwpolyline([(0, 0, 0, 0, 1), (4, 0)]), 2 * math.pi),
    ],
    ids=["circle", "arc over the x axis", "ellipse", "bulge of a half circle"],
)
def test_curves_keep_their_length(draw, length):
    """Perimeter of an ellipse with half axes 4 and 2: 19.376896 (4 a E(e), tables of elliptic
    integrals)."""
    document, space = sheet()
    draw(space)
    assert scene(document).lengths.sum() == pytest.approx(length, rel=1e-3)


def test_a_bulge_curves_to_the_side_that_its_sign_says():
    """DXF reference, LWPOLYLINE: a positive bulge runs counter-clockwise, so from (0,0) to (4,0)
    below the chord."""
    document, space = sheet()
    space.add_lwpolyline([(0, 0, 0, 0, 1), (4, 0)])
    assert scene(document).segments[:, 1].min() == pytest.approx(-2)


def test_a_reference_places_its_block_scaled_turned_and_numbered():
    """A unit step in a block, placed twice: at (10, 0) twice as large, and mirrored at (0, 5)."""
    document, space = sheet()
    block = document.blocks.new("STEP")
    block.add_line((0, 0), (1, 0), dxfattribs={"layer": "0"})
    block.add_line((1, 0), (1, 2), dxfattribs={"layer": "TREAD"})
    space.add_blockref("STEP", (10, 0), dxfattribs={"xscale": 2, "yscale": 2, "layer": "STAIRS"})
    space.add_blockref("STEP", (0, 5), dxfattribs={"xscale": -1})
    found = scene(document)
    assert ends(found) == {(10, 0, 12, 0), (12, 0, 12, 4), (0, 5, -1, 5), (-1, 5, -1, 7)}
    assert [e.layer for e in found.entities[:2]] == ["STAIRS", "TREAD"]
    assert [e.insert for e in found.entities] == [0, 0, 1, 1]
    assert {e.block for e in found.entities} == {"STEP"}


def test_rows_and_columns_of_a_reference_are_each_a_reference():
    document, space = sheet()
    document.blocks.new("DOT").add_line((0, 0), (0, 1))
    space.add_blockref(
        "DOT",
        (0, 0),
        dxfattribs={"column_count": 2, "column_spacing": 5, "row_count": 2, "row_spacing": 7},
    )
    found = scene(document)
    assert ends(found) == {(0, 0, 0, 1), (5, 0, 5, 1), (0, 7, 0, 8), (5, 7, 5, 8)}
    assert len({e.insert for e in found.entities}) == 4


def test_a_block_within_itself_is_not_followed():
    document, space = sheet()
    block = document.blocks.new("LOOP")
    block.add_line((0, 0), (1, 0))
    block.add_blockref("LOOP", (2, 0))
    space.add_blockref("LOOP", (0, 0))
    assert ends(scene(document)) == {(0, 0, 1, 0)}


def test_references_that_multiply_are_refused_in_one_line():
    document, space = sheet()
    document.blocks.new("B0").add_line((0, 0), (1, 0))
    for level in range(1, 6):
        block = document.blocks.new(f"B{level}")
        for _ in range(10):
            block.add_blockref(f"B{level - 1}", (0, 0))
    space.add_blockref("B5", (0, 0))
    with pytest.raises(DrawingError, match="references-too-many: most=1000"):
        scene_of(document, limits=Limits(entities=1000))


def test_hidden_layers_are_left_out_unless_asked_for():
    document, space = sheet()
    document.layers.add("OLD").freeze()
    document.layers.add("AWAY").off()
    space.add_line((0, 0), (1, 0), dxfattribs={"layer": "OLD"})
    space.add_line((0, 1), (1, 1), dxfattribs={"layer": "away"})
    space.add_line((0, 2), (1, 2), dxfattribs={"layer": "NEW"})
    assert ends(scene(document)) == {(0, 2, 1, 2)}
    assert len(scene_of(document, include_hidden=True).entities) == 3


def test_content_on_layer_0_is_hidden_with_the_layer_of_its_reference():
    document, space = sheet()
    document.layers.add("AWAY").off()
    block = document.blocks.new("PAIR")
    block.add_line((0, 0), (1, 0), dxfattribs={"layer": "0"})
    block.add_line((0, 1), (1, 1), dxfattribs={"layer": "SHOWN"})
    space.add_blockref("PAIR", (0, 0), dxfattribs={"layer": "AWAY"})
    assert ends(scene(document)) == {(0, 1, 1, 1)}


def test_texts_know_their_room():
    document, space = sheet()
    space.add_text("MIDDLE", height=10).set_placement(
        (100, 50), align=ezdxf.enums.TextEntityAlignment.MIDDLE_CENTER
    )
    space.add_mtext(
        "two\\Plines", dxfattribs={"char_height": 5, "insert": (0, 0), "attachment_point": 1}
    )
    one, two = scene(document).texts
    assert (one.box[0] + one.box[2]) / 2 == pytest.approx(100)
    assert (one.box[1] + one.box[3]) / 2 == pytest.approx(50)
    assert two.text == "two\nlines"
    assert two.box[3] == pytest.approx(0) and two.box[1] == pytest.approx(-13)


def test_attributes_of_a_reference_are_texts_with_its_handle():
    document, space = sheet()
    document.blocks.new("MARK").add_attdef("LEVEL", (0, 0), height=2)
    reference = space.add_blockref("MARK", (5, 5))
    reference.add_attrib("LEVEL", "+3.00", (5, 5), dxfattribs={"height": 2})
    (text,) = scene(document).texts
    assert (text.text, text.tag, text.handle, text.block) == (
        "+3.00",
        "LEVEL",
        reference.dxf.handle,
        "MARK",
    )


def test_a_dimension_tells_its_length_its_text_and_its_room():
    document, space = sheet()
    space.add_linear_dim(base=(0, 30), p1=(0, 0), p2=(100, 40), angle=0, text="10'-0\"").render()
    space.add_linear_dim(base=(-30, 0), p1=(0, 0), p2=(100, 40), angle=90).render()
    across, up = scene(document).dimensions
    assert (across.measured, across.text, across.typed) == (pytest.approx(100), "10'-0\"", True)
    assert (up.measured, up.typed) == (pytest.approx(40), False)
    assert up.text == "40"
    assert across.box[3] >= 40 and up.box[0] <= -30


def test_a_hatch_tells_its_boundary_and_the_distance_of_its_lines():
    document, space = sheet()
    hatch = space.add_hatch()
    hatch.paths.add_polyline_path([(0, 0), (50, 0), (50, 20)], is_closed=True)
    hatch.set_pattern_fill("COURSES", definition=[[0, (0, 0), (3, 8), []]])
    (found,) = scene(document).hatches
    assert found.box == (0, 0, 50, 20)
    assert [(a, round(g, 6)) for a, g, _ in found.lines] == [(0, 8)]


def test_a_viewport_tells_what_it_shows_at_which_scale():
    """A window of 200 x 100 on paper that shows 10 m of a drawing in millimetres upwards: 1:100."""
    document, space = sheet()
    space.add_line((0, 0), (1, 1))
    document.layout("Layout1").add_viewport(
        (150, 120), size=(200, 100), view_center_point=(9000, 4000), view_height=10000
    )
    (window,) = scene(document).viewports
    assert (window.x, window.y, window.width, window.height, window.scale) == (
        9000,
        4000,
        20000,
        10000,
        100,
    )
    assert window.paper == (50, 70, 250, 170)


def test_a_bad_entity_costs_only_itself():
    document, space = sheet()
    space.add_circle((0, 0), -5)
    space.add_line((0, 0), (math.nan, 1))
    space.add_line((0, 0), (2, 0))
    assert (0, 0, 2, 0) in ends(scene(document))
    assert np.isfinite(scene(document).segments).all()


def test_a_file_that_is_no_drawing_is_refused_in_one_line(tmp_path):
    path = tmp_path / "letter.dxf"
    path.write_text("Dear Sir\n")
    with pytest.raises(DrawingError):
        read_scene(path)
