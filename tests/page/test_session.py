"""A drawing and a job file while the page is open, on the front that fronts.py sketches.

Worked by hand: gross 24 x 9 = 216 sq ft; window 3 x 3 = 9, door 3 x 7 = 21, vent 1 x 1 = 1.
"""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from fronts import draw_front, rectangle

from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.page.edits import EDITS
from dxf2veneer.page.session import Session

SAMPLES = Path(__file__).parent.parent.parent / "samples"
VENT = {"do": "make", "kind": "vent", "outline": [[200, 60], [212, 60], [212, 72], [200, 72]]}


@pytest.fixture
def front(tmp_path):
    return draw_front(tmp_path / "front.dxf")


@pytest.fixture
def session(front):
    return Session(front, front.with_name("front-proposed.toml"))


def looked(session):
    """The state once nothing is being read or looked for."""
    for _ in range(300):
        if not (state := session.state())["looking"]:
            return state
        time.sleep(0.05)
    raise AssertionError("it looks and looks")


def by_command(session, tmp_path):
    """The takeoff that the command makes of the job file."""
    out, result = tmp_path / "out", tmp_path / "out" / "r.json"
    words = ["--job", session.job_path, "--no-plan", "--force", "-o", out, "--json", result]
    told = CliRunner().invoke(main, ["takeoff", str(session.drawing), *map(str, words)])
    assert told.exit_code == 0, told.output
    return json.loads(result.read_text(encoding="utf-8"))


def test_it_begins_with_the_proposal_and_writes_nothing(session):
    figures = session.figures()
    assert (figures["totals"]["gross_sqft"], figures["totals"]["net_sqft"]) == (216.0, 186.0)
    assert not session.job_path.exists()
    assert not session.state()["confirmed"]


def test_the_command_takes_off_what_the_page_shows(session, tmp_path):
    session.edit(VENT)
    shown = session.figures()["totals"]
    taken = by_command(session, tmp_path)["totals"]
    assert shown["net_sqft"] == taken["net_area_sqft"] == 185.0
    assert shown["gross_sqft"] == taken["gross_area_sqft"] == 216.0


def test_every_step_is_in_the_file_and_undo_takes_it_out(session):
    def saved():
        return [o.name for o in load_job(session.job_path).drawing.opening_outline]

    session.edit(VENT)
    assert saved() == ["window", "door", "vent"]
    session.undo()
    assert saved() == ["window", "door"]
    session.redo()
    assert saved() == ["window", "door", "vent"]


WING = [[320, 0], [420, 0], [420, 108], [320, 108]]
JAMB = {"line": [[96, 0], [96, 84]], "at": [96, 40]}
# one step or more of every kind, on the front with its wall 1, window 2 and door 3
STEPS = {
    "make": [
        VENT,
        {"do": "make", "kind": "wall", "outline": WING},
        {"do": "make", "kind": "part", "outline": [[288, 0], [310, 0], [310, 108], [288, 108]]},
        {"do": "make", "kind": "nothing", "outline": VENT["outline"]},
    ],
    "change": [{"do": "change", "mark": 3, "kind": "garage"}],
    "rename": [{"do": "rename", "mark": 1, "name": "Street side"}],
    "drop": [{"do": "drop", "mark": 2}],
    "line": [
        {"do": "line", "kind": kind, "at": at, "reach": 3}
        for kind, at in (("outside", [420, 50]), ("level", [100, 40]), ("cap", [150, 107]))
    ],
    "tag": [{"do": "tag", "mark": 6, "tag": "A"}],
    "bound": [{"do": "bound", "how": "part", **JAMB}],
    "unit": [{"do": "unit", "unit": "ft"}],
    "crop": [
        {"do": "crop", "box": [-30, -20, 312, 120]},
        {"do": "crop", "box": None},
    ],
    "look": [
        {"do": "look", "view": "V1", "seen": True},
        {"do": "look", "view": "*", "seen": True},
    ],
}


def test_every_kind_of_step_is_taken_back_and_made_again(session):
    assert set(STEPS) == EDITS
    shown = ("marks", "lines", "windows", "unit", "views", "looked_at_rest", "confirmed")

    def seen(state):
        return {key: state[key] for key in shown}, session.job_text()

    states = [seen(session.state())]
    for step in (step for steps in STEPS.values() for step in steps):
        states.append(seen(session.edit(step)))
        assert states[-1] != states[-2], f"{step} changes nothing"
    for state in states[-2::-1]:
        assert seen(session.undo()) == state
        assert session.job_path.read_text(encoding="utf-8") == state[1]
    assert session.state()["undo"] == 0
    for state in states[1:]:
        assert seen(session.redo()) == state
    assert session.state()["redo"] == 0


