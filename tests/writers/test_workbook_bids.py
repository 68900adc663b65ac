"""Bids of many shapes: the workbook's formulas, recalculated by LibreOffice, give every amount of
the bid and of its alternate to the cent.

Lines are drawn at random, some jobs lack a wage or prices; all workbooks are converted in one run.
"""

from __future__ import annotations

import random
import subprocess
from collections.abc import Sequence

import openpyxl
import pytest
from sheets import needs_office, without_values, written
from test_workbook_order import CSV, TOML, bid_of, expected_bid, taken

from dxf2veneer.config.charges import KINDS, Charge
from dxf2veneer.config.product import GENERIC
from dxf2veneer.config.settings import toml
from dxf2veneer.config.tasks import Task

JOBS = 10
PER = ("pallets", "pounds", "hundredweight", "kilograms", "hours", "days", "net_area", "caulk_run")
OTHER = GENERIC.read_text(encoding="utf-8").replace("per_package = 3 ", "per_package = 5 ", 1)


def line(rng: random.Random, number: int, above: Sequence[Charge]) -> Charge:
    """A line worked in any way of those above, with any limits that go with it."""
    kind, way = rng.choice(KINDS), rng.choice(("amount", "rate", "percent", "percent", "margin"))
    there = sorted({"materials", "labour", *(c.kind for c in above)})
    of = tuple(rng.sample(there, rng.randint(0, len(there))))
    least = rng.choice((None, round(rng.uniform(1, 400), 2)))
    below = rng.choice((None, None, float(rng.randint(500, 3000))))
    name, value = f"Line {number}", round(rng.uniform(0.05, 14), 3)
    if way == "margin":
        return Charge(name, kind, margin=value)
    if way == "percent":
        percent = rng.choice((value, value, -value))
        return Charge(name, kind, percent=percent, of=of, least=least, below=below)
    of = of if below is not None else ()
    if way == "rate":
        rate = rng.choice(PER)
        return Charge(name, kind, rate=value, per=rate, of=of, least=least, below=below)
    amount = round(rng.uniform(-200, 900), 2)
    return Charge(name, kind, amount=amount, of=of, below=below)


def job(seed: int) -> str:
    """A job file of the example wall with another bid."""
    rng = random.Random(seed)
    head = TOML[: TOML.index("tasks = [")]
    tasks = tuple(
        Task(f"Task {n}", measure, None, None, hours, rate)
        for n, (measure, hours, rate) in enumerate(
            (
                ("cuts", rng.choice((None, 0.125)), rng.choice((None, 1.375))),
                ("gross_area", 0.0125, rng.choice((None, 0.455))),
                ("corner_run", None, None),
            )
        )
    )
    lines: list[Charge] = []
    for n in range(rng.randint(1, 7)):
        lines.append(line(rng, n, lines))
    step = rng.choice((None, 1.0, 5.0, 10.0, 100.0))
    least = rng.choice((None, 3504.0))
    text = head.replace("wage = 40", "" if seed % 5 == 4 else f"wage = {rng.uniform(20, 60):.2f}")
    text += f"tasks = {toml(tasks)}\n[bid]\nlines = {toml(lines)}\n"
    text += 'alternates = [{ name = "Other", product = "other.toml" }]\n'
    text += f"round_to = {step}\n" if step else ""
    text += f"minimum = {least}\n" if least else ""
    text += f'rounding = "{rng.choice(("up", "nearest"))}"\n'
    return text + ('[output]\ndisplay = "metric"\n' if seed % 3 == 2 else "")


@needs_office
def test_a_spreadsheet_gives_every_amount_of_any_bid(tmp_path):
    made, files = {}, []
    for seed in range(JOBS):
        prices = CSV.replace("caulk,tube,6.49,,\n", "") if seed % 7 == 6 else CSV
        folder = tmp_path / f"job{seed}"
        takeoff = taken(folder, job(seed), prices, other__toml=OTHER)
        assert [n for n in takeoff.notices if n.code == "CROSS_CHECK"] == []
        made[seed] = takeoff.order
        path = written(folder, takeoff).rename(tmp_path / f"{seed}.xlsx")
        files.append(str(without_values(path, tmp_path)))
        held = openpyxl.load_workbook(path, data_only=True)
        assert bid_of(held) == expected_bid(takeoff.order), seed
    out = tmp_path / "out"
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    subprocess.run(
        ["soffice", "--headless", profile, "--convert-to", "xlsx", "--outdir", str(out), *files],
        check=True, capture_output=True, timeout=600,
    )  # fmt: skip
    for seed, order in made.items():
        book = openpyxl.load_workbook(out / f"{seed}.xlsx", data_only=True)
        assert bid_of(book) == expected_bid(order), seed
        assert bid_of(book, 4) == expected_bid(order.alternates[0].order), seed
    totals = [order.bid.total for order in made.values()]
    assert None in totals and len({t for t in totals if t is not None}) > 4


@pytest.mark.parametrize("seed", range(30))
def test_any_bid_agrees_with_its_checks(seed, tmp_path):
    takeoff = taken(tmp_path / "job", job(100 + seed), other__toml=OTHER)
    assert [n for n in takeoff.notices if n.code == "CROSS_CHECK"] == []
    lines = takeoff.order.bid.lines
    assert all(line.title and line.working for line in lines)
