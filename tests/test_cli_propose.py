"""`propose`, the takeoff from its job file, and what stands on top of every output until a person
has confirmed it.

      8 ____________________
       |    __              |      a shed of 24 x 8 ft drawn in inches: one window of 36 x 36 in,
       |   |__|      __     |      one door of 36 x 80 in
       |            |  |    |
      0|____________|__|____|
       0                    24
"""

from __future__ import annotations

import itertools
import json
import re
import tomllib
from pathlib import Path

import ezdxf
import openpyxl
import pytest
import shapely
from click.testing import CliRunner

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job, with_settings

UNCONFIRMED = "proposed, not confirmed"


def run(*words, code=0):
    done = CliRunner().invoke(main, [str(w) for w in words])
    assert done.exit_code == code, done.output
    return done.output


def boxed(space, x, y, wide, high, layer):
    corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        space.add_line(a, b, dxfattribs={"layer": layer})


@pytest.fixture
def shed(tmp_path) -> Path:
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 1
    space = doc.modelspace()
    boxed(space, 0, 0, 288, 96, "front")
    for x, y, wide, high in ((48, 36, 36, 36), (180, 0, 36, 80)):
        boxed(space, x, y, wide, high, "front")
        boxed(space, x + 3, y + 3, wide - 6, high - 6, "front")
    space.add_line((-60, 0), (348, 0), dxfattribs={"layer": "front"})
    space.add_text("FRONT ELEVATION", height=8, dxfattribs={"insert": (80, -30)})
    doc.saveas(tmp_path / "shed.dxf")
    return tmp_path / "shed.dxf"


def proposed(shed):
    run("propose", shed, "--json", shed.with_suffix(".json"))
    return json.loads(shed.with_suffix(".json").read_text())


def test_the_proposal_is_the_shed(shed):
    data = proposed(shed)
    assert [v["kind"] for v in data["views"]] == ["elevation"]
    (wall,) = data["walls"]
    assert {tuple(map(round, p)) for p in wall["outline"]} == {(0, 0), (288, 0), (288, 96), (0, 96)}
    assert sorted(o["kind"] for o in data["openings"]) == ["door", "window"]


def test_it_prints_views_reasons_and_the_next_two_commands(shed):
    output = run("propose", shed)
    assert "FRONT ELEVATION" in output and "its title says so" in output
    assert UNCONFIRMED in output
    assert str(shed.with_name("shed-proposed.svg")) in output
    assert f"dxf2veneer takeoff {shed} --job {shed.with_name('shed-proposed.toml')}" in output


def test_the_job_file_is_unconfirmed_and_is_taken_off_as_proposed(shed):
    run("propose", shed)
    job = shed.with_name("shed-proposed.toml")
    assert tomllib.loads(job.read_text())["proposal"]["confirmed"] is False
    run("takeoff", shed, "--job", job, "-o", shed.parent / "out", "--json", shed.parent / "r.json")
    totals = json.loads((shed.parent / "r.json").read_text())["totals"]
    assert totals["gross_area_sqft"] == pytest.approx(24 * 8)
    assert totals["net_area_sqft"] == pytest.approx(24 * 8 - 3 * 3 - 3 * 80 / 12)


def test_an_elevation_in_which_no_wall_was_found_is_told_until_somebody_has_looked(shed):
    """The shed, and beside it a rear whose sides and eaves nobody drew.

            __
           |__|         one window over the ground, and the title REAR ELEVATION
    ________________
    """
    doc = ezdxf.readfile(shed)
    space = doc.modelspace()
    boxed(space, 700, 36, 36, 36, "front")
    boxed(space, 703, 39, 30, 30, "front")
    space.add_line((560, 0), (940, 0), dxfattribs={"layer": "front"})
    space.add_text("REAR ELEVATION", height=8, dxfattribs={"insert": (660, -30)})
    doc.saveas(shed)
    output = run("propose", shed)
    job = shed.with_name("shed-proposed.toml")
    assert "No wall was found in V2 REAR ELEVATION" in output
    assert f"dxf2veneer confirm {shed} --job {job}" in output
    assert "# No wall was found in V2 REAR ELEVATION" in job.read_text()

    def told():
        return "ELEVATION_NOT_TAKEN" in run(
            "takeoff", shed, "--job", job, "-o", shed.parent / "out", "--no-plan"
        )

    assert told()
    job.write_text(job.read_text().replace("confirmed = false", "confirmed = true"))
    assert not told()


