"""Input from outside the everyday, as an attack on the tool found it: each ends in a result or in
one line that says what is wrong, in little time and memory.

The drawing, in inches, wall on A-WALL and window on A-OPNG:

    100 .---------------.
        |     .--. 70   |
        |     '--' 30   |
      0 '---------------'
        0     60 90    200
"""

from __future__ import annotations

import os
import random
import signal
import zipfile

import openpyxl
import pytest
import shapely
from click.testing import CliRunner
from drawings import job
from odd_files import ascii_of, document

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.drawing import load_drawing
from dxf2veneer.textio.codepage import code_page

TAKEOFF = "takeoff a.dxf -o out --wall-layer A-WALL --opening-layer A-OPNG --no-plan"
NAN = float("nan")


@pytest.fixture(autouse=True)
def in_time():
    """No test waits for ever for a queue, and none reckons longer than it may."""

    def stop(signum, frame):
        raise AssertionError("longer than it may take")

    before = {kind: signal.signal(kind, stop) for kind in (signal.SIGALRM, signal.SIGPROF)}
    signal.alarm(300)
    signal.setitimer(signal.ITIMER_PROF, 30)
    yield
    signal.alarm(0)
    signal.setitimer(signal.ITIMER_PROF, 0)
    for kind, was in before.items():
        signal.signal(kind, was)


def drawn(folder, change=lambda space: None, version="R2010"):
    """The drawing with what ``change`` does to its model space."""
    made = document(version)
    change(made.modelspace())
    path = folder / "a.dxf"
    path.write_bytes(ascii_of(made))
    return path


def ends(folder, command, code):
    """A command that ends with a code; what it says on the error stream."""
    before = os.getcwd()
    os.chdir(folder)
    try:
        ended = CliRunner().invoke(main, command.split(" "))
    finally:
        os.chdir(before)
    told = [line for line in ended.stderr.splitlines() if line.startswith("Error: ")]
    assert ended.exit_code == code, ended.output
    assert len(told) == (code != 0)
    assert "unexpected fault" not in ended.stderr
    return told[0] if told else ended.stderr


# ------------------------------------------------------------------ names of files


def circle(folder):
    (folder / "round").symlink_to("about")
    (folder / "about").symlink_to("round")


@pytest.mark.parametrize(
    "command",
    [
        f"{TAKEOFF} --json round",
        f"{TAKEOFF} --job round",
        f"{TAKEOFF} --prices round",
        TAKEOFF.replace("-o out", "-o round"),
        TAKEOFF.replace("-o out", "-o round/in"),
        TAKEOFF.replace("a.dxf", "round"),
        "layers round",
        "advise round --wall-layer A-WALL",
        "job check round",
        "propose a.dxf --json round",
    ],
)
def test_links_that_lead_in_a_circle(command, tmp_path):
    drawn(tmp_path)
    circle(tmp_path)
    assert "its links lead in a circle" in ends(tmp_path, command, 2)


@pytest.mark.parametrize(
    "command",
    [
        TAKEOFF.replace("-o out", f"-o {'f' * 300}"),
        f"{TAKEOFF} --json {'f' * 300}.json",
        f"{TAKEOFF} --json new/{'ä' * 200}.json",
        TAKEOFF.replace("a.dxf", f"{'f' * 300}.dxf"),
        f"{TAKEOFF} --prices {'f' * 300}.csv",
    ],
)
def test_names_longer_than_a_disk_takes(command, tmp_path):
    drawn(tmp_path)
    assert "longer than 255 bytes" in ends(tmp_path, command, 2)


@pytest.mark.parametrize(
    "setting", ["order]\nprices", "product]\nfile", "site]\nfile", "site]\nbefore"]
)
def test_null_bytes_in_names_of_a_job_file(setting, tmp_path):
    drawn(tmp_path)
    (tmp_path / "job.toml").write_text(f'[{setting} = "a\\u0000b"\n', "utf-8")
    told = ends(tmp_path, f"{TAKEOFF} --job job.toml", 2)
    assert "job.toml, line 2" in told
    assert "null byte" in told


