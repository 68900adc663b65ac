"""Takes the pictures of the page of a comparison and of a change order that the docs show.

python docs/compare_pictures.py [FOLDER]      of the Gatehouse; docs/ where left out

The machine's own Chromium and poppler make the pictures; neither is part of this project.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import ezdxf

ROOT = Path(__file__).parent.parent
DOTS = 90
"""Dots in an inch."""
_DOOR, _WINDOW = "3C", "3B"
"""Handles in the sample."""


def main(folder: Path) -> None:
    """Take both pictures: the door of the Gatehouse grew to 9 x 8 ft, a window went up 2 in."""
    samples = ROOT / "samples"
    doc = ezdxf.readfile(samples / "gatehouse.dxf")
    for handle, x0, y0, x1, y1 in ((_DOOR, 104, 0, 212, 96), (_WINDOW, 252, 46, 300, 88)):
        ring = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        doc.entitydb[handle].set_points(ring, format="xy")
    with tempfile.TemporaryDirectory() as aside:
        new, page, order = (Path(aside) / name for name in ("new.dxf", "page.html", "order.pdf"))
        job = Path(aside) / "job.toml"
        said = (samples / "gatehouse.toml").read_text(encoding="utf-8")
        said = said.replace("gatehouse-prices.csv", (samples / "gatehouse-prices.csv").as_posix())
        job.write_text(
            f'{said}\n[letter]\ncustomer = "Mill Lane Builders"\naddress = ["12 Mill Lane"]\n'
            'signed_by = "R. Alder, estimator"\n',
            encoding="utf-8",
        )
        doc.saveas(new)
        words = ["compare", samples / "gatehouse.dxf", new, "--job", job, "--report", page]
        words += ["--change-order", order, "--change-number", "2", "--contract-price", "12890"]
        words += ["--change-date", "March 9, 2026", "--earlier-change", "1=350", "--quiet"]
        words += ["--change-reason", "Addendum 2: larger door, window W1-O3 raised"]
        subprocess.run([sys.executable, "-m", "dxf2veneer", *map(str, words)], check=True)
        shot = ["chromium", "--headless", "--no-sandbox", "--hide-scrollbars"]
        shot += [f"--user-data-dir={aside}/profile", "--window-size=1000,760"]
        shot += [f"--screenshot={folder / 'compare.png'}", page.as_uri()]
        subprocess.run(shot, check=True, capture_output=True)
        paper = ["pdftoppm", "-png", "-r", str(DOTS), "-H", "800", "-singlefile"]
        subprocess.run([*paper, str(order), str(folder / "change-order")], check=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "docs")
