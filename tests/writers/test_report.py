"""The report and the pictures: what they hold, that they are to scale, and that a drawing's text
stays text.

``laid_out()`` has W1, 96 x 20 in, and W2 with an evil name; its sketch stands in laid_out.py.
"""

from __future__ import annotations

import dataclasses
import html.parser
import json
import re
from xml.etree import ElementTree

import pytest
from builders import as_written
from click.testing import CliRunner
from laid_out import laid_out
from takeoffs import EVIL_NAME, takeoff

from dxf2veneer.basics.notices import Notice
from dxf2veneer.cli import main
from dxf2veneer.wording import say
from dxf2veneer.writers.elevation import write_picture
from dxf2veneer.writers.markup import escaped, number, script_json, tag
from dxf2veneer.writers.report.page import report_text
from dxf2veneer.writers.words import places_of

EVIL = (
    "</script><script>document.title='owned'</script>",
    "\"><img src=x onerror=document.title='owned'>", "' onload='x",
    "javascript:alert(1)", "abc\u202etxt.exe", "a\u2066b\u2069", "]]>", "<!--", "&lt;b&gt;",
    "\u2028\u2029", "x\x00\x1b[31m", "half \ud83d pair", "`${1}`",
)  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"


class Page(html.parser.HTMLParser):
    """Elements of a page with their attributes, and the text of each script."""

    def __init__(self, text):
        super().__init__()
        self.elements, self.scripts, self.texts, self._in = [], [], [], ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))
        self._in = tag

    def handle_endtag(self, tag):
        self._in = ""

    def handle_data(self, data):
        (self.scripts if self._in == "script" else self.texts).append(data)

    def with_class(self, name):
        return [attrs for _, attrs in self.elements if name in (attrs.get("class") or "").split()]


def renamed(name):
    """The job by hand with one name everywhere a drawing can bring one."""
    job = laid_out()
    walls = tuple(
        dataclasses.replace(w, wall=dataclasses.replace(w.wall, name=name)) for w in job.walls
    )
    drawings = tuple(dataclasses.replace(d, file=f"/tmp/{name}.dxf") for d in job.drawings)
    notices = (Notice("SLIVER", as_written(name), 0, name, name, (30.0, 10.0)),)
    return dataclasses.replace(job, walls=walls, drawings=drawings, notices=notices)


def test_every_piece_is_drawn_and_told_of():
    page = Page(report_text(laid_out()))
    told = json.loads(page.scripts[0])
    assert {a["data-p"] for a in page.with_class("p") if "data-p" in a} == set(told["pieces"])
    assert len(told["pieces"]) == 17
    # course 2 of the sketch in W1: the rest of F3 is 24 in long
    assert told["pieces"]["W1/1/1"] == [
        "cut to length",
        '24"',
        '8"',
        "",
        "left cut, right factory",
        "F3",
    ]
    # atan(4 / 24) = 9.46 degrees
    assert told["pieces"]["W2/2/1"][3] == "9.5° above level"
    assert told["panels"]["F3"] == 'flat panel of 36", 1/8" of it waste with the cuts'


def test_panels_stand_beside_the_least_that_any_plan_needs():
    text = " ".join(Page(report_text(laid_out())).texts)
    assert "14 panels in all; no layout can use fewer than 13" in text
    assert "355 7/8 in of flat pieces at 36 in a panel" in text


def test_without_a_plan_the_page_says_estimate_and_draws_no_piece():
    page = Page(report_text(takeoff()))
    assert page.with_class("p") == []
    assert ": nothing was laid out" in " ".join(page.texts)
    assert {a["id"] for a in page.with_class("sheet")} == {"W1", "W2"}
    assert {a["data-layer"] for tag, a in page.elements if "data-layer" in a} == {
        "labels",
        "trims",
        "offs",
        "places",
    }


def test_every_link_has_its_goal():
    page = Page(report_text(laid_out()))
    ids = [a["id"] for _, a in page.elements if "id" in a]
    links = {a["href"] for tag, a in page.elements if tag == "a"}
    assert len(ids) == len(set(ids))
    assert {link[1:] for link in links} <= set(ids)
    assert {"#at-R1", "#note-R1", "#W1"} <= links


