"""Pages and pictures typeset by the library of the optional extra; it weighs as much as all the
others together, so nothing else asks for it."""

from __future__ import annotations

import importlib.util
import json
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from typing import Any

from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.writers.markup import seen

PAPERS = {
    "letter": (279.4, 215.9),
    "tabloid": (431.8, 279.4),
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
}
"""Long and short side in millimeters (ANSI/ASME Y14.1 and ISO 216; from memory)."""


def is_available() -> bool:
    """Whether the optional extra is installed.

    Returns:
        True where PDFs can be written.
    """
    return importlib.util.find_spec("typst") is not None


def write_pages(package: str, template: str, content: Mapping[str, Any], path: Path) -> None:
    """Set pages and write them as a PDF, whole or not at all.

    Args:
        package: The package that holds the template.
        template: Name of the template's file.
        content: What the template sets, by name; texts are made visible.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    import typst

    source = files(package).joinpath(template).read_bytes()
    held = {"content": json.dumps(seen(content), ensure_ascii=False)}
    pages = typst.compile(source, format="pdf", sys_inputs=held, timestamp=0)
    seal = f"% {BLANK_SEAL}\n".encode()  # a comment after the end of a PDF changes nothing in it
    write_whole(path, lambda draft: draft.write_bytes(pages + seal))


def dots_of(svg: str, dots: float) -> bytes:
    """A picture in dots.

    Args:
        svg: The picture.
        dots: Dots in an inch.

    Returns:
        A PNG.
    """
    import typst

    source = (
        "#set page(width: auto, height: auto, margin: 0pt)\n"
        '#image(bytes(json(bytes(sys.inputs.content)).svg), format: "svg")\n'
    )
    held = {"content": json.dumps({"svg": svg}, ensure_ascii=False)}
    made = typst.compile(source.encode(), format="png", ppi=dots, sys_inputs=held)
    return bytes(made[0] if isinstance(made, list) else made)
