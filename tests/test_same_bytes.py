"""The same input gives the same bytes: run after run, and whatever differs between two machines.

one machine                          another
PYTHONHASHSEED=1, TZ=Pacific/Apia    PYTHONHASHSEED=2, TZ=America/New_York
LANG=C, a/, files named by           LANG=de_DE.UTF-8, deep/er/, files named by whole paths,
relative paths, of 2023, lxml        of 2001, no lxml (a library that another one uses where
                                     it finds it)
                      \\            /
                   the same bytes in every output
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile

import ezdxf
import pytest

MACHINES = (
    {
        "PYTHONHASHSEED": "1",
        "TZ": "Pacific/Apia",
        "LC_ALL": "C",
        "COLUMNS": "80",
        "HOME": "/nowhere",
    },
    {
        "PYTHONHASHSEED": "2",
        "TZ": "America/New_York",
        "LC_ALL": "C.UTF-8",
        "LANG": "de_DE.UTF-8",
        "PYTHONUTF8": "1",
        "COLUMNS": "200",
        "USER": "somebody",
    },
)


def made(
    folder,
    samples,
    machine,
    *,
    dates,
    stem="gatehouse",
    more=(),
    whole_paths=False,
    without_lxml=False,
):
    """All outputs of a sample, made in a folder of its own as on another machine; bytes by name."""
    folder.mkdir(parents=True)
    at = f"{folder}/" if whole_paths else ""
    for file in samples.glob(f"{stem}*"):
        shutil.copy(file, folder)
        os.utime(folder / file.name, (dates, dates))
    every = (
        "--json",
        "out/r.json",
        "--report",
        "out/r.html",
        "--csv",
        "out",
        "--svg",
        "out",
        *more,
    )
    command = [
        sys.executable,
        "-m",
        "dxf2veneer.cli",
        "takeoff",
        f"{at}{stem}.dxf",
        "--job",
        f"{at}{stem}.toml",
        "-o",
        "out",
        *every,
    ]
    kept = {
        key: value
        for key, value in os.environ.items()
        if key in ("PATH", "PYTHONPATH", "VIRTUAL_ENV")
    }
    if without_lxml:
        (folder / "hidden").mkdir()
        (folder / "hidden" / "lxml.py").write_text("raise ImportError")
        kept["PYTHONPATH"] = os.pathsep.join(
            filter(None, (str(folder / "hidden"), kept.get("PYTHONPATH")))
        )
    done = subprocess.run(
        command, cwd=folder, env=kept | machine, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return {p.name: p.read_bytes() for p in sorted((folder / "out").iterdir())}


def same(first, second):
    assert first.keys() == second.keys()
    assert [name for name in first if first[name] != second[name]] == []


def test_two_machines_make_the_same_bytes(tmp_path, samples):
    first = made(tmp_path / "a", samples, MACHINES[0], dates=1_700_000_000)
    second = made(
        tmp_path / "deep" / "er",
        samples,
        MACHINES[1],
        dates=1_000_000_000,
        whole_paths=True,
        without_lxml=True,
    )
    assert {name.rpartition(".")[2] for name in first} == {
        "xlsx",
        "dxf",
        "json",
        "html",
        "csv",
        "svg",
    }
    same(first, second)
    everything = b"".join(first.values()) + b"".join(
        unpacked(first["gatehouse-takeoff.xlsx"], tmp_path)
    )
    for machine in (str(tmp_path), "somebody"):
        assert machine.encode() not in everything, "no output knows where it was made"


def unpacked(workbook, tmp_path):
    (tmp_path / "book.xlsx").write_bytes(workbook)
    with zipfile.ZipFile(tmp_path / "book.xlsx") as packed:
        return [packed.read(name) for name in packed.namelist()]


@pytest.mark.parametrize(
    "kind",
    [("--dxf-version", "R12"), ("--overlay-only", "--dxf-version", "R2018", "--binary")],
    ids=" ".join,
)
def test_every_kind_of_drawing_is_the_same(tmp_path, samples, kind):
    first = made(
        tmp_path / "a", samples, MACHINES[0], dates=1_700_000_000, more=("--no-plan", *kind)
    )
    second = made(
        tmp_path / "b", samples, MACHINES[1], dates=1_000_000_000, more=("--no-plan", *kind)
    )
    same(first, second)


def test_the_pdf_is_the_same(tmp_path, samples):
    pytest.importorskip("typst", reason="the optional extra for PDF is not installed")
    first = made(
        tmp_path / "a",
        samples,
        MACHINES[0],
        dates=1_700_000_000,
        more=("--no-plan", "--pdf", "out/r.pdf"),
    )
    second = made(
        tmp_path / "b",
        samples,
        MACHINES[1],
        dates=1_000_000_000,
        more=("--no-plan", "--pdf", "out/r.pdf"),
    )
    assert "r.pdf" in first
    same(first, second)


def test_source_date_epoch_is_the_only_date(tmp_path, samples):
    # reproducible-builds.org, SOURCE_DATE_EPOCH: seconds since 1970 in UTC; 1,600,000,000 is
    # 2020-09-13
    first = made(
        tmp_path / "a",
        samples,
        MACHINES[0] | {"SOURCE_DATE_EPOCH": "1600000000"},
        dates=1_700_000_000,
        more=("--no-plan",),
    )
    second = made(
        tmp_path / "b",
        samples,
        MACHINES[1] | {"SOURCE_DATE_EPOCH": "1600000000"},
        dates=1_000_000_000,
        more=("--no-plan",),
    )
    same(first, second)
    assert b"overlay of 2020-09-13" in first["gatehouse-courses.dxf"]
    assert any(
        b"2020-09-13T12:26:40Z" in part
        for part in unpacked(first["gatehouse-takeoff.xlsx"], tmp_path)
    )


def test_a_text_drawing_has_the_same_line_ends_everywhere(tmp_path, samples, monkeypatch):
    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.config.job import load_job
    from dxf2veneer.writers.overlay import write_overlay

    source = samples / "gatehouse.dxf"
    result = take_off((source,), load_job(samples / "gatehouse.toml", {"plan.panels": False}))
    monkeypatch.setattr(os, "linesep", "\r\n")  # as on Windows, where open() would write it
    write_overlay(result, result.drawings[0], source, tmp_path / "courses.dxf")
    assert b"\r" not in (tmp_path / "courses.dxf").read_bytes()
    assert ezdxf.readfile(tmp_path / "courses.dxf").audit().errors == []
