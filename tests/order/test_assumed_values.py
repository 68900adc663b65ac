"""Tables of the job file in the list of assumptions: every number with its unit, in the reader's.

1 in is 25.4 mm, 1 sq ft 0.09290304 m2: 100 sq ft are 9.29 m2, 96 in 2438 mm.
"""

from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.wall_rows import GivenEdge, WallRow, as_given_opening
from dxf2veneer.order.assumed_values import value_of
from dxf2veneer.wording import say

ADDED = [
    {"reason": "Rear wall", "area": 100, "corners": 96},
    {"reason": "Spare", "item": "wrb", "quantity": 50},
    {"reason": "Less", "item": "caulk", "quantity": -1},
]
WINDOW = as_given_opening("window 24 x 16 at 24, 16")
ROW = WallRow("South", 72.0, 40.0, 0.0, GivenEdge("outside", "A"), None, False, (WINDOW,))


def told(value, display):
    return [say(one, display) for one in value]


def test_additions_say_what_and_how_much():
    value = value_of("order.additions", as_additions(ADDED))
    assert told(value, "feet") == [
        "Rear wall: 100.00 sq ft by area alone, corners 8'-0\"",
        "Spare: 50 of wrb more",
        "Less: 1 of caulk less",
    ]
    metric = " ".join(told(value, "metric")[0].split())
    assert metric == "Rear wall: 9.29 m² by area alone, corners 2 438 mm"


def test_walls_by_their_sizes_say_them_with_units():
    value = value_of("walls.rows", (ROW,))
    window = "window 2'-0\" x 1'-4\" at 2'-0\", sill 1'-4\""
    assert told(value, "feet") == [f"South: 6'-0\" x 3'-4\", left outside A, {window}"]
    metric = " ".join(told(value, "metric")[0].split())
    assert metric.startswith("South: 1 828.8 mm x 1 016 mm, left outside A, window 609.6 mm x")
