"""A metric job is told in millimeters and square meters, in every output.

     .----.    ..    .-----.      two doors of 36 with a pier of 7 (177.8 mm) between, narrower
     | 40 |    ||    | 44  |      than the least piece of 8 (203.2 mm), up to the top; on the
     '----'    ''    '-----'      right a window whose sill lies 1 in (25.4 mm) over a course
                                  line: a strip, lower than the limit of 2

Left as they are: what goods are sold in, feet of bead and square feet, beside its metric length or
area; the drawing's own unit; and the cautions, which quote rules in their own unit with the metric
one beside it.
"""

import csv
import html
import json
import re
import shutil
from pathlib import Path

import ezdxf
import openpyxl
import pytest
from builders import drawing, job, write_dxf
from click.testing import CliRunner

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.order.assumptions import CAUTIONS
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import CAUTIONS as BY_READER

INCH = re.compile(r"""\d["']|\d (in|inches|ft|feet|foot|sq in|sq ft)\b(?! W\d| all)""")
SOLD = re.compile(r" \([\d.,]+ (sq )?ft\)")
PANEL = Path(__file__).parents[1] / "samples" / "metric-panel.toml"
WALL = {
    "wall": [(0, 0, 300, 32)],
    "door": [(40, 0, 76, 32), (83, 0, 119, 32)],
    "window": [(200, 17, 230, 28)],
}
STRAY = {
    **WALL,
    "opening": [(400, 0, 440, 20), (190, 26, 215, 36)],
    "fixture": [(240, 10, 248, 22)],
}
"""An opening in no wall, one that reaches beyond it and overlaps another, a light."""


def words(tmp_path, display):
    takeoff = take_off(
        [write_dxf(drawing(**WALL), tmp_path / "front.dxf")],
        job(recognise__edge_kind="end", output__display=display),
    )
    plan = takeoff.plan
    bounds = [say(b.why, display) for count in (plan.flat, plan.corner) for b in count.bounds]
    rules = [
        say(text, display)
        for b in (*plan.breaks, *plan.exceptions)
        for text in (b.message, b.why)
        if text
    ]
    return (
        bounds,
        rules,
        [say(n.message, display) for n in takeoff.notices if n.code.startswith("RULE_")],
    )


def test_bounds_rules_and_their_notices_have_no_inch(tmp_path):
    for told in words(tmp_path, "metric"):
        assert any(" mm" in text for text in told)
        assert [text for text in told if INCH.search(text)] == []


def test_the_same_plan_is_told_in_inches_without_millimeters(tmp_path):
    for told in words(tmp_path, "imperial"):
        assert any(INCH.search(text) for text in told)
        assert [text for text in told if " mm" in text] == []


# ------------------------------------------------------------- every output


@pytest.fixture(scope="module")
def outputs(tmp_path_factory):
    """A folder with every output of a metric job over a drawing with much to tell,
    and what the terminal said.
    """
    folder = tmp_path_factory.mktemp("metric")
    shutil.copy(PANEL, folder)
    (folder / "job.toml").write_text(
        '[layers]\nwall = "WALL"\nopening = "OPENING"\ndoor = "DOOR"\nwindow = "WINDOW"\nfixture = '
        '"FIXTURE"\n[recognise]\nedge_kind = "end"\n'
        '[trim]\nhead = "100 mm"\nsill = "100 mm"\njambs = "100 mm"\n[courses]\nclearance = "300 '
        'mm"\nclearance_most = "350 mm"\nstart = "best"\n[product]\nfile = '
        '"metric-panel.toml"\n[output]\ndisplay = "metric"\n'
    )
    asked = [
        "--job",
        "job.toml",
        "-o",
        ".",
        "--json",
        "r.json",
        "--csv",
        "csv",
        "--report",
        "r.html",
        "--svg",
        "svg",
    ]
    path = write_dxf(drawing(**STRAY), folder / "front.dxf")
    done = CliRunner().invoke(
        main,
        [
            "takeoff",
            str(path),
            *(str(folder / a) if "." in a or a in ("csv", "svg") else a for a in asked),
        ],
    )
    assert done.exit_code == 0, done.output
    return folder, done.output


SAID_CAUTIONS = [*(say(caution, "metric") for caution in CAUTIONS), *BY_READER.values()]


def without_cautions(text):
    text = html.unescape(text)
    for caution in SAID_CAUTIONS:
        text = text.replace(caution, "")
    return text


def inches_in(texts):
    """The texts that tell an inch or a foot; the cautions aside."""
    return [text for text in texts if INCH.search(SOLD.sub("", without_cautions(text)))]


def test_the_terminal(outputs):
    assert inches_in(outputs[1].splitlines()) == []


def test_the_result(outputs):
    def texts(value):
        if isinstance(value, dict | list):
            for item in value.values() if isinstance(value, dict) else value:
                yield from texts(item)
        elif isinstance(value, str):
            yield value

    result = json.loads((outputs[0] / "r.json").read_text())
    assert {"SLIVER", "OPENING_OUTSIDE_WALL", "OPENING_PARTLY_OUTSIDE", "FEW_STUDS"} <= {
        n["code"] for n in result["notices"]
    }
    assert inches_in(texts(result)) == []


def test_the_workbook(outputs):
    book = openpyxl.load_workbook(outputs[0] / "front-takeoff.xlsx")
    told = {
        f"{sheet.title}!{cell.coordinate}": cell.value
        for sheet in book
        for row in sheet
        for cell in row
        if isinstance(cell.value, str)
    }
    assert {
        at: text for at, text in told.items() if not text.startswith("=") and inches_in([text])
    } == {}


def test_the_lists(outputs):
    for file in (outputs[0] / "csv").iterdir():
        with file.open(encoding="utf-8-sig", newline="") as lines:
            assert inches_in(cell for row in csv.reader(lines) for cell in row) == []


@pytest.mark.parametrize("pattern", ["r.html", "svg/*.svg"])
def test_the_report_and_the_pictures(outputs, pattern):
    for file in outputs[0].glob(pattern):
        shown = re.sub(
            r"<(script|style).*?</\1>", "", file.read_text(encoding="utf-8"), flags=re.DOTALL
        )
        assert inches_in(re.findall(r">([^<>]+)<", shown)) == []


def test_the_overlay(outputs):
    space = ezdxf.readfile(outputs[0] / "front-courses.dxf").modelspace()
    assert (
        inches_in(
            e.plain_text() if e.dxftype() == "MTEXT" else e.dxf.text
            for e in space.query("TEXT MTEXT")
        )
        == []
    )
