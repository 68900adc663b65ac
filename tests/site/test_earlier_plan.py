"""An earlier result as the plan before: what is cut by it stays cut.

+----------------+    +---------+
| W1  132 x 40   |    | W2 132  |      five courses each; W1 with corners on both sides
+----------------+    +---------+
"""

import dataclasses
import json

import pytest
from builders import JOB, PRODUCT, drawing, line, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.bidding import AlternateChoice
from dxf2veneer.config.blend import Blend, Color
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import with_settings
from dxf2veneer.wording.changes import measured_words
from dxf2veneer.writers.result import write_result

WIDER = "[{wall}]\nwidths = [{{ at = 20, measured = {width} }}]\n"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wall")
    path = write_dxf(
        drawing(
            wall=[(0, 0, 132, 40), (200, 0, 332, 40)],
            outside_corner=[line(0, 0, 0, 40), line(132, 0, 132, 40)],
        ),
        folder / "two.dxf",
    )
    return folder, path


def on_site(folder, path, text, before=None, job=JOB):
    sheet = folder / "site.toml"
    sheet.write_text(text, encoding="utf-8")
    asked = {"site__file": str(sheet)}
    return take_off(path, with_settings(job, **asked, site__before=before and str(before)))


def written(folder, takeoff, name="earlier.json"):
    write_result(takeoff, folder / name)
    return folder / name


def pieces(takeoff):
    """Of each wall what is cut, from which panel and where in it."""
    return [
        [
            (p.course, p.number, p.unit, p.stock, *(round(x, 6) for x in (p.x0, p.x1, p.at)))
            for p in w.courses.pieces
        ]
        for w in takeoff.walls
    ]


def test_a_plan_of_other_settings_is_kept_piece_for_piece(made):
    """Planned for the look, then the settings go back: cut is cut."""
    folder, path = made
    first = take_off(path, with_settings(JOB, plan__look="quiet", plan__kerf=0.25))
    again = on_site(folder, path, "[W1]\n", written(folder, first))
    assert pieces(again) == pieces(first)
    assert [u.id for u in again.plan.units] == [u.id for u in first.plan.units]
    assert again.changes.cuts == ()
    assert not again.errors
    assert measured_words(again.site).endswith("; the plan of earlier.json is kept")
    assert "SITE_BEFORE_KEPT" in {n.code for n in again.notices}
    other = take_off(path, with_settings(JOB, plan__kerf=0.25))
    assert pieces(other) != pieces(first)  # the plan as drawn is another one


def test_a_second_round_changes_what_was_measured_in_it_alone(made):
    """W1 was half an inch wider at first; then W2 is found a quarter of an inch wider."""
    folder, path = made
    first = on_site(folder, path, WIDER.format(wall="W1", width=132.5))
    both = WIDER.format(wall="W1", width=132.5) + WIDER.format(wall="W2", width=132.25)
    second = on_site(folder, path, both, written(folder, first))
    assert pieces(second)[0] == pieces(first)[0]
    assert [(c.wall, c.course) for c in second.changes.cuts] == [("W2", n) for n in range(5)]
    assert second.changes.panels_before == first.plan.total
    assert not second.errors
    back = on_site(folder, path, "[W1]\n", written(folder, first))  # and it was a slip of the tape
    assert {c.wall for c in back.changes.cuts} == {"W1"}
    assert not back.errors


def test_the_same_twice_gives_the_same_plan(made):
    folder, path = made
    before = written(folder, take_off(path, JOB))
    text = WIDER.format(wall="W2", width=131.5)
    one, two = (on_site(folder, path, text, before) for _ in range(2))
    assert one.plan == two.plan
    assert one.walls == two.walls
    drawn = on_site(folder, path, text)
    assert pieces(one) == pieces(drawn)  # the earlier plan is the one as drawn


