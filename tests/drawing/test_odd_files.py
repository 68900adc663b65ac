"""Whatever a file holds, there is a result or one clear line; never a traceback, never a wait."""

from __future__ import annotations

import signal
import subprocess
import sys
from contextlib import contextmanager

import pytest
from click.testing import CliRunner
from conftest import ROOT
from drawings import job
from odd_files import NAMES, WALL_AREA, WINDOW_AREA, cut_files, flipped_files, odd_files, undeclared
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.drawing import DrawingError, survey_drawing
from dxf2veneer.wording import error_line, say
from dxf2veneer.writers.overlay import write_overlay

SECONDS = 10
ODD = dict(odd_files())
MANY = {
    "odd": ODD,
    "cut": dict(
        cut_files([ROOT / "samples" / "gatehouse.dxf", ROOT / "samples" / "boathouse.dxf"])
    ),
    "flipped": dict(flipped_files()),
}
SAMPLE_JOB = {"layers.wall": ("A-WALL", "A-ELEV-OTLN"), "layers.opening": ("A-OPNG", "A-ELEV-GLAZ")}


class TooLong(BaseException):
    """Of no kind that a reader catches."""


@contextmanager
def at_most(seconds):
    """Stops what takes longer, in seconds of the processor: how busy the machine is counts for
    nothing."""

    def stop(signum, frame):
        raise TooLong(f"longer than {seconds} s")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def outcome(reader):
    """What a reader gives, or None where it stops with one clear line."""
    try:
        with at_most(SECONDS):
            return reader()
    except DrawingError as error:
        assert "\n" not in error_line(error)
        assert "Traceback" not in error_line(error)
        assert "odd.dxf: " in error_line(error)
        return None


def both(path, content, **settings):
    """The takeoff and the survey of a file of that content, each None where it is refused."""
    path.write_bytes(content)
    asked = job(
        layers__wall=SAMPLE_JOB["layers.wall"],
        layers__opening=SAMPLE_JOB["layers.opening"],
        **settings,
    )
    found = outcome(lambda: take_off([path], asked)), outcome(lambda: survey_drawing(path, asked))
    assert path.read_bytes() == content
    assert [p.name for p in path.parent.iterdir()] == [path.name]
    return found


@pytest.mark.parametrize(("group", "name"), [(g, n) for g, files in MANY.items() for n in files])
def test_a_result_or_one_clear_line(group, name, tmp_path):
    takeoff, _ = both(tmp_path / "odd.dxf", MANY[group][name])
    for notice in takeoff.notices if takeoff else ():
        assert "\n" not in say(notice.message)


HARMLESS = ["R2000-binary", "R2018", "r10-without-tables", "crlf", "cr", "comments", "codes-padded",
            "codes-unpadded",
            "zeros-at-the-end", "words-after-eof", "endtab-missing", "endblk-missing",
            "same-handle-throughout",
            "block-missing", "reference-without-name", "proxy"]  # fmt: skip


@pytest.mark.parametrize("name", HARMLESS)
def test_what_only_looks_odd_costs_nothing(name, tmp_path):
    takeoff, survey = both(tmp_path / "odd.dxf", ODD[name])
    assert takeoff.totals.gross_area == pytest.approx(WALL_AREA)
    assert takeoff.totals.opening_area == pytest.approx(WINDOW_AREA)
    assert {"A-WALL", "A-OPNG"} <= {layer.name for layer in survey.layers}


@pytest.mark.parametrize("value", ["nan", "inf", "-inf", "1e300", "-1e300", "1e308", "1e999"])
def test_a_coordinate_beyond_measure_costs_only_its_own_outline(value, tmp_path):
    takeoff, _ = both(tmp_path / "odd.dxf", ODD[f"coordinate-{value}"])
    assert takeoff.totals.gross_area == pytest.approx(WALL_AREA)
    assert "ENTITY_UNUSABLE" in {n.code for n in takeoff.notices}