def test_an_opening_has_one_number_from_the_picture_to_the_takeoff(shed):
    """Two fronts of 24 x 8 ft, the right one with windows above one another.

    8  ____________________        ____________________
      |    __              |      |    W2-O2           |
      |   |__|      __     |      |        W2-O3       |
      |  W1-O1  W1-O2  |   |      |    W2-O1           |
    0 |_________|______|___|      |____________________|
    """
    doc = ezdxf.readfile(shed)
    space = doc.modelspace()
    boxed(space, 600, 0, 288, 96, "front")
    for x, y in ((648, 58), (760, 36), (648, 12)):
        boxed(space, x, y, 36, 30, "front")
        boxed(space, x + 3, y + 3, 30, 24, "front")
    space.add_line((540, 0), (948, 0), dxfattribs={"layer": "front"})
    space.add_text("SIDE ELEVATION", height=8, dxfattribs={"insert": (680, -30)})
    doc.saveas(shed)

    data = proposed(shed)
    expected = {
        "W1-O1": (48, 36), "W1-O2": (180, 0), "W2-O1": (648, 12), "W2-O2": (648, 58),
        "W2-O3": (760, 36),
    }  # fmt: skip
    drawn = {
        o["id"]: tuple(map(round, map(min, zip(*o["outline"], strict=True))))
        for o in data["openings"]
    }
    assert drawn == expected
    job = shed.with_name("shed-proposed.toml")
    assert [name for name in expected if f"# {name}, " not in job.read_text()] == []
    assert [n for n in expected if f">{n}<" not in job.with_suffix(".svg").read_text()] == []
    run("takeoff", shed, "--job", job, "-o", shed.parent / "out", "--json", shed.parent / "r.json")
    walls = json.loads((shed.parent / "r.json").read_text())["walls"]
    taken = [o for wall in walls for o in wall["openings"]]
    assert {o["id"]: round(o["sill_y_in"]) for o in taken} == {
        n: y for n, (_, y) in expected.items()
    }


def test_elevations_that_were_left_out_by_choice_are_not_told(shed):
    """Two fronts, of which one is asked for."""
    doc = ezdxf.readfile(shed)
    space = doc.modelspace()
    boxed(space, 600, 0, 288, 96, "front")
    boxed(space, 648, 36, 36, 36, "front")
    boxed(space, 651, 39, 30, 30, "front")
    space.add_line((540, 0), (948, 0), dxfattribs={"layer": "front"})
    space.add_text("SIDE ELEVATION", height=8, dxfattribs={"insert": (680, -30)})
    doc.saveas(shed)
    run("propose", shed, "--view", "1")
    job = shed.with_name("shed-proposed.toml")
    told = run("takeoff", shed, "--job", job, "-o", shed.parent / "out", "--no-plan")
    assert "W1 FRONT ELEVATION" in told and "ELEVATION_NOT_TAKEN" not in told


