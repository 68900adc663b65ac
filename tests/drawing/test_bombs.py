"""A few bytes that ask for more than any machine has: refused in one line and little time.

Each runs in a process of its own that may use 1 GB and 10 seconds of the processor; the option that
the message names raises the limit.
"""

from __future__ import annotations

import os
import random
import struct
import subprocess
import sys
from itertools import chain

import pytest
from drawings import job
from odd_files import SHEET, ascii_of, binary_of, box, document, entities
from refusals import refused

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.notices import count_by_level, gathered
from dxf2veneer.drawing import DrawingError, load_drawing
from dxf2veneer.drawing.notice_collector import NoticeCollector
from dxf2veneer.wording import say

GIGABYTE = 1 << 30
SECONDS = 10


def ended(tmp_path, content, *options, command="takeoff"):
    """The command on a file of that content, ended."""
    (tmp_path / "odd.dxf").write_bytes(content)
    asked = (
        ["odd.dxf", "-o", "out", "--wall-layer", "A-WALL", "--opening-layer", "A-OPNG", "--no-plan"]
        if command == "takeoff"
        else ["odd.dxf"]
    )
    words = [sys.executable, "-m", "dxf2veneer.cli", command, *asked, *options]
    with (tmp_path / "stdout").open("w+") as out, (tmp_path / "stderr").open("w+") as err:
        process = subprocess.Popen(words, cwd=tmp_path, stdout=out, stderr=err)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        texts = [file.seek(0) or file.read() for file in (out, err)]
    assert "Traceback" not in texts[1]
    assert used.ru_utime < SECONDS
    assert used.ru_maxrss * 1024 < GIGABYTE
    return subprocess.CompletedProcess(words, process.returncode, *texts)


def command_refuses(tmp_path, content, *words, command="takeoff"):
    """The one line with which a drawing is refused, which holds the words."""
    done = ended(tmp_path, content, command=command)
    assert done.returncode == 1, done.stdout + done.stderr
    assert done.stderr.count("\n") == 1
    assert all(word in done.stderr for word in words), done.stderr
    assert not (tmp_path / "out").exists()


def ten_deep_and_ten_wide():
    """Ten references in each of ten blocks, one in the other: 10^10 boxes."""
    doc = document()
    doc.blocks.new("B0").add_lwpolyline([(0, 0), (12, 0), (12, 16)], close=True)
    for depth in range(1, 11):
        block = doc.blocks.new(f"B{depth}")
        for x in range(10):
            block.add_blockref(f"B{depth - 1}", (x, 0))
    doc.modelspace().add_blockref("B10", (0, 0), dxfattribs={"layer": "A-OPNG"})
    return ascii_of(doc)


def rows_and_columns(columns, rows):
    """One reference that places a box in so many columns and rows."""
    line = "0 LINE 8 0 10 0 20 0 11 1 21 1"
    block = f"0 SECTION 2 BLOCKS 0 BLOCK 2 SASH 70 0 10 0 20 0 {line} 0 ENDBLK 0 ENDSEC"
    insert = f"0 INSERT 5 A1 8 A-OPNG 2 SASH 10 0 20 0 70 {columns} 71 {rows} 44 1 45 1"
    return entities(f"{SHEET} {insert}", f"0 SECTION 2 HEADER 9 $INSUNITS 70 1 0 ENDSEC {block}")


def polyline(points):
    """A polyline on the wall layer of so many points."""
    vertices = chain.from_iterable(
        (b"10", b"%d.5" % x, b"20", b"%d" % (x % 7)) for x in range(points)
    )
    body = b"\n".join(vertices)
    return entities(f"{SHEET} 0 LWPOLYLINE 5 A1 8 A-WALL 90 {points} 70 1 @").replace(b"@", body)


def edges(count):
    """A hatch whose boundary has so many edges."""
    body = b"\n".join(b"72\n1\n10\n%d.5\n20\n0\n11\n%d.5\n21\n1" % (x, x + 1) for x in range(count))
    return entities(
        f"{SHEET} 0 HATCH 5 A1 8 A-WALL 2 SOLID 70 1 71 0 91 1 92 1 93 {count} @ 97 0 75 0"
    ).replace(b"@", body)


