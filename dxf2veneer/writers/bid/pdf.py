"""The customer's bid as a PDF, typeset by the library of the optional extra."""

from __future__ import annotations

import dataclasses
from pathlib import Path

from dxf2veneer.model import BidLetter
from dxf2veneer.writers.bid.content import content_of
from dxf2veneer.writers.typeset import write_pages


def write_bid_pdf(letter: BidLetter, path: Path, *, alert: str = "") -> None:
    """Write the letter as a PDF, whole or not at all.

    Args:
        letter: The letter.
        path: The file to write.
        alert: What stands on top where the takeoff is not to be relied on.

    Raises:
        OSError: It can't be written.
    """
    paper = "a4" if letter.display == "metric" else "us-letter"
    held = dataclasses.asdict(content_of(letter, alert)) | {"paper": paper}
    write_pages("dxf2veneer.writers.bid", "bid.typ", held, path)