@pytest.fixture
def wainscot(tmp_path) -> Path:
    """The front of 40 x 12 ft with a base of brick, 3 ft high, and boards over it, both hatched,
    and a door of 3 x 7 ft through both, of which the boards have most.

    12 ____________________
      |  ANSI32    __      |     360 - 3 x 4 sq ft
     3|___________|  |_____|
     0|__AR-B816__|__|_____|     120 - 3 x 3 sq ft
    """
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 1
    space = doc.modelspace()
    boxed(space, 0, 0, 480, 144, "front")
    for x0, x1 in ((0, 200), (236, 480)):
        space.add_line((x0, 36), (x1, 36), dxfattribs={"layer": "front"})
    boxed(space, 200, 0, 36, 84, "front")
    boxed(space, 203, 0, 30, 81, "front")
    for pattern, low, high in (("AR-B816", 0, 36), ("ANSI32", 36, 144)):
        hatch = space.add_hatch()
        hatch.set_pattern_fill(pattern, scale=1.0 if pattern[0] == "A" else 8.0)
        hatch.paths.add_polyline_path(
            [(0, low), (480, low), (480, high), (0, high)], is_closed=True
        )
    space.add_line((-60, 0), (540, 0), dxfattribs={"layer": "front"})
    space.add_text("FRONT ELEVATION", height=8, dxfattribs={"insert": (80, -30)})
    doc.saveas(tmp_path / "wainscot.dxf")
    return tmp_path / "wainscot.dxf"


def test_what_is_drawn_on_a_wall_is_told_summed_and_named(wainscot):
    output = run("propose", wainscot, "--json", wainscot.with_suffix(".json"))
    walls = json.loads(wainscot.with_suffix(".json").read_text())["walls"]
    assert [w["reason"]["cladding"] for w in walls] == [["AR-B816"], ["ANSI32"]]
    assert "ANSI32 348.00 sq ft, AR-B816 111.00 sq ft" in output
    job = wainscot.with_name("wainscot-proposed.toml").read_text()
    assert '"FRONT ELEVATION, AR-B816=' in job and '"FRONT ELEVATION, ANSI32=' in job


def test_only_the_walls_with_one_cladding_and_all_their_openings_are_proposed(wainscot):
    run("propose", wainscot, "--cladding", "ar-b816")
    job = wainscot.with_name("wainscot-proposed.toml")
    run("takeoff", wainscot, "--job", job, "--no-plan", "-o", wainscot.parent / "out",
        "--json", wainscot.with_suffix(".json"))  # fmt: skip
    result = json.loads(wainscot.with_suffix(".json").read_text())
    assert result["totals"]["net_area_sqft"] == pytest.approx(40 * 3 - 3 * 3)
    # of the door that is left which lies in the base: nothing of it lies outside
    assert "OPENING_PARTLY_OUTSIDE" not in [n["code"] for n in result["notices"]]
    (door,) = result["walls"][0]["openings"]
    assert (door["kind"], door["width_in"], door["height_in"]) == ("door", 36, 36)
    output = run("propose", wainscot, "--cladding", "slate", code=1)
    assert "no wall is drawn with slate; what is drawn on its walls is ANSI32, AR-B816" in output


def outputs(shed, job):
    """Every output of a takeoff from the job file, by its kind, as text."""
    out = shed.parent / "out"
    told = run(
        "takeoff", shed, "--job", job, "-o", out, "--json", out / "r.json", "--csv", out,
        "--report", out / "r.html", "--svg", out,
    )  # fmt: skip
    book = openpyxl.load_workbook(out / "shed-takeoff.xlsx")
    first = {
        s: [str(c.value) for row in book[s].iter_rows(max_row=6) for c in row]
        for s in ("Summary", "Price")
    }
    return {
        "terminal": told,
        "json": (out / "r.json").read_text().split('"job":')[0],
        "csv": (out / "shed-order.csv").read_text(encoding="utf-8-sig").splitlines()[1],
        "page": (out / "r.html").read_text(),
        "overlay": (out / "shed-courses.dxf").read_text(),
        "picture": (out / "W1.svg").read_text(),
        "summary": " ".join(first["Summary"]),
        "price": " ".join(first["Price"]),
        "printed": str(book["Summary"].oddHeader.center.text),
    }


def test_every_output_says_on_top_that_nobody_has_confirmed_it(shed):
    run("propose", shed)
    found = outputs(shed, shed.with_name("shed-proposed.toml"))
    assert [kind for kind, text in found.items() if UNCONFIRMED not in text.lower()] == []


