"""Published areas of gables, curves and metric walls, from a drawing to the takeoff."""

from __future__ import annotations

import math
from functools import partial

import ezdxf
import pytest
from book_walls import FOOT, METER, SQFT, SQM, box, taken_off
from published import FOLLOWS, FORMULA, published

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.geometry import Path

STAGE = "drawing to takeoff"

# ------------------------------------------------------------------ gables and slopes


@published(
    "end wall 28 ft wide, 37 ft to the eaves, gable 12 ft high",
    {"sq ft": 1204},
    "Builder-Mechanic", "Measurement of Bricklayers' Work",
)  # fmt: skip
def test_end_wall_with_gable(tmp_path):
    wall = [(0, 0), (28, 0), (28, 37), (14, 49), (0, 37)]
    return {"sq ft": taken_off(tmp_path, wall=[wall]).totals.gross_area / SQFT}


@published(
    "gabled wall with two windows and a door: gross, openings, net; windows and doors told apart",
    {"gross": 264, "openings": 69, "net": 195, "windows": 2, "doors": 1},
    "Florida State University, Mathematics", "Unit 2 Module 6, Ex. 2.6.5",
)  # fmt: skip
def test_gable_wall_with_openings(tmp_path):
    takeoff = taken_off(
        tmp_path,
        wall=[[(0, 0), (24, 0), (24, 8), (12, 14), (0, 8)]],
        opening=[box(1, 3, 6, 4), box(17, 3, 6, 4), box(10, 0, 3, 7)],
    )
    kinds = [o.kind for o in takeoff.walls[0].wall.openings]
    return {
        "gross": takeoff.totals.gross_area / SQFT,
        "openings": takeoff.totals.opening_area / SQFT,
        "net": takeoff.totals.net_area / SQFT,
        "windows": kinds.count("window"),
        "doors": kinds.count("door"),
    }


@published(
    "pentagon: wall 24 x 10 ft, peak at 15 ft",
    {"sq ft": 300},
    "Alexander & Koeberlein, Elementary Geometry for College Students, 7th ed.", "8.1 no. 25",
    FOLLOWS,
)  # fmt: skip
def test_pentagon_wall(tmp_path):
    wall = [(0, 0), (24, 0), (24, 10), (12, 15), (0, 10)]
    return {"sq ft": taken_off(tmp_path, wall=[wall]).totals.gross_area / SQFT}


@published(
    "front with a sloped top, 26 and 15 ft high on 25 ft, one door and three windows: gross, "
    "openings, net",
    {"gross": 512.5, "openings": 48, "net": 464.5},
    "Worked exercise, mathix",
)  # fmt: skip
def test_front_with_a_sloped_top(tmp_path):
    takeoff = taken_off(
        tmp_path,
        wall=[[(0, 0), (25, 0), (25, 15), (0, 26)]],
        door=[box(4, 0, 3, 7)],
        window=[box(10, 3, 5, 3), box(17, 8, 2, 3), box(3, 12, 2, 3)],
    )
    totals = takeoff.totals
    each = (totals.gross_area, totals.opening_area, totals.net_area)
    return dict(zip(("gross", "openings", "net"), (a / SQFT for a in each), strict=True))


# -------------------------------------------------------------------------- curves


@published(
    "wall 18 x 24 ft with four round windows 2.5 ft across, at pi = 3.14 as in the book",
    {"sq ft": 412.375},
    "Worked exercise, algebra.com 419996",
)  # fmt: skip
def test_round_windows(tmp_path):
    rounds = [Path(((x, 8.0, 1.0), (x + 2.5, 8.0, 1.0))) for x in (1, 5, 9, 13)]
    totals = taken_off(tmp_path, wall=[box(0, 0, 18, 24)], window=rounds).totals
    return {"sq ft": (totals.gross_area - totals.opening_area * 3.14 / math.pi) / SQFT}


@pytest.mark.parametrize(
    ("width", "springing"),
    [
        pytest.param(
            w,
            s,
            marks=published(
                f"half-round arch on an opening {w:g} x {s:g} ft: w s + pi w2 / 8, and its bow",
                {"sq ft": w * s + math.pi * w**2 / 8, "head ft": math.pi * w / 2},
                "CRC Concise Encyclopedia of Mathematics", "Segment",
                FORMULA,
            ),
        )
        for w, s in [(3.0, 6.0), (8.8, 14.0385)]
    ],
)  # fmt: skip
def test_arched_opening(tmp_path, width, springing):
    arch = Path((
        (5, 1, 0), (5 + width, 1, 0), (5 + width, 1 + springing, 1), (5, 1 + springing, 0),
    ))  # fmt: skip
    totals = taken_off(tmp_path, wall=[box(0, 0, 40, 30)], opening=[arch]).totals
    return {"sq ft": totals.opening_area / SQFT, "head ft": totals.trim_head / FOOT}