def test_a_notice_is_marked_on_the_wall_it_lies_in():
    marked = {p.number: p.wall for p in places_of(laid_out())}
    # rules are at L24 of W1 and L3 of W2; the sliver notice at (346, 41) lies far from both walls
    assert marked["R1"] == "W1" and marked["R2"] == "W2" and "2" not in marked


def test_the_same_takeoff_gives_the_same_bytes():
    assert report_text(laid_out()) == report_text(laid_out())


def test_metric_shows_no_feet():
    page = Page(report_text(laid_out(display="metric")))
    assert json.loads(page.scripts[0])["pieces"]["W1/0/1"][1:3] == ["914 mm", "203 mm"]


@pytest.mark.parametrize("name", EVIL, ids=ascii)
def test_a_name_is_only_text(name):
    page, plain = Page(report_text(renamed(name))), Page(report_text(renamed("plain")))
    assert [tag for tag, _ in page.elements] == [tag for tag, _ in plain.elements]
    # a long word's cell is of a class of its own, so that it may be broken
    assert [sorted(set(a) - {"class"}) for _, a in page.elements] == [
        sorted(set(a) - {"class"}) for _, a in plain.elements
    ]
    assert {a.get("class") for _, a in page.elements} - {
        a.get("class") for _, a in plain.elements
    } <= {"long"}
    assert page.scripts == plain.scripts
    assert all(a["href"].startswith("#") for _, a in page.elements if "href" in a)


@pytest.mark.parametrize("name", EVIL, ids=ascii)
def test_a_picture_stays_valid_xml_whatever_the_name(tmp_path, name):
    job = renamed(name)
    write_picture(job, job.walls[1], tmp_path / "W2.svg")
    root = ElementTree.parse(tmp_path / "W2.svg").getroot()
    assert root.tag == f"{SVG}svg" and root.find(f".//{SVG}script") is None


def test_what_hides_or_turns_the_text_is_written_out():
    assert escaped("a\u202eb\x00") == r"a\u202eb\x00"
    assert escaped("<a href='x'>&") == "&lt;a href=&#39;x&#39;&gt;&amp;"
    assert tag("p", {"title": '"><b>'}, "<i>") == '<p title="&quot;&gt;&lt;b&gt;">&lt;i&gt;</p>'


def test_json_in_a_script_can_not_end_it_and_reads_back():
    value = {"</script>": ["<!--", "a'b&c\u2028"]}
    assert not set("<>&'\u2028") & set(script_json(value))
    assert json.loads(script_json({"</script>": ["<!--", "a'b&c"]})) == {
        "</script>": ["<!--", "a'b&c"]
    }


def test_numbers_are_short_and_never_minus_nothing():
    assert [number(v) for v in (1.0, -0.0001, 0.12349, 1200.0)] == ["1", "0", "0.123", "1200"]


def test_a_picture_is_to_scale(tmp_path):
    job = laid_out()
    write_picture(job, job.walls[0], tmp_path / "W1.svg")
    root = ElementTree.parse(tmp_path / "W1.svg").getroot()
    wide = float(root.get("viewBox").split()[2])
    # 1/2 in = 1'-0", the largest usual scale, would be 1:24; a millimeter of paper is 24 / 25.4 in
    # of wall
    scale = wide * 25.4 / float(root.get("width").removesuffix("mm"))
    assert scale == pytest.approx(24.0, rel=1e-3)
    wall = next(p for p in root.iter(f"{SVG}path") if p.get("class") == "wall")
    xs = [float(x) for x in re.findall(r"[ML]([-\d.]+) ", wall.get("d"))]
    assert max(xs) - min(xs) == pytest.approx(96.0, abs=0.002)
    titles = [p.findtext(f"{SVG}title") for p in root.iter(f"{SVG}path") if p.get("data-p")]
    assert titles[3] == 'W1, course 2, piece 1; cut to length; 24" long, 8" high; from panel F3'


