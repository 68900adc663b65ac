"""Columns of plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from dxf2veneer.textio.escaping import for_terminal

safe = for_terminal
"""Text of a drawing or a file's name is only text."""


def table(
    head: Sequence[str], rows: Iterable[Sequence[str]], *, left: int = 1, longest: int | None = None
) -> Iterator[str]:
    """Columns of plain text under their headings.

    Names in the first column are cut to ``longest`` signs; those that a user types again, such as
    layers, are not.

    Args:
        head: The headings.
        rows: Cells of the rows.
        left: How many columns stand flush left.
        longest: Longest name in the first column; names that a user types again are not cut.

    Returns:
        The lines.
    """
    body = [[_cut(safe(row[0]), longest), *map(safe, row[1:])] for row in rows]
    widths = [max(len(row[i]) for row in [list(head), *body]) for i in range(len(head))]
    for row in [list(head), ["-" * w for w in widths], *body]:
        cells = (
            c.ljust(w) if i < left else c.rjust(w)
            for i, (c, w) in enumerate(zip(row, widths, strict=True))
        )
        yield "  ".join(cells).rstrip()


def _cut(name: str, longest: int | None) -> str:
    return name if longest is None or len(name) <= longest else f"{name[: longest - 1]}…"
