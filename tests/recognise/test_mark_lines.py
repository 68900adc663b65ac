"""Lines of the job file along edges, beside marks on layers.

y 96 +---------------+
     |               |       left edge: lower 40 in marked as an inside corner, the rest
  40 x               x       as the job says; right edge: marked as a finished end
     |               |
   0 +---------------+
     0              200
"""

from __future__ import annotations

import ezdxf
import pytest

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.config.job import load_job


def taken(tmp_path, *lines):
    document = ezdxf.new()
    document.header["$INSUNITS"] = 1
    document.saveas(tmp_path / "bare.dxf")
    settings = {
        "drawing.wall_outline": ["North=0,0 200,0 200,96 0,96"],
        "drawing.mark_line": list(lines),
        "plan.panels": False,
    }
    return take_off(tmp_path / "bare.dxf", load_job(None, settings))


def test_a_line_along_part_of_an_edge_splits_it(tmp_path):
    takeoff = taken(tmp_path, "inside A=0,0 0,40", "end=200,0 200,96")
    (wall,) = takeoff.walls
    assert [(e.side, e.y0, e.y1, e.kind, e.tag) for e in wall.wall.edges] == [
        ("left", 0, 40, "inside", "A"),
        ("left", 40, 96, "butt", None),
        ("right", 0, 96, "end", None),
    ]


def test_a_bay_is_a_mitre_and_a_cap_comes_off_the_top(tmp_path):
    takeoff = taken(tmp_path, "bay=200,0 200,96", "cap=0,96 150,96")
    assert [c.kind for c in takeoff.corners] == ["mitre"]
    assert takeoff.totals.cap_run == 150


def test_a_line_at_no_edge_is_told(tmp_path):
    codes = [n.code for n in taken(tmp_path, "outside=90,0 90,96", "butt=50,0 50,9").notices]
    assert codes.count("CORNER_MARK_UNUSED") == 2


@pytest.mark.parametrize("line", ["roof=0,0 1,1", "outside=0,0", "outside=1,1 1,1", "0,0 1,1"])
def test_what_is_no_line_is_refused(line):
    with pytest.raises(TakeoffError):
        load_job(None, {"drawing.mark_line": [line]})
