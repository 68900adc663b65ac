"""The ground among level lines: it stays part of its view though a mark's own line lies on it."""

import pytest
from drawn_sheets import box, scene, sheet, text

from dxf2veneer.propose.views import find_views


@pytest.mark.parametrize(("style", "layer"), [({"linetype": "DASHED"}, "0"), ({}, "levels")])
def test_the_ground_under_the_broken_line_of_a_level_stays_part_of_its_view(style, layer):
    """
     |  [ ]   |          wall over a cap that stands out 30 past both corners, y 500 to 570
    +----------+
     |        |    ___ \\/ +-0.00
    -+--------+---------  ground to 11000; the mark's own line from 9000 to 11500 lies on it
    """
    document, space = sheet()
    document.linetypes.add("DASHED", [2.0, 1.0, -1.0])
    box(space, -450, 5000, 8450, 5120)
    for x, out in ((0, -30), (8000, 8030)):
        for a, b in (((x, 0), (x, 500)), ((x, 570), (x, 5000)), ((out, 500), (out, 570))):
            space.add_line(a, b)
    for y in (500, 570):
        space.add_line((-30, y), (8030, y))
    box(space, 2000, 1500, 3000, 2700)
    box(space, 2080, 1580, 2920, 2620)
    space.add_line((-1500, 0), (11000, 0), dxfattribs={"layer": "0" if style else "ground"})
    space.add_line((9000, 0), (11500, 0), dxfattribs={"layer": layer, **style})
    tip, left, right = (10800, 0), (10700, 150), (10900, 150)
    for a, b in ((tip, left), (left, right), (right, tip)):
        space.add_line(a, b, dxfattribs={"layer": layer})
    text(space, "±0.00", 10950, 60, 180)
    for words in space.query("TEXT"):
        words.dxf.layer = layer
    seen = scene(document)
    (view,) = find_views(seen)
    assert [-1500, 0, 11000, 0] in seen.segments[view.segments].tolist()
