"""How fast the page of ``confirm`` shows a large drawing.

    python tests/benchmarks/page_speed.py [--entities 100000] [--dense]

Starts the command as a person does and opens its page. Prints the time until the page can be
opened, until it has drawn everything, and until walls are proposed; the longest and the middle time
of a step of the wheel until the screen has followed, while the command still looks and afterwards;
the outline under the pointer; and the numbers after a click.

Without ``--dense`` the entities are a site plan beside four plain fronts, with it they are the
joints of bricks and boards, and hatches, in the fronts themselves.
"""

from __future__ import annotations

import argparse
import math
import os
import random
import shutil
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace
from playwright.sync_api import Page, sync_playwright

STEP = """() => new Promise((ready) => {
    const glass = document.querySelector('#glass');
    const box = glass.getBoundingClientRect();
    const began = performance.now();
    glass.dispatchEvent(new WheelEvent('wheel', {deltaY: %d, cancelable: true,
        clientX: box.x + box.width / 2, clientY: box.y + box.height / 2}));
    requestAnimationFrame(() => requestAnimationFrame(() => ready(performance.now() - began)));
})"""
"""A step of the wheel; the answer comes when the frame after it has been handed to the screen."""

WALL = """async () => {
    const ask = async (path, body) => (await fetch(path, body && {method: 'POST',
        headers: {'Content-Type': 'application/json'}, body: JSON.stringify(body)})).json();
    window.wide = (window.wide ?? 400) + 10;
    await ask('edit', {do: 'make', kind: 'wall',
        outline: [[0, -600], [window.wide, -600], [window.wide, -500], [0, -500]]});
    await ask('figures');
}"""
"""A wall drawn beside the drawing, another one each time, and the numbers."""


def new_drawing() -> tuple[Drawing, Modelspace]:
    """An empty drawing in inches."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = 1
    return document, document.modelspace()


def draw_fronts(msp: Modelspace) -> None:
    """Four fronts of 40 by 18 ft with window, door and title."""
    for i in range(4):
        x = 700 * i
        for x0, y0, x1, y1 in (
            (0, 0, 480, 216),
            (96, 36, 144, 84),
            (98, 38, 142, 82),
            (240, 0, 276, 84),
            (242, 0, 274, 82),
        ):
            corners = [(x + x0, y0), (x + x1, y0), (x + x1, y1), (x + x0, y1)]
            msp.add_lwpolyline(corners, close=True)
        msp.add_line((x - 40, 0), (x + 520, 0))
        msp.add_text(f"{('NORTH', 'EAST', 'SOUTH', 'WEST')[i]} ELEVATION", height=8).set_placement(
            (x + 60, -40)
        )


def draw_site(path: Path, entities: int) -> None:
    """The fronts, and beside them a site plan of contour lines and trees."""
    chance = random.Random(7)
    document, msp = new_drawing()
    draw_fronts(msp)
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


def draw_dense(path: Path, entities: int) -> None:
    """The fronts full of short lines: brick below, boards above, a hatch at each end.

    +----------------------+
    | | | | | boards | | | |   each joint of a brick and each piece of a board's edge is a line
    +----------------------+   of its own
    |_|__|_ brick  |__|__|_|
    +----------------------+
    """
    document, msp = new_drawing()
    draw_fronts(msp)
    each = (entities - 24) // 4
    for i in range(4):
        x, rows = 700.0 * i, 48
        for n in range(2 * each // 3):  # two lines for each brick
            row, place = divmod(n // 2, each // (3 * rows))
            wide = 480 / (each // (3 * rows))
            at, y = x + place * wide, 108 * row / rows
            end = (at + wide, y) if n % 2 else (at, y + 108 / rows)
            msp.add_line((at, y), end, dxfattribs={"layer": "BRICK"})
        for n in range(each - 2 * each // 3):
            row, place = divmod(n, 96)
            at, high = x + 5 * place, 108 * 96 / max(each // 3, 96)
            y = 108 + row * high
            msp.add_line((at, y), (at, y + high), dxfattribs={"layer": "BOARDS"})
        for left in (x + 10, x + 420):
            hatch = msp.add_hatch(dxfattribs={"layer": "HATCH"})
            hatch.set_pattern_fill("ANSI31", scale=0.5)
            corners = [(left, 130), (left + 50, 130), (left + 50, 200), (left, 200)]
            hatch.paths.add_polyline_path(corners, is_closed=True)
    document.saveas(path)


def zoom(page: Page, what: str) -> None:
    """Print the times of steps of the wheel."""
    for name, delta in (("in", -100), ("out", 100)):
        steps = [page.evaluate(STEP % delta) for _ in range(12)]
        print(
            f"zoom {name:<3} step {what:<12} {statistics.median(steps):6.0f} ms, "
            f"longest {max(steps):.0f} ms"
        )


def measure(page: Page, address: str, began: float) -> None:
    """Print the times of one page.

    Args:
        page: A page of the browser.
        address: Where the command serves.
        began: When the command was started, by ``time.perf_counter``.
    """
    print(f"page can be opened      {time.perf_counter() - began:6.2f} s after the command")
    opened = time.perf_counter()
    page.goto(address)
    page.wait_for_selector("#glass[data-drawn]", timeout=60_000)
    now = time.perf_counter()
    print(f"first picture           {now - opened:6.2f} s, {now - began:.2f} s after the command")
    if page.locator("#looking").is_visible():
        zoom(page, "while it looks")
    page.wait_for_selector("#looking", state="hidden", timeout=300_000)
    print(f"walls proposed          {time.perf_counter() - began:6.2f} s after the command")
    page.locator("#zoom-all").click()
    zoom(page, "whole sheet")
    fronts = page.locator("[data-key^=view-]")
    if fronts.count() > 1:
        fronts.nth(1).click()
        zoom(page, "one front")
    frame = page.locator("#glass").bounding_box()
    assert frame  # the front that was gone to lies in the middle
    asked = time.perf_counter()
    page.mouse.move(frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2)
    page.wait_for_selector(".under", timeout=60_000)
    print(f"first outline of a view {time.perf_counter() - asked:6.2f} s")
    for _ in range(2):  # the second time the drawing has been measured before
        asked = time.perf_counter()
        page.evaluate(WALL)
        print(f"numbers after a click   {time.perf_counter() - asked:6.2f} s")


def as_installed(command: list[str], folder: Path) -> dict[str, str]:
    """An environment in which Python finds its modules compiled, as where they were installed.

    Args:
        command: What is measured; it runs once until it has opened its page, to compile them.
        folder: Where the compiled modules lie for the length of the measurement.

    Returns:
        The variables.
    """
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env["PYTHONPYCACHEPREFIX"] = str(folder / "compiled")
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=env) as once:
        assert once.stdout
        once.stdout.readline()
        once.send_signal(signal.SIGINT)
    return env


def main() -> None:
    """Draw, start the command, measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--entities", type=int, default=100_000)
    parser.add_argument("--dense", action="store_true")
    asked = parser.parse_args()
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if not chromium:
        sys.exit("There is no Chromium on this machine")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        drawing = Path(folder) / "large.dxf"
        (draw_dense if asked.dense else draw_site)(drawing, asked.entities)
        browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1280, "height": 720})
        command = [sys.executable, "-m", "dxf2veneer.cli", "confirm", str(drawing), "--no-browser"]
        compiled = as_installed(command, Path(folder))
        began = time.perf_counter()
        running = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=compiled)
        try:
            assert running.stdout
            measure(page, running.stdout.readline().strip(), began)
        finally:
            running.send_signal(signal.SIGINT)
            running.wait()
            browser.close()


if __name__ == "__main__":
    main()
