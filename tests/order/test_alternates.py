"""Alternates: other bids beside the first, without some walls or with another product.

80 .-------.    100 .-------.
   |  W1   |        |  W2   |      one outside corner, A: W1's right edge of 80 and W2's left
                                    one of 100
 0 '-------'      0 '-------'
   0     120        160   280
"""

from __future__ import annotations

import pytest
from builders import JOB, as_written, drawing, line, write_dxf
from conftest import ROOT
from refusals import refused

from dxf2veneer.app import laying
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.bidding import AlternateChoice
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import with_settings
from dxf2veneer.wording import say

GENERIC = ROOT / "dxf2veneer" / "config" / "data" / "generic-panel.toml"
FRONT = drawing(
    wall=[(0, 0, 120, 80), (160, 0, 280, 100)],
    outside_corner=[line(120, 0, 120, 80), line(160, 0, 160, 100)],
    texts=[
        ("outside_corner", "A", (123, 20)),
        ("outside_corner", "A", (157, 20)),
        ("name", "ANNEX", (200, 50)),
    ],
)


def taken(tmp_path, *choices, **settings):
    job = with_settings(
        JOB, plan__panels=False, recognise__edge_kind="butt", bid__alternates=choices, **settings
    )
    return take_off([write_dxf(FRONT, tmp_path / "front.dxf")], job)


def measured(order, key):
    return next((entry.chosen.measured for entry in order.lines if entry.key == key), 0.0)


def test_without_a_wall_by_name_or_id_in_any_case(tmp_path):
    found = taken(
        tmp_path,
        AlternateChoice("Small", ("annex",), None),
        AlternateChoice("Other", ("w1",), None),
    )
    small, other = found.order.alternates
    assert (small.name, say(small.what)) == ("Small", "without ANNEX")
    assert (other.name, say(other.what)) == ("Other", "without W1")
    assert measured(found.order, "starter_strip") == 2  # 2 runs of 120 from pieces of 120
    assert measured(small.order, "starter_strip") == measured(other.order, "starter_strip") == 1


def test_what_an_alternate_has_too_little_of_names_it(tmp_path):
    """Two starter strips for both walls, one without the annex."""
    less = as_additions([{"item": "starter_strip", "quantity": -2, "reason": "In the yard"}])
    with refused(SettingsError, match=r"alternate 'Small': .*2 of starter_strip are taken off"):
        taken(tmp_path, AlternateChoice("Small", ("annex",), None), order__additions=less)


def test_a_corner_that_loses_its_higher_side_is_as_high_as_the_other(tmp_path):
    found = taken(
        tmp_path,
        AlternateChoice("Small", ("ANNEX",), None),
        AlternateChoice("Other", ("W1",), None),
    )
    runs = [
        [s.value for s in order.lines[1].chosen.sources]
        for order in (found.order, *(a.order for a in found.order.alternates))
    ]
    assert runs == [[100 / 12], [80 / 12], [100 / 12]]
    assert "CROSS_CHECK" not in [n.code for n in found.notices]


def test_a_corner_without_any_wall_is_gone(tmp_path):
    job = with_settings(
        JOB,
        plan__panels=False,
        recognise__edge_kind="butt",
        bid__alternates=(AlternateChoice("None", ("W1", "W2"), None),),
    )
    front = drawing(
        wall=[*(s.path for s in FRONT.shapes if s.layer == "WALL"), (400, 0, 500, 80)],
        outside_corner=[line(120, 0, 120, 80), line(160, 0, 160, 100)],
    )
    found = take_off([write_dxf(front, tmp_path / "front.dxf")], job)
    assert measured(found.order, "corner_panel") > 0
    assert measured(found.order.alternates[0].order, "corner_panel") == 0


def test_another_product_lays_it_out_anew(tmp_path):
    found = taken(tmp_path)
    low = GENERIC.read_text(encoding="utf-8").replace("height = 8 ", "height = 4 ", 1)
    (tmp_path / "low.toml").write_text(low, encoding="utf-8")
    other = taken(
        tmp_path, AlternateChoice("Low", (), str(tmp_path / "low.toml"))
    ).order.alternates[0]
    assert say(other.what) == f"with {found.product.product.name}"
    # courses half as high take twice as many corner pieces
    assert measured(other.order, "corner_panel") == pytest.approx(
        2 * measured(found.order, "corner_panel")
    )


def test_an_error_in_an_alternate_is_told_with_its_name(tmp_path, monkeypatch):
    monkeypatch.setattr(
        laying,
        "check_laid",
        lambda walls, *rest: [
            Notice("CROSS_CHECK", as_written(f"{len(walls)} walls")),
            Notice("NO_WALL", as_written("no")),
        ],
    )
    found = taken(tmp_path, AlternateChoice("Small", ("ANNEX",), None))
    assert [say(n.message) for n in found.notices if n.code == "CROSS_CHECK"] == [
        "2 walls",
        "alternate 'Small': 1 walls",
    ]
    assert [say(n.message) for n in found.notices if n.code == "NO_WALL"] == ["no"]


@pytest.mark.parametrize(
    ("choice", "told"),
    [
        (
            AlternateChoice("A", ("BARN",), None),
            "alternate 'A': there is no wall BARN; there are: W1, ANNEX",
        ),
        (AlternateChoice("A", ("W1", "ANNEX"), None), "alternate 'A' leaves no wall over"),
        (AlternateChoice("A", (), None), "alternate 'A' changes nothing"),
    ],
)
def test_an_alternate_that_makes_no_sense_is_told(tmp_path, choice, told):
    with refused(SettingsError, match=told):
        taken(tmp_path, choice)