@published(
    "round-headed window 8.8 ft wide, perimeter 50.7 ft: straight sides of 14.0385 ft; area",
    {"perimeter": "50.70", "sq ft": "153.95"},
    "Published exercise (title page not stored)",
)  # fmt: skip
def test_round_headed_window(tmp_path):
    s = 14.0385
    window = Path(((5, 1, 0), (13.8, 1, 0), (13.8, 1 + s, 1), (5, 1 + s, 0)))
    totals = taken_off(tmp_path, wall=[box(0, 0, 40, 30)], window=[window]).totals
    trims = totals.trim_head + totals.trim_jambs + totals.trim_sill
    return {"perimeter": trims / FOOT, "sq ft": totals.opening_area / SQFT}


@published(
    "circular segment on a chord of 21 with a rise of 6, as a wall: area, and its bow",
    {"area": "89.254148", "bow": "25.308373"},
    "MatheAss manual", "Circular Sections",
)  # fmt: skip
def test_segment(tmp_path):
    wall = Path(((0, 0, 0), (21, 0, 2 * 6 / 21)))
    takeoff = taken_off(tmp_path, wall=[wall])
    perimeter = takeoff.walls[0].quantities.perimeter / FOOT
    return {"area": takeoff.totals.gross_area / SQFT, "bow": perimeter - 21}


@published(
    "polygon (3,4) (5,11) (12,8) (9,5) (5,6)", {"area": 30}, "Rosetta Code", "Shoelace formula"
)
def test_shoelace(tmp_path):
    wall = [(3, 4), (5, 11), (12, 8), (9, 5), (5, 6)]
    return {"area": taken_off(tmp_path, wall=[wall]).totals.gross_area / SQFT}


@pytest.mark.parametrize(
    ("across", "up"),
    [
        pytest.param(
            across,
            up,
            marks=published(
                f"window of an ellipse {2 * across:g} ft across and {2 * up:g} ft high: pi a b",
                {"sq ft": f"{math.pi * across * up:.4f}"},
                "CRC Concise Encyclopedia of Mathematics", "Ellipse", FORMULA,
            ),
        )
        for across, up in ((3.0, 2.0), (1.5, 4.0))
    ],
)  # fmt: skip
def test_elliptical_window(tmp_path, across, up):
    document = ezdxf.new("R2018", units=2)
    layer = {"layer": "WALL"}
    document.modelspace().add_lwpolyline(
        [(0, 0), (30, 0), (30, 20), (0, 20)], close=True, dxfattribs=layer
    )
    axis, ratio = ((across, 0), up / across) if across >= up else ((0, up), across / up)
    document.modelspace().add_ellipse((12, 9), axis, ratio, dxfattribs={"layer": "WINDOW"})
    document.saveas(tmp_path / "wall.dxf")
    (tmp_path / "job.toml").write_text(
        '[layers]\nwall = "WALL"\nwindow = "WINDOW"\n[plan]\npanels = false\n'
    )
    takeoff = take_off([tmp_path / "wall.dxf"], load_job(tmp_path / "job.toml"))
    return {"sq ft": takeoff.totals.opening_area / SQFT}


# -------------------------------------------------------------------------- metric

metric = partial(taken_off, measure=METER, written="mm")


@published(
    "wall 15 x 3 m, door 0.8 x 2 m, two windows 1.5 x 1.2 m: gross, openings, net in m2",
    {"gross": 45, "openings": 5.2, "net": 39.8},
    "Engineering blog, quantity of brickwork",
)  # fmt: skip
def test_metric_wall_with_openings(tmp_path):
    takeoff = metric(
        tmp_path,
        wall=[box(0, 0, 15, 3)],
        door=[box(2, 0, 0.8, 2)],
        window=[box(5, 1, 1.5, 1.2), box(9, 1, 1.5, 1.2)],
    )
    totals = takeoff.totals
    each = (totals.gross_area, totals.opening_area, totals.net_area)
    return dict(zip(("gross", "openings", "net"), (a / SQM for a in each), strict=True))


@published(
    "wall 6 x 2 m at 60 bricks a m2, 10 percent waste",
    {"m2": 12, "bricks": 720, "with waste": 792},
    "engineering-society.com (2018)",
)  # fmt: skip
def test_metric_brick_wall(tmp_path):
    area = metric(tmp_path, wall=[box(0, 0, 6, 2)]).totals.net_area / SQM
    return {"m2": area, "bricks": 60 * area, "with waste": 66 * area}


@published(
    "facing wall 670 x 3000 mm, window 1100.995 x 2106 mm, door 2561.990 x 2346 mm: m2, "
    "to 4 places",
    {"wall": 2.01, "window": "2.3187", "door": "6.0104"},
    "Dutch sample building model in open IFC", "GrossSideArea and Area of the elements",
)  # fmt: skip
def test_areas_of_a_building_model(tmp_path):
    takeoff = metric(
        tmp_path,
        wall=[box(0, 0, 0.67, 3), box(2, 0, 8, 3)],
        window=[box(3, 0.5, 1.100995, 2.106)],
        door=[box(6, 0, 2.561990, 2.346)],
    )
    small = next(w for w in takeoff.walls if not w.quantities.openings)
    areas = {o.opening.kind: o.area / SQM for w in takeoff.walls for o in w.quantities.openings}
    return {"wall": small.quantities.gross_area / SQM, **areas}
