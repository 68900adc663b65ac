"""The customer's bid as a PDF, typeset by the library of the optional extra."""

from __future__ import annotations

import dataclasses
import json
from importlib.resources import files
from pathlib import Path

from dxf2veneer.model import BidLetter
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.writers.bid.content import content_of
from dxf2veneer.writers.markup import seen


def write_bid_pdf(letter: BidLetter, path: Path, *, alert: str = "") -> None:
    """Write the letter as a PDF, whole or not at all.

    Args:
        letter: The letter.
        path: The file to write.
        alert: What stands on top where the takeoff is not to be relied on.

    Raises:
        OSError: It can't be written.
    """
    import typst

    template = files("dxf2veneer.writers.bid").joinpath("bid.typ").read_bytes()
    paper = "a4" if letter.display == "metric" else "us-letter"
    held = seen(dataclasses.asdict(content_of(letter, alert))) | {"paper": paper}
    content = json.dumps(held, ensure_ascii=False)
    pages = typst.compile(template, format="pdf", sys_inputs={"content": content}, timestamp=0)
    seal = f"% {BLANK_SEAL}\n".encode()  # a comment after the end of a PDF changes nothing in it
    write_whole(path, lambda draft: draft.write_bytes(pages + seal))
