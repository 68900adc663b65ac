"""Published counts through the order stage. Books count area over a unit's face; what is laid piece
by piece is another number, and equal where a wall is a whole multiple of the unit both ways."""

import pytest
from builders import drawing
from jobs import line, ordered, product
from published import published

STAGE = "walls to order"
NAVY = "US Navy, Builder Advanced, NAVEDTRA 14045"
FOOT = 12.0
EACH = {"flat_panel": {"package": "piece", "per_package": 1.0}}
BLOCK = product(length=16.0, height=8.0, **EACH)
BRICK = product(length=8.5, height=2.75, **EACH)


def feet(width, height, x=0.0):
    return (x * FOOT, 0.0, (x + width) * FOOT, height * FOOT)


def bare(*walls, product, **settings):
    """The flat-panel line of walls, without allowances unless asked for."""
    settings = {"order__scrap": 0.0, "order__breakage": 0.0, **settings}
    return line(ordered(drawing(wall=list(walls)), product=product, **settings), "flat_panel")


@published(
    "block wall 100 x 10 ft, block 16 x 8 in: area, blocks by area, blocks ordered",
    {"sq ft": 1000, "by area": 1125, "ordered": 1125},
    NAVY, "ch. 4, beside Table 4-3",
)  # fmt: skip
def test_block_wall():
    blocks = bare(feet(100, 10), product=BLOCK).chosen
    (source,) = blocks.sources
    return {"sq ft": source.value, "by area": blocks.measured, "ordered": blocks.packages}


@published(
    "the same wall laid in running bond, cuts of no width: 8 courses of 75, 7 of 74 and two "
    "halves, which come from one block",
    {"blocks": 1125, "pieces": 8 * 75 + 7 * (74 + 2)},
    NAVY, "ch. 4, beside Table 4-3",
)  # fmt: skip
def test_block_wall_laid_out():
    blocks = bare(feet(100, 10), product=BLOCK, panels=True, plan__kerf=0.0)
    assert blocks.mode == "layout"
    assert blocks.other.measured == pytest.approx(blocks.chosen.measured)
    pieces = dict(blocks.chosen.why.values)["pieces"]
    return {"blocks": blocks.chosen.measured, "pieces": pieces}


@published(
    "building 20 x 8 ft, 8 ft high: blocks of a long and a short side, ordered for all",
    {"long": 180, "short": 72, "ordered": 504},
    NAVY, "ch. 4, estimating page after Table 4-3",
)  # fmt: skip
def test_four_elevations():
    walls = [feet(20, 8), feet(8, 8, 30), feet(20, 8, 50), feet(8, 8, 80)]
    blocks = bare(*walls, product=BLOCK).chosen
    long, short, *others = (s.value * 144 / BLOCK.coverage_area for s in blocks.sources)
    assert others == pytest.approx([long, short])
    return {"long": long, "short": short, "ordered": blocks.packages}


@published(
    "brick wall 8 x 14 ft with 10 percent waste: bricks, and ordered (the book rounds before it "
    "adds the waste, 759, and prints 760)",
    {"bricks": "690", "needed": "759", "ordered": 759},
    NAVY, "ch. 4, beside Table 4-5",
)  # fmt: skip
def test_brick_wall_with_waste():
    bricks = bare(feet(14, 8), product=BRICK, order__scrap=10.0).chosen
    return {"bricks": bricks.measured, "needed": bricks.needed, "ordered": bricks.packages}


@published(
    "wall 50 x 20 ft of modular brick 8 in long, 3 courses to 8 in: bricks, with 20 percent waste",
    {"bricks": 6750, "ordered": 8100},
    "Forum of a registration board of architects", "brick and block wall takeoffs",
)  # fmt: skip
def test_modular_brick_with_waste():
    brick = product(length=8.0, height=8 / 3, **EACH)
    bricks = bare(feet(50, 20), product=brick, order__scrap=20.0).chosen
    return {"bricks": bricks.measured, "ordered": bricks.packages}


BIA = ("BIA Technical Notes 10B (1993)", "Table 1; counts recomputed")


@pytest.mark.parametrize(
    ("height", "length"),
    [
        pytest.param(
            height,
            length,
            marks=published(
                f"units {height:.4g} x {length} in on 100 sq ft", {"units": units}, *source
            ),
        )
        for height, length, units, source in [
            (8, 16, 112.5, ("NCMA TEK 14 (1969)", "p. 22")),
            (8 / 3, 8, 675, BIA),
            (16 / 5, 8, 562.5, BIA),
            (8 / 3, 12, 450, BIA),
            (4, 12, 300, BIA),
        ]
    ],
)
def test_units_on_a_hundred_square_feet(height, length):
    units = bare(feet(10, 10), product=product(length=length, height=height, **EACH))
    return {"units": units.chosen.measured}
