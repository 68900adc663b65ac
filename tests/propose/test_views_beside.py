"""What stands on a sheet beside its views: north arrows, schedules, legends, details in circles."""

import pytest
from drawn_sheets import box, facade, scene, sheet, text

from dxf2veneer.propose.views import find_views
from dxf2veneer.propose.views.levels import level_value
from dxf2veneer.propose.views.titles import kind_named


def kinds(document):
    return sorted(v.kind for v in find_views(scene(document)))


def test_a_north_arrow_is_no_elevation():
    """
      N
     .^.     a rhomb in a circle of 900
    ( | )
     `v'
    """
    document, space = sheet()
    facade(space, 0, 0)
    space.add_circle((16000, 3000), 900)
    points = [(16000, 3900), (16250, 3000), (16000, 2100), (15750, 3000)]
    space.add_lwpolyline(points, close=True)
    text(space, "N", 15900, 4100)
    assert kinds(document) == ["elevation", "other"]


def test_what_is_drawn_in_a_circle_is_a_detail():
    """Three boards and a sloped one, leaders past the circle of 1500 to a word beside it."""
    document, space = sheet()
    facade(space, 0, 0)
    space.add_circle((16000, 3000), 1500)
    for k in range(3):
        box(space, 15700 + 150 * k, 2000, 15800 + 150 * k, 3400)
    for y in (3400, 3600):
        space.add_line((15200, y), (16900, y + 500))
    for k, word in enumerate(("Gutter", "Fascia board", "Stone")):
        space.add_line((15900, 2400 + 400 * k), (17800, 2300 + 400 * k))
        text(space, word, 17900, 2300 + 400 * k)
    assert kinds(document) == ["detail", "elevation"]


@pytest.mark.parametrize("loose", [False, True])
def test_a_schedule_whose_cells_are_drawn_one_by_one_is_no_elevation(loose):
    """
    +------+------+------+
    | [  ] | [ ]  | [  ] |     cells of 2400 x 2400 over cells of 700 with a name in each
    +------+------+------+
    | W1 1000 x 1200 ... |
    +------+------+------+
    """
    document, space = sheet()
    facade(space, 0, 0)
    for k in range(3):
        x = 14000 + 2400 * k
        box(space, x, 700, x + 2400, 3100, loose=loose)
        box(space, x, 0, x + 2400, 700, loose=loose)
        box(space, x + 700, 1200, x + 1700, 2400)
        box(space, x + 780, 1280, x + 1620, 2320)
        text(space, f"W{k + 1} 1000 x 1200", x + 200, 250)
    assert kinds(document) == ["elevation", "other"]


def test_a_facade_of_panels_with_names_in_its_lowest_row_alone_is_one():
    """Panels of 2000 x 700 in eight rows: their lowest is named, but the ground runs past."""
    document, space = sheet()
    space.add_line((-1500, 0), (9500, 0))
    for k in range(4):
        for row in range(8):
            box(space, 2000 * k, 700 * row, 2000 * k + 2000, 700 * row + 700)
        text(space, f"P{k + 1}", 2000 * k + 900, 200)
    assert kinds(document) == ["elevation"]


@pytest.mark.parametrize("words", ["1. Brick - 37", "12) Stone veneer +5", "3. Cegła - 63"])
def test_an_entry_of_a_list_is_no_level(words):
    assert level_value(words) is None


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("Detal okapu", "detail"),
        ("Tableau des menuiseries", "other"),
        ("Zestawienie okien", "other"),
        ("Fensterliste", "other"),
        ("Uwagi", "other"),
    ],
)
def test_titles_of_details_and_lists_in_other_languages(words, kind):
    assert kind_named(words) == (kind, True)
