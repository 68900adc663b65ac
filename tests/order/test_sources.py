"""Where each line of the order comes from: the wall of docs/order-example.md with stones round its
openings, line by line, each way with what it counts, where, how much and in which unit.

A wall of 240 x 74.25 with a window 36 x 24, a door 36 x 60, a light 8 x 12, a cap along its top and
an outside corner at its left edge.
"""

import pytest
from builders import example_wall
from jobs import ordered

from dxf2veneer.wording import say

NET = "W1 net area 87.56 sqft"
"""123.75 less 6 + 15 + 0.67 of openings, the cap's 3.75, and 5 + 5.78 of stones round window and
door.
"""
CORNER = "C1 outside corner 6.19 ft"
STARTER = "W1 starter run 16.33 ft"  # 240 less the door and its two jambs of 4
CAP = "W1 cap run 20 ft"
HEADS = "W1-O1 head 3 ft, W1-O2 head 3 ft"
JAMBS = "W1-O1 jambs 2 ft, W1-O1 jambs 2 ft, W1-O2 jambs 5 ft, W1-O2 jambs 5 ft"
SILL = "W1-O1 sill 3 ft"
TRIM = f"{HEADS}, {JAMBS}, {SILL}"
LINES = {
    "flat_panel": ["layout: W1 panels first cut or laid whole here 44 each", f"area: {NET}"],
    "corner_panel": ["layout: W1 panels first cut here 4 each", f"area: {CORNER}"],
    "starter_strip": [f"layout: {STARTER}", f"area: {STARTER}"],
    "cap_stone": [f"layout: {CAP}", f"area: {CAP}"],
    "trim_stone": [f"layout: {TRIM}", f"area: {TRIM}"],
    "fixture_block 8x12": ["layout: W1-O3 fixture 1 each"],
    "panel_fastener": ["layout: W1 fasteners of its pieces 214 each", f"area: {NET}, {CORNER}"],
    "starter_fastener": [f"layout: {STARTER}", f"area: {STARTER}"],
    "cap_fastener": [f"layout: {CAP}", f"area: {CAP}"],
    "wrb": [f"area: W1 gross area 123.75 sqft, {CORNER}"],
    # by layout one notched panel of 36 x 8, by area the strip of 36 x 2 under the sill's stones;
    # the light's 8 x 12; each 4 higher
    "lath": [
        "layout: W1 backing area 3 sqft, W1-O3 backing area 0.89 sqft",
        "area: W1 backing area 1.5 sqft, W1-O3 backing area 0.89 sqft",
    ],
    # beads at most 8 apart: six on 36, two on 8
    "adhesive": ["layout: W1 bead 4 ft, W1-O3 bead 2 ft", "area: W1 bead 1 ft, W1-O3 bead 2 ft"],
    "caulk": [
        "area: W1-O1 joint round it 10 ft, W1-O2 joint round it 13 ft, W1-O3 joint round it 3.33 "
        "ft, W1 right edge, butt 6.19 ft, W1 cap run 20 ft"
    ],
}


@pytest.fixture(scope="module")
def made():
    return ordered(example_wall(), trim__head=8.0, trim__jambs=4.0, trim__sill=4.0, panels=True)


def test_every_line_says_where_it_comes_from(made):
    told = {
        entry.key: [
            f"{way.mode}: "
            + ", ".join(
                f"{s.ref} {say(s.what)} {round(s.value, 2):g} {s.unit}" for s in way.sources
            )
            for way in entry.ways
        ]
        for entry in made.lines
    }
    assert told == LINES