def test_a_page_opened_again_goes_on_where_it_was(session):
    session.edit(VENT)
    again = Session(session.drawing, session.job_path)
    assert [m["outline"] for m in again.state()["marks"]] == [
        m["outline"] for m in session.state()["marks"]
    ]
    assert again.figures()["totals"] == session.figures()["totals"]
    assert again.state()["marks"][0]["sure"] == session.state()["marks"][0]["sure"]


def test_looking_at_the_elevation_confirms_and_the_takeoff_is_no_longer_proposed(session, tmp_path):
    session.edit(VENT)
    assert any(
        n["code"] == "PROPOSAL_UNCONFIRMED" for n in by_command(session, tmp_path)["notices"]
    )
    state = session.edit({"do": "look", "view": "V1", "seen": True})
    assert state["confirmed"]
    codes = {n["code"] for n in by_command(session, tmp_path)["notices"]}
    assert not codes & {"PROPOSAL_UNCONFIRMED", "PROPOSAL_OF_ANOTHER"}


def test_everything_else_in_the_job_file_stays(front):
    job = front.with_name("mine.toml")
    job.write_text('# ours\n[job]\nname = "Mill"  # as on the bid\n\n[trim]\nhead = 8\n')
    session = Session(front, job)
    session.edit(VENT)
    text = job.read_text()
    assert text.startswith('# ours\n[job]\nname = "Mill"  # as on the bid\n\n[trim]\nhead = 8\n')
    # a head band of 8 in over 36 + 36 + 12 in comes off: 84 x 8 / 144 = 4.667 sq ft
    assert session.figures()["totals"]["net_sqft"] == pytest.approx(185.0 - 84 * 8 / 144)


def test_a_comment_behind_an_outline_stays(session):
    session.edit(VENT)
    text = session.job_path.read_text().replace("# by hand", "# asked the owner, 3 March")
    session.job_path.write_text(text)
    again = Session(session.drawing, session.job_path)
    again.edit({"do": "look", "view": "V1", "seen": True})
    assert "# asked the owner, 3 March" in session.job_path.read_text()


def test_a_file_that_another_hand_changed_is_not_written_over(session):
    session.edit(VENT)
    theirs = session.job_path.read_text() + '\n[job]\nname = "theirs"\n'
    session.job_path.write_text(theirs)
    state = session.edit({"do": "look", "view": "V1", "seen": True})
    assert "changed by another hand" in state["trouble"]
    assert session.job_path.read_text() == theirs
    state = session.settle(mine=True)
    assert not state["trouble"]
    job = load_job(session.job_path)
    assert (job.job.name, job.proposal.confirmed) == ("theirs", True)


def test_or_the_other_hand_s_file_is_taken(session):
    session.edit(VENT)
    session.job_path.write_text('[drawing]\nunits = "in"\nwall_outline = ["0,0 100,0 100,50"]\n')
    session.edit({"do": "look", "view": "V1", "seen": True})
    state = session.settle(mine=False)
    assert [m["kind"] for m in state["marks"]] == ["wall"]
    assert len(session.undo()["marks"]) == 4


def test_a_job_that_can_not_be_written_says_so_and_keeps_the_marks(front, tmp_path):
    session = Session(front, tmp_path / "no" / "such" / "folder.toml")
    state = session.edit(VENT)
    assert "can't be written" in state["trouble"]
    assert len(state["marks"]) == 4


def test_a_wrong_unit_is_mended_by_two_points(session):
    state = session.edit({"do": "unit", "unit": "mm"})
    # 288 mm wide is no wall, and the proposal, which nobody had changed, goes with the unit
    assert state["marks"] == []
    state = session.edit({"do": "unit", "points": [[96, 0], [132, 0]], "length": "3'-0\""})
    assert state["unit"]["name"] == "in"
    assert session.figures()["totals"]["gross_sqft"] == 216.0


