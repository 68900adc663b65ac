"""Colors of the page against WCAG 2.2: contrast of texts 4.5 to 1 (success criterion 1.4.3), of
lines and controls that carry meaning 3 to 1 (1.4.11), by the formula that it gives there.

https://www.w3.org/TR/WCAG22/#dfn-relative-luminance and #dfn-contrast-ratio
"""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

STYLE = (files("dxf2veneer.page") / "assets" / "page.css").read_text(encoding="utf-8")
TEXTS = [
    ("ink", "ground"), ("ink", "card"), ("ink", "paper"), ("ink", "chosen"),
    ("soft", "ground"), ("soft", "card"), ("soft", "paper"),
    ("strong", "card"), ("strong", "ground"), ("on-strong", "strong"),
    ("alert", "alert-ground"), ("alert", "card"), ("alert", "paper"),
    ("drawn", "paper"),
]  # fmt: skip
"""Color of a text and of what it stands on."""
LINES = [("line", "card"), ("line", "ground"), ("strong", "paper"), ("alert", "paper")]


def colors(scheme):
    """The variables of a color scheme."""
    light, dark = re.findall(r":root \{(.*?)\}", STYLE, re.DOTALL)[:2]
    named = re.compile(r"--([a-z-]+): (#[0-9a-f]{3,6});")
    return dict(named.findall(light if scheme == "light" else light + dark))


def luminance(color):
    """Relative luminance of a color, 0 black and 1 white."""
    digits = color[1:] if len(color) == 7 else "".join(2 * c for c in color[1:])
    parts = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """Contrast ratio of two colors, from 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_the_known_values():
    # black on white is 21 to 1; #767676 is the lightest gray that passes on white (WCAG techniques)
    assert contrast("#000", "#fff") == pytest.approx(21.0)
    assert contrast("#767676", "#fff") >= 4.5 > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), TEXTS)
def test_texts_can_be_read(scheme, text, ground):
    found = colors(scheme)
    assert contrast(found[text], found[ground]) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("line", "ground"), LINES)
def test_controls_and_lines_stand_out(scheme, line, ground):
    found = colors(scheme)
    assert contrast(found[line], found[ground]) >= 3.0
