"""A large drawing's layers are listed from a sample: what is counted is exact, what is measured is
told."""

from __future__ import annotations

import ezdxf
import numpy as np
import pytest
from conftest import ROOT
from drawings import job
from odd_files import ascii_of, document

from dxf2veneer.drawing import survey as module
from dxf2veneer.drawing import survey_drawing
from dxf2veneer.drawing.file.sample import _share, _spaced, sample
from dxf2veneer.wording import say


def crowded(lines=300, boxes=60):
    """The elevation of the odd files with lines on three layers and boxes on a fourth.

    A-BOXES   60 boxes side by side, 10 wide, 12 apart
    """
    doc = document()
    space = doc.modelspace()
    for n in range(lines):
        space.add_line((n, 300), (n, 309), dxfattribs={"layer": f"A-LIN{n % 3}"})
    for n in range(boxes):
        x = n * 12
        space.add_lwpolyline(
            [(x, 400), (x + 10, 400), (x + 10, 410), (x, 410)],
            close=True,
            dxfattribs={"layer": "A-BOXES"},
        )
    for n in range(7):
        space.add_text(f"NOTE {n}", dxfattribs={"layer": "A-LIN0"})
    return doc


def surveys(doc, folder, monkeypatch, outlines, others):
    """The survey of a sample, and that of the whole."""
    path = folder / "drawing.dxf"
    path.write_bytes(ascii_of(doc))
    monkeypatch.setattr("dxf2veneer.drawing.file.sample.SAMPLE_OUTLINES", outlines)
    monkeypatch.setattr("dxf2veneer.drawing.file.sample.SAMPLE_OTHERS", others)
    of_sample = survey_drawing(path)
    monkeypatch.setattr(module, "sample", None)
    return of_sample, survey_drawing(path)


def test_numbers_of_entities_are_exact(tmp_path, monkeypatch):
    some, whole = surveys(crowded(), tmp_path, monkeypatch, 20, 30)
    assert {x.name: dict(x.counts) for x in some.layers} == {
        x.name: dict(x.counts) for x in whole.layers
    }
    (notice,) = [n for n in some.notices if n.code == "SURVEY_SAMPLED"]
    # 300 lines less 7 on each of three layers ((30 - 7 texts) / 3),
    # 60 boxes less 18 (20 - wall - window)
    assert "4 layers a sample was measured (321 entities" in say(notice.message)


def test_layers_with_few_outlines_are_measured_whole_and_large_ones_across_their_extent(
    tmp_path, monkeypatch
):
    some, whole = surveys(crowded(), tmp_path, monkeypatch, 20, 30)
    few = {x.name: x for x in some.layers}
    many = {x.name: x for x in whole.layers}
    assert few["A-WALL"] == many["A-WALL"]
    assert few["A-OPNG"] == many["A-OPNG"]
    assert few["A-BOXES"].closed_outlines == 18
    assert many["A-BOXES"].width * 0.9 < few["A-BOXES"].width <= many["A-BOXES"].width


def test_drawing_that_is_not_large_is_looked_at_whole(tmp_path, monkeypatch):
    some, whole = surveys(crowded(), tmp_path, monkeypatch, 62, 900)
    assert some == whole
    assert "SURVEY_SAMPLED" not in {n.code for n in some.notices}


def nested():
    """The elevation with references: two deep, in rows, on other layers, tagged, of an empty block.

    PANE    a line on 0, a circle on A-GLASS
    SASH    PANE on A-SASH in 2 columns and 3 rows, PANE on 0, a box on 0
    """
    doc = document()
    pane, sash = doc.blocks.new("PANE"), doc.blocks.new("SASH")
    doc.blocks.new("NOTHING")
    pane.add_line((0, 0), (3, 3))
    pane.add_circle((1, 1), 1, dxfattribs={"layer": "A-GLASS"})
    sash.add_blockref(
        "PANE",
        (0, 0),
        dxfattribs={
            "layer": "A-SASH",
            "column_count": 2,
            "row_count": 3,
            "column_spacing": 4,
            "row_spacing": 4,
        },
    )
    sash.add_blockref("PANE", (20, 0))
    sash.add_lwpolyline([(0, 0), (9, 0), (9, 9)], close=True)
    for n in range(5):
        placed = doc.modelspace().add_blockref(
            "SASH", (40 * n, 300), dxfattribs={"layer": "A-FRAME"}
        )
        placed.add_attrib("MARK", f"W{n}", (40 * n, 290), dxfattribs={"layer": "A-TAGS"})
    doc.modelspace().add_blockref("NOTHING", (0, 0), dxfattribs={"layer": "A-FRAME"})
    return doc


@pytest.mark.parametrize("most", [1, 20, 50])
def test_references_beyond_the_limit_are_counted_without_being_opened(most, tmp_path):
    # one SASH: 7 lines (6 on A-SASH, 1 on A-FRAME), 7 circles, a box;
    # with PANE's references 8 or more are followed
    path = tmp_path / "drawing.dxf"
    path.write_bytes(ascii_of(nested()))
    whole, some = survey_drawing(path), survey_drawing(path, job(limits__entities=most))
    counts = {x.name: dict(x.counts) for x in some.layers}
    assert counts == {x.name: dict(x.counts) for x in whole.layers}
    assert counts["A-SASH"] == {"LINE": 30}
    assert counts["A-FRAME"] == {"LINE": 5, "LWPOLYLINE": 5, "INSERT": 1}
    assert counts["A-GLASS"] == {"CIRCLE": 35}
    assert counts["A-TAGS"] == {"ATTRIB": 5}
    assert "SURVEY_SAMPLED" in {n.code for n in some.notices}
    assert "SURVEY_SAMPLED" not in {n.code for n in whole.notices}


@pytest.mark.parametrize("path", sorted((ROOT / "samples").glob("*.dxf")), ids=lambda p: p.stem)
def test_samples_survey_the_same(path, monkeypatch):
    assert len(sample(path.read_bytes(), None).content) == path.stat().st_size
    some = survey_drawing(path)
    monkeypatch.setattr(module, "sample", None)
    assert some == survey_drawing(path)


def test_curves_of_blocks_beyond_the_limit_are_counted(tmp_path, monkeypatch):
    doc = ezdxf.new(units=1)
    doc.blocks.new("PANE").add_circle((0, 0), 4)
    for n in range(9):
        doc.modelspace().add_blockref("PANE", (n * 10, 0), dxfattribs={"layer": "A-GLAZ"})
    doc.saveas(tmp_path / "drawing.dxf")
    monkeypatch.setattr(module, "SURVEY_CURVES", 5)
    survey = survey_drawing(tmp_path / "drawing.dxf")
    (layer,) = [x for x in survey.layers if x.name == "A-GLAZ"]
    assert layer.counts == (("CIRCLE", 9),)
    assert layer.closed_outlines == 5
    assert any("(4 entities were only counted)" in say(n.message) for n in survey.notices)


@pytest.mark.parametrize(
    ("sizes", "most", "each"),
    [
        ([3, 5, 100], 30, 22),
        ([3, 5, 100], 108, 100),
        ([50, 50], 30, 15),
        ([9] * 40, 30, 1),
        ([], 30, 1),
    ],
)
def test_small_groups_stay_whole_and_the_others_share_what_is_left(sizes, most, each):
    assert _share(np.array(sizes, np.int64), most) == each


def test_sample_is_spaced_evenly():
    assert _spaced(np.arange(10), np.zeros(10, np.int64), 5).tolist() == [0, 2, 4, 6, 8]
