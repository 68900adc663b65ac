"""The change order as a PDF, typeset by the library of the optional extra."""

from __future__ import annotations

import dataclasses
from pathlib import Path

from dxf2veneer.model import ChangeOrder
from dxf2veneer.writers.change_order.content import content_of
from dxf2veneer.writers.typeset import write_pages


def write_change_order_pdf(order: ChangeOrder, path: Path, *, alert: str = "") -> None:
    """Write the order as a PDF, whole or not at all.

    Args:
        order: The order.
        path: The file to write.
        alert: What stands on top where a takeoff is not to be relied on.

    Raises:
        OSError: It can't be written.
    """
    paper = "a4" if order.display == "metric" else "us-letter"
    held = dataclasses.asdict(content_of(order, alert)) | {"paper": paper}
    write_pages("dxf2veneer.writers.change_order", "change_order.typ", held, path)
