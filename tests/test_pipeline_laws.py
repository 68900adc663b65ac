"""Laws of a whole takeoff, on fronts drawn by chance: file in, quantities out.

x=0        left part         right part
 .----------------------|---------.
 |  []     []    .--.   |    []   |      walls W1 and W2 share a line; openings stand in slots
 |  []           |  |   |         |      of 60, shifted by chance, doors on the base, some
 '---------------'--'---|---------'      round, some across the slots' neighbours
"""

from __future__ import annotations

import dataclasses
import math
import tempfile
from pathlib import Path as File

import pytest
from builders import drawing, job, line, shuffled, write_dxf
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.geometry import Path
from dxf2veneer.model import Drawing
from dxf2veneer.wording import say

RULES = job(
    trim__head=8.0,
    trim__jambs=5.0,
    trim__sill=4.0,
    deduction__threshold_sqft=8.0,
    courses__clearance=2.0,
    plan__panels=False,
)
"""Quantities; the plan has laws of its own in coursing/."""
AREAS = ("gross_area", "opening_area", "deducted_area", "trim_area", "cap_area", "net_area")
RUNS = ("perimeter", "base_run", "cap_run", "rake_run", "starter_run")
few = settings(
    max_examples=15,
    deadline=None,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    derandomize=True,
)
"""Without shrinking: one takeoff reads a file, and shrinking would take minutes."""
eighths = st.integers(0, 8 * 30).map(lambda n: n / 8)


@st.composite
def openings(draw, slots: int):
    found = {"opening": [], "window": [], "fixture": []}
    for slot in draw(st.sets(st.integers(0, slots - 1), max_size=4)):
        x, w, h = 60 * slot + draw(eighths), 12 + draw(eighths), 20 + draw(eighths)
        y = draw(st.sampled_from([0.0, 0.5, 20.0, 31.375]))
        role = draw(st.sampled_from(sorted(found)))
        outline = (
            (x, y, x + w, y + h)
            if draw(st.booleans())
            else Path.circle((x + w / 2, y + w / 2), w / 2)
        )
        found[role].append(outline)
    return found


@st.composite
def fronts(draw) -> Drawing:
    left, right = 120 + draw(eighths), 120 + draw(eighths)
    tall, step = 96 + draw(eighths), draw(st.sampled_from([0.0, 7.5, 16.0]))
    peak = tall + draw(st.sampled_from([12.0, 40.0]))
    #            peak                 W1 is a gable, W2 has a base that steps up by `step` at its
    # middle
    first = [(0, 0), (left, 0), (left, tall), (left * 0.4, peak), (0, tall)]
    middle, end = left + right / 3, left + right
    second = [(left, 0), (middle, 0), (middle, step), (end, step), (end, tall), (left, tall)]
    return drawing(
        wall=[first, second if step else (left, 0, end, tall)],
        cap=[line(left, tall, end, tall)] if draw(st.booleans()) else [],
        outside_corner=[line(left, 0, left, tall)] if draw(st.booleans()) else [],
        **draw(openings(slots=4)),
    )


def taken(*drawings: Drawing, units: str = "in"):
    """The takeoff of the drawings, by way of DXF files in that unit."""
    with tempfile.TemporaryDirectory() as folder:
        files = [
            write_dxf(d, File(folder) / f"{i}.dxf", units=units) for i, d in enumerate(drawings)
        ]
        return take_off(files, RULES)


def moved(original: Drawing, change) -> Drawing:
    return dataclasses.replace(
        original, shapes=tuple(dataclasses.replace(s, path=change(s.path)) for s in original.shapes)
    )


def mirrored(path: Path) -> Path:
    return Path(tuple((-x, y, -b) for x, y, b in path.vertices), path.closed)


def quantities(takeoff):
    """Everything measured about each wall, without places."""
    return [
        {name: getattr(w.quantities, name) for name in AREAS + RUNS}
        | {"edges": sum(e.length for e in w.wall.edges), "courses": len(w.courses.courses)}
        | {
            "lines": math.fsum(c.x1 - c.x0 for c in w.courses.lines),
            "strips": sum(c.strip for c in w.courses.conflicts),
        }
        | {"starter lines": math.fsum(c.x1 - c.x0 for c in w.courses.starter_lines)}
        | {
            f"{o.opening.kind} {name}": math.fsum(
                getattr(p, name) for p in w.quantities.openings if p.opening.kind == o.opening.kind
            )
            for o in w.quantities.openings
            for name in ("area", "trim_head", "trim_jambs", "trim_sill", "perimeter")
        }
        for w in takeoff.walls
    ]


GRAZING = 0.02
"""Square inches by which areas may differ where the arc of a trim band lies on an opening's arc
that is cut elsewhere: their chords differ by a flattening rise (a thousandth of an inch) over their
length."""


def same(found, expected, within=1e-6):
    assert len(found) == len(expected)
    for one, two in zip(found, expected, strict=True):
        assert one.keys() == two.keys()
        for name in two:
            assert one[name] == pytest.approx(
                two[name], rel=within, abs=GRAZING if "area" in name else within
            ), name


