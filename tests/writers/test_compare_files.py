"""What `dxf2veneer compare` writes: the page, the drawing with clouds, all of it or nothing."""

from __future__ import annotations

import json
import shutil
from html.parser import HTMLParser
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner
from hostile import PAYLOADS, spoiled
from laid_out import laid_out

from dxf2veneer.cli import main
from dxf2veneer.geometry import Path as Outline
from dxf2veneer.revisions import compare, recorded
from dxf2veneer.revisions.laying import laid_walls
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.writers.clouds import cloud_round
from dxf2veneer.writers.overlay.layers import REVISED_LAYERS
from dxf2veneer.writers.overlay.pen import tags_of
from dxf2veneer.writers.result import result_dict
from dxf2veneer.writers.revision.page import compare_page

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
JOB = """
[job]
name = "Mill Lane"

[layers]
wall = ["WALL"]
window = ["WINDOW"]
name = ["NAME"]

[plan]
panels = false
"""
OLD, NEW = (60.0, 36.0, 96.0, 84.0), (60.0, 38.0, 102.0, 86.0)


def drawn(path: Path, windows, *, walls=((0.0, 0.0, 240.0, 108.0),)) -> Path:
    r"""A wall of 20 by 9 ft with a window, of 3 by 4 ft before; now 3'-6" wide and 2" higher.

    .-----------------------.  108
    |      .----. 84        |
    |      |    |           |
    |      '----' 36        |
    '-----------------------'  0
    0      60  96          240
    """
    doc = ezdxf.new()
    doc.units = 1
    for layer, boxes in (("WALL", walls), ("WINDOW", windows)):
        for x0, y0, x1, y1 in boxes:
            ring = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
            doc.modelspace().add_lwpolyline(ring, close=True, dxfattribs={"layer": layer})
    doc.saveas(path)
    return path


@pytest.fixture
def sides(tmp_path):
    """Old drawing, new drawing, job file."""
    (tmp_path / "job.toml").write_text(JOB)
    old, new = drawn(tmp_path / "old.dxf", [OLD]), drawn(tmp_path / "new.dxf", [NEW])
    return old, new, tmp_path / "job.toml"


def run(sides, *words, code=0):
    old, new, job = sides
    result = CliRunner().invoke(
        main, ["compare", *map(str, (old, new, "--job", job)), *map(str, words)]
    )
    assert result.exit_code == code, result.output
    return result.output


class Page(HTMLParser):
    """Elements of a page with their attributes, and its text."""

    def __init__(self, text):
        super().__init__()
        self.found, self.text = [], ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.text += data


# ------------------------------------------------------------------------ the page


def test_the_page_shows_what_changed_and_asks_for_nothing(tmp_path, sides):
    page = tmp_path / "changes.html"
    run(sides, "--report", page)
    text = page.read_text("utf-8")
    found = Page(text)
    assert is_ours(page)
    assert "3'-0\" x 4'-0\" -> 3'-6\" x 4'-0\"" in found.text  # the list of changes
    assert "-2.00 sq ft" in found.text  # net area: 14 - 12 sq ft
    assert not [a for _, a in found.found if {"src", "srcset"} & set(a)]
    assert all(a["href"].startswith("#") for _, a in found.found if "href" in a)
    assert "http:" not in text.replace("http-equiv", "") and "https:" not in text
    assert {"before", "now", "clouds"} <= {a.get("class") for t, a in found.found if t == "g"}


def test_the_page_holds_no_money(tmp_path, sides):
    priced = JOB + '\n[bid]\nlines = [{ name = "Profit", kind = "profit", percent = 61.5 }]\n'
    sides[2].write_text(priced + "[labour]\nwage = 73.25\nlayout = 0.5\n")
    page = tmp_path / "changes.html"
    told = run(sides, "--report", page)
    assert "hours" in told and "labor" in told  # the terminal is for the estimator
    text = Page(page.read_text("utf-8")).text
    assert not [w for w in ("USD", "hours", "labor", "price", "Profit", "61.5") if w in text]


def test_no_difference_is_a_page_without_a_switch(tmp_path, sides):
    page = tmp_path / "changes.html"
    run((sides[0], sides[0], sides[2]), "--report", page)
    found = Page(page.read_text("utf-8"))
    assert "no difference" in found.text and "Unchanged: W1" in found.text
    assert not [a for t, a in found.found if t == "input"]


