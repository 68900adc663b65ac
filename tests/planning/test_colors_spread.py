"""Colors of panels: shares of every wall, no clusters, the same at every run (rule L22).

Areas are summed here from pieces and panels, as the rule says: a piece has its panel's color.
"""

from __future__ import annotations

import dataclasses
import math
from collections import Counter

import pytest
from builders import PRODUCT, job
from hand_plans import bare_wall
from houses import house
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.blend import Blend, Color, as_wall_shares
from dxf2veneer.config.job import with_settings
from dxf2veneer.planning.blend.search import with_colors
from dxf2veneer.planning.plan import plan_panels
from dxf2veneer.verify.blend import spread_of

NAMES = ("Buff", "Tan", "Gray", "Slate", "Rust")
FACE = 36.0 * 8.0


def blended(*shares: float):
    """The product with so many per cent of each color."""
    colors = (Color(name, float(share)) for name, share in zip(NAMES, shares, strict=False))
    return dataclasses.replace(PRODUCT, blend=Blend(tuple(colors)))


def laid(walls, product, rules=None):
    return plan_panels(walls, rules or job(plan__search=0.0), product)


def panels_off(walls, plan, product):
    """By wall and color how many panels' faces it is off its share."""
    color = {u.id: u.color for u in plan.units}
    off = {}
    for wall in walls:
        every = [(p.x1 - p.x0) * (p.y1 - p.y0) for p in wall.courses.pieces]
        for name, share in product.blend.shares.items():
            own = math.fsum(
                area
                for p, area in zip(wall.courses.pieces, every, strict=True)
                if color[p.stock] == name
            )
            off[wall.wall.id, name] = (own - share * math.fsum(every)) / FACE
    return off


def ring(*widths: float, height: float):
    """Walls of a tower: each right edge is an outside corner with the next wall's left one."""
    n = len(widths)
    return [
        bare_wall(
            f"W{k + 1}",
            (1000.0 * k, 0, 1000.0 * k + width, height),
            "outside outside",
            corners=f"K{k} K{(k + 1) % n}",
        )
        for k, width in enumerate(widths)
    ]


SHARES = st.lists(st.integers(5, 100), min_size=2, max_size=5).map(
    lambda parts: [100.0 * p / sum(parts) for p in parts]
)


@given(
    shares=SHARES,
    widths=st.lists(st.integers(96, 330), min_size=1, max_size=3),
    courses=st.integers(3, 14),
)
@settings(max_examples=25)
def test_every_wall_is_within_a_panel_of_its_shares(shares, widths, courses):
    product = blended(*shares)
    walls = [
        bare_wall(f"W{k}", (1000.0 * k, 0, 1000.0 * k + w, 8.0 * courses), "butt butt")
        for k, w in enumerate(widths)
    ]
    done, plan = laid(walls, product)
    assert max(map(abs, panels_off(done, plan, product).values())) <= 1.0


@pytest.mark.parametrize("shares", [(60, 30, 10), (34, 33, 33), (85, 15), (40, 30, 15, 10, 5)])
def test_flat_and_corner_panels_of_the_job_have_the_shares_to_a_panel(shares):
    product = blended(*shares)
    done, plan = laid(ring(240, 150, 240, 150, height=96), product)
    for kind in ("flat", "corner"):
        own = Counter(u.color for u in plan.units if u.kind == kind)
        for name, share in product.blend.shares.items():
            assert abs(own[name] - share * own.total()) <= 1.0
    assert max(map(abs, panels_off(done, plan, product).values())) <= 1.0


@pytest.mark.parametrize(
    ("shares", "of_chance"), [((60, 30, 10), 0.3), ((34, 33, 33), 0.5), ((85, 15), 0.3)]
)
def test_minor_colors_touch_their_like_far_less_than_by_chance(shares, of_chance):
    # a panel has six neighbors: of three colors in equal parts none can be kept apart altogether
    product = blended(*shares)
    done, plan = laid(ring(240, 150, 240, 150, height=96), product)
    spread = spread_of(done, plan, job(), product)
    assert spread.touching - spread.own <= of_chance * spread.chance
    assert spread.largest <= 8


