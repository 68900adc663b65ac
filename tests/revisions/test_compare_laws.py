"""Laws of a comparison: what is the same stays the same, and what changed is found alone.

Drawings are houses of ``tests/houses.py``; ``edits.py`` edits them.
"""

from __future__ import annotations

import dataclasses
import random
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
from builders import write_dxf
from edits import (
    CLEAN,
    JOB,
    Look,
    add_opening,
    edited,
    named,
    raise_wall,
    remove_opening,
    rename_opening,
    resize_opening,
    retype_opening,
    written,
)
from edits import Sheet as EditedSheet
from houses import drawing_of

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.model import DRAFTING, FIGURES, Recorded
from dxf2veneer.revisions import compare, recorded
from dxf2veneer.writers.result import result_dict

HOUSES = (3, 4, 6)
"""An arch and trim in inches, a wainscot with caps in meters, a wing in millimeters."""


def record_of(file: Path, job=JOB) -> Recorded:
    return recorded(result_dict(take_off(file, job)), file.name)


@cache
def source(seed: int):
    return named(drawing_of(seed), random.Random(seed))


LOOKS = {
    "itself": CLEAN,
    "moved": Look(shift=(1234.5, -777.25)),
    "in feet": Look(units="ft"),
    "in millimeters, moved": Look(units="mm", shift=(-400.0, 90.0)),
    "in another order": Look(shuffled=True),
    "of another version": Look(version="R2000"),
    "as loose lines": Look(loose=True),
    "off by a hair": Look(jitter=0.02),
    "all of it": Look("m", (5000.0, 123.0), 0.02, True, True, "R2010"),
}


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
@pytest.mark.parametrize("seed", HOUSES)
def test_a_drawing_written_anew_is_the_same(tmp_path, seed, look):
    rng = random.Random(seed)
    if any(shape.layer == "CAP" for shape in source(seed).shapes):
        look = look._replace(jitter=0.0)  # a cap that is beside its wall by a hair is none
    old = record_of(written(source(seed), tmp_path / "old.dxf", CLEAN, rng))
    new = record_of(written(source(seed), tmp_path / "new.dxf", look, rng))
    revision = compare(old, new)
    assert not revision.is_changed
    assert {o.change for o in revision.openings} == {"same"}
    assert len(revision.walls) == len(old.walls)
    assert {p.what for p in revision.parts if p.change != "same"} <= {*DRAFTING}


def test_views_that_are_parted_into_files_are_the_same(tmp_path):
    rng, whole = random.Random(1), source(3)
    middle = sorted(s.path.box[0] for s in whole.shapes if s.layer == "WALL")[2] - 20.0
    halves = []
    for number, keep in enumerate((lambda x: x < middle, lambda x: x >= middle)):
        half = dataclasses.replace(
            whole,
            shapes=tuple(s for s in whole.shapes if keep(s.path.box[0]) and s.layer != "LEVEL"),
            labels=tuple(t for t in whole.labels if keep(t.at[0])),
        )
        look = Look(shift=(700.0 * number, 50.0 * number))
        halves.append(written(half, tmp_path / f"half{number}.dxf", look, rng))
    bare = dataclasses.replace(whole, shapes=tuple(s for s in whole.shapes if s.layer != "LEVEL"))
    old = record_of(written(bare, tmp_path / "old.dxf", CLEAN, rng))
    new = recorded(result_dict(take_off(halves, JOB)), "halves")
    revision = compare(old, new)
    assert not revision.is_changed
    assert [(p.what, p.change) for p in revision.parts if p.what == "drawing"] == [
        ("drawing", "renamed"), ("drawing", "added"),
    ]  # fmt: skip


def test_a_drawing_in_a_wrong_unit_is_told_and_matched_all_the_same(tmp_path):
    rng = random.Random(2)
    old = record_of(written(source(3), tmp_path / "old.dxf", CLEAN, rng))
    smaller = write_dxf(source(3), tmp_path / "new.dxf", units="in")
    new = record_of(smaller, with_settings(JOB, drawing__units="cm"))
    revision = compare(old, new)
    assert [note.code for note in revision.notes] == ["revision-other-scale"]
    assert {o.change for o in revision.openings} == {"resized"}
    assert all(w.old and w.new and w.old.wall.name == w.new.wall.name for w in revision.walls)


