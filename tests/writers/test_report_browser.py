"""The report in a real browser without a screen: no script errors, what pointing and tapping do,
both widths.

A page of ours frames the report at a width, points at things in it and writes down what it finds:

    +--------------------------+
    |  +------ report ------+  |     <pre id="found">{"wide": 360, ...}</pre>
    |  +--------------------+  |
    +--------------------------+
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re
import shutil
import struct
import subprocess

import pytest
from laid_out import laid_out
from takeoffs import takeoff
from test_report import EVIL, renamed

from dxf2veneer.writers.report.page import report_text

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = pytest.mark.skipif(BROWSER is None, reason="no chromium on this machine")


def browse(tmp_path, *words):
    """Run the browser; what it printed and what it complained of."""
    command = [
        BROWSER,
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--hide-scrollbars",
        "--enable-logging=stderr",
        f"--user-data-dir={tmp_path / 'profile'}",
        *words,
    ]
    done = subprocess.run(command, capture_output=True, timeout=300, check=False)
    complaints = [
        line for line in done.stderr.decode(errors="replace").splitlines() if ":CONSOLE" in line
    ]
    return done.stdout.decode("utf-8", errors="replace"), complaints


def found(tmp_path, page, script, *, width=1280):
    """What a script finds in the report shown at a width; ``doc`` and ``win`` are the report's."""
    frame = tmp_path / "frame.html"
    frame.write_text(
        f'<!DOCTYPE html><meta charset="utf-8"><iframe id="f" width="{width}" height="800" '
        f'style="border:0" srcdoc="{html.escape(page)}"></iframe><pre id="found"></pre>'
        "<script>window.addEventListener('load', () => { const win = "
        "document.getElementById('f').contentWindow, doc = win.document;"
        "const over = (e) => e.dispatchEvent(new win.PointerEvent('pointerover', {bubbles: true, "
        "pointerType: 'mouse'}));"
        "document.getElementById('found').textContent = JSON.stringify((() => "
        f"{{ {script} }})()); }});</script>",
        encoding="utf-8",
    )
    text, complaints = browse(tmp_path, "--window-size=1400,900", "--dump-dom", frame.as_uri())
    assert complaints == []
    return json.loads(html.unescape(re.search(r'<pre id="found">(.*?)</pre>', text, re.DOTALL)[1]))


def test_pointing_at_a_piece_tells_it_and_lights_up_its_unit(tmp_path):
    # F3 of the sketch gives 24 in to W1, course 2, piece 1 and 11 7/8 in to W2, course 1, piece 2
    told = found(tmp_path, report_text(laid_out()), """
        over(doc.querySelector('[data-p="W1/1/1"]'));
        return {card: doc.getElementById('card').textContent,
          kin: [...doc.querySelectorAll('.kin')].map((e) => e.dataset.p),
          here: doc.querySelector('.here').dataset.p};
    """)  # fmt: skip
    assert told["kin"] == ["W2/0/2"] and told["here"] == "W1/1/1"
    assert (
        "W1, course 2, piece 1" in told["card"]
        and 'Cut length24"' in told["card"]
        and 'W2, course 1, piece 2, 11 7/8"' in told["card"]
    )


def test_a_tap_keeps_the_card_and_escape_closes_it(tmp_path):
    told = found(tmp_path, report_text(laid_out()), """
        const card = doc.getElementById('card'), states = [card.hidden];
        const piece = doc.querySelector('[data-p="W1/0/3"]');
        piece.dispatchEvent(new win.MouseEvent('click', {bubbles: true}));
        over(doc.querySelector('h1')); states.push(card.hidden);
        doc.dispatchEvent(new win.KeyboardEvent('keydown', {key: 'Escape', bubbles: true}));
        states.push(card.hidden);
        return states;
    """)  # fmt: skip
    assert told == [True, False, True]


def test_layers_switch_and_a_notice_jumps_to_its_place(tmp_path):
    told = found(tmp_path, report_text(laid_out()), """
        const shown = (s) => win.getComputedStyle(doc.querySelector(s)).display !== 'none';
        const states = [];
        for (const layer of ['pieces', 'labels', 'cuts', 'trims', 'offs', 'places']) {
          const box = doc.querySelector(`[data-layer=${layer}]`);
          states.push(shown(`.${layer}`)); box.click(); states.push(shown(`.${layer}`));
          if (layer !== 'places') box.click();
        }
        doc.querySelector('a[href="#at-R2"]').click();
        const y = doc.getElementById('at-R2').getBoundingClientRect().y;
        return [states, shown('.places'), y > 0 && y < win.innerHeight];
    """)  # fmt: skip
    assert told == [[True, False] * 6, True, True]


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("job", [laid_out, takeoff], ids=["plan", "area"])
def test_the_page_fits_its_width(tmp_path, job, width):
    told = found(
        tmp_path, report_text(job()), "return doc.documentElement.scrollWidth;", width=width
    )
    assert told <= width


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("letters", [70, 300])
def test_a_name_without_a_space_is_broken_and_the_numbers_beside_it_are_seen(
    tmp_path, letters, width
):
    told = found(tmp_path, report_text(renamed("N" * letters)), """
        const gross = [...doc.querySelectorAll('th')].find(th => th.textContent === 'Gross');
        return [doc.documentElement.scrollWidth, gross.getBoundingClientRect().right];
    """, width=width)  # fmt: skip
    assert told[0] <= width and told[1] <= width


