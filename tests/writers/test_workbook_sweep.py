"""Random jobs: what the workbook adds up, calculated by LibreOffice, is what the order holds.

Each case is a job of the samples with settings drawn from a seed: ways of counting, allowances,
additions and deductions, alternates, lines of the bid of every kind, treatments, metric goods. All
workbooks of a run are calculated by one start of LibreOffice. Any difference above half a cent
fails, with the seed.
"""

from __future__ import annotations

import csv
import random
import subprocess
from pathlib import Path

import openpyxl
from conftest import ROOT
from sheets import needs_office, without_values

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.bidding import as_allowances, as_alternates
from dxf2veneer.config.charges import DELIVERED, WORKED, as_charges
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.tasks import MEASURES, as_tasks
from dxf2veneer.config.wall_rows import Treatment
from dxf2veneer.writers.workbook import write_workbook

SAMPLES = ROOT / "samples"
SEEDS = range(8)
ITEMS = ("flat_panel", "corner_panel", "starter_strip", "panel_fastener", "wrb", "caulk")


def charges(pick):
    """Lines of the bid of every kind."""
    kinds = ["materials", "labour"]
    made = []
    for n in range(pick.randint(0, 6)):
        how = pick.choice(("amount", "rate", "percent", "margin"))
        line = {"name": f"Line {n}", "kind": pick.choice(("lump", "tax", "overhead", "profit"))}
        if how == "amount":
            line["amount"] = pick.choice((250.0, 99.95, -40.0))
        elif how == "rate":
            line |= {"rate": pick.choice((85.0, 0.35)), "per": pick.choice(
                (*DELIVERED, *WORKED, *MEASURES)
            )}  # fmt: skip
        else:
            line[how] = pick.choice((6.0, 8.25, 12.5))
        if how == "percent" and pick.random() < 0.5:
            line["of"] = pick.sample(kinds, pick.randint(1, len(kinds)))
        if how in ("rate", "percent") and pick.random() < 0.3:
            line["least"] = 150.0
        kinds = [*dict.fromkeys((*kinds, line["kind"]))]
        made.append(line)
    return as_charges(made)


def prices(name, folder):
    """A price file for the sample's own product and, beside the gatehouse's, for the metric one."""
    with (SAMPLES / "gatehouse-prices.csv").open(encoding="utf-8") as file:
        own = {row["item"]: float(row["price"]) for row in csv.DictReader(file)}
    rows = [f"{item},package,{price}," for item, price in own.items()]
    if name == "gatehouse":
        metric = ("flat_panel", "corner_panel", "starter_strip", "cap_stone", "trim_stone")
        rows += [f"{item},package,{own[item] * 1.37:.2f},metric-panel.toml" for item in metric]
    path = folder / f"{name}-prices.csv"
    path.write_text("\n".join(["item,unit,price,product", *rows]), encoding="utf-8")
    return str(path)


