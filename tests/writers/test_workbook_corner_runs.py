"""Corner panels by area are counted from all corners and ends, whichever stands first on its sheet.

    end | North 96 |A| South 72 | end      48 high: 6 courses of 8 in

One piece a course at each end and one at each side of the corner, which takes turns with a panel:
3 x 48 in of corner and ends, and the drawn strip's two ends, 2 x 48, are 30 pieces, two from a
panel: 15 panels.
"""

import pytest
from builders import drawing, write_dxf
from sheets import column, needs_office, recalculated, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job

JOB = """[layers]
wall = ["WALL"]
outside_corner = ["OUTSIDE_CORNER"]
[recognise]
edge_kind = "end"
[plan]
panels = false
[order]
allowance = "area"
"""
SIDES = """[[walls.rows]]
name = "North"
width = 96
height = 48
left = "end"
right = "outside A"
[[walls.rows]]
name = "South"
width = 72
height = 48
left = "outside A"
right = "end"
"""


@needs_office
@pytest.mark.parametrize("display", ["imperial", "metric"])
def test_the_first_corner_and_the_first_end_count_whole(display, tmp_path):
    (tmp_path / "job.toml").write_text(
        f'{JOB}{SIDES}[output]\ndisplay = "{display}"\n', encoding="utf-8"
    )
    bare = drawing(wall=[(0, 0, 8, 48)])
    made = take_off([write_dxf(bare, tmp_path / "strip.dxf")], load_job(tmp_path / "job.toml"))
    (line,) = [n for n in made.order.lines if n.key == "corner_panel"]
    sheet = recalculated(written(tmp_path, made), tmp_path)["Order"]
    (row,) = [r for r in sheet.iter_rows(min_row=5) if r[0].value == "Corner panel"]
    shown = row[column(sheet, "Measured") - 1].value
    assert line.chosen.measured == pytest.approx(15)
    assert shown == pytest.approx(line.chosen.measured, abs=1e-6)
