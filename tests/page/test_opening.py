"""The page opens when the drawing is read; what it proposes comes in while one looks."""

from __future__ import annotations

import pytest
from fronts import draw_front

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.config.job import load_job
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.page import session as sessions
from dxf2veneer.page.session import Session

VENT = {"do": "make", "kind": "vent", "outline": [[200, 60], [212, 60], [212, 72], [200, 72]]}
LOOK = {"do": "look", "view": "V1", "seen": True}


@pytest.fixture
def front(tmp_path):
    return draw_front(tmp_path / "front.dxf")


@pytest.fixture
def unseen(front):
    """A drawing that is read, and not yet looked at."""
    return Session(front, front.with_name("front-proposed.toml"), looks=False)


def test_the_drawing_is_there_before_what_it_proposes(unseen):
    first = unseen.state()
    assert "Looking for views" in first["looking"]
    assert (first["views"], first["marks"], first["doubts"]) == ([], [], [])
    assert unseen.outlines_at(206, 66)  # what lies under the pointer is shown already
    assert len(unseen.lines()) > 100
    assert unseen.look() == ""
    then = unseen.state()
    assert then["looking"] == ""
    assert [m["kind"] for m in then["marks"]] == ["wall", "window", "door"]
    assert then["revision"] > first["revision"]
    assert not unseen.job_path.exists()


@pytest.mark.parametrize("asked", [VENT, LOOK, {"do": "unit", "unit": "mm"}], ids=lambda a: a["do"])
def test_a_change_that_comes_too_early_is_refused_in_one_line(unseen, asked):
    with pytest.raises(TakeoffError):
        unseen.edit(asked)
    assert "still being looked at" in unseen.take_off()["problem"]
    assert not unseen.job_path.exists()
    unseen.look()
    unseen.edit(asked)


def test_marks_of_a_job_file_are_there_at_once_and_can_be_mended(front, unseen):
    unseen.look()
    unseen.edit(VENT)
    unseen.edit(LOOK)
    again = Session(front, unseen.job_path, looks=False)
    kinds = ["wall", "window", "door", "vent"]
    assert [m["kind"] for m in again.state()["marks"]] == kinds
    again.edit({"do": "drop", "mark": 2})
    with pytest.raises(TakeoffError):
        again.edit(LOOK)  # nobody knows yet which wall lies in which view
    assert load_job(again.job_path).proposal.confirmed is False
    again.look()
    assert [m["kind"] for m in again.state()["marks"]] == ["wall", "door", "vent"]
    # the proposal says how sure it is of its own marks, and the elevation was looked at
    assert [m["sure"] is None for m in again.state()["marks"]] == [False, False, True]
    assert load_job(again.job_path).proposal.confirmed
    assert [m["kind"] for m in again.undo()["marks"]] == kinds


@pytest.mark.parametrize(
    "error",
    [RuntimeError("a fault"), DrawingError(message("no-such-view", view="9", views=("V1",)))],
)
def test_where_nothing_can_be_proposed_the_page_says_so_and_walls_can_be_drawn(
    unseen, monkeypatch, error
):
    def fails(opened, job):
        raise error

    monkeypatch.setattr(sessions, "looked_at", fails)
    told = unseen.look()
    assert told.startswith("Nothing could be proposed: ")
    assert unseen.state()["doubts"][0]["text"] == told
    unseen.edit({"do": "unit", "unit": "in"})
    unseen.edit({"do": "make", "kind": "wall", "outline": [[0, 0], [288, 0], [288, 108], [0, 108]]})
    assert unseen.figures()["totals"]["gross_sqft"] == 216.0


def test_a_drawing_that_changes_while_it_is_looked_at_is_looked_at_anew(unseen, monkeypatch):
    """The first look ends after the drawing has been read again: its proposal is of no use."""
    look_for = sessions.looked_at

    def meanwhile(opened, job):
        monkeypatch.setattr(sessions, "looked_at", look_for)
        other = sessions.read_drawing(unseen.drawing, job)
        unseen._opened = other  # what reading it again does
        return look_for(opened, job)

    monkeypatch.setattr(sessions, "looked_at", meanwhile)
    unseen.look()
    assert unseen.state()["looking"]
    unseen.look()
    assert len(unseen.state()["marks"]) == 3
