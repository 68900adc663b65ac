"""Changes by hand where takeoffs are made again and again: every drawing by itself, and at every
save of a drawing."""

from __future__ import annotations

import re
from pathlib import Path

import openpyxl
import pytest
from builders import drawing, write_dxf
from click.testing import CliRunner
from sheets import column

from dxf2veneer.app.follow import Following
from dxf2veneer.app.outputs import Asked
from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.cli import main
from dxf2veneer.cli.jobs import job_asked
from dxf2veneer.cli.making import made
from dxf2veneer.textio.whole_files import is_ours

KEPT = "Kept by hand: Openings, W1-O1, Deducted yes or no: no (computed: yes)"
LOST = "NOT kept: Openings, W1-O1, Deducted yes or no: no"


#   .------------------.     wall 96 high and of any width, window 36 x 40
#   |      [ ]         |
#   '------------------'
def elevation(width, windows=1):
    """Without a window one is drawn beside the wall, so that its layer stays."""
    x = 60 if windows else width + 60
    return drawing(wall=[(0, 0, width, 96)], opening=[(x, 32, x + 36, 72)])


def by_hand(book_file):
    """The window is no longer deducted."""
    book = openpyxl.load_workbook(book_file)
    book["Openings"].cell(5, column(book["Openings"], "Deducted")).value = "no"
    book.save(book_file)


def deducted(book_file):
    sheet = openpyxl.load_workbook(book_file)["Openings"]
    return sheet.cell(5, column(sheet, "Deducted")).value


# ------------------------------------------------------------------ every drawing by itself


@pytest.fixture
def street(tmp_path):
    for name, width in (("north", 200), ("south", 300)):
        write_dxf(elevation(width), tmp_path / f"{name}.dxf")
    each(tmp_path)
    by_hand(tmp_path / "out" / "north-takeoff.xlsx")
    return tmp_path


def each(folder, *more, code=0):
    files = [folder / "north.dxf", folder / "south.dxf"]
    words = ["takeoff", *files, "--wall-layer", "WALL", "--opening-layer", "OPENING", "--no-plan",
             "-o", folder / "out", "--each", "--workers", 1, *more]  # fmt: skip
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == code, done.output
    return done.output


def test_each_keeps_the_changes_of_every_workbook_and_lists_them_once(street):
    north, south = (street / "out" / f"{name}-takeoff.xlsx" for name in ("north", "south"))
    other = south.read_bytes()
    told = each(street, "--keep-changes")
    assert f"north.dxf: {KEPT}" in told and "south.dxf: " not in told
    assert "2 of 2 drawings taken off (1 by an earlier run)" in told
    assert deducted(north) == "no" and not is_ours(north) and south.read_bytes() == other
    assert "(2 by an earlier run)" in each(street, "--keep-changes")


def test_each_keeps_changes_when_a_drawing_changes_and_says_what_no_longer_fits(street):
    north = street / "out" / "north-takeoff.xlsx"
    write_dxf(elevation(212), street / "north.dxf")
    assert f"north.dxf: {KEPT}" in each(street, "--keep-changes")
    assert deducted(north) == "no"
    write_dxf(elevation(212, windows=0), street / "north.dxf")
    assert f"north.dxf: {LOST}" in each(street, "--keep-changes")
    assert is_ours(north)


def test_each_takes_no_workbook_with_changes_for_done_where_they_are_not_to_be_kept(street):
    north = street / "out" / "north-takeoff.xlsx"
    each(street, "--keep-changes")
    mine = north.read_bytes()
    told = each(street, code=1).replace("\n", " ")
    assert "north-takeoff.xlsx is there already" in told and north.read_bytes() == mine
    each(street, "--force")
    assert deducted(north) == "yes" and is_ours(north)


# ------------------------------------------------------------------ at every save


@pytest.fixture
def followed(tmp_path):
    """What follows a drawing, its workbook, and the lines that it shows."""
    file = write_dxf(elevation(200), tmp_path / "front.dxf")
    lines: list[str] = []

    def following(*, keep):
        asked = Asked(
            (file,), tmp_path / "out", keep_changes=keep,
            settings={"layers.wall": ("WALL",), "layers.opening": ("OPENING",),
                      "plan.panels": False},
        )  # fmt: skip
        return Following(
            asked,
            job_asked(asked),
            lambda coursed: made(asked, lambda step: None, coursed),
            lambda line, error=False: lines.append(re.sub(r"^\S+ ", "", line)),
            lambda takeoff, outputs: None,
        )

    return file, Path(tmp_path / "out" / "front-takeoff.xlsx"), lines, following


def test_a_save_keeps_changes_made_since_the_last_and_tells_each_once(followed):
    file, book, lines, following = followed
    follower = following(keep=True)
    follower.attempt([file])
    by_hand(book)
    write_dxf(elevation(212), file)
    follower.attempt([file])
    assert deducted(book) == "no" and lines[-1] == KEPT
    write_dxf(elevation(224), file)
    follower.attempt([file])
    assert deducted(book) == "no" and KEPT not in lines[lines.index(KEPT) + 1 :]
    write_dxf(elevation(224, windows=0), file)
    follower.attempt([file])
    assert lines[-1].startswith(LOST) and is_ours(book)


def test_without_the_option_a_save_leaves_a_workbook_with_changes_as_it_is(followed):
    file, book, _, following = followed
    follower = following(keep=False)
    follower.attempt([file])
    by_hand(book)
    mine = book.read_bytes()
    write_dxf(elevation(212), file)
    with pytest.raises(TakeoffError):
        follower.attempt([file])
    assert book.read_bytes() == mine
