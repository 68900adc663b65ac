"""The command line: files, exit codes, one-line errors, options over the job file."""

from __future__ import annotations

import csv
import json
import os
import re
import subprocess
import sys

import ezdxf
import openpyxl
import pytest
from builders import drawing, line, write_dxf
from click.testing import CliRunner

from dxf2veneer.cli import main
from dxf2veneer.config.job import SECTIONS
from dxf2veneer.config.settings import described

LAYERS = ["--wall-layer", "WALL", "--opening-layer", "OPENING"]

#   .---------------.     wall 200 x 96, window 36 x 40 (10 sq ft), courses of 8 without a sliver
#   |      [ ]      |
#   '---------------'
CLEAN = drawing(wall=[(0, 0, 200, 96)], opening=[(60, 32, 96, 72)])
UNPAIRED = drawing(
    wall=[(0, 0, 200, 96)], opening=[(60, 32, 96, 72)], outside_corner=[line(200, 0, 200, 96)]
)


def run(*args, code=0):
    """The result of a command, which must end with that code and without a traceback."""
    result = CliRunner().invoke(
        main, [str(a) for a in args], color=True
    )  # as a terminal: nothing is stripped
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == code, result.output
    return result


def error_of(*args, code):
    """The one line that a command ends with."""
    (*usage, last) = run(*args, code=code).stderr.strip().splitlines()
    assert last.startswith("Error: ")
    assert not any(text.startswith("Error") for text in usage)
    return last