@pytest.mark.parametrize("seed", range(4))
def test_swapping_old_and_new_negates_every_number(tmp_path, seed):
    rng = random.Random(seed)
    first = source(HOUSES[seed % 3])
    after, _ = edited(first, 5, rng)
    one, other = (
        record_of(written(d, tmp_path / f"{name}.dxf", CLEAN, rng))
        for d, name in ((first, "old"), (after, "new"))
    )
    there, back = compare(one, other), compare(other, one)
    assert {k: v for k, v in there.delta.items() if v} == {
        k: -v for k, v in back.delta.items() if v
    }
    forward = {(w.id_old, w.id_new): w.delta for w in there.walls}
    backward = {(w.id_new, w.id_old): w.delta for w in back.walls}
    assert set(forward) == set(backward)
    for pair, delta in forward.items():
        assert {k: v for k, v in delta.items() if v} == {
            k: -v for k, v in backward[pair].items() if v
        }
    swap = {"added": "removed", "removed": "added"}
    assert sorted((str(o.id_old), str(o.id_new), o.change) for o in there.openings) == sorted(
        (str(o.id_new), str(o.id_old), swap.get(o.change, o.change)) for o in back.openings
    )
    for key in FIGURES:
        if there.add[key] is not None:
            assert float(there.add[key]) == pytest.approx(-float(back.deduct[key]), abs=1e-9)


EDITS = (resize_opening, add_opening, remove_opening, rename_opening, retype_opening, raise_wall)


@pytest.mark.parametrize("edit", EDITS, ids=lambda e: e.__name__)
def test_one_edit_is_found_alone_and_sums_to_the_difference_of_two_takeoffs(tmp_path, edit):
    rng = random.Random(7)
    first = source(3)
    sheet = EditedSheet(first, rng)
    assert any(edit(sheet) for _ in range(50))
    (truth,) = sheet.truths
    after = dataclasses.replace(
        first, shapes=tuple(sheet.shapes.values()), labels=tuple(sheet.labels)
    )
    records, takeoffs = [], []
    for one, name in ((first, "old.dxf"), (after, "new.dxf")):
        takeoffs.append(take_off(written(one, tmp_path / name, CLEAN, rng), JOB))
        records.append(recorded(result_dict(takeoffs[-1]), name))
    revision = compare(*records)
    things = {"wall": revision.walls, "opening": revision.openings}
    changed = [(what, o.change) for what, group in things.items() for o in group
               if o.change != "same"]  # fmt: skip
    assert changed == [(truth.what, truth.change)]
    assert sum(w.touched for w in revision.walls) == 1
    old, new = takeoffs
    for key, name in (("net_area_sqft", "net_area"), ("gross_area_sqft", "gross_area")):
        by_hand = (getattr(new.totals, name) - getattr(old.totals, name)) / 144.0
        assert revision.delta[key] == pytest.approx(by_hand, abs=1e-9)
        assert sum(w.delta[key] for w in revision.walls) == pytest.approx(by_hand, abs=1e-9)


def test_money_sums_to_the_difference_of_two_bids_to_the_cent():
    samples = Path(__file__).parents[2] / "samples"
    job = load_job(samples / "gatehouse.toml")
    one = take_off(samples / "gatehouse.dxf", job)
    other = take_off(samples / "gatehouse.dxf", with_settings(job, trim__head=4.0))
    revision = compare(*(recorded(result_dict(t), "gatehouse") for t in (one, other)))
    assert one.order and other.order
    money = revision.money()
    assert money.delta == other.order.bid.total - one.order.bid.total
    assert money.delta == money.add + money.deduct + money.rest
    shares = [sum((s.price for s in t.shares), Decimal(0)) for t in (one, other)]
    assert sum((w.delta["price"] for w in revision.walls), Decimal(0)) == shares[1] - shares[0]
    goods = revision.money("materials")
    assert goods.delta == other.order.materials - one.order.materials