def settings(pick, walls, priced):
    """A job's settings."""
    maybe = pick.random
    more = []
    if maybe() < 0.6:
        more.append({"area": pick.choice((40, 120.5, "9 m2")), "reason": "Garage",
                     **({"corners": "12'"} if maybe() < 0.5 else {})})  # fmt: skip
    for item in pick.sample(ITEMS, pick.randint(0, 2)):
        more.append({"item": item, "quantity": pick.choice((3, 7.5, -2)), "reason": f"By {item}"})
    others = [{"name": "Less", "without": pick.sample(walls, pick.randint(1, len(walls) - 1))}]
    others.append({"name": "Metric", "product": str(SAMPLES / "metric-panel.toml")})
    allowances = [
        {"item": item, **({"mode": pick.choice(("layout", "area"))} if maybe() < 0.6 else {}),
         **({"percent": pick.choice((0.0, 4.5, 12.0))} if maybe() < 0.6 else {})}
        for item in pick.sample(ITEMS, pick.randint(0, 2))
    ]  # fmt: skip
    tasks = [
        {"name": f"By {measure}", "measure": measure,
         **({"hours": 0.013} if maybe() < 0.5 else {"rate": 1.15})}
        for measure in pick.sample(list(MEASURES), pick.randint(0, 3))
    ]  # fmt: skip
    standard = ("layout", "barrier", "strips", "caulk", "setup", "cleanup", "scaffold")
    return {
        "plan__panels": maybe() < 0.3,
        "output__display": pick.choice(("imperial", "metric")),
        "order__prices": priced,
        "order__allowance": pick.choice(("layout", "area")),
        "order__scrap": pick.choice((None, 10.0, 7.5)),
        "order__breakage": pick.choice((0.0, 3.0)),
        "order__additions": as_additions(more),
        "order__items": as_allowances(allowances),
        "order__by_others": tuple(pick.sample(ITEMS, pick.randint(0, 1))),
        "deduction__threshold_sqft": pick.choice((0.0, 12.0, 500.0)),
        "labour__wage": 41.37,
        **{f"labour__{key}": pick.choice((None, 0.004, 0.02)) for key in standard},
        "labour__tasks": as_tasks(tasks),
        "bid__lines": charges(pick),
        "bid__minimum": pick.choice((None, None, 9000.0)),
        "bid__round_to": pick.choice((None, 10.0, 5.0)),
        "bid__rounding": pick.choice(("nearest", "up")),
        "bid__alternates": as_alternates(pick.sample(others, pick.randint(0, 2))),
        "walls__treatments": (
            (Treatment((walls[0],), pick.choice((True, False)), None, pick.choice(("", "Two"))),)
            if maybe() < 0.5
            else ()
        ),
    }


SHEETS = {
    "gatehouse": ("FRONT", "SIDE", "PIER FACE", "PIER RETURN"),
    "boathouse": ("W1", "W2"),
}


def random_job(seed, folder):
    """The takeoff of a job that nothing refuses."""
    pick = random.Random(seed)
    name = pick.choice(list(SHEETS))
    job = load_job(SAMPLES / f"{name}.toml")
    changed = with_settings(job, **settings(pick, list(SHEETS[name]), prices(name, folder)))
    return take_off([SAMPLES / f"{name}.dxf"], changed)


def calculated(paths, folder):
    """All workbooks, calculated by one start of LibreOffice."""
    bare = [str(without_values(path, path.parent)) for path in paths]
    out = folder / "recalculated"
    subprocess.run(
        ["soffice", "--headless", f"-env:UserInstallation={(folder / 'profile').as_uri()}",
         "--convert-to", "xlsx", "--outdir", str(out), *bare],
        check=True, capture_output=True, timeout=600,
    )  # fmt: skip
    return [openpyxl.load_workbook(out / path.name, data_only=True) for path in paths]


def differences(made, book):
    """What the workbook's sums are that the order's are not."""
    rows = {str(r[0]): r[2:] for r in book["Price"].iter_rows(values_only=True) if r[0]}
    for number, order in enumerate((made.order, *(a.order for a in made.order.alternates))):
        wanted = {
            "Materials": order.bid.lines[0].amount,
            "Labor": order.bid.lines[1].amount,
            "Total": order.bid.total,
        }
        for name, amount in wanted.items():
            shown = rows[name][number]
            is_known = isinstance(shown, (int, float))
            if is_known != (amount is not None) or (
                is_known and abs(shown - float(amount)) > 0.005
            ):
                yield f"{number} {name}: {shown} for {amount}"
    shown = [r for r in book["Shares"].iter_rows(min_row=5, values_only=True)]
    for share, row in zip(made.shares, shown, strict=False):
        for value, amount in zip(
            row[4:8], (share.materials, share.labour, share.hours, share.price), strict=True
        ):
            if amount is not None and abs(float(value) - float(amount)) > 0.0101:
                yield f"share of {share.wall}: {value} for {amount}"


@needs_office
def test_the_workbooks_sums_are_the_orders(tmp_path):
    made = {seed: random_job(seed, tmp_path) for seed in SEEDS}
    kept: dict[int, Path] = {}
    for seed, takeoff in made.items():
        kept[seed] = tmp_path / f"{seed}.xlsx"
        write_workbook(takeoff, kept[seed])
    books = calculated(list(kept.values()), tmp_path)
    wrong = {s: list(differences(made[s], book)) for s, book in zip(kept, books, strict=True)}
    assert not {seed: found for seed, found in wrong.items() if found}
