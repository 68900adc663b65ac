"""How fast the page of ``confirm`` shows a large drawing.

    python tests/benchmarks/page_speed.py [--entities 100000]

Prints the time until the page has drawn everything, the longest and the middle time of a step of
the wheel until the screen has followed, and of the outline under the pointer.
"""

from __future__ import annotations

import argparse
import math
import random
import shutil
import statistics
import sys
import tempfile
import threading
import time
from pathlib import Path

import ezdxf
from playwright.sync_api import Page, sync_playwright

from dxf2veneer.page.server import serve
from dxf2veneer.page.session import Session

STEP = """() => new Promise((ready) => {
    const glass = document.querySelector('#glass');
    const box = glass.getBoundingClientRect();
    const began = performance.now();
    glass.dispatchEvent(new WheelEvent('wheel', {deltaY: %d, cancelable: true,
        clientX: box.x + box.width / 2, clientY: box.y + box.height / 2}));
    requestAnimationFrame(() => requestAnimationFrame(() => ready(performance.now() - began)));
})"""
"""A step of the wheel; the answer comes when the frame after it has been handed to the screen."""


def draw(path: Path, entities: int) -> None:
    """Four fronts, and beside them a site plan of contour lines and trees."""
    chance = random.Random(7)
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = 1
    msp = document.modelspace()
    for i in range(4):
        x = 700 * i
        msp.add_lwpolyline([(x, 0), (x + 480, 0), (x + 480, 216), (x, 216)], close=True)
        msp.add_lwpolyline([(x + 96, 72), (x + 144, 72), (x + 144, 120), (x + 96, 120)], close=True)
        msp.add_line((x - 60, 0), (x + 540, 0))
        msp.add_text(f"ELEVATION {i + 1}", height=10).set_placement((x, -50))
    msp.add_text("SITE PLAN", height=20).set_placement((0, 3400))
    across = 500
    for n in range(entities - 17):
        row, column = divmod(n, across)
        x, y = 6.0 * column, 600 + 2640 * row * across / entities
        if n % 10 == 0:
            msp.add_circle((x, y), chance.uniform(0.5, 3), dxfattribs={"layer": "TREES"})
        else:
            high = 40 * math.sin(x / 400)
            rise = 40 * math.sin((x + 6) / 400) - high
            layer = {"layer": f"CONTOUR-{row % 5}"}
            msp.add_line((x, y + high), (x + 6, y + high + rise), dxfattribs=layer)
    document.saveas(path)


def measure(page: Page, address: str) -> None:
    """Print the times of one page."""
    began = time.perf_counter()
    page.goto(address)
    page.wait_for_selector("#glass[data-drawn]", timeout=60_000)
    print(f"first picture           {time.perf_counter() - began:6.2f} s")
    for name, delta in (("in", -100), ("out", 100)):
        steps = [page.evaluate(STEP % delta) for _ in range(12)]
        print(
            f"zoom {name:<4} step          {statistics.median(steps):6.0f} ms, "
            f"longest {max(steps):.0f} ms"
        )
    frame = page.locator(".view-box").nth(1).bounding_box()
    assert frame
    began = time.perf_counter()
    page.mouse.move(frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2)
    page.wait_for_selector(".under", timeout=15_000)
    print(f"first outline of a view {time.perf_counter() - began:6.2f} s")


def main() -> None:
    """Draw, serve, measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--entities", type=int, default=100_000)
    asked = parser.parse_args()
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if not chromium:
        sys.exit("There is no Chromium on this machine")
    with tempfile.TemporaryDirectory() as folder:
        drawing = Path(folder) / "large.dxf"
        draw(drawing, asked.entities)
        began = time.perf_counter()
        session = Session(drawing, Path(folder) / "job.toml")
        print(f"read and proposed       {time.perf_counter() - began:6.2f} s")
        print(f"lines for the page      {len(session.lines()) / 1e6:6.1f} MB")
        server, address = serve(session)
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        try:
            with sync_playwright() as driver:
                browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
                page = browser.new_page(viewport={"width": 1280, "height": 720})
                measure(page, address)
                browser.close()
        finally:
            server.shutdown()
            thread.join()


if __name__ == "__main__":
    main()