def test_another_unit_leaves_marks_that_a_person_made(session):
    session.edit(VENT)
    state = session.edit({"do": "unit", "unit": "mm"})
    assert len(state["marks"]) == 4
    # 216 sq ft of inches read as millimeters: 288 x 108 mm = 0.031104 sq m = 0.3348 sq ft
    # (1 sq ft = 0.09290304 sq m, NIST SP 811)
    gross = session.figures()["totals"]["gross_sqft"]
    assert gross == pytest.approx(0.031104 / 0.09290304)
    assert session.undo()["unit"]["name"] == "in"


def test_a_drawing_that_changed_is_read_again_and_says_which_mark_no_longer_fits(session, tmp_path):
    import ezdxf

    session.edit(VENT)
    session.edit({"do": "look", "view": "V1", "seen": True})
    # the same front with its door 10 in farther right
    other = draw_front(tmp_path / "other.dxf")
    document = ezdxf.readfile(other)
    msp = document.modelspace()
    for line in list(msp.query("LINE")):
        if {line.dxf.start.x, line.dxf.end.x} <= {96, 98, 130, 132} and line.dxf.end.y <= 84:
            msp.delete_entity(line)
    rectangle(msp, 106, 0, 142, 84, "ELEV")
    document.saveas(session.drawing)
    session.state()
    state = session.state()  # the second look at a file that no longer grows
    assert state["looking"]
    state = looked(session)
    door = next(m for m in state["marks"] if m["kind"] == "door")
    fits = [d for d in state["doubts"] if "No longer fits" in d["text"]]
    assert [d["mark"] for d in fits] == [door["id"]]
    assert len(state["marks"]) == 4
    assert not state["confirmed"]
    assert load_job(session.job_path).proposal.sha256 == state["sha256"]


def test_without_a_unit_areas_wait_for_one(tmp_path):
    import ezdxf

    drawing = draw_front(tmp_path / "bare.dxf")
    document = ezdxf.readfile(drawing)
    document.header["$INSUNITS"] = 0
    document.saveas(drawing)
    session = Session(drawing, tmp_path / "job.toml")
    session.edit({"do": "unit", "unit": None})
    assert "unit" in session.figures()["problem"]


def test_marked_edges_levels_and_caps_are_in_the_takeoff_of_the_command(session, tmp_path):
    """The right edge an outside corner of 9 ft, the left one a finished end."""
    for kind, at in (("outside", [288, 50]), ("end", [0, 50]), ("level", [100, 40])):
        session.edit({"do": "line", "kind": kind, "at": at, "reach": 3})
    assert session.figures()["totals"]["runs"] == [
        ["Outside corners: 1", "9'-0\""],
        ["Finished ends: 1", "9'-0\""],
    ]
    taken = by_command(session, tmp_path)
    (wall,) = taken["walls"]
    assert [(e["side"], e["kind"]) for e in wall["edges"]] == [
        ("left", "end"),
        ("right", "outside"),
    ]
    assert [(c["kind"], c["run_in"]) for c in taken["corners"]] == [("outside", 108.0)]
    again = Session(session.drawing, session.job_path)
    assert again.state()["lines"] == session.state()["lines"]
    # the cap is the wall's level top, 24 ft
    session.edit({"do": "line", "kind": "cap", "at": [150, 107], "reach": 3})
    assert by_command(session, tmp_path)["totals"]["cap_run_in"] == 288.0


def test_two_edges_with_one_tag_are_one_corner(front, tmp_path):
    session = Session(front, tmp_path / "two.toml")
    wing = [[320, 0], [420, 0], [420, 108], [320, 108]]
    session.edit({"do": "make", "kind": "wall", "outline": wing})
    for at in ([288, 50], [320, 50]):
        session.edit({"do": "line", "kind": "outside", "at": at, "reach": 3})
    assert [r[0] for r in session.figures()["totals"]["runs"]] == ["Outside corners: 2"]
    for line in session.state()["lines"]:
        session.edit({"do": "tag", "mark": line["id"], "tag": "A"})
    assert session.figures()["totals"]["runs"] == [["Outside corners: 1", "9'-0\""]]


def test_walls_of_layers_are_shown_measured_and_a_job_by_layers_is_no_proposal(tmp_path):
    job = tmp_path / "gatehouse.toml"
    for file in SAMPLES.glob("gatehouse*"):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    session = Session(tmp_path / "gatehouse.dxf", job)
    figures = session.figures()
    assert session.state()["marks"] == []
    assert len(figures["others"]) == len(by_command(session, tmp_path)["walls"]) > 0
    session.edit({"do": "look", "view": "V1", "seen": True})
    assert load_job(job).proposal.confirmed is None
