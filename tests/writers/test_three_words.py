"""Kept, forced, broken: each place of the outputs follows when a drawing or a proof changes.

A bay with a face of 40 in keeps every rule. With one of 21 in the two sides of a corner come from
two panels in every second course, and no layout does better: forced. The same without the proof is
broken.
"""

import dataclasses
import itertools
import json
import re

import ezdxf
import openpyxl
import pytest
from builders import JOB, drawing, line, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.app.public import write_overlay, write_report, write_result, write_workbook
from dxf2veneer.cli.terminal import summary
from dxf2veneer.verify.plan import judge
from dxf2veneer.verify.plan.findings import notices_of
from dxf2veneer.wording import say
from dxf2veneer.wording.rules import WHOSE_RULES

WORDS = ("forced", "broken")


def taken_off(face, folder):
    a, b = 120, 120 + face
    drawn = drawing(
        wall=[(0, 0, 100, 48), (a, 0, b, 48), (b + 20, 0, b + 120, 48)],
        bay=[line(x, 0, x, 48) for x in (100, a, b, b + 20)],
        texts=[
            ("bay", tag, (x, 10))
            for tag, x in (("P", 98), ("P", a + 2), ("Q", b - 2), ("Q", b + 22))
        ],
    )
    return take_off([write_dxf(drawn, folder / f"bay-{face}.dxf")], JOB)


def without_proof(takeoff):
    """The takeoff as it would be if the planner had proved nothing."""
    plan = takeoff.plan
    breaks = judge(takeoff.walls, plan, takeoff.job, takeoff.product)
    others = [n for n in takeoff.notices if n.code not in ("RULE_YIELDS", "RULE_BROKEN")]
    own = notices_of(breaks, takeoff.walls)
    return dataclasses.replace(
        takeoff,
        plan=dataclasses.replace(plan, breaks=breaks, exceptions=()),
        notices=(*others, *own),
    )


@pytest.fixture(scope="module")
def takeoffs(tmp_path_factory):
    folder = tmp_path_factory.mktemp("bays")
    forced = taken_off(21, folder)
    return {"kept": taken_off(40, folder), "forced": forced, "broken": without_proof(forced)}


def words_in(text):
    """Which of the two words a text uses of a rule."""
    return {word for word in WORDS if re.search(rf"\b{word}\b", text, re.IGNORECASE)}


def terminal(takeoff, _):
    told = "\n".join(summary(takeoff))
    kept = f"every rule of laying is kept ({WHOSE_RULES})"
    assert (kept in told) == (not takeoff.plan.breaks)
    (line_,) = [text for text in told.splitlines() if text.startswith("Pieces:")]
    return {w for w in WORDS if re.search(rf"at \d+ places? \(bay mitre\) {w}", line_)}


def notices(takeoff, _):
    return {
        word
        for notice in takeoff.notices
        if notice.code in ("RULE_YIELDS", "RULE_BROKEN")
        for word in words_in(say(notice.message).split(":")[0])
    }


def levels(takeoff, _):
    codes = {"RULE_YIELDS": "forced", "RULE_BROKEN": "broken"}
    return {codes[n.code] for n in takeoff.notices if n.code in codes}


def result(takeoff, folder):
    write_result(takeoff, folder / "result.json")
    found = json.loads((folder / "result.json").read_text())
    return {("broken", "forced")[b["forced"]] for b in found["stock"]["breaks"]}


def rule_check(takeoff, folder):
    write_workbook(takeoff, folder / "book.xlsx")
    sheet = openpyxl.load_workbook(folder / "book.xlsx")["Rule check"]
    cells = [str(c.value) for row in sheet.iter_rows() for c in row]
    return {c.lower() for c in cells if c.lower() in WORDS}


def overlay(takeoff, folder):
    write_overlay(takeoff, folder / "overlay.dxf")
    texts = [e.dxf.text for e in ezdxf.readfile(folder / "overlay.dxf").modelspace().query("TEXT")]
    return {word for text in texts if "L13" in text for word in words_in(text)}


def report(takeoff, folder):
    write_report(takeoff, folder / "report.html")
    text = (folder / "report.html").read_text()
    return {
        word
        for sentence in re.findall(r"bay mitre \(L13\): [^<]*?\. (Forced|Broken): ", text)
        for word in words_in(sentence)
    }


@pytest.mark.parametrize("place", [terminal, notices, levels, result, rule_check, overlay, report])
def test_every_place_says_the_same_word(takeoffs, tmp_path, place):
    assert {word: place(takeoff, tmp_path) for word, takeoff in takeoffs.items()} == {
        "kept": set(),
        "forced": {"forced"},
        "broken": {"broken"},
    }


def test_an_excuse_stands_only_where_a_rule_does_not_hold(takeoffs):
    for takeoff in takeoffs.values():
        places = {(b.rule, b.wall, b.course) for b in takeoff.plan.breaks}
        assert {(e.rule, e.wall, e.course) for e in takeoff.plan.exceptions} <= places


def test_the_bay_is_judged_by_the_panels_of_its_pieces(takeoffs):
    # the pieces on both sides of each corner, by the panel that they name
    for word, takeoff in takeoffs.items():
        rows = [
            [[p for p in w.courses.pieces if p.course == course] for w in takeoff.walls]
            for course in range(6)
        ]
        parted = [
            sum(a[-1].stock != b[0].stock for a, b in itertools.pairwise(row)) for row in rows
        ]
        assert sum(parted) == len(takeoff.plan.breaks) == (0 if word == "kept" else 3)
