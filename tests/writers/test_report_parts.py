"""Parts of the report below the elevations: the sketch, which says what it is, and the appendix at
the end."""

from __future__ import annotations

import dataclasses
import re

from laid_out import laid_out
from takeoffs import takeoff
from test_report import Page

from dxf2veneer.writers.report.page import report_text
from dxf2veneer.writers.report.pdf import content_of


def part(page, id):
    """The text of a section of the page."""
    return re.search(rf'<section id="{id}".*?</section>', page, re.DOTALL)[0]


def test_the_sketch_says_in_words_and_to_a_screen_reader_that_it_is_one():
    sketch = part(report_text(laid_out()), "sketch")
    told = "A sketch, not a photograph"
    assert f'<p class="quiet">{told}' in sketch
    assert re.search(rf'<svg [^>]*role="img" aria-label="{told}', sketch)


def test_the_sketch_shows_every_wall_and_brings_no_style_of_its_own():
    """The page's policy names one style by its digest; another, or one in an attribute, is void."""
    page = report_text(laid_out())
    sketch = part(page, "sketch")
    assert all(f'id="{wall.wall.id}-veneer"' in sketch for wall in laid_out().walls)
    assert page.count("<style>") == 1 and "style=" not in sketch
    ids = [attrs["id"] for _, attrs in Page(page).elements if "id" in attrs]
    assert len(ids) == len(set(ids))


def test_the_sketch_stands_behind_the_elevations_and_the_appendix_is_last():
    shown = re.findall(
        r'<section id="([^"]+)"', report_text(laid_out()).replace(' class="sheet"', "")
    )
    assert shown.index("sketch") == shown.index("W2") + 1 and shown[-1] == "appendix"


def test_settings_and_bounds_stand_in_the_appendix_and_nowhere_else():
    page = report_text(laid_out())
    settings, bounds = "Settings and rules behind the numbers", "Fewest panels of each kind"
    for title in (settings, bounds):
        assert page.count(title) == 1 and title in part(page, "appendix")
    by_area = part(report_text(takeoff()), "appendix")
    assert settings in by_area and bounds not in by_area


def test_cautions_do_not_move_into_the_appendix():
    page = report_text(laid_out())
    assert "Cautions" in part(page, "basis") and "Cautions" not in part(page, "appendix")


def test_the_pdf_ends_with_the_same_appendix():
    last = content_of(laid_out())["sections"][-1]
    assert last["title"] == "Appendix: settings and bounds"
    titles = [block["title"] for block in last["blocks"] if block["kind"] == "table"]
    assert len(titles) == 2 and titles[0] == "Settings and rules behind the numbers"


def test_a_job_without_walls_has_no_sketch():
    page = report_text(dataclasses.replace(takeoff(), walls=()))
    assert 'id="sketch"' not in page and 'href="#sketch"' not in page
