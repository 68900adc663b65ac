"""What a screen reader says of the page of ``confirm``: Orca, in a session of its own without a
screen.

    python tests/benchmarks/screen_reader.py [DRAWING]

Goes through the page by Tab as far as the list of openings, then points at the middle of the sheet
by Enter, and prints every sentence that Orca would speak. Wants Chromium, Xvfb, dbus-run-session,
at-spi2-core, orca and xdotool (Debian's packages of these names); nothing is heard without them.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

PROGRAMS = ("Xvfb", "dbus-run-session", "orca", "xdotool", "chromium")
BUS = "/usr/libexec/at-spi-bus-launcher"
SAMPLE = Path(__file__).parent.parent.parent / "samples" / "gatehouse.dxf"
TABS = 24
SPOKEN = re.compile(r"SPEECH OUTPUT: '(.*)'\{")


def sentences(log: Path) -> list[str]:
    """What Orca's log says it spoke, keys aside."""
    text = log.read_text(encoding="utf-8", errors="replace") if log.exists() else ""
    return [s for s in SPOKEN.findall(text) if s.strip() != "tab"]


def press(*keys: str, pause_s: float = 0.8) -> None:
    """Press keys one after the other, as slowly as a person who listens."""
    for key in keys:
        subprocess.run(["xdotool", "key", key], check=True)
        time.sleep(pause_s)


def within(folder: Path, drawing: Path) -> None:
    """The part that runs inside the session: page, browser, screen reader, keys."""
    started = [subprocess.Popen([BUS, "--launch-immediately"])]
    command = [sys.executable, "-m", "dxf2veneer.cli", "confirm", str(drawing), "--no-browser"]
    page = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert page.stdout
    address = page.stdout.readline().strip()
    browser = ["chromium", "--no-sandbox", "--disable-gpu", "--no-first-run"]
    browser += ["--force-renderer-accessibility", f"--user-data-dir={folder}/profile"]
    started += [page, subprocess.Popen([*browser, f"--app={address}", "--window-size=1280,760"])]
    time.sleep(12)
    log = folder / "orca.log"
    started.append(subprocess.Popen(["orca", "--replace", "--debug", "--debug-file", str(log)]))
    time.sleep(8)
    press(*["Tab"] * TABS)
    heard = len(sentences(log))
    place = ["xdotool", "mousemove", "440", "330", "click", "1"]
    subprocess.run(place, check=True)
    time.sleep(3)
    told = sentences(log)
    print("by Tab:", *told[:heard], "after a click on the sheet:", *told[heard:], sep="\n  ")
    for process in reversed(started):
        process.terminate()
        process.wait(timeout=20)


def main() -> None:
    """Open a session without a screen and listen."""
    drawing = Path(sys.argv[1]) if len(sys.argv) > 1 else SAMPLE
    missing = [name for name in PROGRAMS if shutil.which(name) is None]
    if missing:
        sys.exit(f"Not on this machine: {', '.join(missing)}")
    if os.environ.get("HEARD_IN"):
        within(Path(os.environ["HEARD_IN"]), drawing)
        return
    with tempfile.TemporaryDirectory() as name:
        copied = Path(name) / drawing.name
        shutil.copyfile(drawing, copied)
        screen = subprocess.Popen(["Xvfb", ":77", "-screen", "0", "1280x800x24"])
        try:
            asked = {"HEARD_IN": name, "HOME": name, "XDG_RUNTIME_DIR": name, "DISPLAY": ":77"}
            again = ["dbus-run-session", "--", sys.executable, __file__, str(copied)]
            environment = {**os.environ, **asked, "ACCESSIBILITY_ENABLED": "1"}
            subprocess.run(again, env=environment, check=True, stderr=subprocess.DEVNULL)
        finally:
            screen.terminate()
            screen.wait()


if __name__ == "__main__":
    main()
