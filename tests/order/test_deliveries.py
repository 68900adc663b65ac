"""Deliveries by phase, pallets, loads of a truck, and packages that stay closed.

Two walls of 288 x 96, 192 sq ft each: by area 96 panels of 2 sq ft, 32 boxes of 3 with 48 lb each.
Pallets take 20 boxes, 960 lb.
"""

import pytest
from builders import JOB, drawing
from jobs import product

from dxf2veneer.app.laying import lay_out
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.charges import as_charges
from dxf2veneer.config.checks import as_whole
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.treatments import Treatment
from dxf2veneer.order import order
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

WALLS = drawing(wall=[(0, 0, 288, 96), (400, 0, 688, 96)])
PANEL = product(flat_panel={"per_package": 3.0, "weight": 48.0, "per_pallet": 20})


def phase(name, *walls, barrier=True):
    return Treatment(walls, barrier, None, name)


def made(*treatments, product=PANEL, **settings):
    job = with_settings(
        JOB, walls__treatments=treatments, **{
            "plan__panels": False, "order__scrap": 0.0, "recognise__edge_kind": "butt"
        } | settings,
    )  # fmt: skip
    found = recognise([WALLS], job)
    laid = lay_out(found.walls, found.corners, job, product)
    return order(laid.walls, found.corners, laid.plan, job, product)


def flat(one):
    return next(i for i in one.items if i.key == "flat_panel")


def test_without_phases_one_delivery_is_the_whole_order():
    found = made()
    (one,) = found.deliveries
    assert (one.phase, one.walls) == ("", ("W1", "W2"))
    assert {i.key: i.packages for i in one.items} == {
        line.key: line.chosen.packages for line in found.lines
    }
    assert one.weight_lb == pytest.approx(found.weight_lb)
    #  64 boxes: three pallets of 20 and one of 4
    assert flat(one).pallets == ((3, 20, 960.0), (1, 4, 192.0))


def test_each_phase_gets_what_its_walls_need():
    first, second = made(phase("North", "W2"), phase("South", "W1")).deliveries
    assert [(d.phase, d.walls) for d in (first, second)] == [("North", ("W2",)), ("South", ("W1",))]
    assert (flat(first).packages, flat(second).packages) == (32, 32)
    assert flat(first).pallets == ((1, 20, 960.0), (1, 12, 576.0))


def test_a_box_that_is_not_used_up_waits_for_the_next_phase():
    #  boxes of 5: 96 panels are 19.2, so 20 boxes; 192 are 38.4, 39 in all, so 19 more
    boxes = product(flat_panel={"per_package": 5.0})
    first, second = made(phase("A", "W1"), phase("B", "W2"), product=boxes).deliveries
    assert (flat(first).packages, flat(second).packages) == (20, 19)


def test_walls_of_no_phase_come_first_and_another_treatment_does_not_hide_a_phase():
    rest, late = made(phase("", "W2", barrier=False), phase("Late", "W2")).deliveries
    assert [(d.phase, d.walls) for d in (rest, late)] == [("", ("W1",)), ("Late", ("W2",))]


def test_walls_by_their_area_come_first_as_they_are_of_no_phase():
    #  192 sq ft by area are 96 panels more, 32 boxes of 3, beside 32 for each wall; two spare
    #  boxes, 6 panels, go with all: 98 of 294 in each delivery, 32 2/3, 65 1/3 and 98 boxes
    more = as_additions([{"area": 192, "reason": "Garage"}])
    spare = as_additions([{"item": "flat_panel", "quantity": 6, "reason": "spare"}])
    both = (phase("A", "W1"), phase("B", "W2"))
    found = made(*both, order__additions=more).deliveries
    assert [(d.phase, d.walls) for d in found] == [("", ()), ("A", ("W1",)), ("B", ("W2",))]
    assert [flat(d).packages for d in found] == [32, 32, 32]
    found = made(*both, order__additions=more + spare).deliveries
    assert [flat(d).packages for d in found] == [33, 33, 32]


@pytest.mark.parametrize(
    ("payload", "places", "loads"),
    [
        (None, None, None),
        (None, 2, 2),  # four pallets of panels
        (1000.0, None, 4),  # 960 each, and 192 beside none of them; what is loose fills that up
        (2000.0, None, 2),
    ],
)
def test_loads_of_a_truck(payload, places, loads):
    light = product(
        flat_panel={"per_package": 3.0, "weight": 48.0, "per_pallet": 20},
        **{
            name: {"weight": 0.1, "per_pallet": 0}
            for name in ("starter_strip", "panel_fastener", "starter_fastener", "wrb", "caulk")
        },
    )
    (one,) = made(product=light, delivery__payload=payload, delivery__pallets=places).deliveries
    assert one.loads == loads


