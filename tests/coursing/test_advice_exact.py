"""The adviser against trying everything, on 200 made walls: never worse than what stands, and no
start with any move beats what it calls all."""

import random

import pytest
from brute_advice import House, Panel, Row, all_losses, stands
from builders import PRODUCT, drawing, job, line

from dxf2veneer.app.course_advice import advice_for
from dxf2veneer.config.advice import Leave
from dxf2veneer.recognise import recognise

PANEL = Panel()
GAP = 60.0


def a_house(rng: random.Random) -> House:
    """One wall of 1 to 3 rows of openings that never stand above one another."""
    rows, kinds = [], rng.sample(["window", "vent", "door"], rng.randint(1, 3))
    heads = [rng.randrange(120, 176) / 2 for _ in range(2)]
    for kind in kinds:
        head, move = rng.choice(heads), rng.choice((0.0, 0.5, 1.0, 2.0, 3.0))
        resize = rng.choice((0.0, 0.0, 1.0, 2.0))
        if kind == "door":
            head, move = rng.choice(heads), min(move, resize)
            rows.append(Row(1, 36.0, 0.0, head, move, move, has_sill=False))
        else:
            sill = head - rng.randrange(40, 90) / 2
            resize = min(move, resize)
            rows.append(Row(rng.randint(1, 2), rng.choice((30.0, 40.0)), sill, head, move, resize))
    top = 92.0 + rng.randrange(20, 40) / 2
    level = rng.choice((None, None, 44.5, 40.0))
    return House(sum(r.count for r in rows) * (GAP + 40.0) + GAP, top, rows, level)


def advised(house: House, rng: random.Random):
    """The adviser's word on it."""
    kinds = iter([k for k in ("window", "vent") if k])
    outlines: dict[str, list[tuple[float, ...]]] = {}
    moves, sizes, x = [], [], GAP
    for row in house.rows:
        kind = next(kinds) if row.has_sill else "door"
        moves.append(Leave(kind, row.may_move))
        sizes.append(Leave(kind, row.may_resize))
        for _ in range(row.count):
            outlines.setdefault(kind, []).append((x, row.sill, x + row.width, row.head))
            x += GAP + 40.0
    level = [] if house.level is None else [line(-9, house.level, house.length + 9, house.level)]
    front = drawing(wall=[(0, 0, house.length, house.top)], level=level, **outlines)
    asked = job(
        plan__panels=False,
        advice__may_move=tuple(moves),
        advice__may_resize=tuple(sizes),
        advice__proposals=20,
    )
    found = recognise([front], asked)
    (advice,) = advice_for(found.walls, found.corners, asked, PRODUCT)
    return advice


@pytest.mark.parametrize("seed", range(200))
def test_never_worse_than_what_stands_and_nothing_beats_it(seed):
    rng = random.Random(seed)
    house = a_house(rng)
    advice = advised(house, rng)
    drawn = stands(house, PANEL)
    assert advice.present.rank == drawn
    assert all(p.rank <= drawn for p in advice.proposals)
    assert advice.is_exact
    tried = all_losses(house, PANEL)
    best = min(t[:2] for t in tried)
    assert min([advice.present.rank, *(p.rank for p in advice.proposals)]) == best
    told = [(*p.rank, p.heads_out, p.changed) for p in (advice.present, *advice.proposals)]
    better = {t for t in tried if t[:2] < drawn}
    if advice.unbeaten == len(advice.proposals):  # all that none beats are listed
        beaten = [t for t in better if not any(all(map(int.__le__, f, t)) for f in told)]
        assert beaten == []
    assert set(told[1:]) <= tried  # and every one can be had


def test_the_walls_are_worth_trying():
    """Most can be bettered, many by moves alone; otherwise the test above would say little."""
    houses = [a_house(random.Random(seed)) for seed in range(200)]
    ranks = [(stands(h, PANEL), min(t[:2] for t in all_losses(h, PANEL))) for h in houses[:60]]
    assert sum(best < drawn for drawn, best in ranks) > 40
    assert sum(best[0] < drawn[0] for drawn, best in ranks) > 15
