"""The order worked by hand in docs/order-example.md, replayed: settings,
prices and results are read from the page.
"""

from __future__ import annotations

import re

import pytest
from builders import example_wall, write_dxf
from conftest import ROOT

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.wording import say

PAGE = (ROOT / "docs" / "order-example.md").read_text(encoding="utf-8")


def block(info):
    return re.search(rf"```{info}\n(.*?)```", PAGE, re.DOTALL)[1]


def table(page_part, heading):
    """The cells of the first table after a part of the page whose header begins with a word,
    without its header.
    """
    text = PAGE[PAGE.index(page_part) :]
    text = text[text.index(f"\n| {heading} |") + 1 :].split("\n\n")[0]
    return [
        [c.strip().strip("`") for c in row.strip().strip("|").split("|")]
        for row in text.splitlines()[2:]
    ]


@pytest.fixture(scope="module")
def takeoff(tmp_path_factory):
    folder = tmp_path_factory.mktemp("example")
    (folder / "job.toml").write_text(block("toml"))
    (folder / "prices.csv").write_text(block("csv"))
    return take_off([write_dxf(example_wall(), folder / "wall.dxf")], load_job(folder / "job.toml"))


def test_the_walls_areas(takeoff):
    sums = {row[0]: float(row[2].replace(",", "")) for row in table("## Quantities", "what")}
    totals = takeoff.totals
    assert totals.gross_area == pytest.approx(sums["gross"])
    assert totals.opening_area == pytest.approx(sums["window, door, fixture"])
    assert totals.trim_area == pytest.approx(sums["trim of the window"] + sums["trim of the door"])
    assert totals.cap_area == pytest.approx(sums["cap"])
    assert totals.net_area == pytest.approx(sums["net"])


def test_what_is_measured(takeoff):
    expected = {key: float(measured) for key, _, measured in table("## What is measured", "item")}
    found = {line.key: line.chosen.measured for line in takeoff.order.lines}
    assert list(found) == list(expected)
    assert found == pytest.approx(expected, rel=1e-9)


def test_what_is_bought(takeoff):
    *expected, together = table("## What is bought", "item")
    found = [
        [line.key, f"{line.chosen.allowance_pct:g}", f"{line.chosen.needed:.7g}",
        f"{line.per_package:g}", str(line.chosen.packages),
         str(line.price), str(line.chosen.cost), f"{line.chosen.weight_lb:g}"]
        for line in takeoff.order.lines
    ]  # fmt: skip
    for mine, theirs in zip(found, expected, strict=True):
        assert mine[:2] + mine[3:] == theirs[:2] + theirs[3:]
        assert float(mine[2]) == pytest.approx(float(theirs[2]), abs=5e-5)
    assert (str(takeoff.order.materials), f"{takeoff.order.weight_lb:g}") == (
        together[6],
        together[7],
    )


def test_only_a_given_weight_makes_a_dead_load(takeoff, tmp_path):
    assert takeoff.order.dead_load_psf is None
    (tmp_path / "job.toml").write_text(block("toml"))
    lines = block("csv").splitlines()
    weights = [f"{line},{'48,3' if line.startswith('flat_panel') else ','}" for line in lines[1:]]
    (tmp_path / "prices.csv").write_text("\n".join([lines[0] + ",weight,package", *weights]))
    wall = write_dxf(example_wall(), tmp_path / "wall.dxf")
    given = take_off([wall], load_job(tmp_path / "job.toml"))
    assert given.order.dead_load_psf == 8.0


def test_the_work(takeoff):
    expected = [
        [key, float(quantity), each and float(each), rate and float(rate), float(hours), cost]
        for key, quantity, each, rate, hours, cost in table("## Work", "labour")
    ]
    found = [
        [
            w.key,
            w.quantity,
            "" if w.hours_each is None else float(w.hours_each),
            "" if w.rate is None else float(w.rate),
            float(w.hours),
            "no rate" if w.is_open else str(w.cost),
        ]
        for w in takeoff.order.labour
    ]
    for mine, theirs in zip(found, expected, strict=True):
        assert mine[0] == theirs[0]
        assert mine[1] == pytest.approx(theirs[1])
        assert mine[2:] == theirs[2:]
    assert takeoff.order.days == pytest.approx(24.55 / 16)
    assert [say(what) for what in takeoff.order.bid.open] == ["Clean up"]


def test_the_bid(takeoff):
    expected = [[name, amount, running] for name, _, amount, running in table("## Work", "bid")]
    assert [
        [say(b.title), str(b.amount), str(b.running)] for b in takeoff.order.bid.lines
    ] == expected
    assert takeoff.order.bid.missing == ()
    assert (takeoff.order.currency, takeoff.order.prices_date) == ("USD", "2026-03-02")
