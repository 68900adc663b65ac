"""Which openings come off the area. Books and offices differ, so it is a setting; each is tried
just below, at and just above its threshold."""

import pytest
from builders import PRODUCT, drawing, job, measured, walls_of
from refusals import refused

from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Deduction, load_job
from dxf2veneer.measure import is_deducted, measure_wall
from dxf2veneer.model import Totals


@pytest.mark.parametrize("at", [True, False])
@pytest.mark.parametrize("threshold", [2.0, 10.0, 100.0])
def test_a_threshold_of_ones_own_below_at_and_above(threshold, at):
    rule = Deduction(threshold_sqft=threshold, at_threshold=at)
    assert not is_deducted(threshold * 0.9999, rule)
    assert is_deducted(threshold, rule) is at
    assert is_deducted(threshold * 1.0001, rule)


def test_by_default_every_opening_is_deducted():
    assert is_deducted(1e-4, Deduction())


def test_a_rule_and_a_threshold_of_ones_own_are_refused_together(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text('[deduction]\nrule = "stone"\nthreshold_sqft = 4\n')
    with refused(SettingsError, match=r"line 2: the rule stone .* line 3 sets deduction.threshold"):
        load_job(path)


def test_an_option_wins_over_the_file_whichever_of_the_two_it_is(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text('[deduction]\nrule = "block"\n')
    own = load_job(path, {"deduction.threshold_sqft": "4"})
    assert (own.deduction.threshold_sqft, own.deduction.at_threshold) == (4.0, False)
    path.write_text("[deduction]\nthreshold_sqft = 4\n")
    ruled = load_job(path, {"deduction.rule": "block"})
    assert (ruled.deduction.threshold_sqft, ruled.deduction.at_threshold) == (10.0, False)
    assert ruled.origin_of("deduction.threshold_sqft").option == "deduct-rule"
    assert job(deduction__rule="block").deduction.threshold_sqft == 10.0


@pytest.mark.parametrize(
    ("height", "at", "deducted"),
    [(39.9, True, False), (40, True, True), (40, False, False), (40.1, False, True)],
)
def test_an_opening_of_ten_square_feet_in_a_drawing(height, at, deducted):
    # 36 x 40 in = 10 sq ft
    q = measured(
        drawing(wall=[(0, 0, 200, 100)], opening=[(60, 30, 96, 30 + height)]),
        job(deduction__threshold_sqft=10.0, deduction__at_threshold=at),
    )
    assert q.openings[0].deducted is deducted
    assert q.opening_area == pytest.approx(36 * height)
    assert q.deducted_area == pytest.approx(36 * height if deducted else 0)
    assert q.net_area == pytest.approx(20000 - (36 * height if deducted else 0))


def test_an_area_that_rounding_moves_off_the_threshold_is_still_at_it():
    # 914.4 x 1016 mm is 36 x 40 in; turned into inches it is not exactly so
    width, height = 914.4 / 25.4, 1016 / 25.4
    q = measured(
        drawing(wall=[(0, 0, 200, 100)], opening=[(60.1, 30.3, 60.1 + width, 30.3 + height)]),
        job(deduction__threshold_sqft=10.0, deduction__at_threshold=True),
    )
    assert q.openings[0].deducted


def test_the_veneer_leaves_out_openings_that_are_not_deducted():
    q = measured(
        drawing(wall=[(0, 0, 200, 100)], opening=[(60, 30, 96, 60)]),
        job(deduction__threshold_sqft=10.0),
    )
    assert (q.net_area, q.veneer.area) == (20000, pytest.approx(20000 - 36 * 30))


@pytest.mark.parametrize(
    ("one", "two"), [((20, 20, 40, 40), (60, 30, 96, 90)), ((0, 0, 36, 80), (30, 60, 80, 90))]
)
def test_net_is_gross_less_deducted_trim_and_cap_exactly(one, two):
    q = measured(
        drawing(wall=[(0, 0, 200, 100)], opening=[one, two]),
        job(deduction__threshold_sqft=5.0, trim__head=8.0, trim__jambs=3.0, trim__sill=4.0),
    )
    assert q.net_area == q.gross_area - q.deducted_area - q.trim_area - q.cap_area


@pytest.mark.parametrize(("threshold", "deducted"), [(8.0, True), (11.0, False)])
def test_an_opening_split_by_a_wall_line_is_judged_as_a_whole(threshold, deducted):
    # 10 sq ft in all, 6 in one wall and 4 in the other: each part is under 8, the opening is not
    rule = job(deduction__threshold_sqft=threshold)
    walls = walls_of(
        drawing(wall=[(0, 0, 60, 90), (60, 0, 150, 90)], opening=[(38.4, 30, 74.4, 70)])
    )
    assert [o.deducted for w in walls for o in measure_wall(w, rule, PRODUCT).openings] == [
        deducted,
        deducted,
    ]


def test_an_opening_across_two_walls_is_one_opening():
    """
    .-----------.     a door 36 x 80 through boards from 30 to 90 and a base of stone, 0 to 30, and
    | []   .-.  |     a window in the boards: two openings, not three; the door's head and both
    |------| |--|     jambs once, and no sill
    '------'-'--'
    """
    walls = walls_of(
        drawing(
            wall=[(0, 0, 150, 30), (0, 30, 150, 90)],
            door=[(90, 0, 126, 80)],
            window=[(20, 40, 50, 70)],
        )
    )
    sums = Totals.of(measure_wall(w, job(), PRODUCT) for w in walls)
    assert sums.openings == 2
    assert (sums.trim_head, sums.trim_jambs, sums.trim_sill) == (36 + 30, 2 * 80 + 2 * 30, 30)
    parts = {o.id: o.part_of for w in walls for o in w.openings}
    assert parts == {"W1-O1": "W2-O2", "W2-O1": "", "W2-O2": ""}