def test_the_evil_name_is_the_title_of_its_wall():
    assert f"W2 {EVIL_NAME}" in Page(report_text(laid_out())).texts


@pytest.fixture
def gate(samples, tmp_path):
    """Runs takeoff on the Gatehouse by area, which is quick, with more options."""

    def run(*more):
        return CliRunner().invoke(
            main,
            [
                "takeoff",
                str(samples / "gatehouse.dxf"),
                "--job",
                str(samples / "gatehouse.toml"),
                "--no-plan",
                "-o",
                str(tmp_path / "out"),
                *map(str, more),
            ],
        )

    return run


def test_report_and_pictures_are_written_and_named(gate, tmp_path):
    told = gate("--report", tmp_path / "deep" / "report.html", "--svg", tmp_path / "svg")
    assert told.exit_code == 0, told.output
    assert (
        (tmp_path / "deep" / "report.html")
        .read_text(encoding="utf-8")
        .startswith("<!DOCTYPE html>")
    )
    assert sorted(p.name for p in (tmp_path / "svg").iterdir()) == [
        f"W{n}.svg" for n in range(1, 7)
    ]
    assert "report.html" in told.output and "W6.svg" in told.output


def test_an_input_is_never_overwritten_by_the_report(gate, samples):
    before = (samples / "gatehouse.toml").read_bytes()
    told = gate("--report", samples / "gatehouse.toml")
    assert told.exit_code == 2 and "is an input" in told.output
    assert (samples / "gatehouse.toml").read_bytes() == before


def test_a_picture_never_overwrites_an_input(samples, tmp_path):
    drawing = tmp_path / "W1.svg"
    drawing.write_bytes((samples / "gatehouse.dxf").read_bytes())
    told = CliRunner().invoke(
        main,
        [
            "takeoff",
            str(drawing),
            "--wall-layer",
            "A-ELEV-OTLN",
            "--no-plan",
            "-o",
            str(tmp_path / "out"),
            "--svg",
            str(tmp_path),
        ],
    )
    assert told.exit_code == 2 and "is an input" in told.output
    assert drawing.read_bytes() == (samples / "gatehouse.dxf").read_bytes()


def test_where_the_pictures_can_not_be_written_nothing_is(gate, tmp_path):
    (tmp_path / "svg").write_text("a file stands here")
    told = gate("--report", tmp_path / "report.html", "--svg", tmp_path / "svg")
    assert told.exit_code == 2 and "is a file, not a folder" in told.output
    assert not (tmp_path / "report.html").exists()


def test_the_order_and_the_bid_stand_on_the_page(samples):
    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.config.job import load_job

    job = load_job(samples / "gatehouse.toml", {"plan.panels": False})
    made = take_off((samples / "gatehouse.dxf",), job)
    texts = Page(report_text(made)).texts
    assert f"{made.order.bid.total:,.2f}" in texts
    assert {say(line.item) for line in made.order.lines} | {"Without the pier"} <= set(texts)


def test_marks_on_one_spot_stand_apart_and_inside_the_picture(tmp_path):
    # nine notices lie within 9 in of each other near the top of a wall 20 in high
    job = laid_out()
    write_picture(job, job.walls[0], tmp_path / "W1.svg")
    root = ElementTree.parse(tmp_path / "W1.svg").getroot()
    places = [g for g in root.iter(f"{SVG}g") if (g.get("class") or "").startswith("place ")]
    boxes = [
        tuple(float(g.find(f"{SVG}rect").get(k)) for k in ("x", "y", "width", "height"))
        for g in places
    ]
    assert len(boxes) > 9 and all(y >= 0 for _, y, _, _ in boxes)
    for n, (x, y, w, h) in enumerate(boxes):
        assert all(
            abs(x + w / 2 - a - c / 2) >= (w + c) / 2 or abs(y + h / 2 - b - d / 2) >= (h + d) / 2
            for a, b, c, d in boxes[:n]
        )
