"""Texts of the overlay that belong together move together, and keep clear of what shows.

``takeoff()``: wall W1 is 240 in wide and 96 high, its title stands above it from x 0; O2 is 40 in
wide, its sill, at y 30, leaves a strip of 6 in.
"""

from __future__ import annotations

import dataclasses
import itertools

import ezdxf
import pytest
from builders import as_written
from takeoffs import takeoff
from test_overlay_text import inside, our_texts

from dxf2veneer.basics.notices import Notice
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.texts import Line, Sheet, overlap

STEP = 1.6
"""Distance of lines in text heights."""


def texts(tmp_path, made, *, layer="0", off=False, scale=None):
    """Lines of the overlay by what they are, over a drawing with one text of its own above W1."""
    doc = ezdxf.new("R2018", setup=True)
    doc.header["$INSUNITS"] = 1
    if layer != "0":
        doc.layers.add(layer)
        (doc.layers.get(layer).off if off else doc.layers.get(layer).freeze)()
    doc.modelspace().add_text("GRID A", height=6, dxfattribs={"layer": layer}).set_placement(
        (0.0, 112.0)
    )
    doc.saveas(tmp_path / "source.dxf")
    if scale:
        made = dataclasses.replace(
            made,
            job=dataclasses.replace(
                made.job, output=dataclasses.replace(made.job.output, plot_scale=scale)
            ),
        )
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    found = {}
    for tags, line in our_texts(tmp_path / "courses.dxf", 1.0):
        found.setdefault(tags["what"], []).append(line)
    return found


def test_a_block_moves_as_one_until_no_line_of_it_hides_another():
    # the taken box lies where the lower line would stand: both go up by one step, and 0.4 of a
    # height stay between
    sheet = Sheet([(0.0, -1.0, 10.0, 0.7)])
    block = sheet.place_block([Line("AB", 0.0, 0.0, 1.0), Line("C", 0.0, 1.6, 1.0)], step=1.6)
    assert [line.y for line in block] == pytest.approx([1.6, 3.2])
    assert not sheet.is_free(block[1].box)


def test_a_walls_text_is_not_torn_apart_by_a_text_of_the_drawing(tmp_path):
    title = texts(tmp_path, takeoff())["wall text"]
    heights = sorted(line.y for line in title)
    gaps = [b - a for a, b in itertools.pairwise(heights)]
    assert gaps == pytest.approx([STEP * title[0].height] * (len(title) - 1))
    assert not any(overlap(line.box, (0.0, 112.0, 30.0, 118.0)) for line in title)


@pytest.mark.parametrize("off", [True, False], ids=["off", "frozen"])
def test_a_text_on_a_hidden_layer_is_no_obstacle(tmp_path, off):
    lowest = min(
        line.y for line in texts(tmp_path, takeoff(), layer="HIDDEN", off=off)["wall text"]
    )
    assert lowest < 118.0 < min(line.y for line in texts(tmp_path, takeoff())["wall text"])


def test_a_strips_text_takes_two_lines_where_one_has_no_room(tmp_path):
    # at 1:24 the least height is 1.5 in: 21 letters of 0.95 take 30 of the 38.4 in that O2 leaves;
    # at 1:36 they would take 45
    assert [line.text for line in texts(tmp_path, takeoff(), scale=24.0)["sill off course"]] == [
        'sill: strip 6", up 2"'
    ]
    assert [line.text for line in texts(tmp_path, takeoff(), scale=36.0)["sill off course"]] == [
        'sill: strip 6"',
        'up 2"',
    ]


def test_the_text_of_a_notice_in_an_opening_stays_in_it(tmp_path):
    # O2 from x 120 to 160: right of a mark at x 150 there is no room for 17 letters of 1.4 in
    made = takeoff()
    made = dataclasses.replace(
        made, notices=(Notice("DOOR_ASSUMED", as_written("a door"), 0, None, None, (150.0, 50.0)),)
    )
    (line,) = texts(tmp_path, made, scale=24.0)["notice"]
    assert line.text == "INFO DOOR_ASSUMED" and inside(line.box, (120.0, 30.0, 160.0, 80.0))
