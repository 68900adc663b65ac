"""How a check says what does not agree, and how far two numbers may be apart."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.model import Wall
from dxf2veneer.notices import Notice
from dxf2veneer.tolerances import CHECK_ROUNDING


def mismatch(message: str, wall: Wall | None = None) -> Notice:
    """The error about two numbers that do not agree, at the wall that it is about."""
    if wall is None:
        return Notice("CROSS_CHECK", message)
    return Notice(
        "CROSS_CHECK",
        message,
        drawing=wall.drawing,
        layer=wall.layer,
        handle=wall.handles[0],
        at_in=wall.box[:2],
    )


def compare(
    what: str, one: float, two: float, by: str, *, slack: float = 0.0, wall: Wall | None = None
) -> Iterator[Notice]:
    """An error where two numbers for one thing are farther apart than rounding and ``slack``; ``by`` is the second way."""
    if not abs(one - two) <= slack + CHECK_ROUNDING * max(
        abs(one), abs(two)
    ):  # a NaN is no agreement
        yield mismatch(f"{what} is {one:.10g}, but {two:.10g} {by}", wall)


def within(
    what: str, value: float, low: float, high: float, by: str, *, wall: Wall | None = None
) -> Iterator[Notice]:
    """An error where a number lies outside its bounds; ``by`` says where the bounds come from."""
    slack = CHECK_ROUNDING * abs(value)
    if not low - slack <= value <= high + slack:
        yield mismatch(
            f"{what} is {value:.10g}, which is not between {low:.10g} and {high:.10g}, {by}", wall
        )