def outside(*args, **environment):
    """The command as a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "dxf2veneer", *map(str, args)],
        capture_output=True,
        timeout=120,
        check=False,
        env={**os.environ, **environment},
    )


@pytest.fixture
def front(tmp_path):
    return write_dxf(CLEAN, tmp_path / "front.dxf")


@pytest.fixture
def out(tmp_path):
    return tmp_path / "out"


def names(folder):
    return sorted(p.name for p in folder.iterdir()) if folder.exists() else []


# ----------------------------------------------------------------- takeoff


def test_a_takeoff_writes_workbook_overlay_and_result(front, out, tmp_path):
    before = front.read_bytes()
    result = run("takeoff", front, *LAYERS, "-o", out, "--json", tmp_path / "r.json")
    assert names(out) == ["front-courses.dxf", "front-cuts.xlsx", "front-takeoff.xlsx"]
    totals = json.loads((tmp_path / "r.json").read_text())["totals"]
    assert totals["gross_area_sqft"] == pytest.approx(200 * 96 / 144)
    assert totals["net_area_sqft"] == pytest.approx(200 * 96 / 144 - 10)
    assert "133.33 sq ft" in result.stdout
    assert "123.33 sq ft" in result.stdout
    assert "Notices: 1 info, 0 warning, 0 error" in result.stdout  # some pieces reach one stud only
    assert front.read_bytes() == before


def test_layers_are_named_with_wildcards_in_any_case(front, out, tmp_path):
    run(
        "takeoff",
        front,
        "--wall-layer",
        "wa*",
        "--opening-layer",
        "open?ng",
        "-o",
        out,
        "--json",
        tmp_path / "r.json",
    )
    assert json.loads((tmp_path / "r.json").read_text())["totals"][
        "opening_area_sqft"
    ] == pytest.approx(10)


def test_quiet_prints_nothing(tmp_path, out):
    result = run(
        "takeoff",
        write_dxf(UNPAIRED, tmp_path / "u.dxf"),
        *LAYERS,
        "--outside-corner-layer",
        "OUTSIDE_CORNER",
        "-o",
        out,
        "--quiet",
    )
    assert (result.stdout, result.stderr) == ("", "")
    assert len(names(out)) == 3


def test_a_long_name_does_not_push_the_table_of_walls_apart(tmp_path, out):
    document = ezdxf.readfile(write_dxf(CLEAN, tmp_path / "long.dxf"))
    document.modelspace().add_text("N" * 200, dxfattribs={"layer": "NAME", "insert": (20, 10)})
    document.saveas(tmp_path / "long.dxf")
    shown = run(
        "takeoff", tmp_path / "long.dxf", *LAYERS, "--name-layer", "NAME", "-o", out, "--no-plan"
    ).stdout
    (row,) = [text for text in shown.splitlines() if "NNN" in text]
    assert row.startswith("W1 " + 36 * "N" + "…  133.33 sq ft"), "40 signs in all"
    assert openpyxl.load_workbook(out / "long-takeoff.xlsx")["Walls"]["B5"].value == 200 * "N"


def test_strict_turns_warnings_into_an_error_after_writing(tmp_path, out):
    args = [
        "takeoff",
        write_dxf(UNPAIRED, tmp_path / "u.dxf"),
        *LAYERS,
        "--outside-corner-layer",
        "OUTSIDE_CORNER",
        "-o",
        out,
    ]
    told = run(*args).stderr
    assert "warning: CORNER_UNPAIRED" in told
    assert "u.dxf" in told
    assert re.search(r"handle [0-9A-F]+", told)
    assert "at 200,48" in told
    run(*args, "--strict", code=1)
    assert len(names(out)) == 3


def test_strict_is_content_without_warnings(front, out):
    run("takeoff", front, *LAYERS, "-o", out, "--strict")


def test_metric_display(front, out):
    shown = run("takeoff", front, *LAYERS, "-o", out, "--display", "metric").stdout
    assert "12.39 m²" in shown  # 19,200 sq in x 0.00064516
    assert "sq ft" not in shown


def test_several_drawings_make_one_workbook_and_an_overlay_each(tmp_path, out):
    files = [write_dxf(CLEAN, tmp_path / name) for name in ("north.dxf", "south.dxf")]
    run("takeoff", *files, *LAYERS, "-o", out, "--json", tmp_path / "r.json")
    assert names(out) == [
        "north-courses.dxf",
        "north-cuts.xlsx",
        "north-takeoff.xlsx",
        "south-courses.dxf",
    ]
    found = json.loads((tmp_path / "r.json").read_text())
    assert found["totals"]["opening_area_sqft"] == pytest.approx(20)
    assert [w["drawing"] for w in found["walls"]] == [0, 1]


def test_drawings_of_one_name_get_numbers(tmp_path, out):
    files = [
        write_dxf(CLEAN, tmp_path / folder / name)
        for folder, name in (("a", "wall.dxf"), ("b", "WALL.dxf"))
    ]
    run("takeoff", *files, *LAYERS, "-o", out)
    assert names(out) == [
        "WALL-2-courses.dxf",
        "wall-courses.dxf",
        "wall-cuts.xlsx",
        "wall-takeoff.xlsx",
    ]


def test_the_workbook_of_several_drawings_is_named_after_the_job(tmp_path, out):
    files = [write_dxf(CLEAN, tmp_path / name) for name in ("north.dxf", "south.dxf")]
    (tmp_path / "gate.toml").write_text('[layers]\nwall = "WALL"\n')
    run("takeoff", *files, "--job", tmp_path / "gate.toml", "-o", out)
    assert "gate-takeoff.xlsx" in names(out)


def test_options_win_over_the_job_file_and_the_workbook_opens(front, out, tmp_path):
    (tmp_path / "job.toml").write_text(
        '[layers]\nwall = "WALL"\nopening = "NONE"\n[trim]\nhead = "8 in"\njambs = 4\n'
    )
    run(
        "takeoff",
        front,
        "--job",
        tmp_path / "job.toml",
        "--opening-layer",
        "OPENING",
        "--trim-head",
        "6",
        "-o",
        out,
        "--json",
        tmp_path / "r.json",
    )
    totals = json.loads((tmp_path / "r.json").read_text())["walls"][0]
    assert totals["trim_area_sqft"] * 144 == pytest.approx((36 + 8) * (40 + 6) - 36 * 40)
    assert "Summary" in openpyxl.load_workbook(out / "front-takeoff.xlsx").sheetnames


def test_overlay_only_holds_none_of_the_users_entities(front, out):
    run("takeoff", front, *LAYERS, "-o", out, "--overlay-only", "--layer-prefix", "X-TEST")
    layers = {e.dxf.layer for e in ezdxf.readfile(out / "front-courses.dxf").modelspace()}
    assert layers
    assert all(name.startswith("X-TEST") for name in layers)


# ------------------------------------------------------------------- errors


def test_a_drawing_that_is_not_there(tmp_path, out):
    assert "nowhere.dxf" in error_of(
        "takeoff", tmp_path / "nowhere.dxf", *LAYERS, "-o", out, code=1
    )
    assert names(out) == []


def test_a_dwg_file_is_no_dxf(tmp_path, out):
    (tmp_path / "front.dwg").write_bytes(b"AC1032" + bytes(200))
    assert "DXF" in error_of("takeoff", tmp_path / "front.dwg", *LAYERS, "-o", out, code=1)


@pytest.mark.parametrize(
    "content", [b"", b"hello", b"\x00\xff" * 50, b"0\nSECTION\n2\nENTITIES\n0\nLW"]
)
def test_a_file_that_is_no_drawing(content, tmp_path, out):
    (tmp_path / "front.dxf").write_bytes(content)
    error_of("takeoff", tmp_path / "front.dxf", *LAYERS, "-o", out, code=1)
    assert names(out) == []


def test_a_folder_in_place_of_a_drawing(tmp_path, out):
    error_of("takeoff", tmp_path, *LAYERS, "-o", out, code=1)


def test_a_drawing_without_units_says_what_to_add(tmp_path, out):
    bare = write_dxf(CLEAN, tmp_path / "bare.dxf", units=None)
    assert "--units" in error_of("takeoff", bare, *LAYERS, "-o", out, code=1)
    run("takeoff", bare, *LAYERS, "--units", "in", "-o", out)


def test_no_wall_layer_is_wrong_use(front, out):
    assert "--wall-layer" in error_of("takeoff", front, "-o", out, code=2)


def test_a_mistyped_layer_option_names_the_nearest_and_writes_nothing(front, out):
    message = error_of(
        "takeoff",
        front,
        "--wall-layer",
        "WALL",
        "--opening-layer",
        "OPENNING",
        "-o",
        out,
        "--no-plan",
        code=1,
    )
    assert "no layer matches --opening-layer OPENNING; the nearest are OPENING" in message
    assert not out.exists() or not list(out.iterdir())


def test_a_job_files_layer_that_no_drawing_has_is_said_last(front, out, tmp_path):
    (tmp_path / "job.toml").write_text('[layers]\nwall = "WALL"\nopening = "OPENNING"\n')
    result = run("takeoff", front, "--job", tmp_path / "job.toml", "-o", out, "--no-plan")
    assert (
        "Check first: no layer matches OPENNING; the nearest are OPENING"
        in result.stdout.splitlines()[-4]
    )


def test_an_absurd_unit_is_said_last_and_on_top(front, out):
    result = run(
        "takeoff",
        front,
        *LAYERS,
        "--units",
        "mm",
        "-o",
        out,
        "--no-plan",
        "--report",
        out / "r.html",
    )
    assert any(
        line.startswith("Check first: the drawing is read in millimeters")
        for line in result.stdout.splitlines()[-5:]
    )
    assert "Check first: the drawing is read in millimeters" in (out / "r.html").read_text(
        encoding="utf-8"
    )
    summary = openpyxl.load_workbook(out / "front-takeoff.xlsx", data_only=True)["Summary"]
    assert summary["A4"].value.startswith("Check unit and layers first (UNITS_ABSURD")


def test_a_wall_layer_that_is_not_there_names_the_nearest(front, out):
    assert "WALL" in error_of("takeoff", front, "--wall-layer", "WALLS", "-o", out, code=1)


@pytest.mark.parametrize(
    ("option", "value", "told"),
    [
        ("--start", "abc", "4'-6 1/2"),
        ("--trim-head", "9999", "from 0\" to 4'-0"),
        ("--clearance", "", "not a length"),
        ("--units", "cubits", "in, ft, mm, cm, m"),
        ("--edges", "round", "end, butt"),
        ("--nested-walls", "yes", "report, hole, separate, ignore"),
        ("--deduct-over", "nan", "wants a number"),
        ("--scale", "0", "wants a value"),
        ("--layer-prefix", "a b", "letters"),
        ("--display", "cubits", "imperial, metric"),
    ],
)
def test_a_wrong_option_says_what_is_right(front, out, option, value, told):
    message = error_of("takeoff", front, *LAYERS, option, value, "-o", out, code=2)
    assert told in message
    assert option in message
    assert names(out) == []


def test_an_unknown_key_names_line_and_nearest(front, out, tmp_path):
    (tmp_path / "job.toml").write_text('[layers]\nwall = "WALL"\nopenning = "X"\n')
    message = error_of("takeoff", front, "--job", tmp_path / "job.toml", "-o", out, code=2)
    assert "line 3" in message
    assert "did you mean opening?" in message


def test_a_job_or_product_file_that_is_not_there(front, out, tmp_path):
    assert "nojob.toml" in error_of(
        "takeoff", front, *LAYERS, "--job", tmp_path / "nojob.toml", "-o", out, code=2
    )
    assert "panel.toml" in error_of(
        "takeoff", front, *LAYERS, "--product", tmp_path / "panel.toml", "-o", out, code=2
    )
    assert names(out) == []


def test_no_output_may_be_an_input(front, out, tmp_path):
    product = tmp_path / "panel.toml"
    job_file = tmp_path / "job.toml"
    job_file.write_text('[layers]\nwall = "WALL"\n[product]\nfile = "panel.toml"\n')
    product.write_text(
        "[panel]\nlength = 36\nheight = 8\n[laying]\nstagger = 8\nleast_piece = 8\n"
        "[cap]\nheight = 2\n"
    )
    for target in (front, product, job_file):
        before = target.read_bytes()
        message = error_of("takeoff", front, "--job", job_file, "-o", out, "--json", target, code=2)
        assert target.name in message
        assert target.read_bytes() == before
    assert names(out) == []


def test_no_two_outputs_may_be_one_file(front, out):
    for name in ("front-takeoff.xlsx", "front-courses.dxf"):
        assert name in error_of("takeoff", front, *LAYERS, "-o", out, "--json", out / name, code=2)
    assert names(out) == []


def test_an_overlay_is_never_written_over_its_drawing(tmp_path):
    # a and a-courses: the overlay of the first would be the second
    files = [write_dxf(CLEAN, tmp_path / name) for name in ("a.dxf", "a-courses.dxf")]
    before = files[1].read_bytes()
    error_of("takeoff", *files, *LAYERS, "-o", tmp_path, code=2)
    assert files[1].read_bytes() == before


def test_a_drawing_given_twice_would_count_twice(front, out):
    assert "twice" in error_of("takeoff", front, front, *LAYERS, "-o", out, code=2)


def test_a_folder_that_can_not_be_made(front, tmp_path):
    (tmp_path / "taken").write_text("a file")
    message = error_of("takeoff", front, *LAYERS, "-o", tmp_path / "taken" / "out", code=2)
    assert "taken is a file, not a folder; choose another place with -o" in message
    assert (tmp_path / "taken").read_text() == "a file"


@pytest.mark.parametrize(
    ("option", "place"),
    [("--csv", ""), ("--svg", ""), ("--json", "r.json"), ("--report", "sub/r.html")],
)
def test_a_file_where_a_folder_should_be_is_wrong_use_by_the_options_name(
    front, out, option, place
):
    before = front.read_bytes()
    message = error_of("takeoff", front, *LAYERS, "-o", out, option, front / place, code=2)
    assert message.endswith(
        f"front.dxf is a file, not a folder; choose another place with {option}"
    )
    assert front.read_bytes() == before and not out.exists()


def test_an_input_in_place_of_the_folder_is_wrong_use(front):
    for command in ("takeoff", "watch"):
        assert "front.dxf is a file, not a folder; choose another place with -o" in error_of(
            command, front, *LAYERS, "-o", front, code=2
        )


def test_an_output_that_is_a_folder_stops_before_anything_is_written(front, out, tmp_path):
    (tmp_path / "there").mkdir()
    assert "there is a folder" in error_of(
        "takeoff", front, *LAYERS, "-o", out, "--json", tmp_path / "there", code=2
    )
    assert names(out) == []
    (out / "front-courses.dxf").mkdir(parents=True)
    error_of("takeoff", front, *LAYERS, "-o", out, "--json", tmp_path / "r.json", code=2)
    assert not (tmp_path / "r.json").exists()


def test_where_writing_fails_what_stood_there_is_unchanged(front, out, tmp_path, monkeypatch):
    run("takeoff", front, *LAYERS, "-o", out)
    before = {p.name: p.read_bytes() for p in out.iterdir()}

    def full(*_):
        raise OSError(28, "No space left on device", str(tmp_path / ".writing-abc.json"))

    monkeypatch.setattr("dxf2veneer.writers.result.write_result", full)
    message = error_of(
        "takeoff", front, *LAYERS, "--start", "3", "-o", out, "--json", tmp_path / "r.json", code=1
    )
    assert "r.json: No space left on device" in message
    assert "writing-" not in message  # the name of the draft is nobody's business
    assert {p.name: p.read_bytes() for p in out.iterdir()} == before


def test_the_folder_of_the_result_is_made(front, out, tmp_path):
    run("takeoff", front, *LAYERS, "-o", out, "--json", tmp_path / "new" / "r.json")
    assert (tmp_path / "new" / "r.json").exists()


# -------------------------------------------------------------------- layers


def test_layers_shows_a_table_and_a_command_to_try(front):
    shown = run("layers", front).stdout
    assert re.search(r"^WALL +on +1 LWPOLYLINE +1 ", shown, re.MULTILINE)
    assert "dxf2veneer takeoff" in shown
    assert "unit in the file: inches" in shown


def test_layers_of_a_drawing_without_an_outline_says_so_in_one_line(tmp_path):
    document = ezdxf.new()
    document.layers.add("WALL")
    document.saveas(tmp_path / "bare.dxf")
    shown = run("layers", tmp_path / "bare.dxf").stdout
    assert (
        shown.splitlines()[1]
        == "No outline or line was found to measure on the layers that are shown"
    )
    assert " building" not in shown and "WALL" in shown


def test_faces_of_a_layer_that_is_not_there_speaks_of_no_wall_layer(front):
    message = error_of("layers", front, "--faces", "NOPE", code=1)
    assert "nothing lies on the layer NOPE; the nearest layers are" in message


def test_layers_as_json(front):
    found = json.loads(run("layers", front, "--json").stdout)
    assert {"WALL", "OPENING"} <= {entry["name"] for entry in found["layers"]}


def test_layers_of_what_is_no_drawing(tmp_path):
    error_of("layers", tmp_path / "nowhere.dxf", code=1)


# ----------------------------------------------------------------------- job


def test_job_new_writes_a_file_that_job_check_finds_right(tmp_path):
    file = tmp_path / "job.toml"
    assert "job.toml" in run("job", "new", file).stdout
    assert "is right: 0 settings" in run("job", "check", file).stdout
    text = file.read_text()
    every = re.sub(r"^# (\w+ = )", r"\1", text, flags=re.MULTILINE).replace(
        'file = "panel.toml"', ""
    )
    every = every.replace('prices = "prices.csv"', "").replace(
        ', { name = "Low panel", product = "low.toml" }', ""
    )
    file.write_text(every)
    assert "is right" in run("job", "check", file).stdout  # its examples are right too


def test_job_new_writes_over_nothing(tmp_path):
    (tmp_path / "job.toml").write_text("mine")
    assert "there already" in error_of("job", "new", tmp_path / "job.toml", code=2)
    assert (tmp_path / "job.toml").read_text() == "mine"


def test_job_check_looks_into_the_price_file_and_the_products_of_alternates(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text('[order]\nprices = "prices.csv"\n')
    assert "prices.csv: there is no such file" in error_of("job", "check", job, code=2)
    (tmp_path / "prices.csv").write_text("item,unit,price\ncaulk,tube,6.49\nwrb,roll,x\n")
    assert "prices.csv, row 3: price = 'x'" in error_of("job", "check", job, code=2)
    job.write_text('[bid]\nalternates = [{ name = "Low", product = "low.toml" }]\n')
    assert "low.toml: there is no such file" in error_of("job", "check", job, code=2)


def test_the_orders_lines_are_written_as_csv(front, out, tmp_path):
    prices = tmp_path / "prices.csv"
    prices.write_text("item,unit,price\nflat_panel,box,54.00\n")
    run("takeoff", front, *LAYERS, "-o", out, "--prices", prices, "--csv", tmp_path / "lines")
    (line, *_) = [
        r
        for r in csv.DictReader((tmp_path / "lines" / "front-order.csv").open(encoding="utf-8-sig"))
    ]
    assert (line["key"], line["price"], line["price_per"]) == ("flat_panel", "54.00", "package")
    assert line["cost"] == f"{54 * int(line['packages'])}.00"
    mistaken = tmp_path / "front-order.csv"
    mistaken.write_text("item,unit,price\n")
    told = error_of(
        "takeoff", front, *LAYERS, "-o", out, "--prices", mistaken, "--csv", tmp_path, code=2
    )
    assert "is an input and would be overwritten" in told


def test_job_check_looks_into_the_product_file(tmp_path):
    (tmp_path / "job.toml").write_text('[product]\nfile = "panel.toml"\n')
    assert "panel.toml" in error_of("job", "check", tmp_path / "job.toml", code=2)
    (tmp_path / "panel.toml").write_text("[panel]\nlength = 36\nhight = 8\n")
    message = error_of("job", "check", tmp_path / "job.toml", code=2)
    assert "panel.toml, line 3" in message
    assert "did you mean height?" in message


# ------------------------------------------------------------- safe terminal


HOSTILE = "\x1b]0;owned\x07\x1b[31mFRONT"


def test_a_drawings_texts_can_not_steer_the_terminal(tmp_path, out):
    texts = [
        ("name", HOSTILE, (5, 5)),
        ("name", HOSTILE + "2", (5, 50)),
        ("outside_corner", HOSTILE, (202, 40)),
    ]
    file = write_dxf(
        drawing(wall=[(0, 0, 200, 96)], outside_corner=[line(200, 0, 200, 96)], texts=texts),
        tmp_path / "h.dxf",
    )
    result = run(
        "takeoff",
        file,
        "--wall-layer",
        "WALL",
        "--name-layer",
        "NAME",
        "--outside-corner-layer",
        "OUTSIDE_CORNER",
        "-o",
        out,
    )
    assert "FRONT" in result.output
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", result.output)


def test_a_job_files_words_can_not_steer_the_terminal(tmp_path):
    (tmp_path / "job.toml").write_text('[layers]\n"wa\\u001b[31mll\\u0007" = "X"\n')
    assert not re.search(
        r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", run("job", "check", tmp_path / "job.toml", code=2).output
    )


# ------------------------------------------------------ processes of their own


def test_exit_codes_of_a_process(front, out, tmp_path):
    done = outside("takeoff", front, *LAYERS, "-o", out)
    assert (done.returncode, done.stderr) == (0, b"")
    gone = outside("takeoff", tmp_path / "no.dxf", *LAYERS, "-o", out)
    assert gone.returncode == 1
    assert gone.stderr.startswith(b"Error: ")
    assert gone.stderr.count(b"\n") == 1
    wrong = outside("takeoff", front, "--no-such-option")
    assert wrong.returncode == 2
    assert b"Traceback" not in done.stderr + gone.stderr + wrong.stderr


def test_a_terminal_that_knows_ascii_only(front, out):
    done = outside(
        "takeoff", front, *LAYERS, "-o", out, "--display", "metric", PYTHONIOENCODING="ascii"
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"12.39 m" in done.stdout


def test_help_loads_no_heavy_library():
    listed = (
        "import sys, click.testing; from dxf2veneer.cli import main\n"
        "for args in ([], ['takeoff'], ['layers'], ['job', 'check']):\n"
        "    assert click.testing.CliRunner().invoke(main, [*args, '--help']).exit_code == 0\n"
        "print(sorted({'ezdxf', 'shapely', 'pandas', 'openpyxl', 'numpy'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", listed], capture_output=True, text=True, timeout=300, check=True
    )
    assert done.stdout.strip() == "[]"
    # the list can fail: a takeoff's own module does load them
    heavy = listed.replace("print(", "import dxf2veneer.app.pipeline\nprint(")
    done = subprocess.run(
        [sys.executable, "-c", heavy], capture_output=True, text=True, timeout=300, check=True
    )
    assert "shapely" in done.stdout


def test_every_setting_with_an_option_is_in_the_help():
    for section, owner in SECTIONS.items():
        shown = run("advise" if section == "advice" else "takeoff", "--help").output
        for _, about, _ in described(owner):
            assert not about.option or f"--{about.option}" in shown


def test_a_salvaged_drawing_gets_its_whole_takeoff_and_says_what_is_left_out(front, tmp_path):
    """An entity with a word for a number: everything is made without it, with a warning."""
    bad = tmp_path / "bad.dxf"
    disc = "0\nCIRCLE\n5\nB{n}\n8\nWALL\n10\n{x}\n20\n100\n40\n60\n"
    body = disc.format(n=1, x=200) + disc.format(n=2, x="abc")
    bad.write_text(
        f"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{body}0\nENDSEC\n0\nEOF\n"
    )
    out = tmp_path / "out"
    told = run("takeoff", bad, "--wall-layer", "WALL", "-o", out).output
    assert "DRAWING_REPAIRED" in told and "left out what can't be read: CIRCLE B2" in told
    assert body.encode() in (out / "bad-courses.dxf").read_bytes(), "the copy keeps every byte"
    again = run("takeoff", out / "bad-courses.dxf", "--wall-layer", "WALL", "-o", tmp_path / "2")
    assert "left out what can't be read: CIRCLE B2" in again.output
    assert sorted(p.name for p in out.iterdir()) == [
        "bad-courses.dxf",
        "bad-cuts.xlsx",
        "bad-takeoff.xlsx",
    ]
