"""Takes the pictures of the customer's bid, the estimate's summary, the story pole and a crew sheet
that the docs show.

python docs/paper_pictures.py [FOLDER]      pictures of the Gatehouse; docs/ where left out

LibreOffice prints the summary and poppler turns pages into pictures; neither is part of this
project.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.letter import UnitPrice
from dxf2veneer.coursing.story_poles import story_poles
from dxf2veneer.order.letter import letter_of
from dxf2veneer.writers.bid import write_bid_pdf
from dxf2veneer.writers.crew_sheets import write_crew_sheets
from dxf2veneer.writers.story_pole import write_poles_pdf
from dxf2veneer.writers.unfolded import write_sketch, write_unfolded
from dxf2veneer.writers.workbook import write_workbook

ROOT = Path(__file__).parent.parent
DOTS = 80
"""Dots in an inch."""


def main(folder: Path) -> None:
    """Take all pictures."""
    samples = ROOT / "samples"
    job = with_settings(
        load_job(samples / "gatehouse.toml"),
        letter__customer="Mill Lane Builders",
        letter__address=("12 Mill Lane", "Alder Falls"),
        letter__sender=("4 Quarry Road, Alder Falls",),
        letter__date="March 3, 2026",
        letter__valid="30 days from its date",
        letter__pricing="elevation",
        letter__unit_prices=(UnitPrice("Stone veneer added", 34.0, "sq ft"),),
        letter__assume=("Walls are ready and plumb",),
        letter__signed_by="R. Alder, estimator",
    )
    made = take_off([samples / "gatehouse.dxf"], job)
    assert made.order
    with tempfile.TemporaryDirectory() as aside:
        bid, book = Path(aside) / "bid.pdf", Path(aside) / "summary.xlsx"
        write_bid_pdf(letter_of(made, made.order), bid)
        write_workbook(made, book)
        profile = f"-env:UserInstallation={(Path(aside) / 'profile').as_uri()}"
        convert = ["soffice", "--headless", profile, "--convert-to", "pdf", "--outdir", aside]
        subprocess.run([*convert, str(book)], check=True, capture_output=True)
        pole = Path(aside) / "story-pole.pdf"
        write_poles_pdf(made, story_poles(made.walls, made.product.panel.height), pole)
        crew = Path(aside) / "crew-sheet.pdf"
        write_crew_sheets(made, crew)
        write_sketch(made, folder / "sketch.png")
        write_unfolded(made, folder / "unfolded.png")
        for pdf in (bid, book.with_suffix(".pdf"), pole, crew):
            _picture(pdf, 1, folder / pdf.stem)
        _picture(pole, 2, folder / "story-pole-parts")


def _picture(pdf: Path, page: int, to: Path) -> None:
    """One page of a PDF as a PNG; ``to`` is named without its ending."""
    pages = ["-f", str(page), "-l", str(page), "-singlefile"]
    subprocess.run(["pdftoppm", "-png", "-r", str(DOTS), *pages, str(pdf), str(to)], check=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "docs")
