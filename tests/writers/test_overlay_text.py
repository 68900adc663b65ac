"""Texts of the overlay: safe in a TEXT entity, and placed clear of each other."""

from __future__ import annotations

import dataclasses
import itertools

import ezdxf
import pytest
from builders import as_written
from takeoffs import EVIL_NAME, EVIL_TEXTS, takeoff

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.geometry import Region
from dxf2veneer.textio.escaping import for_dxf
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.pen import tags_of
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import LETTER_WIDTH, Line, Sheet, height_to_fit, overlap
from dxf2veneer.writers.words import cut_length


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("bell \x07 and \x00 nul", r"bell \x07 and \x00 nul"),
        ("two\r\nlines\tand a tab", "two lines and a tab"),
        ("half \ud83d pair", r"half \ud83d pair"),
        ("right\u202eto left", r"right\u202eto left"),
        ("line\u2028break", r"line\u2028break"),
        ("50%%u", "50%u"),  # %%u would underline
        ("A^J", "A^ J"),  # ^J would break the line
        ("Müller ½", "Müller ½"),
        ("x" * 90, "x" * 79 + "…"),
    ],
)
def test_texts_are_one_plain_line(text, shown):
    assert for_dxf(text) == shown


@pytest.mark.parametrize("name", [*EVIL_TEXTS, EVIL_NAME, "a\n  0\nLINE"])
@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_a_wall_of_any_name_makes_a_sound_drawing(tmp_path, name, version):
    made = takeoff()
    wall, *_ = made.walls
    named = dataclasses.replace(wall.wall, name=name)
    measured = dataclasses.replace(wall.quantities, wall=named)
    made = dataclasses.replace(
        made, walls=(dataclasses.replace(wall, wall=named, quantities=measured),)
    )
    ezdxf.new(version).saveas(tmp_path / "source.dxf")
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    doc = ezdxf.readfile(tmp_path / "courses.dxf")
    assert doc.audit().errors == []
    assert for_dxf(f"W1 {name}") in [e.dxf.text for e in doc.modelspace().query("TEXT")]


def test_a_box_goes_below_everything_that_stands_under_it_one_after_the_other():
    #  .----.   asked: y 0 to 10
    #  |####|   taken: -4 to 2, then -30 to -12; free with a gap of 1: top at -31
    sheet = Sheet([(0, -4, 10, 2), (5, -30, 50, -12), (60, -90, 70, 0)])
    assert sheet.free_below((0, 0, 10, 10), gap=1, reach=100) == (0, -41, 10, -31)
    assert sheet.free_below((0, 3, 10, 10), gap=1, reach=100) == (0, 3, 10, 10)


@pytest.mark.parametrize("depth", [1e3, 1e8, 1e17, 1e300])
def test_a_box_stays_where_free_ground_is_out_of_reach(depth):
    asked = (0, 0, 10, 10)
    assert Sheet([(-5, -depth, 50, 5)]).free_below(asked, gap=1e-9, reach=500) == asked


def test_a_letter_higher_than_a_town_does_not_send_the_legend_away(tmp_path):
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 1
    space = doc.modelspace()
    outline = [(0, 0), (96, 0), (96, 48), (0, 48)]
    space.add_lwpolyline(outline, close=True, dxfattribs={"layer": "WALL"})
    space.add_text("X", height=1e8, dxfattribs={"insert": (10, 10)})
    doc.saveas(tmp_path / "source.dxf")
    made = take_off(tmp_path / "source.dxf", load_job(None, {"layers.wall": ("WALL",)}))
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    written = ezdxf.readfile(tmp_path / "courses.dxf").modelspace().query("TEXT")
    assert min(e.dxf.insert.y for e in written) > -1000


def test_the_box_of_a_text():
    # 4 letters of height 2 at 0.95 heights each: 7.6 wide
    assert Line("ABCD", 10, 5, 2, "left").box == pytest.approx((10, 4, 17.6, 6))
    assert Line("ABCD", 10, 5, 2, "middle").box == pytest.approx((6.2, 4, 13.8, 6))
    assert Line("ABCD", 10, 5, 2, "right").box == pytest.approx((2.4, 4, 10, 6))


def test_a_text_is_as_high_as_its_room_allows():
    assert height_to_fit(["abcdefghij"], width=19, height=100, most=5) == pytest.approx(
        19 / 10 / LETTER_WIDTH
    )
    assert height_to_fit(["ab", "cd"], width=100, height=6.4, most=5) == pytest.approx(2)
    assert height_to_fit(["ab", "cd"], width=100, height=100, most=5) == 5


def test_a_text_moves_until_it_is_free():
    #  third  y = 6.4
    #  second y = 3.2   steps of 1.6 heights
    #  first  y = 0
    sheet = Sheet()
    assert [sheet.place(Line("AB", 0, 0, 2)).y for _ in range(3)] == pytest.approx([0, 3.2, 6.4])
    assert sheet.place(Line("AB", 0, 0, 2), step=-4).y == -4
    assert sheet.place(Line("AB", 50, 0, 2)).y == 0


