"""Published areas, lengths and bulges on paths and regions alone. Whole walls and openings are
checked from drawings (tests/test_published_shapes.py)."""

from __future__ import annotations

import math

import pytest
from published import FORMULA, published

from dxf2veneer.basics.units import square_feet
from dxf2veneer.geometry import Path, Region, Segment

STAGE = "geometry alone"
FOOT = 12.0

# End wall of the "Builder-Mechanic", taken in three lifts and the gable.
#        /\         49
#       /  \
#      |    |       37
#      |____|
#      0   28
END_WALL = [(0, 0), (28, 0), (28, 37), (14, 49), (0, 37)]
LIFTS = {"first lift": (0, 15), "second lift": (15, 27), "third lift": (27, 37), "gable": (37, 49)}


@published(
    "end wall 28 ft wide, 37 ft to the eaves, gable of 12 ft, in lifts of 15, 12 and 10 ft: sq ft",
    {"first lift": 420, "second lift": 336, "third lift": 280, "gable": 168},
    "Builder-Mechanic", "Measurement of Bricklayers' Work",
)  # fmt: skip
def test_end_wall_with_gable_in_lifts():
    wall = Region.of(Path.polygon([(x * FOOT, y * FOOT) for x, y in END_WALL]))
    lifts = {
        name: Region.box_of(-FOOT, bottom * FOOT, 29 * FOOT, top * FOOT)
        for name, (bottom, top) in LIFTS.items()
    }
    return {name: square_feet(wall.intersection(lift).area) for name, lift in lifts.items()}


@pytest.mark.parametrize(
    "bulge",
    [
        pytest.param(
            float(bulge),
            marks=published(
                f"included angle of an arc with the bulge {bulge}, in degrees",
                {"degrees": degrees},
                "Open DXF reference", "bulge: tangent of a quarter of the angle",
            ),
        )
        for degrees, bulge in (("90.000", "0.414214"), ("180.000", "1"))
    ],
)  # fmt: skip
def test_bulge_is_the_tangent_of_a_quarter_of_the_angle(bulge):
    return {"degrees": math.degrees(Segment((0, 0), (1, 0), bulge).angle)}


@published(
    "circular segment, chord 21, rise 6: radius, arc, area",
    {"radius": 12.1875, "arc": "25.308373", "area": "89.254148"},
    "MatheAss manual", "Circular Sections",
)  # fmt: skip
def test_circular_segment():
    arc = Segment((3.0, 2.0), (24.0, 2.0), 2 * 6 / 21)
    return {"radius": arc.radius, "arc": arc.length, "area": arc.segment_area}


@published(
    "half-elliptical arch 60 wide, 70 to the springing, rise 14, through three-point arcs: "
    "w s + pi w rise / 4, to 1 in 100,000",
    {"area": f"{60 * 70 + math.pi * 60 * 14 / 4:.2f}"},
    "CRC Concise Encyclopedia of Mathematics", "Segment", FORMULA,
)  # fmt: skip
def test_half_elliptical_arch_through_three_point_arcs():
    def top(t: float) -> tuple[float, float]:
        return 30 + 30 * math.cos(math.pi * t), 70 + 14 * math.sin(math.pi * t)

    arcs = Path.curve(top, closed=False, pieces=8, rise_in=1e-5)
    return {"area": Path(((0.0, 0.0, 0.0), (60.0, 0.0, 0.0), *arcs.vertices)).area}
