"""Published counts through the order stage. Books count area over a unit's face; what is laid piece
by piece is another number, and equal where a wall is a whole multiple of the unit both ways."""

import pytest
from builders import drawing
from jobs import line, ordered, product

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


def test_block_wall():
    # A1. US Navy, Builder Advanced, NAVEDTRA 14045, ch. 4, beside Table 4-3: 100 x 10 ft, block 16
    # x 8 in: 1,125
    blocks = bare(feet(100, 10), product=BLOCK)
    assert blocks.chosen.measured == pytest.approx(1125, rel=1e-12)
    assert blocks.chosen.packages == 1125
    assert [(s.ref, s.value) for s in blocks.chosen.sources] == [("W1", pytest.approx(1000))]


def test_block_wall_laid_out():
    # A1 again, laid in running bond: 8 courses of 75 blocks, 7 of 74 and 2 halves; with cuts of no
    # width the halves of a course come from one block, which makes the book's 1,125
    blocks = bare(feet(100, 10), product=BLOCK, panels=True, plan__kerf=0.0)
    assert blocks.mode == "layout"
    assert blocks.chosen.measured == 1125
    assert dict(blocks.chosen.why.values)["pieces"] == 8 * 75 + 7 * (74 + 2)
    assert blocks.other.measured == pytest.approx(1125)


def test_four_elevations():
    # A2. Same source: a 20 x 8 ft building 8 ft high: 504 blocks
    walls = [feet(20, 8), feet(8, 8, 30), feet(20, 8, 50), feet(8, 8, 80)]
    blocks = bare(*walls, product=BLOCK)
    assert blocks.chosen.packages == 504
    assert [s.value * 144 / BLOCK.coverage_area for s in blocks.chosen.sources] == pytest.approx(
        [180, 72, 180, 72]
    )


def test_brick_wall_with_waste():
    # A3. Same source, beside Table 4-5: 8 x 14 ft, brick with joint 2 3/4 x 8 1/2 in, 10 % waste:
    # 690; the book rounds before it adds the waste, 759, and prints 760. Unrounded 689.968 x 1.1 =
    # 758.965, up to 759
    bricks = bare(feet(14, 8), product=BRICK, order__scrap=10.0)
    assert round(bricks.chosen.measured) == 690
    assert bricks.chosen.needed == pytest.approx(758.97, abs=0.01)
    assert bricks.chosen.packages == 759


@pytest.mark.parametrize(
    ("height", "length", "per_sqft"),
    # A8. Block: NCMA TEK 14 (1969); bricks: BIA TN 10B (1993) Table 1, counts recomputed; the panel
    # is ours
    [
        (8, 16, 1.125),
        (8 / 3, 8, 6.75),
        (16 / 5, 8, 5.625),
        (8 / 3, 12, 4.5),
        (4, 12, 3.0),
        (8, 36, 0.5),
    ],
)
def test_units_on_a_hundred_square_feet(height, length, per_sqft):
    units = bare(feet(10, 10), product=product(length=length, height=height, **EACH))
    assert units.chosen.measured == pytest.approx(100 * per_sqft, rel=1e-12)