def test_two_texts_in_a_line_keep_a_space_apart():
    # a text of 2 letters of height 2 is 3.8 wide; the next one on the same line wants half a height
    # between
    sheet = Sheet()
    sheet.place(Line("AB", 0, 0, 2))
    assert sheet.place(Line("AB", 4.7, 0, 2)).y == pytest.approx(3.2)
    assert sheet.place(Line("AB", 4.9, 0, 2)).y == 0


def test_a_block_that_was_moved_keeps_its_gap():
    # one line of height 2 from -1 to 1; a step up, 2.2..4.2, is free, but nearer than a gap of 1.6
    # asks for
    sheet = Sheet([(0, -1, 10, 1)])
    assert [
        line.y for line in sheet.place_block([Line("AB", 0, 0, 2)], step=3.2, gap=1.6)
    ] == pytest.approx([6.4])


@pytest.mark.parametrize(
    ("inches", "display", "text"),
    [
        (24.0, "imperial", '24"'),
        (11.875, "imperial", '11 7/8"'),
        (0.5, "imperial", '1/2"'),
        (35.99, "imperial", '36"'),
        (24.0, "metric", "610"),
    ],
)
def test_lengths_as_they_are_set_at_a_saw(inches, display, text):
    assert cut_length(inches, display) == text


@pytest.mark.parametrize(
    ("wall", "course", "display", "scale"),
    [
        (
            (336, 120),
            8,
            "imperial",
            32,
        ),  # 336 / 12 = 28: 1:24 is too large for the sheet, 3/8 in to the foot fits
        ((240, 96), 8, "imperial", 24),
        (
            (2400, 300),
            8,
            "imperial",
            64,
        ),  # 1:200 would fit, but at 1:96 a text of 1/16 in x 96 = 6 in crowds a course of 8
        ((177, 154), 7.9, "metric", 25),  # 154 in / 7 = 22
    ],
)
def test_the_plotting_scale_is_guessed_from_the_largest_wall(wall, course, display, scale):
    made = takeoff(display=display)
    first = made.walls[0]
    sized = dataclasses.replace(first.wall, region=Region.box_of(0, 0, *wall))
    panel = dataclasses.replace(made.product.panel, height=float(course))
    made = dataclasses.replace(
        made,
        walls=(dataclasses.replace(first, wall=sized),),
        product=dataclasses.replace(made.product, panel=panel),
    )
    sizes = TextSizes.of(made, made.drawings[0])
    assert (sizes.scale, sizes.is_guess) == (scale, True)
    named = dataclasses.replace(made, job=with_settings(made.job, output__plot_scale=96.0))
    assert TextSizes.of(named, made.drawings[0]).scale == 96


def test_texts_of_courses_are_thinned_where_a_plot_would_crowd_them():
    made = takeoff()
    steps = {}
    for scale in (24.0, 48.0, 96.0, 192.0):
        named = dataclasses.replace(made, job=with_settings(made.job, output__plot_scale=scale))
        steps[scale] = TextSizes.of(named, made.drawings[0]).course_step
    # least text 1/16 in: 1 1/2, 3, 6 and 12 in high, 1.6 of that apart: 2.4, 4.8, 9.6 and 19.2 in;
    # courses of 8 in
    assert steps == {24.0: 1, 48.0: 1, 96.0: 2, 192.0: 5}


def test_boxes_that_only_touch_do_not_overlap():
    assert overlap((0, 0, 2, 2), (1, 1, 3, 3))
    assert not overlap((0, 0, 2, 2), (2, 0, 3, 2))


def our_texts(path, inches_per_unit):
    """(tags, line) of our texts, in inches, from the written file."""
    align = {0: "left", 1: "middle", 2: "right"}
    for e in ezdxf.readfile(path).modelspace().query("TEXT"):
        if tags_of(e):
            x, y, _ = e.dxf.align_point * inches_per_unit
            yield (
                tags_of(e),
                Line(
                    e.dxf.text,
                    x,
                    y,
                    e.dxf.height * inches_per_unit,
                    align[e.dxf.halign],
                    e.dxf.width,
                ),
            )


def assert_well_placed(path, made, drawing):
    """Texts apart from each other and large enough to read, those of openings inside them; where
    one has no room its id stands there or beside it and the rest below the wall."""
    found = list(our_texts(path, drawing.inches_per_unit))
    assert len(found) > 10
    assert min(line.height for _, line in found) > 0.99 * TextSizes.of(made, drawing).least
    shrunk = [(line.text, shrink(line.box)) for _, line in found]
    assert [(s, t) for (s, a), (t, b) in itertools.combinations(shrunk, 2) if overlap(a, b)] == []
    openings = {o.id: o.box for w in made.walls_of(drawing.index) for o in w.wall.openings}
    named = [(tags["opening"], line) for tags, line in found if tags["what"] == "opening text"]
    assert {id for id, _ in named} == set(openings)
    base = {o.id: w.wall.box[1] for w in made.walls for o in w.wall.openings}
    assert [
        line.text
        for id, line in named
        if not inside(shrink(line.box), openings[id])
        and line.text != id.rpartition("-")[2]
        and not (line.text.startswith(id) and line.y < base[id])
    ] == []