def test_packages_that_stay_closed_are_those_that_breakage_allows_for():
    #  by layout: W1 and W2 take 2 x 96 panels laid whole and cut, with 10 % for breakage
    found = made(plan__panels=True, order__breakage=10.0)
    panels = next(line for line in found.lines if line.key == "flat_panel")
    needs = -(-panels.chosen.measured // 3)
    assert panels.unopened == panels.chosen.packages - needs > 0
    assert next(line for line in found.lines if line.key == "caulk").unopened == 0


#  96 .-------.   .-------.   one course of each wall is 8 high; a wall of 24 takes a panel of 36
#     |  W1   |   |  W2   |   cut to 24, and the 12 left over is as long as W2
#   0 '-------'   '-------'
#     0      24  100    112
NARROW = drawing(wall=[(0, 0, 24, 96), (100, 0, 112, 96)])


def phased(first, second, **goods):
    job = with_settings(
        JOB,
        walls__treatments=(phase("A", first), phase("B", second)),
        order__breakage=0.0,
        recognise__edge_kind="butt",
    )
    panel = product(flat_panel={"per_package": 1.0, "weight": 16.0, "per_pallet": 20, **goods})
    found = recognise([NARROW], job)
    laid = lay_out(found.walls, found.corners, job, panel)
    return laid.plan, order(laid.walls, found.corners, laid.plan, job, panel)


@pytest.mark.parametrize(("first", "second"), [("W1", "W2"), ("W2", "W1")])
def test_the_first_phase_has_every_panel_that_its_pieces_are_cut_from(first, second):
    plan, made = phased(first, second)
    touched = [u for u in plan.units if any(ref.wall == first for ref in u.parts)]
    later = [u for u in touched if any(ref.wall == second for ref in u.parts)]
    assert later  # the plan does share panels between the two
    early, *_ = made.deliveries
    assert flat(early).packages == len(touched)
    assert flat(early).ahead == len(later)
    assert sum(flat(d).packages for d in made.deliveries if "flat_panel" in keys(d)) == (
        len(plan.units)
    )


def keys(delivery):
    return {item.key for item in delivery.items}


def test_each_delivery_begins_its_own_pallets():
    #  32 boxes each: 20 and 12, twice; in one delivery 64 boxes are four pallets too, so with 30
    #  on a pallet: 2 and 2 beside 3
    pallets = product(
        flat_panel={"per_package": 3.0, "weight": 48.0, "per_pallet": 30},
        **{
            name: {"per_pallet": 0}
            for name in ("starter_strip", "panel_fastener", "starter_fastener", "wrb", "caulk")
        },
    )
    freight = as_charges([{"name": "Freight", "rate": 100, "per": "pallets"}])
    whole = made(product=pallets, bid__lines=freight)
    parted = made(phase("A", "W1"), phase("B", "W2"), product=pallets, bid__lines=freight)
    assert (whole.pallets, whole.bid.lines[2].quantity) == (3, 3)
    assert parted.pallets == sum(d.pallets for d in parted.deliveries) == 4
    assert parted.bid.lines[2].amount == 400


@pytest.mark.parametrize("payload", [900.0, None])
def test_a_pallet_above_the_payload_is_told_and_loads_are_not_counted(payload):
    #  20 boxes of 48 lb are 960 lb
    found = made(product=PANEL, delivery__payload=payload)
    told = {n.code: say(n.message) for n in found.notices}
    assert found.deliveries[0].loads is None
    assert ("TRUCK_TOO_SMALL" in told) == (payload is not None)
    if payload:
        assert "900 lb" in told["TRUCK_TOO_SMALL"]
        assert "960 lb" in told["TRUCK_TOO_SMALL"]


def test_a_pallet_holds_whole_packages():
    with pytest.raises(WrongValueError):
        as_whole(100)(0.5)
    assert as_whole(100)(0) == 0


def test_a_wall_by_its_area_comes_first_with_what_is_of_no_phase():
    """96 sq ft more are 48 panels, 16 boxes; the walls of both phases get what they need."""
    more = as_additions([{"reason": "Rear", "area": 96}])
    phases = (phase("North", "W2"), phase("South", "W1"))
    first, *others = made(*phases, order__additions=more).deliveries
    assert (first.phase, first.walls, flat(first).packages) == ("", (), 16)
    assert [(d.phase, flat(d).packages) for d in others] == [("North", 32), ("South", 32)]
