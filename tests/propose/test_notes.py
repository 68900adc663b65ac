"""Notes with leaders tell which wall is stone."""

import pytest
import shapely
from drawn_sheets import facade, scene, sheet, text

from dxf2veneer.propose.notes import stone_notes
from dxf2veneer.propose.views import find_views

WALLS = [shapely.box(0, 0, 8000, 900), shapely.box(0, 900, 8000, 2800)]


@pytest.mark.parametrize(
    ("words", "tip", "noted"),
    [
        ("STONE VENEER", (7500, 500), {0: "STONE VENEER"}),
        ("Naturstein, lagerhaft", (7500, 500), {0: "Naturstein, lagerhaft"}),
        ("STONE VENEER", (7500, 1500), {1: "STONE VENEER"}),
        ("STONE VENEER", (8800, 500), {}),  # ends beside the wall
        ("STONE SILL", (7500, 500), {}),  # a piece, no wall of it
        ("VINYL SIDING", (7500, 500), {}),
    ],
)
@pytest.mark.parametrize("way", ["from the text", "from the wall", "with a landing"])
def test_a_wall_is_what_the_note_says_whose_leader_ends_in_it(words, tip, noted, way):
    """
    |    _____|      a base from 0 to 900 and a wall over it to 2800; the note stands at
    |   /     |      (9000, 1600), right of the facade
    |__/______|
    """
    document, space = sheet(units=4)
    facade(space, 0, 0)
    text(space, words, 9000, 1600, 200)
    begin = (8900, 1650)
    if way == "with a landing":
        space.add_leader([tip, (8700, 1650), begin])
    else:
        space.add_line(*((begin, tip) if way == "from the text" else (tip, begin)))
    seen = scene(document)
    (view,) = (v for v in find_views(seen) if v.kind == "elevation")
    assert stone_notes(seen, view, WALLS) == noted