def test_no_output_says_so_once_a_person_has_confirmed_it(shed):
    run("propose", shed)
    job = shed.with_name("shed-proposed.toml")
    job.write_text(job.read_text().replace("confirmed = false", "confirmed = true"))
    found = outputs(shed, job)
    assert [kind for kind, text in found.items() if UNCONFIRMED in text.lower()] == []


def test_pdf_says_so_too(shed):
    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.config.job import load_job
    from dxf2veneer.writers.report.pdf import content_of

    run("propose", shed)
    job = load_job(shed.with_name("shed-proposed.toml"))
    assert content_of(take_off(shed, job))["alert"].startswith(UNCONFIRMED)


def test_outlines_of_another_drawing_are_told(shed):
    run("propose", shed)
    shed.write_text(shed.read_text().replace("FRONT ELEVATION", "SOUTH ELEVATION"))
    output = run(
        "takeoff", shed, "--job", shed.with_name("shed-proposed.toml"), "-o", shed.parent / "out"
    )
    assert "PROPOSAL_OF_ANOTHER" in output


def test_a_file_that_is_not_ours_stays(shed):
    mine = shed.with_name("shed-proposed.toml")
    mine.write_text("my own notes")
    assert "not" in run("propose", shed, code=2)
    assert mine.read_text() == "my own notes"
    assert not shed.with_name("shed-proposed.svg").exists()
    run("propose", shed, "--force")
    assert "wall_outline" in mine.read_text()


def test_a_view_that_is_not_there_is_told_with_those_that_are(shed):
    output = run("propose", shed, "--view", "7", code=1)
    assert "no view '7'" in output and "V1" in output


def test_a_view_limits_what_a_takeoff_reads(shed):
    out = shed.parent / "out"
    output = run("takeoff", shed, "--view", "1", "--wall-layer", "front", "-o", out, "--no-plan")
    assert "192.00 sq ft" in output


def test_a_window_and_a_door_in_a_taken_wall_are_told(shed):
    output = run("takeoff", shed, "--wall-layer", "front", "-o", shed.parent / "out", "--no-plan")
    assert output.count("OPENING_UNCLAIMED") == 1 and "--opening-at" in output
    assert "And 1 more of this kind (at " in output


def test_layers_shows_views_and_the_way_to_a_proposal(shed):
    output = run("layers", shed)
    assert "FRONT ELEVATION" in output
    assert f"dxf2veneer propose {shed}" in output


def test_no_number_in_the_picture_is_printed_over_another(wainscot):
    """The door's middle is near the base's and the boards': three numbers and three sizes."""
    run("propose", wainscot)
    picture = wainscot.with_name("wainscot-proposed.svg").read_text()
    labels = re.findall(
        r'<text x="([\d.]+)" y="([\d.]+)" text-anchor="middle"[^>]*>([^<]+)<', picture
    )
    assert {"W1", "W2"} <= {words for *_, words in labels}
    rooms = [
        # 15 px high letters (7.5 px wide, about) that stand on y in the middle over x
        shapely.box(
            float(x) - 3.5 * len(words), float(y) - 11, float(x) + 3.5 * len(words), float(y)
        )
        for x, y, words in labels
    ]
    assert not any(a.intersects(b) for a, b in itertools.combinations(rooms, 2))


def test_the_hint_names_the_cladding_that_a_note_calls_stone(wainscot):
    """The boards are the larger part and told first; the note's leader ends in the base."""
    doc = ezdxf.readfile(wainscot)
    doc.modelspace().add_text("STONE VENEER", height=6, dxfattribs={"insert": (540, 50)})
    doc.modelspace().add_leader([(460, 20), (530, 53), (536, 53)])
    doc.saveas(wainscot)
    output = run("propose", wainscot, "--force")
    assert "--cladding AR-B816" in output
    assert 'AR-B816, note in it "STONE VENEER"' in output