def codes(takeoff):
    """Codes of the notices about drawings; those about the order are told once a job."""
    return sorted(n.code for n in takeoff.notices if n.drawing is not None)


@few
@given(fronts())
def test_areas_add_up_and_openings_lie_within_their_wall(front):
    takeoff = taken(front)
    for w in takeoff.walls:
        q = w.quantities
        assert q.gross_area == pytest.approx(
            q.net_area + q.deducted_area + q.trim_area + q.cap_area, rel=1e-12
        )
        kept = q.opening_area - q.deducted_area
        assert q.veneer.area + kept == pytest.approx(q.net_area, rel=1e-9)
        assert kept == pytest.approx(sum(o.area for o in q.openings if not o.deducted))
        for o in q.openings:
            common = o.opening.region.intersection(w.wall.region).area
            assert common == pytest.approx(o.area, rel=1e-9, abs=1e-6)
            assert o.area <= q.gross_area
        assert q.starter_run == pytest.approx(sum(s.x1 - s.x0 for s in w.courses.starter_lines))
    assert "CROSS_CHECK" not in codes(takeoff)


@few
@given(fronts(), st.sampled_from(["mm", "ft", "m"]))
def test_units_agree(front, unit):
    inches, other = taken(front), taken(front, units=unit)
    same(quantities(other), quantities(inches))
    # a door 2.16 ft high would be one in meters, one 26 in high in no other unit
    by_unit = {"UNITS_ABSURD", "UNITS_DOUBTFUL"}
    assert [c for c in codes(other) if c not in by_unit] == [
        c for c in codes(inches) if c not in by_unit
    ]


@few
@given(fronts(), st.integers(-5000, 5000), st.integers(-5000, 5000))
def test_moving_changes_no_quantity(front, dx, dy):
    here, there = taken(front), taken(moved(front, lambda p: p.moved(dx, dy)))
    same(quantities(there), quantities(here))
    assert codes(there) == codes(here)


@few
@given(fronts())
def test_mirroring_turns_left_and_right_and_nothing_else(front):
    here, there = taken(front), taken(moved(front, mirrored))
    same(quantities(there)[::-1], quantities(here))
    sides = {"left": "right", "right": "left"}

    def edges(wall, turn):
        return sorted(
            (turn.get(e.side, e.side), round(e.length, 6), e.kind) for e in wall.wall.edges
        )

    assert [edges(w, sides) for w in there.walls][::-1] == [edges(w, {}) for w in here.walls]
    assert codes(there) == codes(here)


@few
@given(fronts(), st.integers(0, 1000))
def test_the_order_of_entities_changes_nothing(front, seed):
    here, there = taken(front), taken(shuffled(front, seed))
    same(quantities(there), quantities(here), within=1e-9)
    assert [[o.opening.box for o in w.quantities.openings] for w in there.walls] == [
        [o.opening.box for o in w.quantities.openings] for w in here.walls
    ]
    assert codes(there) == codes(here)


@few
@given(fronts(), fronts())
def test_two_drawings_in_one_job_are_the_sum_of_both(one, two):
    # a shared line pairs corners within a drawing only, so corners add up too
    both, first, second = taken(one, two), taken(one), taken(two)
    for name in (f.name for f in dataclasses.fields(both.totals)):
        parts = getattr(first.totals, name) + getattr(second.totals, name)
        assert getattr(both.totals, name) == pytest.approx(parts)
    assert both.corner_run("outside") == pytest.approx(
        first.corner_run("outside") + second.corner_run("outside")
    )
    assert [w.wall.drawing for w in both.walls] == [0, 0, 1, 1]
    assert [w.wall.id for w in both.walls] == ["W1", "W2", "W3", "W4"]
    assert codes(both) == sorted(codes(first) + codes(second))


@few
@given(fronts(), st.floats(1.01, 3.0))
def test_drawing_scale_multiplies_lengths_once_and_areas_twice(front, factor):
    small = moved(front, lambda p: p.scaled(1 / factor))
    with tempfile.TemporaryDirectory() as folder:
        file = write_dxf(small, File(folder) / "small.dxf")
        scaled = take_off(
            [file],
            dataclasses.replace(RULES, drawing=dataclasses.replace(RULES.drawing, scale=factor)),
        )
    same(quantities(scaled), quantities(taken(front)))


def test_notices_come_gravest_first():
    takeoff = taken(drawing(wall=[(0, 0, 200, 100)], opening=[(60, 0, 96, 70), (300, 0, 310, 10)]))
    levels = [n.level for n in takeoff.notices]
    assert levels == sorted(levels, key=["error", "warning", "info"].index)
    assert set(levels) == {"warning", "info"}


def test_progress_is_told_step_by_step():
    steps = []
    with tempfile.TemporaryDirectory() as folder:
        file = write_dxf(drawing(wall=[(0, 0, 200, 100)]), File(folder) / "front.dxf")
        take_off([file], RULES, progress=steps.append)
    assert [say(step) for step in steps] == [
        "reading front.dxf",
        "recognizing walls and openings",
        "measuring W1",
        "making the order",
        "looking at front.dxf as a whole",
    ]
