"""Two takeoffs of one job compared: walls and openings matched by place, shape, name and handle,
and what their changes do.

    record.py      a takeoff as its result file records it
    outlines.py    outlines as they are matched: boxes, and how far two lie apart
    placing.py     how far a drawing lies from where the other has it, and in what scale
    assignment.py  pairs of least cost
    walls.py       which wall was which
    layers.py      layers that go by another name
    openings.py    which opening was which, and how its edges went
    parts.py       corners, ends, caps, level lines; files, layers, units
    telling.py     what changed, as messages
    amounts.py     differences of areas, runs, panels, hours, money
    comparing.py   all of it
    laying.py      walls before and now laid on each other, and where they changed
"""

from dxf2veneer.revisions.comparing import compare
from dxf2veneer.revisions.record import load_recorded, recorded

__all__ = ["compare", "load_recorded", "recorded"]
