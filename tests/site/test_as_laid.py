"""A rule that does not hold between laid courses is neither broken nor forced: it is as laid.

Joints of neighboring courses stand at least 8 in apart (L3). What two laid courses break no plan
can mend; what a laid course and the next one break is the plan's.
"""

import json

import openpyxl
import pytest
from builders import JOB, drawing, write_dxf
from site_sheets import sheet

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.messages import Message
from dxf2veneer.basics.notices import Level
from dxf2veneer.cli.terminal import summary
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.origin import Origin
from dxf2veneer.model import LaidCourse, RuleBreak
from dxf2veneer.verify.plan import with_laid
from dxf2veneer.wording import say
from dxf2veneer.writers.result.writing import write_result
from dxf2veneer.writers.words import places_of
from dxf2veneer.writers.workbook.writing import write_workbook


@pytest.fixture(scope="module")
def takeoff(tmp_path_factory):
    """A wall of 240 x 64, eight courses, plain at both sides; of the two lowest each joint stands
    4 in from one below.

    course 2 |  20  |  36  |  36  |  36  |  36  |  36  |  40 ... in two pieces of 20
    course 1 | 16 |  36  |  36  |  36  |  36  |  36  |  44 ...   in two pieces of 22
    """
    folder = tmp_path_factory.mktemp("laid")
    path = write_dxf(drawing(wall=[(0, 0, 240, 64)]), folder / "laid.dxf")
    joints = [[16 + 36 * n for n in range(6)] + [218], [20 + 36 * n for n in range(6)] + [222]]
    text = f"[W1]\nlaid = 2\njoints = [{{ course = 1, at = {joints[0]} }}, "
    sheet(folder, text + f"{{ course = 2, at = {joints[1]} }}]\n")
    return take_off(path, with_settings(JOB, site__file=str(folder / "site.toml")))


def test_breaks_between_laid_courses_are_as_laid(takeoff):
    """Seven joints of the second course, each 4 in from one of the first."""
    near = [b for b in takeoff.plan.breaks if b.rule == "L3" and b.course == 1]
    assert len(near) == 7
    assert {b.state for b in near} == {"as laid"}
    assert not [b for b in takeoff.plan.breaks if b.rule == "L3" and b.state == "broken"]


def test_every_output_says_so(takeoff, tmp_path):
    own = [n for n in takeoff.notices if n.code == "RULE_AS_LAID"]
    assert own
    assert {n.level for n in own} == {Level.INFO}
    assert all(" as laid " in say(n.message) for n in own)
    assert any("as laid" in text for text in summary(takeoff) if text.startswith("Pieces:"))
    write_result(takeoff, tmp_path / "result.json")
    breaks = json.loads((tmp_path / "result.json").read_text())["stock"]["breaks"]
    assert sum(b["as_laid"] for b in breaks if b["rule"] == "L3") == 7
    write_workbook(takeoff, tmp_path / "book.xlsx")
    check = openpyxl.load_workbook(tmp_path / "book.xlsx")["Rule check"]
    cells = [c.value for row in check.iter_rows() for c in row]
    assert cells.count("as laid") >= 7
    marks = [p for p in places_of(takeoff) if "As laid" in p.text]
    assert len(marks) == sum(b.state == "as laid" for b in takeoff.plan.breaks)
    assert {p.level for p in marks} == {Level.INFO}


def test_what_reaches_beyond_laid_courses_is_broken():
    """A mitred corner of which one side alone is laid; its other side can still be cut anew."""
    one = RuleBreak("L13", "W2", 0, (0.0, 4.0), Message("m"), beside=(("W1", 0),))
    sides = [LaidCourse(wall, 0, None, Origin("job")) for wall in ("W2", "W1")]
    assert with_laid([one], sides[:1])[0].state == "broken"
    assert with_laid([one], sides)[0].state == "as laid"
    assert with_laid([one], [])[0].state == "broken"
