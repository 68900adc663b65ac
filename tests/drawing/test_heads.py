"""An opening whose head is not drawn is told, with the outline that takes it.

3000 .-----------------------------.
     |     . 2100        . 2100    |     jambs and sill on OPEN, in millimeters; what is drawn
     |     |             |         |     from top to top decides
     |     '-------------' 900     |
   0 '-----------------------------'
     0    1000          2200      9000
"""

from __future__ import annotations

import ezdxf
import pytest

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.wording import say

JAMBS = [((1000, 900), (1000, 2100)), ((2200, 2100), (2200, 900))]
SILL = [((2200, 900), (1000, 900))]
HEAD = [((1000, 2100), (2200, 2100))]


def drawn(folder, lines, polyline=()):
    """The wall, and lines on the layer of its openings."""
    doc = ezdxf.new("R2010", units=4)
    space = doc.modelspace()
    wall = [(0, 0), (9000, 0), (9000, 3000), (0, 3000)]
    space.add_lwpolyline(wall, close=True, dxfattribs={"layer": "WALL"})
    for line in lines:
        space.add_line(*line, dxfattribs={"layer": "OPEN"})
    if polyline:
        space.add_lwpolyline(polyline, dxfattribs={"layer": "OPEN"})
    doc.saveas(folder / "a.dxf")
    return folder / "a.dxf"


def taken(path, **settings):
    asked = {"layers.wall": ("WALL",), "layers.opening": ("OPEN",), "plan.panels": False}
    return take_off(path, load_job(None, {**asked, **settings}))


def told(path, **settings):
    return [n for n in taken(path, **settings).notices if n.code == "OPENING_WITHOUT_HEAD"]


@pytest.mark.parametrize("shift", [0, 5])  # ends that meet, ends that miss by 5 mm
def test_jambs_and_sill_without_a_head_are_told_with_place_and_remedy(shift, tmp_path):
    sill = [((2200 - shift, 900), (1000 + shift, 900))]
    (notice,) = told(drawn(tmp_path, [*JAMBS, *sill]))
    assert notice.layer == "OPEN"
    assert notice.at_in == pytest.approx(((1000 + shift) / 25.4, 900 / 25.4))
    assert "opening_outline" in say(notice.message)


def test_the_outline_that_is_printed_takes_the_opening(tmp_path):
    path = drawn(tmp_path, [*JAMBS, *SILL])
    (notice,) = told(path)
    outline = say(notice.message).split('["')[1].split('"]')[0]
    assert outline == "window=1000,900 2200,900 2200,2100 1000,2100"
    job = tmp_path / "job.toml"
    job.write_text(
        f'[layers]\nwall = ["WALL"]\n[drawing]\nopening_outline = ["{outline}"]\n'
        "[plan]\npanels = false\n",
        encoding="utf-8",
    )
    (wall,) = take_off(path, load_job(job)).walls
    assert wall.wall.openings[0].box == pytest.approx([v / 25.4 for v in (1000, 900, 2200, 2100)])


def test_a_polyline_open_at_the_head_is_told(tmp_path):
    shape = [(1000, 2100), (1000, 900), (2200, 900), (2200, 2100)]
    assert len(told(drawn(tmp_path, [], shape))) == 1


def test_each_of_two_openings_without_a_head_is_told(tmp_path):
    second = [((x + 4000, y), (u + 4000, v)) for (x, y), (u, v) in (*JAMBS, *SILL)]
    assert len(told(drawn(tmp_path, [*JAMBS, *SILL, *second]))) == 2


@pytest.mark.parametrize(
    "lines",
    [
        [*JAMBS, *SILL, *HEAD],
        [*JAMBS, *HEAD],
        JAMBS,
        [JAMBS[0], *SILL],
        [JAMBS[0], ((2200, 900), (2200, 1500)), *SILL],
        [((1000, 900), (1000, 1000)), ((2200, 900), (2200, 1000)), *SILL],
    ],
    ids=["closed", "no sill", "jambs alone", "one jamb", "jambs of two heights", "a kerb"],
)
def test_what_is_no_opening_without_a_head_is_not_told(lines, tmp_path):
    assert not told(drawn(tmp_path, lines))


def test_a_head_on_another_layer_of_openings_closes_it(tmp_path):
    path = drawn(tmp_path, [*JAMBS, *SILL])
    doc = ezdxf.readfile(path)
    doc.modelspace().add_line(*HEAD[0], dxfattribs={"layer": "HEADS"})
    doc.saveas(path)
    assert not told(path, **{"layers.opening": ("OPEN", "HEADS")})
