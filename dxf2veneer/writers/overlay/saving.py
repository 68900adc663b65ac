"""How a document of the library is written, and what it has room for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from ezdxf import options  # type: ignore[attr-defined]
from ezdxf.document import Drawing as Document
from ezdxf.lldxf.const import DXF12

from dxf2veneer.basics.messages import message
from dxf2veneer.writers.overlay.copy import OverlayError
from dxf2veneer.writers.overlay.layers import NAME_LENGTH, R12_NAME_LENGTH


def check_names(doc: Document, source: Path, prefix: str, names: Iterable[str]) -> None:
    """Refuse a prefix whose layer names a drawing can't hold.

    Args:
        doc: The drawing.
        source: Its file.
        prefix: What every name begins with.
        names: The names of the layers.

    Raises:
        OverlayError: One of them is too long for the drawing's version.
    """
    is_old = doc.dxfversion <= DXF12
    room, longest = R12_NAME_LENGTH if is_old else NAME_LENGTH, max(map(len, names), default=0)
    if longest > room:
        raise OverlayError(
            message(
                "overlay-prefix-long",
                file=str(source),
                prefix=prefix[:room],
                old=is_old,
                most=room,
                over=longest - room,
            )
        )


def save(doc: Document, path: Path, *, binary: bool = False) -> None:
    """Write a drawing, a text drawing with the same line ends on every system.

    Args:
        doc: The drawing.
        path: The file.
        binary: Whether it is written in binary form.
    """
    if binary:
        doc.saveas(path, fmt="bin")
        return
    with path.open("w", encoding=doc.output_encoding, errors="dxfreplace", newline="\n") as file:
        doc.write(file)


@contextmanager
def same_bytes_always() -> Iterator[None]:
    """Fixed dates and ids in what is written, so that two runs can be compared.

    Returns:
        Nothing; it is a context.
    """
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
