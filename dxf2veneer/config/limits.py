"""The job's section of limits: how much of a drawing is taken on before the tool stops and says so.

A drawing comes from a stranger, and a few bytes of it can ask for more than any machine has. No
building reaches these limits; whoever has a drawing that does can raise them, and pays in time and
memory.
"""

from __future__ import annotations

from dataclasses import dataclass

from dxf2veneer.config.basis import OWN
from dxf2veneer.config.checks import as_count
from dxf2veneer.config.settings import setting


@dataclass(frozen=True)
class Limits:
    """The most of a drawing that is taken on before the tool stops and says so.

    Higher ones cost time and memory.
    """

    megabytes: int = setting(
        1000,
        "size of a drawing's file in megabytes",
        as_count(1_000_000),
        "2000",
        option="limit-megabytes",
        basis=OWN,
    )
    points: int = setting(
        200_000,
        "points of one polyline, spline or hatch",
        as_count(100_000_000),
        "1000000",
        option="limit-points",
        basis=OWN,
    )
    entities: int = setting(
        100_000,
        "entities that block references place, rows and columns and blocks in blocks counted "
        "through",
        as_count(1_000_000_000),
        "500000",
        option="limit-entities",
        basis=OWN,
    )
    named: int = setting(
        20_000,
        "entities on the named layers, those of blocks counted wherever they are placed",
        as_count(1_000_000_000),
        "100000",
        option="limit-named",
        basis=OWN,
    )
    crossings: int = setting(
        100_000,
        "places where loose lines on outline layers cross each other",
        as_count(1_000_000_000),
        "500000",
        option="limit-crossings",
        basis=OWN,
    )
    courses: int = setting(
        5_000,
        "courses of one wall, and panels side by side in one of them",
        as_count(1_000_000),
        "10000",
        option="limit-courses",
        basis=OWN,
    )
    notices: int = setting(
        200,
        "notices of one kind that are listed one by one; what is beyond comes together in one "
        "line with its number",
        as_count(1_000_000),
        "1000",
        option="limit-notices",
        basis=OWN,
    )