def test_what_is_hatched_like_a_wall_and_is_in_none_is_told(wainscot):
    """A chimney of the base's brick, 3 x 6 ft, stands free over the front: 18 sq ft in no wall."""
    doc = ezdxf.readfile(wainscot)
    hatch = doc.modelspace().add_hatch()
    hatch.set_pattern_fill("AR-B816", scale=1.0)
    hatch.paths.add_polyline_path([(40, 144), (76, 144), (76, 216), (40, 216)], is_closed=True)
    doc.saveas(wainscot)
    output = run("propose", wainscot, "--force")
    (told,) = [line for line in output.splitlines() if "like the walls lie in none" in line]
    area, place = re.search(r": ([\d.]+) sq ft hatched AR-B816 .* at ([\d.,]+)\.", told).groups()
    x, y = map(float, place.split(","))
    assert float(area) == pytest.approx(18)
    assert 40 < x < 76 and 144 < y < 216


def taken_off(drawing):
    """What the terminal says of the takeoff of what is proposed for a drawing."""
    job = drawing.with_name(f"{drawing.stem}-proposed.toml")
    return run("takeoff", drawing, "--job", job, "--no-plan", "-o", drawing.parent / "out")


def confirm(drawing):
    job = drawing.with_name(f"{drawing.stem}-proposed.toml")
    job.write_text(job.read_text().replace("confirmed = false", "confirmed = true"))


def test_a_takeoff_of_several_claddings_says_what_each_comes_to_and_how_to_take_one(wainscot):
    run("propose", wainscot)
    for _ in range(2):  # before and after somebody has looked
        (told,) = [line for line in taken_off(wainscot).splitlines() if "CLADDINGS_DRAWN" in line]
        assert "ANSI32 348.00 sq ft, AR-B816 111.00 sq ft" in told
        assert "propose --cladding AR" in told or "propose --cladding ANSI32" in told
        confirm(wainscot)
    run("propose", wainscot, "--cladding", "AR-B816", "--force")
    assert "CLADDINGS_DRAWN" not in taken_off(wainscot)


def test_a_wall_without_any_known_cladding_is_asked_for_as_plain(shed):
    run("propose", shed, "--cladding", "plain")
    assert "net area by what" not in taken_off(shed)  # one cladding, which may be stone
    assert "drawn on its walls is plain" in run("propose", shed, "--cladding", "slate", code=1)


@pytest.fixture
def barn(shed) -> Path:
    """The shed with level boards 6 in high all over it but in its door and window."""
    doc = ezdxf.readfile(shed)
    for y in range(6, 96, 6):
        gaps = [(48, 84)] * (36 < y < 72) + [(180, 216)] * (y < 80)
        ends = [0, *(x for gap in gaps for x in gap), 288]
        for a, b in zip(ends[::2], ends[1::2], strict=True):
            doc.modelspace().add_line((a, y), (b, y), dxfattribs={"layer": "front"})
    doc.saveas(shed)
    return shed


def test_stone_laid_on_boards_is_told_until_somebody_has_looked(barn):
    run("propose", barn)
    (told,) = [line for line in taken_off(barn).splitlines() if "CLADDINGS_DRAWN" in line]
    assert "boards 163.00 sq ft" in told  # 24 x 8 - 3 x 3 - 3 x 80/12
    confirm(barn)
    assert "CLADDINGS_DRAWN" not in taken_off(barn)


def test_a_takeoff_tells_what_is_hatched_like_its_walls_and_lies_in_none(wainscot):
    """The chimney of 18 sq ft, of the base's brick; who takes the boards alone has no use of it."""
    doc = ezdxf.readfile(wainscot)
    hatch = doc.modelspace().add_hatch()
    hatch.set_pattern_fill("AR-B816", scale=1.0)
    hatch.paths.add_polyline_path([(40, 144), (76, 144), (76, 216), (40, 216)], is_closed=True)
    doc.saveas(wainscot)
    run("propose", wainscot)
    (told,) = [line for line in taken_off(wainscot).splitlines() if "HATCHED_OUTSIDE" in line]
    assert "18.00 sq ft hatched AR-B816" in told
    run("propose", wainscot, "--cladding", "ANSI32", "--force")
    assert "HATCHED_OUTSIDE" not in taken_off(wainscot)