def test_the_same_job_twice_and_the_same_walls_elsewhere_get_the_same_colors():
    product = blended(60, 30, 10)
    colors = []
    for away in (0.0, 0.0, 5000.0):
        walls = [bare_wall("W1", (away, away, away + 230, away + 88), "butt butt")]
        colors.append([u.color for u in laid(walls, product)[1].units])
    assert colors[0] == colors[1] == colors[2]


def renamed(walls, units, name: str):
    """The same plan with other ids of its panels."""
    done = [
        dataclasses.replace(
            w,
            courses=dataclasses.replace(
                w.courses,
                pieces=tuple(
                    dataclasses.replace(p, stock=f"{p.stock}{name}") for p in w.courses.pieces
                ),
            ),
        )
        for w in walls
    ]
    return done, [dataclasses.replace(u, id=f"{u.id}{name}") for u in units]


def test_another_wall_leaves_the_colors_of_a_wall_nearly_alone():
    # the first wall is laid the same beside a second of 17 or 20 ft; the job's sums may move a few
    product, rules = blended(60, 30, 10), job(plan__search=0.0)
    first, plan = laid([bare_wall("W1", (0, 0, 240, 80), "butt butt")], product, rules)
    colors = []
    for width in (204.0, 240.0):
        wall = bare_wall("W2", (1000, 0, 1000 + width, 80), "butt butt")
        second, other = laid([wall], product, rules)
        second, units = renamed(second, other.units, "b")
        found = with_colors([*first, *second], [*plan.units, *units], {}, rules, product)
        colors.append([u.color for u in found[: len(plan.units)]])
    changed = sum(a != b for a, b in zip(*colors, strict=True))
    assert changed <= 0.1 * len(plan.units)


def test_a_color_that_a_wall_is_to_have_none_of_stays_off_it():
    product = blended(60, 30, 10)
    given_shares = [
        {"wall": "W1", "color": "Buff", "share": 50},
        {"wall": "W1", "color": "Tan", "share": 50},
    ]
    rules = job(plan__search=0.0, plan__offcuts="wall", plan__blend=as_wall_shares(given_shares))
    walls = [
        bare_wall("W1", (0, 0, 240, 80), "butt butt"),
        bare_wall("W2", (1000, 0, 1240, 80), "butt butt"),
    ]
    _, plan = laid(walls, product, rules)
    first = {c.color: c.flat for c in plan.walls[0].colors}
    assert first["Gray"] == 0
    assert abs(first["Buff"] - first["Tan"]) <= 2
    assert {c.color: c.flat for c in plan.walls[1].colors}["Gray"] > 0


def test_a_house_has_its_shares_on_every_wall(tmp_path, monkeypatch):
    product = blended(60, 30, 10)
    monkeypatch.setattr("dxf2veneer.app.pipeline.load_product", lambda path: product)
    file, rules = house(4, tmp_path)
    found = take_off(file, with_settings(rules, plan__search=0.0))
    assert found.plan.spread.most_off <= 1.0
    assert not found.errors
    assert not [n for n in found.notices if n.code == "BLEND_UNEVEN"]
    counted = Counter()
    for wall in found.plan.walls:
        for one in wall.colors:
            counted[one.color, "flat"] += one.flat
            counted[one.color, "corner"] += one.corner
    assert counted == Counter((u.color, u.kind) for u in found.plan.units)


def test_a_product_of_one_color_leaves_panels_without_one():
    _, plan = laid([bare_wall("W1", (0, 0, 100, 24), "butt butt")], PRODUCT)
    assert {u.color for u in plan.units} == {""}
    assert all(w.colors == () for w in plan.walls)