def _broken(result, how):
    if how == "walls":
        result["walls"].pop()
    elif how == "panel":
        result["product"]["panel_length_in"] = 48.0
    elif how == "place":
        for piece in result["walls"][0]["pieces"]:
            piece["x0_in"], piece["x1_in"] = piece["x0_in"] + 300.0, piece["x1_in"] + 300.0
    elif how == "area":
        result["stock"] = None
    elif how == "schema":
        result["schema"] = "something"
    else:
        del result["stock"]["unit_list"][0]["parts"]
    return result


@pytest.mark.parametrize(
    ("how", "code"),
    [
        ("walls", "earlier-other-walls"),
        ("panel", "earlier-other-panel"),
        ("place", "earlier-elsewhere"),
        ("area", "earlier-without-plan"),
        ("schema", "earlier-no-result"),
        ("parts", "earlier-no-result"),
    ],
)
def test_what_is_no_plan_of_this_job_is_refused_in_one_line(made, how, code):
    folder, path = made
    before = written(folder, take_off(path, JOB), f"{how}.json")
    result = json.loads(before.read_text("utf-8"))
    before.write_text(json.dumps(_broken(result, how)), encoding="utf-8")
    with pytest.raises(SettingsError) as error:
        on_site(folder, path, "[W1]\n", before)
    assert error.value.message.code == code


@pytest.mark.parametrize(("text", "code"), [(None, "file-missing"), ("{", "earlier-not-json")])
def test_a_file_that_can_not_be_read_is_refused(made, text, code):
    folder, path = made
    before = folder / "no.json"
    if text is not None:
        before.write_text(text, encoding="utf-8")
    with pytest.raises(SettingsError) as error:
        on_site(folder, path, "[W1]\n", before)
    assert error.value.message.code == code


def test_without_a_sheet_an_earlier_plan_is_refused(made):
    with pytest.raises(SettingsError) as error:
        take_off(made[1], with_settings(JOB, site__before="earlier.json"))
    assert error.value.message.code == "before-without-site"


def test_an_alternate_is_ordered_for_the_walls_as_measured(made):
    """W1 is 4 in wider than drawn. The bid without W2 orders what a drawing of W1 alone does, drawn
    as wide as it is; the bid's own plan and changed cuts are the same with it and without."""
    folder, path = made
    text = WIDER.format(wall="W1", width=136)
    choice = {"bid__alternates": (AlternateChoice("Less", ("W2",), None),)}
    plain = on_site(folder, path, text)
    asked = on_site(folder, path, text, job=with_settings(JOB, **choice))
    assert pieces(asked) == pieces(plain)
    assert asked.changes == plain.changes
    assert not asked.errors
    (less,) = asked.order.alternates
    wide = write_dxf(
        drawing(wall=[(0, 0, 136, 40)], outside_corner=[line(0, 0, 0, 40), line(136, 0, 136, 40)]),
        folder / "wide.dxf",
    )
    assert ordered(less.order) == ordered(take_off(wide, JOB).order)


def ordered(order):
    return {one.key: one.chosen.packages for one in order.lines}


def test_panels_keep_their_colors(tmp_path, monkeypatch):
    """Three colors; one wall is found wider, and a new panel more has a color too."""
    colors = Color("Tan", 30.0), Color("Buff", 60.0), Color("Gray", 10.0)
    product = dataclasses.replace(PRODUCT, blend=Blend(colors))
    monkeypatch.setattr("dxf2veneer.app.pipeline.load_product", lambda path: product)
    path = write_dxf(drawing(wall=[(0, 0, 240, 80), (400, 0, 640, 80)]), tmp_path / "front.dxf")
    drawn = take_off(path, JOB)
    before = {u.id: u.color for u in drawn.plan.units}
    for earlier in (None, written(tmp_path, drawn)):
        now = on_site(tmp_path, path, WIDER.format(wall="W1", width=245), earlier)
        after = {u.id: u.color for u in now.plan.units}
        assert now.changes.cuts
        assert {u: after[u] for u in after if u in before} == {
            u: before[u] for u in before if u in after
        }
        assert set(after.values()) <= {color.name for color in colors}
        assert not now.errors
