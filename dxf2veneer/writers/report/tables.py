"""The one form of the report's tables."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from dxf2veneer.textio.escaping import legible
from dxf2veneer.writers.markup import Markup, joined, tag

Cell = str
"""Text, or markup that stays as it is."""
_LONG = 20
"""Letters of a word from which on it may be broken."""


def table(
    title: str,
    head: Sequence[str],
    rows: Iterable[Sequence[Cell]],
    *,
    words: int = 1,
    last: Sequence[Cell] = (),
    tail: int = 0,
    ids: Sequence[str] = (),
) -> Markup:
    """A table with a caption.

    Args:
        title: The caption.
        head: Headings of the columns.
        rows: Cells of the body, one for each heading.
        words: How many columns at the left hold words; the others hold numbers.
        last: Cells of the row of sums.
        tail: How many columns at the right hold words.
        ids: An id for each row, so that links can lead to it.

    Returns:
        The table in a box that scrolls sideways.
    """
    numbers = range(words, len(head) - tail)

    def cells(kind: str, row: Sequence[Cell]) -> Markup:
        return joined(_cell(kind, c, is_number=n in numbers) for n, c in enumerate(row))

    listed = list(rows)
    names: Sequence[str | None] = ids or [None] * len(listed)
    body = (tag("tr", {"id": id}, cells("td", row)) for row, id in zip(listed, names, strict=True))
    parts = [
        tag("caption", None, title),
        tag("thead", None, tag("tr", None, cells("th", head))),
        tag("tbody", None, *body),
    ]
    if last:
        parts.append(tag("tfoot", None, tag("tr", None, cells("td", last))))
    return tag("div", {"class": "scroll"}, tag("table", None, *parts))


def _cell(kind: str, content: Cell, *, is_number: bool) -> Markup:
    """One cell; a text is made legible, markup stays."""
    text = content if isinstance(content, Markup) else legible(content)
    about: dict[str, str | float | None] = {"class": "n" if is_number else _class_of(content)}
    return tag(kind, about | ({"scope": "col"} if kind == "th" else {}), text)


def _class_of(content: Cell) -> str | None:
    """``long`` for a text that may be broken within a word: it would widen a phone's page."""
    is_long = any(len(word) > _LONG for word in content.split())
    return "long" if is_long and not isinstance(content, Markup) else None