@pytest.mark.parametrize(
    ("name", "code", "message"),
    [
        ("scale-0-1-1", "ENTITY_UNUSABLE", "scale is zero"),
        ("scale-1-0-1", "ENTITY_UNUSABLE", "scale is zero"),
        ("scale-1e+100-1e+100-1", "ENTITY_UNUSABLE", "reaches beyond"),
        ("minsert-of-a-billion", "ENTITY_UNUSABLE", "32000 columns"),
        ("minsert-one-on-another", "DOUBLED_OUTLINE", ""),
        ("block-in-itself", "ENTITY_UNUSABLE", "contains itself"),
        ("blocks-nested-200-deep", "ENTITY_UNUSABLE", "nested deeper"),
        ("xclip", "BLOCK_CLIPPED", "block SASH: 1 clipped reference read whole"),
        ("proxy", "ENTITY_KIND_IGNORED", "ACAD_PROXY_ENTITY"),
        ("layer-attribute-missing", "ENTITY_UNUSABLE", "naming no layer"),
        ("without-eof", "DRAWING_REPAIRED", "missing EOF"),
    ],
)
def test_what_is_left_out_or_in_doubt_is_told(name, code, message, tmp_path):
    takeoff, _ = both(tmp_path / "odd.dxf", ODD[name])
    assert takeoff.totals.gross_area == pytest.approx(WALL_AREA)
    assert any(n.code == code and message in say(n.message) for n in takeoff.notices)


def test_clipped_references_of_a_block_are_counted_and_told_once(tmp_path):
    _, survey = both(tmp_path / "odd.dxf", ODD["xclip"])
    (notice,) = [n for n in survey.notices if n.code == "BLOCK_CLIPPED"]
    assert notice.layer == "A-OPNG"
    assert notice.handle


@pytest.mark.parametrize("damaged", [False, True])
@pytest.mark.parametrize("encoding", NAMES)
def test_named_code_page_reads_names_in_drawing_and_overlay(encoding, damaged, tmp_path):
    """Without its last line the file is read by repair, which takes the code page too."""
    source, copy, name = tmp_path / "odd.dxf", tmp_path / "copy.dxf", NAMES[encoding]
    content = undeclared(encoding)
    source.write_bytes(content.removesuffix(b"  0\nEOF\n") if damaged else content)
    asked = job(layers__wall=(name,), drawing__encoding=encoding)
    takeoff = take_off([source], asked)
    assert takeoff.walls[0].wall.layer == name
    assert ("DRAWING_REPAIRED" in {n.code for n in takeoff.notices}) == damaged
    assert name in {layer.name for layer in survey_drawing(source, asked).layers}
    write_overlay(takeoff, takeoff.drawings[0], source, copy)
    # the copy has the bytes of the drawing, which say nothing of their code page either
    assert name in {layer.name for layer in survey_drawing(copy, asked).layers if layer.entities}


def test_layers_command_takes_a_code_page(tmp_path):
    (tmp_path / "odd.dxf").write_bytes(undeclared("cp1251"))
    shown = CliRunner().invoke(
        main, ["layers", str(tmp_path / "odd.dxf"), "--encoding", "windows-1251"]
    )
    assert shown.exit_code == 0
    assert NAMES["cp1251"] in shown.output


@pytest.mark.parametrize(
    ("written", "name"),
    [
        (r"\U+5916\U+5899", "外墙"),
        (r"\U+00c4-2", "Ä-2"),
        (r"\U+ZZZZ", r"\U+ZZZZ"),
        (r"\U+D800", "\ufffd"),
    ],
)
def test_escaped_characters_of_names_are_read(written, name, tmp_path):
    (tmp_path / "odd.dxf").write_bytes(ODD["R2000"].replace(b"A-OPNG", written.encode()))
    assert name in {layer.name for layer in survey_drawing(tmp_path / "odd.dxf").layers}


@pytest.mark.parametrize("name", ["utf-16", "rot13", "base64", "cp037", "no such", "", "a\0b"])
def test_code_page_that_dxf_cannot_be_written_in_is_refused(name):
    with refused(SettingsError, match=r"--encoding = .*wants the name of a code page"):
        job(drawing__encoding=name)


@pytest.mark.parametrize(
    ("name", "code"),
    [("code-no-number", 1), ("blocks-that-double-40-times", 1), ("sentinel-only", 1), ("xclip", 0)],
)
def test_command_ends_with_one_line_and_leaves_nothing_behind(name, code, tmp_path):
    (tmp_path / "odd.dxf").write_bytes(ODD[name])
    command = [
        sys.executable,
        "-m",
        "dxf2veneer.cli",
        "takeoff",
        "odd.dxf",
        "-o",
        "out",
        "--wall-layer",
        "A-WALL",
        "--opening-layer",
        "A-OPNG",
    ]
    ended = subprocess.run(
        command, cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False
    )
    assert ended.returncode == code
    assert "Traceback" not in ended.stderr
    assert (tmp_path / "out").exists() == (code == 0)
    if code:
        assert ended.stderr.startswith("Error: odd.dxf: ")
        assert ended.stderr.count("\n") == 1
    else:
        assert "clip" in ended.stderr