def spline(degree, knots):
    """A spline on the wall layer of a degree and so many knots, half of them 0 and half 1."""
    doc = document()
    made = doc.modelspace().add_spline(dxfattribs={"layer": "A-WALL"})
    made.control_points = [(0, 0), (50, 0), (50, 40), (0, 20)]
    made.knots = [2 * k // max(knots, 1) for k in range(knots)]
    return ascii_of(doc).replace(b" 71\n3\n 72", b" 71\n%d\n 72" % degree)


def binary_polyline(points):
    """A binary drawing with a polyline of so many points."""
    doc = document()
    doc.modelspace().add_lwpolyline([(1.5, 2.5), (1.5, 2.5)], dxfattribs={"layer": "A-WALL"})
    point = struct.pack("<HdHd", 10, 1.5, 20, 2.5)
    assert point * 2 in binary_of(doc)
    return binary_of(doc).replace(point * 2, point * points)


def test_blocks_ten_deep_and_ten_wide(tmp_path):
    command_refuses(tmp_path, ten_deep_and_ten_wide(), "nest to more than", "--limit-entities")


def test_layers_count_what_ten_deep_and_ten_wide_hold_without_opening_them(tmp_path):
    done = ended(tmp_path, ten_deep_and_ten_wide(), command="layers")
    assert done.returncode == 0
    assert f"{10**10 + 1} LWPOLYLINE" in done.stdout  # and the window
    assert "SURVEY_SAMPLED" in done.stdout


def test_a_million_rows_and_columns_cost_only_their_own_reference(tmp_path):
    done = ended(tmp_path, rows_and_columns(1_000_000, 1_000_000))
    assert done.returncode == 0
    assert "1000000 columns and 1000000 rows" in done.stderr
    assert "--limit-entities" in done.stderr


@pytest.mark.parametrize("bomb", [polyline, edges])
def test_more_points_than_the_limit_in_one_entity(bomb, tmp_path):
    command_refuses(tmp_path, bomb(1_000_000), "handle A1", "1,000,000 points", "--limit-points")


def test_spline_of_a_million_knots(tmp_path):
    command_refuses(tmp_path, spline(3, 1_000_000), "1,000,000 points", "--limit-points")


@pytest.mark.parametrize(
    ("degree", "knots"), [(1_000_000_000, 8), (-1, 8), (0, 8), (3, 3), (3, 100_000)]
)
def test_spline_of_an_absurd_degree_or_number_of_knots_is_left_out(degree, knots, tmp_path):
    done = ended(tmp_path, spline(degree, knots))
    assert done.returncode == 0
    assert "SPLINE left out" in done.stderr


def test_binary_polyline_of_a_million_points(tmp_path):
    command_refuses(tmp_path, binary_polyline(1_000_000), "points, more than --limit-points")


def circles(count):
    """So many circles on the wall layer, none of them usable."""
    one = b"0\nCIRCLE\n8\nA-WALL\n10\n0\n20\n0\n40\nnan\n"
    return entities(f"{SHEET} 0 POINT 8 A-X 10 0 20 @").replace(b"@\n", b"0\n" + one * count)


def test_a_million_entities_on_a_named_layer(tmp_path):
    command_refuses(
        tmp_path,
        circles(1_000_000),
        "more entities lie on the named layers",
        "--limit-named (20,000)",
    )


@pytest.mark.parametrize("made", [circles(100), rows_and_columns(10, 10)], ids=["drawn", "placed"])
def test_limit_of_entities_on_named_layers_can_be_raised(made, tmp_path):
    source = tmp_path / "odd.dxf"
    source.write_bytes(made)
    many = 4 + 4 + 100
    with refused(DrawingError, match="more entities lie on the named layers than --limit-named"):
        load_drawing(source, job(limits__named=many - 1), 0)
    assert load_drawing(source, job(limits__named=many), 0).shapes


@pytest.mark.parametrize("points", [1_000, 5_000])
def test_a_scribble_of_thousands_of_points(points, tmp_path):
    """A wall that crosses itself a quarter of a million times, and six million times."""
    doc, chance = document("R2010"), random.Random(1)
    doc.modelspace().add_lwpolyline(
        [(chance.uniform(300, 700), chance.uniform(0, 200)) for _ in range(points)],
        close=True,
        dxfattribs={"layer": "A-WALL"},
    )
    done = ended(tmp_path, ascii_of(doc))
    assert done.returncode == 0
    assert "SELF_CROSSING" in done.stderr
    ended(tmp_path, ascii_of(doc), command="propose")


def lattice(levels, uprights):
    """Level lines, each of which crosses every upright one, 1 in apart and on the wall layer."""
    lines = [(100, 2 + n, 101 + uprights, 2 + n) for n in range(levels)]
    lines += [(101 + n, 1, 101 + n, 2 + levels) for n in range(uprights)]
    return entities(
        SHEET + "".join(f" 0 LINE 8 A-WALL 10 {a} 20 {b} 11 {c} 21 {d}" for a, b, c, d in lines)
    )


def test_lines_that_cross_a_hundred_thousand_times(tmp_path):
    command_refuses(
        tmp_path,
        lattice(400, 400),
        "the loose lines on layer A-WALL cross others",
        "--limit-crossings (100,000)",
    )


def test_limit_of_crossings_can_be_raised(tmp_path):
    source = tmp_path / "odd.dxf"
    source.write_bytes(lattice(30, 40))
    with refused(DrawingError, match="cross others more often than --limit-crossings"):
        load_drawing(source, job(limits__crossings=30 * 40 - 1), 0)
    assert load_drawing(source, job(limits__crossings=30 * 40), 0).shapes


def test_lines_that_end_on_others_do_not_cross_them(tmp_path):
    rails = [(0, 0, 0, 100), (9, 0, 9, 100)]
    rungs = [(0, y, 9, y) for y in range(101)]
    lines = " ".join(f"0 LINE 8 A-WALL 10 {a} 20 {b} 11 {c} 21 {d}" for a, b, c, d in rails + rungs)
    source = tmp_path / "odd.dxf"
    source.write_bytes(entities(f"{SHEET} {lines}"))
    assert load_drawing(source, job(limits__crossings=1), 0).shapes


def test_limit_can_be_raised_for_the_list_of_layers(tmp_path):
    few = rows_and_columns(50, 40)
    assert (
        "places than --limit-entities (1,999)"
        in ended(tmp_path, few, "--limit-entities", "1999", command="layers").stdout
    )
    assert (
        "places than"
        not in ended(tmp_path, few, "--limit-entities", "9999", command="layers").stdout
    )


def test_limit_of_points_can_be_raised(tmp_path):
    source = tmp_path / "odd.dxf"
    source.write_bytes(polyline(2_000))
    with refused(DrawingError, match="2,000 points, more than --limit-points"):
        load_drawing(source, job(limits__points=1_999), 0)
    assert load_drawing(source, job(limits__points=2_000), 0).shapes


def test_file_larger_than_the_limit(tmp_path):
    source = tmp_path / "odd.dxf"
    source.write_bytes(entities(SHEET) + b" " * 1_000_000)
    with refused(DrawingError, match="more than --limit-megabytes"):
        load_drawing(source, job(limits__megabytes=1), 0)
    assert load_drawing(source, job(limits__megabytes=2), 0).shapes


@pytest.mark.parametrize("corner", [("200", "1e9"), ("1e9", "100")])
def test_wall_of_more_courses_or_panels_than_the_limit(corner, tmp_path):
    command_refuses(
        tmp_path, entities(box("A-WALL", 0, 0, *corner)), "layer A-WALL", "--limit-courses"
    )


def test_text_of_megabytes_is_cut(tmp_path):
    text = entities(f"{SHEET} 0 TEXT 8 A-NAME 10 20 20 20 40 4 1 @").replace(b"@", b"W" * 5_000_000)
    done = ended(tmp_path, text, "--name-layer", "A-NAME")
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) < 1_000


def test_a_million_notices_come_together():
    """The first 200 of a kind stay; one more says how many there are besides."""
    collector = NoticeCollector(0, 200)
    for number in range(1_000_000):
        collector.add(
            "OPEN_OUTLINE",
            message("outline-open", what="wall", gap=Length(3.0)),
            layer="A-WALL",
            handle=f"{number:X}",
        )
    collector.add("NO_AREA", message("outline-without-area", what="wall"))
    told = collector.notices()
    assert [n.code for n in told] == ["OPEN_OUTLINE"] * 201 + ["NO_AREA"]
    assert told[200].count == 999_800
    assert say(told[200].message).startswith("999,800 more of this kind")
    assert sum(count_by_level(told).values()) == 1_000_001
    assert list(told) == gathered(told, 200)


def test_outlines_that_do_not_close_are_listed_by_their_number(tmp_path):
    done = ended(tmp_path, entities(f"{SHEET} {'0 CIRCLE 8 A-WALL 10 0 20 0 40 nan ' * 3_000}"))
    assert done.returncode == 0
    assert done.stderr.count("ENTITY_UNUSABLE") == 2  # the first, and those beyond the limit
    assert "And 199 more of this kind" in done.stderr
    assert "2,800 more of this kind" in done.stderr
