"""Who reaches the report: with keys alone, on a dark screen, on a phone.

W1 of ``laid_out()`` (its sketch stands there) has two courses; keys go from piece to piece there:

    course 2 (index 1)   | 1 | 2 ...        up   v down
    course 1 (index 0)   | 1 | 2 | 3        left <  > right
"""

from __future__ import annotations

import re
import shutil

import pytest
from laid_out import laid_out
from test_report import Page
from test_report_browser import found

from dxf2veneer.writers.elevation.picture import style_text
from dxf2veneer.writers.report.page import report_text

needs_browser = pytest.mark.skipif(
    not (shutil.which("chromium") or shutil.which("chromium-browser")),
    reason="no chromium on this machine",
)
KEYS = """
    const stage = doc.querySelector('#W1 .stage');
    const press = (key, on) => (on || stage).dispatchEvent(
      new win.KeyboardEvent('keydown', {key, bubbles: true, cancelable: true}));
    const here = () => doc.querySelector('.p.here').dataset.p;
"""
COLOR = re.compile(r"#(?:[0-9a-f]{3}){1,2}\b")


@needs_browser
def test_arrow_keys_go_from_piece_to_piece_and_stop_at_the_ends(tmp_path):
    told = found(tmp_path, report_text(laid_out()), KEYS + """
        return ['ArrowRight', 'ArrowRight', 'ArrowLeft', 'ArrowLeft', 'ArrowUp', 'ArrowDown',
          'ArrowDown', 'End', 'ArrowRight', 'Home'].map((key) => { press(key); return here(); });
    """)  # fmt: skip
    assert told[:4] == ["W1/0/1", "W1/0/2", "W1/0/1", "W1/0/1"]
    # the piece above the middle of the first, which is 36 in long: 24 in at the left of course 2
    assert told[4] == "W1/1/1" and told[5:7] == ["W1/0/1", "W1/0/1"]
    assert told[7] == told[8] != "W1/0/1" and told[9] == "W1/0/1"


@needs_browser
def test_keys_tell_what_the_pointer_tells_and_it_is_read_out(tmp_path):
    told = found(tmp_path, report_text(laid_out()), KEYS + """
        const card = doc.getElementById('card'), said = doc.getElementById('told');
        over(doc.querySelector('[data-p="W1/1/1"]'));
        const pointed = card.textContent;
        press('ArrowRight'); press('ArrowUp');
        return [here(), card.textContent === pointed, said.textContent, said.getAttribute('role')];
    """)  # fmt: skip
    assert told[:2] == ["W1/1/1", True] and told[3] == "status"
    assert 'Cut length 24"' in told[2] and 'W2, course 1, piece 2, 11 7/8"' in told[2]


@needs_browser
def test_enter_leads_to_the_card_and_escape_back_to_the_drawing(tmp_path):
    told = found(tmp_path, report_text(laid_out()), KEYS + """
        stage.focus(); press('ArrowRight'); press('ArrowUp'); press('Enter');
        const at = doc.activeElement.textContent;
        press('Escape', doc.activeElement);
        return [at, doc.activeElement === stage, doc.getElementById('card').hidden];
    """)  # fmt: skip
    assert told == ['W2, course 1, piece 2, 11 7/8"', True, True]


@needs_browser
def test_on_a_phone_the_smallest_text_of_a_drawing_is_nine_pixels_high(tmp_path):
    told = found(tmp_path, report_text(laid_out()), """
        return [...doc.querySelectorAll('.stage svg')].map((picture) => {
          const scale = picture.getScreenCTM().a;
          const texts = [...picture.querySelectorAll('text')];
          const seen = texts.filter((text) => text.getClientRects().length);
          return [picture.classList.contains('from-afar'), Math.min(...seen.map(
            (t) => scale * parseFloat(win.getComputedStyle(t).fontSize)))];
        }).concat([[doc.documentElement.scrollWidth <= win.innerWidth, 99]]);
    """, width=390)  # fmt: skip
    *drawings, page = told
    assert all(not afar and least > 8.9 for afar, least in drawings) and page[0]


def test_every_color_of_the_drawings_has_its_dark_one_and_paper_none():
    page = report_text(laid_out())
    style = page[page.index("<style>") : page.index("</style>")]
    # white on dark red stays as it is; paper is no screen and stays light
    dark = style[style.index("@media screen and (prefers-color-scheme: dark)") :]
    for rule in style_text().splitlines():
        for name in rule[: rule.index("{")].split(","):
            if COLOR.search(rule) and not name.strip().startswith(
                (".place.warning", ".place.error")
            ):
                assert re.search(rf"{re.escape(name.strip())}(,| {{)", dark), name


def test_dark_texts_stand_out_from_their_grounds():
    """WCAG 2.2, 1.4.3: contrast of at least 4.5 to 1, by its formula of relative luminance."""
    page = report_text(laid_out())
    dark = page[page.index("(prefers-color-scheme: dark)") : page.index("</style>")]
    names = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]+)", dark))
    pairs = [(names[a], names["paper"]) for a in ("ink", "quiet", "link", "mark", "alarm")]
    pairs += [(names["alarm"], names["alarm-ground"]), (names["ink"], names["found"])]
    fills = re.findall(r"\.p\.\w+(?:, \.p\.\w+)? { fill: (#[0-9a-f]+)", dark)
    assert len(fills) == 16
    pairs += [(names["ink"], fill) for fill in fills]
    assert all(contrast(*pair) >= 4.5 for pair in pairs), [
        (pair, contrast(*pair)) for pair in pairs if contrast(*pair) < 4.5
    ]


def contrast(one, other):
    def luminance(color):
        digits = color[1:] if len(color) == 7 else "".join(c + c for c in color[1:])
        parts = [int(digits[n : n + 2], 16) / 255 for n in (0, 2, 4)]
        red, green, blue = (
            c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts
        )
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted(map(luminance, (one, other)))
    return (high + 0.05) / (low + 0.05)


def test_a_drawing_says_how_keys_reach_its_pieces():
    page = Page(report_text(laid_out()))
    for stage in page.with_class("stage"):
        ids = {attrs["id"] for _, attrs in page.elements if "id" in attrs}
        assert stage["role"] == "application" and stage["tabindex"] == "0"
        assert set(stage["aria-describedby"].split()) <= ids
        assert "how" in stage["aria-describedby"].split()