@pytest.mark.skipif(CHROMIUM is None, reason="no chromium on this machine")
def test_switch_and_slider_in_a_browser_with_keys(tmp_path, sides):
    driver = pytest.importorskip("playwright.sync_api")
    page = tmp_path / "changes.html"
    run(sides, "--report", page)
    with driver.sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"]
        )
        tab, said, asked = browser.new_page(color_scheme="dark"), [], []
        tab.on("console", lambda m: said.append(m.text))
        tab.on("pageerror", lambda e: said.append(str(e)))
        tab.on("request", lambda r: asked.append(r.url))
        tab.goto(page.as_uri())

        def seen():
            return [tab.locator(f"svg > g.{side}").is_visible() for side in ("before", "now")]

        def windows():
            rects = tab.locator("clipPath rect").evaluate_all(
                "all => all.map(r => [Number(r.getAttribute('x')), "
                "Number(r.getAttribute('width'))])"
            )
            return dict(zip(("now", "before"), rects, strict=True))

        assert seen() == [True, True]
        tab.focus('input[value="both"]')
        tab.keyboard.press("ArrowRight")
        assert seen() == [True, False]
        tab.keyboard.press("ArrowRight")
        assert seen() == [False, True]
        tab.focus("#line")
        tab.keyboard.press("Home")
        assert tab.is_checked('input[value="line"]') and seen() == [True, True]
        whole = windows()["now"][1]
        assert windows() == {"now": [0, whole], "before": [0, 0]}
        tab.keyboard.press("End")
        assert windows() == {"now": [whole, 0], "before": [0, whole]}
        ground = tab.evaluate("getComputedStyle(document.body).backgroundColor")
        assert max(map(int, ground[4:-1].split(","))) < 60  # dark
        assert said == [] and asked == [page.as_uri()]
        browser.close()


def hostile_sides(payload):
    """A comparison whose texts from outside are all hostile; ids and digests are the tool's."""
    now = recorded(result_dict(laid_out()), "now")
    before = recorded(result_dict(laid_out()), "before")
    revision = compare(before, now, tolerance=-1.0)  # so that everything moved
    return spoiled(payload, (revision, laid_walls(revision)))


@pytest.mark.parametrize("payload", PAYLOADS.values(), ids=PAYLOADS)
def test_hostile_texts_stay_texts(payload):
    def shape(text):
        return [(t, sorted(a)) for t, a in Page(text).found]

    plain = compare_page(*hostile_sides("plain"), name="plain", alert="plain")
    text = compare_page(*hostile_sides(payload), name=payload, alert=payload)
    assert len(shape(plain)) > 50
    assert shape(text) == shape(plain)


# --------------------------------------------------------------------- the drawing


def test_the_drawing_keeps_its_bytes_and_has_before_now_and_clouds(tmp_path, sides):
    run(sides, "-o", tmp_path / "out")
    path = tmp_path / "out" / "new-changes.dxf"
    assert is_ours(path)
    ours = iter(lines_of(path))
    assert all(line in ours for line in lines_of(sides[1]))  # every line of it, in order
    doc = ezdxf.readfile(path)
    assert doc.audit().errors == []
    layers = {layer: [e for e in doc.modelspace() if e.dxf.layer == f"A-ELEV-VENR-{layer}"]
              for layer in ("RVBF", "RVNW", "RVCL", "RVTX", "RVLG", "RVTL")}  # fmt: skip
    assert all(layers.values())
    (before,) = layers["RVBF"]  # the wall stayed as it was
    assert corners(before) == OLD
    assert [corners(e) for e in layers["RVNW"]] == [(0.0, 0.0, 240.0, 108.0), NEW]
    (cloud,) = [e for e in layers["RVCL"] if e.dxftype() == "LWPOLYLINE"]
    x0, y0, x1, y1 = corners(cloud)
    assert cloud.closed and all(bulge > 0 for *_, bulge in cloud.get_points("xyb"))
    assert x0 < 60.0 and y0 < 36.0 and x1 > 102.0 and y1 > 86.0
    assert any("3'-6\"" in e.dxf.text for e in layers["RVTX"])
    assert tags_of(before)["opening"] == "W1-O1"
    colors = {layer: doc.layers.get(f"A-ELEV-VENR-{layer}").color for layer in layers}
    assert len({colors["RVBF"], colors["RVNW"], colors["RVCL"]}) == 3


