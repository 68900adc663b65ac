"""Bays: corners whose panels are mitred at half the angle between the walls (rule L13).

In plan the front of a bay and its cheeks, with 135 degrees between them; below, the elevations as
drawn, each seen square on, with their marks on the bay layer and tags:

         front 84            cheek L       front        cheek R
        .---------.         |      |P  P|         |Q  Q|      |
    36 /           \\ 36     |  W1  |    |   W2    |    |  W3  |
      /             \\       '------'    '---------'    '------'
                            0     36   60        144  170    206
"""

import math

import pytest
from builders import drawing, job, line, write_dxf
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli.terminal import summary
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import load_job
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

BAY = drawing(
    wall=[(0, 0, 36, 96), (60, 0, 144, 96), (170, 0, 206, 90)],
    bay=[line(36, 0, 36, 96), line(60, 0, 60, 96), line(144, 0, 144, 96), line(170, 0, 170, 90)],
    outside_corner=[line(206, 0, 206, 90)],
    texts=[
        ("bay", "P", (38, 20)),
        ("bay", "P", (55, 20)),
        ("bay", "Q", (146, 20)),
        ("bay", "Q", (165, 20)),
    ],
)


def corners(*drawings):
    return [(c.kind, c.run, c.edges, c.tag) for c in recognise(drawings, job()).corners]


def test_bay_corners_pair_by_tag_and_count_once():
    assert corners(BAY) == [
        ("mitre", 96, (("W1", "right"), ("W2", "left")), "P"),
        ("mitre", 96, (("W2", "right"), ("W3", "left")), "Q"),
        ("outside", 90, (("W3", "right"),), None),
    ]


def test_edges_of_a_bay_bear_their_corner():
    edges = [(e.side, e.kind, e.corner) for w in recognise([BAY], job()).walls for e in w.edges]
    assert edges == [
        ("left", "butt", None), ("right", "mitre", "C1"),
        ("left", "mitre", "C1"), ("right", "mitre", "C2"),
        ("left", "mitre", "C2"), ("right", "outside", "C3"),
    ]  # fmt: skip


def test_notices_about_bays_call_them_bay_corners():
    told = {n.code: say(n.message) for n in recognise([BAY], job()).notices}
    assert (
        told["CORNER_HEIGHTS_DIFFER"]
        == "the edges of bay corner C2 differ in height: W2 8'-0\" and W3 7'-6\""
    )


def test_walls_of_a_bay_that_touch_share_their_line():
    #  .----|------.      one mark on the common line at 36
    #  | W1 |  W2  |
    #  '----|------'
    touching = drawing(wall=[(0, 0, 36, 96), (36, 0, 120, 96)], bay=[line(36, 0, 36, 96)])
    assert corners(touching) == [("mitre", 96, (("W1", "right"), ("W2", "left")), None)]


def test_a_bay_and_an_outside_corner_of_one_tag_are_no_pair():
    mixed = drawing(
        wall=[(0, 0, 36, 96), (60, 0, 144, 96)],
        bay=[line(36, 0, 36, 96)],
        outside_corner=[line(60, 0, 60, 96)],
        texts=[("bay", "P", (38, 20)), ("outside_corner", "P", (55, 20))],
    )
    assert [(c[0], len(c[2])) for c in corners(mixed)] == [("mitre", 1), ("outside", 1)]


def test_runs_of_bay_corners_are_apart_from_those_that_take_corner_panels(tmp_path):
    settings = job(plan__panels=False)
    takeoff = take_off([write_dxf(BAY, tmp_path / "bay.dxf")], settings)
    assert [takeoff.corner_run(kind) for kind in ("outside", "inside", "mitre")] == pytest.approx(
        [90, 0, 192]
    )
    (runs,) = [text for text in summary(takeoff) if text.startswith("Runs:")]
    assert "outside corners 7'-6\"" in runs
    assert "bay corners 16'-0\"" in runs


def test_the_angle_between_the_walls_is_135_degrees_unless_the_job_says_otherwise():
    assert load_job().recognise.bay_angle == 135
    assert load_job(options={"recognise.bay_angle": "120"}).recognise.bay_angle == 120
    for flat in ("180", "0", math.inf):
        with refused(SettingsError, match="--bay-angle"):
            load_job(options={"recognise.bay_angle": flat})
