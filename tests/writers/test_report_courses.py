"""What the report shows of course lines: marks where they miss a head or sill, and the starts there
could be.

``takeoff()`` by hand: in W1 the sill of O2, y 30 from x 120 to 160, leaves a strip of 6 in and
meets a line 2 in higher. In ``laid_out()`` the head of the vent leaves a sliver of 1 1/2 in, the
top a strip of 4 in.
"""

from __future__ import annotations

import dataclasses
import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from laid_out import laid_out
from takeoffs import takeoff
from test_report import SVG, Page

from dxf2veneer.model import StartOption, StartTable
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.elevation.picture import elevation_svg
from dxf2veneer.writers.report.page import report_text
from dxf2veneer.writers.words import places_of


def picture(job, wall):
    text = elevation_svg(job, job.walls[wall], places_of(job), alone=True)
    return ElementTree.fromstring(text)


def classed(root, name):
    return [e for e in root.iter() if name in (e.get("class") or "").split()]


def points(path):
    return [(float(x), float(y)) for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", path.get("d"))]


def boxes(root):
    """What the words and signs cover: at least half a letter's height a letter,
    and the marks' frames.
    """
    for text in (
        t
        for group in ("labels", "names", "offs")
        for g in classed(root, group)
        for t in g.iter(f"{SVG}text")
    ):
        x, y, words = float(text.get("x")), float(text.get("y")), text.text
        size = float(text.get("font-size") or classed(root, "labels")[0].get("font-size"))
        yield words, (x - len(words) * size / 4, y - 0.7 * size, x + len(words) * size / 4, y)
    for place in classed(root, "place"):
        x, y, w, h = (float(place.find(f"{SVG}rect").get(k)) for k in ("x", "y", "width", "height"))
        yield place.findtext(f"{SVG}text"), (x, y, x + w, y + h)
    for n, off in enumerate(classed(root, "off")):
        xs, ys = zip(*points(off.find(f"{SVG}path")), strict=True)
        yield f"pointer {n}", (min(xs), min(ys), max(xs), max(ys))


def test_labels_are_as_large_as_their_pieces_allow():
    # courses of 8 in: 4 in high where that fits, so that 1:48 prints 6 points; F1, 36 in long, has
    # room for it, the 8 in piece's "8\" F6" only for the least, 0.34 x 8
    root = picture(laid_out(), 0)
    (group,) = classed(root, "labels")
    heights = {text.text: float(text.get("font-size") or group.get("font-size")) for text in group}
    assert heights["F1"] == 4.0
    assert min(heights.values()) == pytest.approx(2.72)


def test_a_pointer_stands_at_the_sill_with_the_strip_and_the_move_inside_the_opening():
    root = picture(takeoff(), 0)
    (off,) = classed(root, "off")
    wall = points(classed(root, "wall")[0])
    left, base = min(x for x, _ in wall), max(y for _, y in wall)
    (tip_x, tip_y), *_ = points(off.find(f"{SVG}path"))
    assert (tip_x - left, base - tip_y) == pytest.approx((140.0, 30.0), abs=0.002)
    words = off.find(f"{SVG}text")
    assert words.text == 'sill: strip 6", up 2"'
    assert 30.0 < base - float(words.get("y")) < 60.0
    assert off.findtext(f"{SVG}title") == 'W1-O2 sill: strip 6", up 2"'


@pytest.mark.parametrize("job", [takeoff, laid_out], ids=["area", "plan"])
@pytest.mark.parametrize("wall", [0, 1])
def test_no_mark_and_no_word_hides_another(job, wall):
    listed = list(boxes(picture(job(), wall)))
    assert listed
    for n, (one, (a0, b0, a1, b1)) in enumerate(listed):
        hidden = [
            other
            for other, (c0, d0, c1, d1) in listed[:n]
            if a0 < c1 and c0 < a1 and b0 < d1 and d0 < b1
        ]
        assert not hidden, f"{one} lies over {hidden}"


def test_all_of_them_stand_in_a_table_with_both_moves():
    texts = " ".join(Page(report_text(laid_out())).texts)
    # 14 1/2 in: 1 1/2 below the line at 16, 6 1/2 above the one at 8
    assert 'W1-O1 ▸ head 2 1 1/2" sliver 1 1/2" 6 1/2"' in texts
    assert 'W1 ▸ top 3 4" 4" 4"' in texts


def test_where_all_lines_run_clean_the_page_says_so():
    job = takeoff()
    clean = tuple(
        dataclasses.replace(w, courses=dataclasses.replace(w.courses, conflicts=()))
        for w in job.walls
    )
    assert (
        "Every head, sill, top and cap meets a course line."
        in Page(report_text(dataclasses.replace(job, walls=clean))).texts
    )


def test_the_starts_there_could_be_stand_beside_the_present_one():
    options = (
        StartOption(4.0, 4.0, 2, 5, 9, 31, is_present=True),
        StartOption(5.5, 5.5, 0, 4, 6, None, is_best=True),
        StartOption(1.0, 1.0, 0, 3, 5, 30, fits=False),
    )
    job = dataclasses.replace(laid_out(), starts=(StartTable(("W1", "W2"), options),))
    texts = " ".join(Page(report_text(job)).texts)
    assert 'W1, W2 laid here 4" 4" 2 5 9 31' in texts
    assert 'best 5 1/2" 5 1/2" 0 4 6 –' in texts
    assert 'out of range 1" 1" 0 3 5 30' in texts


# -------------------------------------------------------------------- heights


def heights(root):
    """(words, y) of the heights beside a wall, from the bottom up."""
    return sorted(
        ((t.text, float(t.get("y"))) for group in classed(root, "heights") for t in group),
        key=lambda h: -h[1],
    )


def with_wall(made, index, **changes):
    """The takeoff with fields of a wall, or of its courses, changed."""
    entry = made.walls[index]
    entry = dataclasses.replace(
        entry,
        **{
            part: dataclasses.replace(getattr(entry, part), **values)
            for part, values in changes.items()
        },
    )
    return dataclasses.replace(made, walls=(*made.walls[:index], entry, *made.walls[index + 1 :]))


def test_heights_are_above_the_level_line_where_the_courses_hang_on_one():
    made = takeoff()
    _, base, _, _ = made.walls[0].wall.box
    assert heights(picture(made, 0))[0][0] == '0"'
    assert "heights above the lowest point of the base" in report_text(made)
    hung = with_wall(made, 0, wall={"level_y": base + 12.0}, courses={"starter_from": "level"})
    assert heights(picture(hung, 0))[0][0] == "-1'-0\""
    assert "heights above the level line" in report_text(hung)


@pytest.mark.parametrize(("strip", "shown"), [(2.0, 1), (7.5, 2)])
def test_the_height_of_the_top_stands_in_place_of_a_line_just_below(strip, shown):
    made = takeoff()
    _, base, _, top = made.walls[0].wall.box
    last = made.walls[0].courses.courses[-1]
    courses = (
        *made.walls[0].courses.courses[:-1],
        dataclasses.replace(last, y0=top - strip, y1=top - strip + 8.0),
    )
    root = picture(with_wall(made, 0, courses={"courses": courses}), 0)
    (group,) = classed(root, "heights")
    size = float(group.get("font-size"))
    ys = [y for _, y in heights(root)]
    assert min(a - b for a, b in pairwise(ys)) >= 0.99 * size
    upper = {words for words, _ in heights(root)[-2:]}
    assert length_text(top - base, "imperial") in upper
    assert (length_text(top - base - strip, "imperial") in upper) == (shown == 2)