def lines_of(path):
    """The lines of a drawing but the value of its next free handle."""
    lines = path.read_text("utf-8").splitlines()
    del lines[lines.index("$HANDSEED") + 2]
    return lines


def corners(entity):
    points = [(x, y) for x, y, *_ in entity.get_points()]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def test_a_drawing_with_its_changes_reads_as_the_drawing_itself(tmp_path, sides):
    run(sides, "-o", tmp_path / "out")
    again = sides[1], tmp_path / "out" / "new-changes.dxf", sides[2]
    assert "no difference" in run(again)
    run((sides[0], again[1], sides[2]), "-o", tmp_path / "twice")
    layers = ["A-ELEV-VENR-RVBF", "A-ELEV-VENR-RVCL"]
    first, second = (
        [sum(e.dxf.layer == layer for e in ezdxf.readfile(p).modelspace()) for layer in layers]
        for p in (again[1], tmp_path / "twice" / "new-changes-changes.dxf")
    )
    assert first == second  # the earlier clouds were taken out


def test_a_moved_drawing_shows_what_is_gone_where_it_would_lie(tmp_path, sides):
    # the new drawing lies 1000 in to the right; its window is gone
    far = drawn(tmp_path / "far.dxf", [], walls=[(1000.0, 0.0, 1240.0, 108.0)])
    run((sides[0], far, sides[2]), "-o", tmp_path / "out")
    doc = ezdxf.readfile(tmp_path / "out" / "far-changes.dxf")
    (before,) = [e for e in doc.modelspace() if e.dxf.layer == "A-ELEV-VENR-RVBF"]
    assert corners(before) == (1060.0, 36.0, 1096.0, 84.0)


@pytest.mark.parametrize("box", [(0.0, 0.0, 30.0, 10.0), (5.0, 0.0, 5.0, 96.0)])
def test_a_cloud_lies_outside_of_what_it_goes_round(box):
    cloud = cloud_round(box, 6.0)
    x0, y0, x1, y1 = box
    assert isinstance(cloud, Outline) and cloud.closed and cloud.signed_area > 0
    ends = [(x, y) for x, y, _ in cloud.vertices]
    assert all(not (x0 <= x <= x1 and y0 <= y <= y1) for x, y in ends)
    assert cloud.area > (x1 - x0 + 6.0) * (y1 - y0 + 6.0)


# ------------------------------------------------------------------ all or nothing


def test_what_is_not_ours_stays_and_then_nothing_is_written(tmp_path, sides):
    page, result = tmp_path / "mine.html", tmp_path / "changes.json"
    page.write_text("mine")
    told = run(sides, "--report", page, "--json", result, "-o", tmp_path / "out", code=2)
    assert "mine.html" in told and page.read_text() == "mine"
    assert not result.exists() and not (tmp_path / "out").exists()
    run(sides, "--report", page, "--json", result, "--force")
    assert is_ours(page) and json.loads(result.read_text("utf-8"))["changed"] is True


def test_a_file_in_the_place_of_the_folder_is_refused(tmp_path, sides):
    (tmp_path / "out").write_text("mine")
    assert "-o" in run(sides, "-o", tmp_path / "out", code=2)
    assert (tmp_path / "out").read_text() == "mine"


def test_changes_of_a_result_file_are_drawn_on_no_copy(tmp_path, sides):
    result = tmp_path / "new.json"
    words = ["takeoff", sides[1], "-o", tmp_path / "t", "--job", sides[2], "--json", result]
    assert CliRunner().invoke(main, list(map(str, words))).exit_code == 0
    stored = sides[0], result, sides[2]
    assert "name the drawing" in run(stored, "-o", tmp_path / "out", code=2)
    run(stored, "--report", tmp_path / "changes.html")
    assert "Mill Lane" in (tmp_path / "changes.html").read_text("utf-8")


def test_the_docs_show_the_layers_as_they_are():
    text = (Path(__file__).parents[2] / "docs" / "compare.md").read_text("utf-8")
    for look in REVISED_LAYERS.values():
        weight = f"{look.lineweight / 100:.2f}"
        row = f"A-ELEV-VENR-{look.suffix} | {look.color} | {weight} | {look.linetype} | "
        assert f"| {row}{look.content} |" in text