@pytest.mark.parametrize(
    ("command", "code"),
    [
        (TAKEOFF.replace("a.dxf", "queue"), 1),
        (f"{TAKEOFF} --each --workers 1".replace("a.dxf", "a.dxf queue"), 1),
        (f"{TAKEOFF} --job queue", 2),
        (f"{TAKEOFF} --prices queue.csv", 2),
        (f"{TAKEOFF} --prices queue.xlsx", 2),
        (f"{TAKEOFF} --product queue", 2),
        (f"{TAKEOFF} --site queue", 2),
        (f"{TAKEOFF} --site-before queue", 2),
        (f"{TAKEOFF} --json queue", 2),
        ("job check queue", 2),
        ("job check /dev/zero", 2),
        ("layers /dev/zero", 1),
    ],
)
def test_queues_and_devices_are_not_waited_for(command, code, tmp_path):
    drawn(tmp_path)
    for name in ("queue", "queue.csv", "queue.xlsx"):
        os.mkfifo(tmp_path / name)
    ends(tmp_path, command, code)


# ------------------------------------------------------------------ numbers


@pytest.mark.parametrize(
    "change",
    [
        lambda space: space.add_point((NAN, 0), dxfattribs={"layer": "NAMES"}),
        lambda space: space.add_point((0, 0, NAN), dxfattribs={"layer": "NAMES"}),
        lambda space: space.add_text(
            "E", height=8, dxfattribs={"layer": "NAMES", "insert": (NAN, NAN)}
        ),
        lambda space: space.add_text(
            "E", height=8, rotation=float("inf"), dxfattribs={"layer": "NAMES"}
        ),
        lambda space: space.add_text("E", height=1e300, dxfattribs={"layer": "NAMES"}),
        lambda space: space.add_lwpolyline(
            [(20, 10, 1e9), (30, 10, 0), (30, 50, 0)],
            format="xyb",
            close=True,
            dxfattribs={"layer": "A-OPNG"},
        ),
        lambda space: space.add_polyline2d(
            [(20, 10, -1e9), (30, 10, 0), (30, 50, 0)],
            format="xyb",
            close=True,
            dxfattribs={"layer": "A-OPNG"},
        ),
        lambda space: space.add_circle((0, 0), radius=1e14, dxfattribs={"layer": "A-OPNG"}),
    ],
    ids=[
        "point",
        "height-of-point",
        "place",
        "turn",
        "giant",
        "bulge",
        "old-bulge",
        "circle",
    ],
)
def test_an_entity_of_unusable_numbers_is_left_out_with_a_notice(change, tmp_path):
    path = drawn(tmp_path, change)
    on_names = "--name-layer NAMES" if b"\nNAMES\n" in path.read_bytes() else ""
    read = load_drawing(path, job(layers__name=("NAMES",)), 0)
    assert [n.code for n in read.notices if n.code != "NO_SUCH_LAYER"] == ["ENTITY_UNUSABLE"]
    assert len(read.shapes) == 2
    ends(tmp_path, f"{TAKEOFF} {on_names}".strip(), 0)


@pytest.mark.parametrize("height", [1e8, 1e300])
def test_the_legend_finds_its_place_below_a_giant_text(height, tmp_path):
    drawn(tmp_path, lambda space: space.add_text("E", height=height))
    ends(tmp_path, TAKEOFF, 0)


