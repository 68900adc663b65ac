"""Equal TOML gives equal takeoffs, however it is spelled and from whatever folder the command runs.

jobs/gate.toml     names panel.toml, low.toml, prices.toml: those beside it
jobs/panel.toml …  the files that are meant
here/panel.toml …  files of the same names in the current folder, which nobody named
"""

from __future__ import annotations

import json
import shutil
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spellings import plain, spelled

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import SECTIONS, load_job
from dxf2veneer.config.product import GENERIC, load_product
from dxf2veneer.config.toml_file import read
from dxf2veneer.order import load_prices
from dxf2veneer.writers.result import result_dict

SAMPLES = Path(__file__).parent.parent / "samples"


def values_of(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


PANEL = values_of(GENERIC)
LOW = {**PANEL, "product": {"name": "Low panel"}, "panel": {"length": 36, "height": 6}}
DECOY = {**PANEL, "product": {"name": "Decoy"}, "panel": {"length": 24, "height": 12}}
PRICES = {
    "prices": {"date": "2026-03-02", "currency": "USD"},
    "flat_panel": {"unit": "box", "price": "54.25"},
    "caulk": {"unit": "ft", "price": 0.30},
}
DEAR = {**PRICES, "flat_panel": {"unit": "box", "price": "9999"}}
GATE = values_of(SAMPLES / "gatehouse.toml")
GATE |= {
    "product": {"file": "panel.toml"},
    "order": {"prices": "prices.toml", "items": [{"item": "caulk", "percent": 5}]},
    "plan": {"panels": False},
    "bid": {
        **GATE["bid"],
        "alternates": [
            {"name": "Without the pier", "without": ["PIER FACE", "PIER RETURN"]},
            {"name": "Low", "product": "low.toml"},
        ],
    },
}
BOAT = values_of(SAMPLES / "boathouse.toml") | {"plan": {"panels": False}}
JOBS = {"gate": GATE, "gatehouse": values_of(SAMPLES / "gatehouse.toml"), "boathouse": BOAT}
PRODUCTS = {"generic": PANEL, "metric": values_of(SAMPLES / "metric-panel.toml"), "low": LOW}
seeds = st.integers(0, 2**32)


def spots_hold(path):
    """Every key is found on the line where it stands: the line names it, and where a statement
    begins there the text above is whole TOML without it."""
    text = path.read_text(encoding="utf-8")
    lines, file = text.split("\n"), read(path)
    for section, body in tomllib.loads(text).items():
        for key in body:
            line = file.origin(section, key).line
            assert key in lines[line - 1], (section, key, line)
            try:
                above = tomllib.loads("\n".join(lines[: line - 1]))
            except tomllib.TOMLDecodeError:  # inside an inline table that holds texts of many lines
                assert file.origin(section).line < line, (section, key, line)
            else:
                assert key not in above.get(section, {}), (section, key, line)
    return True


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A current folder full of files that nobody named."""
    folder = tmp_path / "here"
    folder.mkdir()
    for name in ("panel.toml", "low.toml", "metric-panel.toml"):
        (folder / name).write_text(plain(DECOY), encoding="utf-8")
    (folder / "prices.toml").write_text(plain(DEAR), encoding="utf-8")
    (folder / "gatehouse-prices.csv").write_text("item,unit,price\nflat_panel,box,9999\n")
    monkeypatch.chdir(folder)
    return folder


def job_folder(folder, seed):
    """The jobs and what they name, all spelled by the seed; None spells them plainly."""
    folder.mkdir(exist_ok=True)
    files = {
        "gate.toml": GATE,
        "boathouse.toml": BOAT,
        "panel.toml": PANEL,
        "low.toml": LOW,
        "metric-panel.toml": PRODUCTS["metric"],
        "prices.toml": PRICES,
    }
    for n, (name, values) in enumerate(files.items()):
        text = plain(values) if seed is None else spelled(values, seed + n)
        (folder / name).write_text(text, encoding="utf-8")
    for name in ("gatehouse.dxf", "boathouse.dxf"):
        shutil.copy(SAMPLES / name, folder)
    return folder


def result_of(folder, job_file, drawing):
    """Bytes of the JSON result without the names of files and lines."""
    result = result_dict(take_off([folder / drawing], load_job(job_file)))
    for setting in result["job"].values():
        del setting["from"], setting["from_data"]
    for assumption in result["assumptions"]:
        del assumption["from"], assumption["from_data"]
    return json.dumps(result, ensure_ascii=False)


# ------------------------------------------------------------------ whole takeoffs


@pytest.mark.parametrize(
    ("name", "drawing"), [("gate.toml", "gatehouse.dxf"), ("boathouse.toml", "boathouse.dxf")]
)
def test_every_spelling_gives_the_same_bytes(tmp_path, here, name, drawing):
    meant = job_folder(tmp_path / "plain", None)
    expected = result_of(meant, meant / name, drawing)
    for seed in (1, 20, 300):
        other = job_folder(tmp_path / "jobs", seed)
        assert result_of(other, Path("..") / "jobs" / name, drawing) == expected


@pytest.mark.parametrize(
    "text",
    [
        '[product]\nfile = "panel.toml"\n',
        'product = { file = "panel.toml" }\n',
        'product.file = "panel.toml"\n',
        '"product" = { "file" = """\npanel.toml""" }\n',
        "[ 'product' ]\n'file' = '''panel.toml'''\n",
    ],
)
def test_a_product_file_belongs_to_the_job_file_that_names_it(tmp_path, here, text):
    folder = job_folder(tmp_path / "jobs", None)
    job = folder / "own.toml"
    job.write_text(text)
    assert load_job(job).product_path == folder / "panel.toml"
    assert load_product(load_job(Path("../jobs/own.toml")).product_path).panel.height == 8


@pytest.mark.parametrize(
    "text",
    [
        '[bid]\nalternates = [{ name = "Low", product = "low.toml" }]\n',
        '[[bid.alternates]]\nname = "Low"\nproduct = "low.toml"\n',
        'bid.alternates = [{ name = "Low", product = "low.toml" }]\n',
        'bid = { alternates = [{ name = "Low", product = "low.toml" }] }\n',
        "[[ \"bid\".'alternates' ]]\nname = '''\nLow'''\nproduct = 'low.toml'\n",
    ],
)
def test_an_alternates_product_belongs_to_the_job_file_too(tmp_path, here, text):
    folder = job_folder(tmp_path / "jobs", None)
    (folder / "own.toml").write_text(text)
    job = load_job(Path("../jobs/own.toml"))
    (choice,) = job.bid.alternates
    assert job.alternate_path(choice).resolve() == folder / "low.toml"
    assert load_product(job.alternate_path(choice)).panel.height == 6


def test_prices_belong_to_the_job_file_and_those_of_an_option_to_the_current_folder(tmp_path, here):
    folder = job_folder(tmp_path / "jobs", None)
    (folder / "own.toml").write_text('order = { prices = "prices.toml" }\n')
    job = load_job(folder / "own.toml")
    assert load_prices(job.prices_path).of("flat_panel").price == 54.25
    by_option = load_job(folder / "own.toml", {"order.prices": "prices.toml"})
    assert load_prices(by_option.prices_path).of("flat_panel").price == 9999


# ------------------------------------------------------------------- what is read


@settings(max_examples=40)
@given(seeds, st.sampled_from(sorted(JOBS)))
def test_a_job_is_the_same_in_every_spelling(tmp_path_factory, seed, name):
    path = tmp_path_factory.mktemp("spelled") / "job.toml"
    path.write_text(plain(JOBS[name]), encoding="utf-8")
    meant = load_job(path)
    path.write_text(spelled(JOBS[name], seed), encoding="utf-8")
    job = load_job(path)
    assert all(getattr(job, s) == getattr(meant, s) for s in SECTIONS)
    assert (job.product_path, job.prices_path) == (meant.product_path, meant.prices_path)
    assert spots_hold(path)


@settings(max_examples=20)
@given(seeds, st.sampled_from(sorted(PRODUCTS)))
def test_a_product_is_the_same_in_every_spelling(tmp_path_factory, seed, name):
    path = tmp_path_factory.mktemp("spelled") / "panel.toml"
    path.write_text(plain(PRODUCTS[name]), encoding="utf-8")
    meant = load_product(path)
    path.write_text(spelled(PRODUCTS[name], seed), encoding="utf-8")
    other = load_product(path)
    assert (other.panel, other.corner, other.laying, other.cap) == (
        meant.panel,
        meant.corner,
        meant.laying,
        meant.cap,
    )
    assert (other.goods, sorted(other.generic)) == (meant.goods, sorted(meant.generic))
    assert spots_hold(path)


@settings(max_examples=20)
@given(seeds)
def test_prices_are_the_same_in_every_spelling(tmp_path_factory, seed):
    path = tmp_path_factory.mktemp("spelled") / "prices.toml"
    path.write_text(spelled(PRICES, seed), encoding="utf-8")
    found = load_prices(path)
    assert (found.date, found.currency) == ("2026-03-02", "USD")
    assert {(i.item, i.unit, str(i.price)) for i in found.items} == {
        ("flat_panel", "box", "54.25"),
        ("caulk", "ft", "0.3"),
    }
