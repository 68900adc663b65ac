"""Curves of a proposed outline have the area of the curve, not of 64 chords of it."""

from __future__ import annotations

import math

import ezdxf
import numpy as np
import pytest
from click.testing import CliRunner
from shapely.geometry import Polygon

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.propose import propose
from dxf2veneer.propose.curved import with_curves


def ring(count, radius=500.0, start=0.0, sweep=math.tau, cx=0.0, cy=0.0):
    """Points along a circle; a whole one does not repeat the first."""
    last = count if sweep == math.tau else count + 1
    angles = start + sweep * np.arange(last) / count
    return np.column_stack((cx + radius * np.cos(angles), cy + radius * np.sin(angles)))


@pytest.mark.parametrize("points", [ring(64), ring(64)[::-1]])
def test_a_circle_of_chords_has_the_area_of_the_circle(points):
    finer = Polygon(with_curves(points))
    assert Polygon(points).area < 0.9985 * math.pi * 500.0**2
    assert finer.area == pytest.approx(math.pi * 500.0**2, rel=1.2e-4)
    assert Polygon(with_curves(points)).exterior.hausdorff_distance(
        Polygon(ring(4096)).exterior
    ) == pytest.approx(0.0, abs=0.05)


def test_a_round_head_on_straight_jambs_keeps_its_corners():
    head = ring(32, 400.0, 0.0, math.pi, 1000.0, 2000.0)
    points = np.vstack([[(600.0, 900.0), (1400.0, 900.0)], head])
    finer = with_curves(points)
    true = 800.0 * 1100.0 + math.pi * 400.0**2 / 2
    assert Polygon(finer).area == pytest.approx(true, rel=1e-4)
    corners = {tuple(p) for p in finer.tolist()}
    assert {tuple(p) for p in points.tolist()} <= corners


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0), (9, 0), (9, 5), (0, 5)],
        [(0, 0), (9, 0), (9, 5), (4, 8), (0, 5)],
        [(0, 0), (9, 0), (18, 0.6), (27, 0.0), (27, 9), (0, 9)],  # turns to both sides
    ],
)
def test_corners_are_no_curves(points):
    np.testing.assert_array_equal(with_curves(np.array(points, float)), points)


def drawn(folder):
    """A front of 9 x 4 m with a window whose head is half a circle, and a round one; each in a
    frame of 60 mm."""
    doc = ezdxf.new("R2010", units=4)
    space = doc.modelspace()
    space.add_lwpolyline([(0, 0), (9000, 0), (9000, 4000), (0, 4000)], close=True)
    space.add_line((-2000, 0), (11_000, 0))
    for inset in (0, 60):
        left, right, foot, spring = 1000 + inset, 2200 - inset, 900 + inset, 2100
        space.add_line((left, spring), (left, foot))
        space.add_line((left, foot), (right, foot))
        space.add_line((right, foot), (right, spring))
        space.add_arc((1600, spring), 600 - inset, 0, 180)
        space.add_circle((6000, 2200), 500 - inset)
    doc.saveas(folder / "front.dxf")
    return folder / "front.dxf"


ARCHED = 1200.0 * 1200.0 + math.pi * 600.0**2 / 2
ROUND = math.pi * 500.0**2


def test_arched_and_round_windows_are_proposed_and_taken_with_their_true_areas(tmp_path):
    path = drawn(tmp_path)
    found = sorted(Polygon(o.outline).area for o in propose(path).openings)
    assert found == pytest.approx([ROUND, ARCHED], rel=3e-4)
    job = tmp_path / "job.toml"
    picture = str(tmp_path / "picture.svg")
    asked = ["propose", str(path), "--job", str(job), "--picture", picture]
    assert not CliRunner().invoke(main, asked).exit_code
    (wall,) = take_off(path, load_job(job, {"plan.panels": False})).walls
    taken = sorted(o.region.area for o in wall.wall.openings)
    # the job file's coordinates are rounded
    assert taken == pytest.approx([a / 25.4**2 for a in found], rel=1e-5)