@pytest.mark.parametrize("sign", ["[", "{", "(", "<", "\\", "%", "[]"])
def test_a_dimension_of_a_hundred_thousand_brackets(sign, tmp_path):
    def dimensioned(space):
        space.add_linear_dim(
            base=(0, -20), p1=(0, 0), p2=(200, 0), text=sign * (120_000 // len(sign))
        ).render()

    drawn(tmp_path, dimensioned)
    ends(tmp_path, "propose a.dxf", 0)


@pytest.mark.parametrize("text", ["9" * 400, "9" * 400 + "'", "1/" + "9" * 400 + "9", "1e999"])
def test_lengths_of_hundreds_of_digits(text, tmp_path):
    drawn(tmp_path)
    ends(tmp_path, f"{TAKEOFF} --trim-head {text}", 2 if "/" not in text else 0)


@pytest.mark.parametrize(
    "name", ["utf-7", "idna", "punycode", "unicode_escape", "raw_unicode_escape", "hz", "utf-16"]
)
def test_code_pages_that_hold_no_plain_ascii(name, tmp_path):
    drawn(tmp_path)
    assert "code page" in ends(tmp_path, f"{TAKEOFF} --encoding {name}", 2)


@pytest.mark.parametrize("name", ["cp1252", "utf-8", "cp932", "gbk", "big5", "cp949", "koi8-r"])
def test_code_pages_of_drawings(name):
    assert code_page(name)


# ------------------------------------------------------------------ price workbooks


def test_a_price_workbook_with_a_cell_in_the_last_corner(tmp_path):
    drawn(tmp_path)
    book = openpyxl.Workbook()
    book.active.append(["item", "unit", "price"])
    book.active["XFD1048576"] = 1
    book.save(tmp_path / "prices.xlsx")
    told = ends(tmp_path, f"{TAKEOFF} --prices prices.xlsx", 2)
    assert "row 1048576" in told
    assert "column 16384" in told


def test_a_price_workbook_that_unpacks_without_end(tmp_path):
    drawn(tmp_path)
    book = openpyxl.Workbook()
    book.active.append(["item", "unit", "price"])
    book.save(tmp_path / "prices.xlsx")
    with zipfile.ZipFile(tmp_path / "prices.xlsx", "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/more.xml", bytes(310_000_000))
    assert "unpacks to 310 MB" in ends(tmp_path, f"{TAKEOFF} --prices prices.xlsx", 2)


def test_damaged_price_workbooks(tmp_path):
    drawn(tmp_path)
    book = openpyxl.Workbook()
    book.active.append(["item", "unit", "price"])
    book.active.append(["flat panel", "each", 12.5])
    book.save(tmp_path / "whole.xlsx")
    whole, chance = (tmp_path / "whole.xlsx").read_bytes(), random.Random(24)
    for _ in range(60):
        with zipfile.ZipFile(tmp_path / "whole.xlsx") as sound:
            parts = {name: bytearray(sound.read(name)) for name in sound.namelist()}
        struck = parts[chance.choice(sorted(parts))]
        for _ in range(chance.randint(1, 4)):
            at = chance.randrange(len(struck))
            struck[at : at + chance.randint(0, 9)] = bytes(chance.choices(b"<>&\"'0=/ex", k=2))
        with zipfile.ZipFile(tmp_path / "p.xlsx", "w") as damaged:
            for name, content in parts.items():
                damaged.writestr(name, bytes(content))
        ended = CliRunner().invoke(
            main,
            ["job", "check", str(_job_file(tmp_path))],
        )
        assert ended.exit_code in (0, 2), ended.output
        assert "unexpected fault" not in ended.output
    assert whole == (tmp_path / "whole.xlsx").read_bytes()


def _job_file(folder):
    path = folder / "job.toml"
    path.write_text('[order]\nprices = "p.xlsx"\n', "utf-8")
    return path


# ------------------------------------------------------------------ overlapping openings


@pytest.mark.parametrize("count", [2, 200, 400])
def test_openings_that_overlap_by_the_hundred_are_exact(count, tmp_path):
    """What they cover together, by shapely's own union of the squares."""
    chance = random.Random(3)
    corners = [(chance.uniform(1, 187), chance.uniform(1, 87)) for _ in range(count)]
    if count == 2:
        corners = [(10.0, 10.0), (21.99, 10.0)]  # a hundredth of an inch: a crumb, and counts once

    def squares(space):
        for entity in list(space)[1:]:
            space.delete_entity(entity)
        for x, y in corners:
            space.add_lwpolyline(
                [(x, y), (x + 12, y), (x + 12, y + 12), (x, y + 12)],
                close=True,
                dxfattribs={"layer": "A-OPNG"},
            )

    path = drawn(tmp_path, squares)
    covered = shapely.union_all([shapely.box(x, y, x + 12, y + 12) for x, y in corners]).area
    result = take_off([path], job(plan__panels=False))
    assert not result.errors
    (wall,) = result.walls
    assert wall.quantities.net_area == pytest.approx(20_000 - covered, abs=0.002)