def scaled(shed, unit_code, factor):
    """The shed drawn in another unit."""
    doc = ezdxf.readfile(shed)
    doc.header["$INSUNITS"] = unit_code
    for entity in doc.modelspace():
        entity.transform(ezdxf.math.Matrix44.scale(factor))
    doc.saveas(shed)


def test_a_metric_drawing_is_answered_in_meters_unless_feet_are_asked_for(shed):
    """24 x 8 ft drawn in millimeters: 7315.2 x 2438.4."""
    scaled(shed, 4, 25.4)
    assert "7 315 mm x 2 438 mm" in run("propose", shed)
    job = shed.with_name("shed-proposed.toml")
    assert tomllib.loads(job.read_text())["output"]["display"] == "metric"
    assert " m²" in taken_off(shed)
    assert " m²" not in run(
        "takeoff", shed, "--job", job, "--no-plan", "-o", shed.parent / "feet",
        "--display", "imperial",
    )  # fmt: skip
    assert "24'-0\" x 8'-0\"" in run("propose", shed, "--display", "imperial", "--force")
    assert "display" not in job.read_text()


def test_outlines_are_given_to_a_thousandth_of_an_inch(shed):
    """The window stands 36.00000037 in over the ground: no coordinate of the job file says so."""
    doc = ezdxf.readfile(shed)
    for line in doc.modelspace().query("LINE"):
        if line.dxf.start.x < 100 and line.dxf.start.y > 10 and line.dxf.end.y < 90:
            line.dxf.start += (0, 0.00000037, 0)
            line.dxf.end += (0, 0.00000037, 0)
    doc.saveas(shed)
    run("propose", shed)
    drawn = tomllib.loads(shed.with_name("shed-proposed.toml").read_text())["drawing"]
    (window,) = [o for o in drawn["opening_outline"] if o.startswith("window=")]
    assert set(window.removeprefix("window=").split()) == {"48,36", "84,36", "84,72", "48,72"}


def test_the_name_of_a_wall_is_its_view_and_what_is_drawn_on_it(wainscot):
    """Two pieces of the same base, left and right of the door, have one name; their numbers stand
    before it in every output."""
    run("propose", wainscot)
    drawn = tomllib.loads(wainscot.with_name("wainscot-proposed.toml").read_text())["drawing"]
    names = [line.split("=")[0] for line in drawn["wall_outline"]]
    assert names == ["FRONT ELEVATION, AR-B816", "FRONT ELEVATION, ANSI32"]


def test_a_view_is_one_elevation_whatever_is_drawn_on_its_walls(wainscot):
    run("propose", wainscot)
    job = load_job(wainscot.with_name("wainscot-proposed.toml"))
    assert [name for name, _ in job.drawing.elevation] == ["FRONT ELEVATION"]
    takeoff = take_off(wainscot, with_settings(job, plan__panels=False))
    assert [e.name for e in takeoff.elevations] == ["FRONT ELEVATION"]
    assert len(takeoff.elevations[0].walls) == 2


def test_walls_with_other_claddings_are_patterned_otherwise_in_the_picture(wainscot):
    run("propose", wainscot)
    picture = wainscot.with_name("wainscot-proposed.svg").read_text()
    fills = re.findall(r'<polygon [^>]*fill="url\(#(p-wall[^)]*)\)', picture)
    assert len(fills) == 2 and len(set(fills)) == 2
    assert ">wall: AR-B816<" in picture and ">wall: ANSI32<" in picture


def test_the_page_to_look_at_asks_for_no_ticks_that_it_does_not_have(shed):
    run("propose", shed, "--page", shed.with_suffix(".html"))
    page = shed.with_suffix(".html").read_text()
    assert "as a person confirmed them" not in page
