"""What else stands on a sheet where openings are drawn: marks in them, hidden outlines.

           /\\
         / () \\        a gabled facade of 8000 mm with two windows and a door (``drawn_sheets``);
       /________\\      the round window: centre (4000, 3600), radius 400
       | []  [] |
       |  ||    |
    ---------------
"""

import pytest
from drawn_sheets import box, facade, scene, sheet
from ezdxf.enums import TextEntityAlignment
from shapely.geometry import Polygon

from dxf2veneer.propose.proposing import proposal_of


def proposed(document):
    openings = proposal_of(scene(document)).openings
    return [tuple(round(v) for v in Polygon(o.outline).bounds) for o in openings]


MIDDLE = TextEntityAlignment.MIDDLE_CENTER
DRAWN = {(700, 900, 1700, 2100), (3000, 0, 4000, 2100), (6300, 900, 7300, 2100)}


@pytest.mark.parametrize("mark", [0, 150, 250])
def test_a_mark_in_a_round_window_leaves_the_window(mark):
    document, space = sheet(units=4)
    facade(space, 0, 0)
    for radius in (400, 350):
        space.add_circle((4000, 3600), radius)
    places = {"W1": (1200, 1500), "W2": (6800, 1500), "W3": (4000, 3600)}
    for name, place in places.items():
        if mark:
            space.add_circle(place, mark)
            space.add_text(name, height=100).set_placement(place, align=MIDDLE)
    assert set(proposed(document)) == DRAWN | {(3600, 3200, 4400, 4000)}


@pytest.mark.parametrize("linetype", ["CONTINUOUS", "DASHED"])
def test_what_is_drawn_in_broken_lines_is_no_opening(linetype):
    document, space = sheet(units=4)
    document.linetypes.add("DASHED", [0.6, 0.5, -0.1])
    facade(space, 0, 0)
    drawn = len(space)
    box(space, 4600, 900, 5600, 2100, loose=False)
    space[drawn].dxf.linetype = linetype
    to_come = {(4600, 900, 5600, 2100)}
    assert set(proposed(document)) == DRAWN | (to_come if linetype == "CONTINUOUS" else set())