def test_closer_makes_the_drawing_larger_and_texts_legible(tmp_path):
    told = found(tmp_path, report_text(laid_out()), """
        doc.querySelector('[data-zoom="0"]').click();
        const picture = doc.querySelector('.stage svg');
        const before = picture.getBoundingClientRect().width;
        const afar = picture.classList.contains('from-afar');
        for (let n = 0; n < 4; n++) doc.querySelector('[data-zoom="1.6"]').click();
        return [afar, picture.classList.contains('from-afar'),
          picture.getBoundingClientRect().width / before];
    """, width=240)  # fmt: skip
    assert told[:2] == [True, False] and told[2] == pytest.approx(1.6**4, rel=0.02)


def test_evil_names_run_nothing_and_are_read(tmp_path):
    for name in EVIL:
        told = found(
            tmp_path,
            report_text(renamed(name)),
            "return [doc.title, doc.body.classList.contains('live'), "
            "doc.querySelectorAll('script').length, doc.images.length, "
            "doc.querySelectorAll('.sheet h2').length];",
        )
        assert told == [
            "Veneer takeoff: veneer takeoff"
            if not laid_out().job.job.name
            else f"{laid_out().job.job.name}: veneer takeoff",
            True,
            2,
            0,
            2,
        ]


@pytest.mark.parametrize("size", ["1280,900", "500,900"])
def test_a_picture_of_the_page_can_be_taken(tmp_path, size):
    page, picture = tmp_path / "report.html", tmp_path / "page.png"
    page.write_text(report_text(laid_out()), encoding="utf-8")
    _, complaints = browse(
        tmp_path, f"--window-size={size}", f"--screenshot={picture}", page.as_uri()
    )
    assert complaints == []
    assert struct.unpack(">II", picture.read_bytes()[16:24]) == tuple(map(int, size.split(",")))
    assert picture.stat().st_size > 15_000, "a blank page packs to a few thousand bytes"


@pytest.mark.skipif(
    shutil.which("pdfinfo") is None, reason="poppler's programs are not on this machine"
)
@pytest.mark.parametrize(
    ("paper", "across"), [("letter", (792.0, 612.0)), ("A4", (841.89, 595.28))]
)
@pytest.mark.parametrize("job", [laid_out, takeoff], ids=["plan", "area"])
def test_each_elevation_is_printed_whole_on_a_page_of_its_own(tmp_path, paper, across, job):
    """On 11 x 8.5 in or 297 x 210 mm; title, picture with scale bar and legend stand together on
    it.
    """
    page, printed = tmp_path / "report.html", tmp_path / "report.pdf"
    # the paper is what the person picks when printing; here it is written into the page's own style
    page.write_text(as_if_printed_on(paper, report_text(job())), encoding="utf-8")
    _, complaints = browse(
        tmp_path, f"--print-to-pdf={printed}", "--no-pdf-header-footer", page.as_uri()
    )
    assert complaints == []
    sizes = [
        tuple(map(float, s))
        for s in re.findall(
            r"Page +\d+ size: +([\d.]+) x ([\d.]+)", poppler("pdfinfo", "-l", "99", printed)
        )
    ]
    drawn = [n for n, (w, h) in enumerate(sizes, 1) if w > h]
    assert len(drawn) == 2
    assert all(sizes[n - 1] == pytest.approx(across, abs=1.0) for n in drawn)
    assert all(
        size == pytest.approx(across[::-1], abs=1.0)
        for n, size in enumerate(sizes, 1)
        if n not in drawn
    )
    for n, wall in zip(drawn, ("W1", "W2"), strict=True):
        text = poppler("pdftotext", "-f", n, "-l", n, printed, "-")
        assert text.startswith(wall)
        assert "course line" in text and re.search(r"^\d+'-\d+\"$", text, re.MULTILINE), (
            "the scale bar's lengths"
        )
        words = poppler("pdftotext", "-bbox", "-f", n, "-l", n, printed, "-")
        reach = [
            (float(x0), float(y0), float(x1), float(y1))
            for x0, y0, x1, y1 in re.findall(
                r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)"', words
            )
        ]
        assert min(r[0] for r in reach) > 0 and min(r[1] for r in reach) > 0
        assert max(r[2] for r in reach) < across[0] and max(r[3] for r in reach) < across[1]


def as_if_printed_on(paper, page):
    style = page[page.index("<style>") + 7 : page.index("</style>")]
    on_paper = style.replace("@page {", f"@page {{ size: {paper};").replace(
        "size: landscape", f"size: {paper} landscape"
    )
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    now = base64.b64encode(hashlib.sha256(on_paper.encode()).digest()).decode()
    return page.replace(style, on_paper, 1).replace(html.escape(digest), html.escape(now))


def poppler(program, *words):
    return subprocess.run(
        [program, *map(str, words)], capture_output=True, text=True, timeout=300, check=True
    ).stdout