def shrink(box):
    return box[0] + 1e-6, box[1] + 1e-6, box[2] - 1e-6, box[3] - 1e-6


def inside(box, outer):
    return outer[0] <= box[0] and outer[1] <= box[1] and box[2] <= outer[2] and box[3] <= outer[3]


@pytest.mark.parametrize("index", [0, 1])
@pytest.mark.parametrize("version", ["R12", "R2018"])
def test_texts_are_well_placed(tmp_path, index, version):
    made = takeoff()
    drawing = made.drawings[index]
    ezdxf.new(version).saveas(tmp_path / "source.dxf")
    write_overlay(made, drawing, tmp_path / "source.dxf", tmp_path / "courses.dxf")
    assert_well_placed(tmp_path / "courses.dxf", made, drawing)


@pytest.mark.parametrize("place", [(42, 40), (42, 1), (42, 79), (24, 30), (42, 36)])
def test_the_text_of_an_opening_keeps_clear_of_a_notice_in_it(tmp_path, place):
    # the door W1-O1, x 24..60, y 0..80
    made = dataclasses.replace(
        takeoff(), notices=(Notice("DOOR_ASSUMED", as_written("taken for a door"), 0, at_in=place),)
    )
    ezdxf.new().saveas(tmp_path / "source.dxf")
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    assert_well_placed(tmp_path / "courses.dxf", made, made.drawings[0])
    mark = (place[0] - 1.6, place[1] - 1.6, place[0] + 1.6, place[1] + 1.6)
    lines = [
        line
        for tags, line in our_texts(tmp_path / "courses.dxf", 1.0)
        if tags.get("opening") == "W1-O1"
    ]
    assert not any(overlap(mark, shrink(line.box)) for line in lines)


@pytest.mark.parametrize("name", ["gatehouse", "boathouse"])
def test_texts_of_the_samples_are_well_placed(tmp_path, samples, name):
    source = samples / f"{name}.dxf"
    made = take_off([source], load_job(samples / f"{name}.toml"))
    write_overlay(made, made.drawings[0], source, tmp_path / "courses.dxf")
    assert_well_placed(tmp_path / "courses.dxf", made, made.drawings[0])


def test_texts_of_walls_side_by_side_tell_which_is_whose(tmp_path, samples):
    #  W6 PIER RETURN      the pier's two walls have an edge in common: the headings stand apart,
    #  W5 PIER FACE        and a foot's text that makes way for another names its wall
    source = samples / "gatehouse.dxf"
    made = take_off(
        [source], with_settings(load_job(samples / "gatehouse.toml"), plan__panels=False)
    )
    write_overlay(made, made.drawings[0], source, tmp_path / "courses.dxf")
    lines = [
        (tags, line)
        for tags, line in our_texts(tmp_path / "courses.dxf", 1.0)
        if tags.get("wall") in ("W5", "W6")
    ]
    upper, lower = (
        [line.y for tags, line in lines if tags["what"] == "wall text" and tags["wall"] == wall]
        for wall in ("W6", "W5")
    )
    step = min(b - a for a, b in itertools.pairwise(sorted(lower)))
    assert min(upper) - max(lower) > 1.4 * step
    feet = {
        (tags["wall"], tags["what"]): line.text for tags, line in lines if "edge" in tags["what"]
    }
    assert feet["W5", "left edge"] == "butt 8'-8\""
    assert feet["W5", "right edge"] == "W5 corner C3 outside 8'-8\""
    assert feet["W6", "left edge"] == "W6 corner C3 outside 8'-8\""


def test_a_plain_edge_is_named_only_where_nothing_else_is_drawn(tmp_path):
    """Two walls one on the other: under the upper one's plain edges lie the lower one's panels.

    100 ______________
       |      W2      |
    36 |______________|
       |      W1      |
     0 |______________|
       0             200
    """
    doc = ezdxf.new(units=1)
    for low, high in ((0, 36), (36, 100)):
        corners = [(0, low), (200, low), (200, high), (0, high)]
        doc.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "WALL"})
    doc.saveas(tmp_path / "source.dxf")
    made = take_off(
        [tmp_path / "source.dxf"], load_job(None, {"layers.wall": ("WALL",), "plan.panels": False})
    )
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    edges = [
        tags["wall"]
        for tags, _ in our_texts(tmp_path / "courses.dxf", 1.0)
        if "edge" in tags["what"]
    ]
    assert edges == ["W1", "W1"]
