"""Walls of two products as measured on site, counted by hand: each keeps its own plan.

        108, drawn 96           72
    .--------.               .------.
 48 | Ledge  |               | Block| 40      Ledge 24 x 6, Block 36 x 8; the saw takes nothing
    '--------'               '------'
    W1, drawn                South, by its sizes

Ledge: 8 courses of 108 / 24 = 4 1/2 panels, so 36 at least in place of 32; at most one more for
each course, 40. Block stays: 10. On a wall of 95 each course has a piece that is shorter, and no
panel more.
"""

import pytest
from builders import drawing, write_dxf
from click.testing import CliRunner
from test_several_products import BLOCK, HEAD, SOUTH, folder_of

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.config.site_file import load_site

ON_SITE = '[site]\nfile = "site.toml"\n'
SHEET = "[site]\nmost_off = 12\n[W1]\nwidths = [{{ at = 20, measured = {} }}]\n"


def taken_off(folder, measured):
    """The takeoff as drawn, and with the wall W1 as measured."""
    folder_of(folder, SOUTH + BLOCK)
    drawn = write_dxf(drawing(wall=[(0, 0, 96, 48)]), folder / "front.dxf")
    before = take_off([drawn], load_job(folder / "job.toml"))
    (folder / "site.toml").write_text(SHEET.format(measured), encoding="utf-8")
    (folder / "job.toml").write_text(HEAD + SOUTH + BLOCK + ON_SITE, encoding="utf-8")
    return before, take_off([drawn], load_job(folder / "job.toml"))


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    return taken_off(tmp_path_factory.mktemp("wider"), 108)


def stocks(takeoff, wall):
    return {p.stock for w in takeoff.walls if w.wall.id == wall for p in w.courses.pieces}


def test_each_product_is_counted_anew_for_its_walls_as_measured(both):
    before, now = both
    ledge, block = (p.plan.flat.units for p in now.parts)
    assert 36 <= ledge <= 40 and block == 10
    assert (before.plan.flat.units, now.plan.flat.units) == (42, ledge + 10)
    assert now.errors == ()
    ordered = {n.key: n.chosen.measured for n in now.order.lines if n.item_key == "flat_panel"}
    assert ordered == {"flat_panel of Ledge": ledge, "flat_panel of Block": 10}
    assert (now.changes.panels_before, now.changes.panels_now) == (42, ledge + 10)


def test_a_shorter_wall_changes_a_cut_of_each_course(tmp_path):
    _, now = taken_off(tmp_path, 95)
    assert [(p.name, p.plan.flat.units) for p in now.parts] == [("Ledge", 32), ("Block", 10)]
    changed = {(c.wall, c.course) for c in now.changes.cuts}
    assert changed == {("W1", course) for course in range(8)}
    assert now.errors == ()


def test_panels_keep_their_numbers_and_new_ones_have_none_of_another_product(both):
    before, now = both
    assert stocks(now, "W2") == stocks(before, "W2") == {f"F{n}" for n in range(33, 43)}
    new = stocks(now, "W1") - {f"F{n}" for n in range(1, 33)}
    assert new == {f"F{n}" for n in range(43, 43 + now.parts[0].plan.flat.units - 32)}
    ids = [u.id for u in now.plan.units]
    assert len(set(ids)) == len(ids) == now.plan.flat.units


def test_a_wall_of_the_other_product_changes_no_cut(both):
    _, now = both
    assert {c.wall for c in now.changes.cuts} == {"W1"}


def test_a_sheet_is_written_that_a_takeoff_takes(tmp_path):
    folder_of(tmp_path)
    drawn = write_dxf(drawing(wall=[(0, 0, 96, 48)]), tmp_path / "front.dxf")
    job, sheet = tmp_path / "job.toml", tmp_path / "site.toml"
    asked = ["site", str(drawn), "--job", str(job), "-o", str(sheet)]
    made = CliRunner().invoke(main, asked)
    assert made.exit_code == 0, made.output
    assert load_site(sheet).path == sheet
    written = sheet.read_text(encoding="utf-8")
    assert "[W1]" in written and "[W2]" in written
