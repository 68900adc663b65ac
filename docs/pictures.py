"""Takes the pictures of the page of ``confirm`` that the docs show, in this machine's Chromium.

python docs/pictures.py [FOLDER]      pictures of the Gatehouse; docs/ where left out
"""

from __future__ import annotations

import shutil
import sys
import tempfile
import threading
from collections.abc import Iterable
from pathlib import Path

from playwright.sync_api import sync_playwright

from dxf2veneer.page.server import serve
from dxf2veneer.page.session import Session

ROOT = Path(__file__).parent.parent
WINDOWS = {
    "confirm": {"viewport": {"width": 1280, "height": 720}, "color_scheme": "light"},
    "confirm-dark": {"viewport": {"width": 1280, "height": 720}, "color_scheme": "dark"},
    "confirm-tablet": {
        "viewport": {"width": 768, "height": 1024},
        "color_scheme": "light",
        "has_touch": True,
    },
}


def main(folder: Path, drawing: Path, names: Iterable[str]) -> None:
    """Take some pictures of a drawing."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if not chromium:
        sys.exit("There is no Chromium on this machine")
    with tempfile.TemporaryDirectory() as aside:
        copied = Path(aside) / drawing.name
        shutil.copy(drawing, copied)
        session = Session(copied, copied.with_suffix(".toml"))
        session.get_ready()
        server, address = serve(session)
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        try:
            with sync_playwright() as driver:
                browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
                for name in names:
                    window = WINDOWS[name]
                    page = browser.new_context(**window).new_page()
                    page.goto(address)
                    page.wait_for_selector("#glass[data-drawn]")
                    marks = page.locator(".mark")
                    box = marks.last.bounding_box() if marks.count() else None
                    if box:
                        place = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
                        page.mouse.move(*place)
                    page.wait_for_timeout(500)
                    page.screenshot(path=folder / f"{name}.png")
                browser.close()
        finally:
            server.shutdown()
            thread.join()


if __name__ == "__main__":
    sample = ROOT / "samples" / "gatehouse.dxf"
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]), Path(sys.argv[2]) if len(sys.argv) > 2 else sample, WINDOWS)
    else:
        main(ROOT / "docs", sample, ("confirm",))
