"""What stands beside the marks of a story pole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from dxf2veneer.config.job import Output
from dxf2veneer.model import PoleMark, PoleWhat, StoryPole, WallTakeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.measures import length_text, setting_text
from dxf2veneer.writers.words import wall_title

_WHAT: Mapping[PoleWhat, str] = {
    "level": "level line",
    "base": "base",
    "starter": "starter strip",
    "course": "course",
    "head": "head",
    "springing": "springing of arch",
    "crown": "crown of arch",
    "slope foot": "low end of sloped head",
    "slope top": "high end of sloped head",
    "sill": "sill",
    "panels": "end of panels",
    "cap": "top of cap",
    "top": "top of wall",
}
_BEYOND = {"head": "over head trim", "sill": "under sill trim", "cap": "under cap"}
"""Where panels end off an opening or a wall's top."""
_REFS_NAMED = 2
"""More walls or openings than this are counted beside a mark; the table names them all."""


@dataclass(frozen=True)
class Datum:
    """What heights are counted from, and how it is called."""

    name: str
    height: float
    """Height that the datum itself has, in inches."""
    display: str

    def height_words(self, height: float) -> str:
        """A height above the datum as people read it."""
        return length_text(self.height + height, self.display)


def datum_of_pole(pole: StoryPole, output: Output) -> Datum:
    """What a pole's heights are counted from.

    Args:
        pole: The pole.
        output: The name and height of the level line, and units for the reader.

    Returns:
        The datum; a pole without a level line counts from its walls' lowest base.
    """
    if pole.datum == "base":
        return Datum("lowest base", 0.0, output.display)
    name = legible(output.level_name) or "level line"
    return Datum(name, output.level_height, output.display)


def what_words(mark: PoleMark, datum: Datum) -> str:
    """What a mark is, without its place.

    Args:
        mark: The mark.
        datum: Gives the level line its name.

    Returns:
        Such as ``head`` or ``over head trim``, where panels end there.
    """
    if mark.what == "level":
        return datum.name
    if mark.what == "course":
        return f"course {mark.course}"
    return _BEYOND[mark.beyond] if mark.beyond else _WHAT[mark.what]


def _strip_words(mark: PoleMark, course: float, display: str) -> str:
    """The height that a course is ripped to; finer where that would read as the whole course, or as
    nothing."""
    words = length_text(mark.strip, display)
    whole = (length_text(0.0, display), length_text(course, display))
    return setting_text(mark.strip, display) if words in whole else words


def rip_words(mark: PoleMark, course: float, display: str) -> str:
    """To what a course is ripped at a mark.

    Args:
        mark: The mark.
        course: Height of a course in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        Empty where its course line runs clean.
    """
    if not mark.strip:
        return ""
    sliver = ", a sliver" if mark.is_sliver else ""
    return f"course {mark.course} ripped to {_strip_words(mark, course, display)}{sliver}"


def beside(mark: PoleMark, course: float, datum: Datum) -> tuple[str, str]:
    """The two lines beside a mark on the rod.

    Args:
        mark: The mark.
        course: Height of a course in inches.
        datum: What heights are counted from.

    Returns:
        Height and what it is; then where, and what is ripped: empty for course lines.
    """
    first = f"{datum.height_words(mark.height)}  {what_words(mark, datum)}"
    if mark.what in ("course", "level"):
        return first, ""
    named = len(mark.refs) <= _REFS_NAMED
    kind = "openings" if "-O" in mark.refs[0] else "walls"
    where = ", ".join(mark.refs) if named else f"{len(mark.refs)} {kind}"
    if not mark.strip:
        return first, where
    sliver = ", sliver" if mark.is_sliver else ""
    return first, f"{where}: rip to {_strip_words(mark, course, datum.display)}{sliver}"


def rows_of(pole: StoryPole, datum: Datum) -> list[tuple[str, str, str, str]]:
    """The pole as a table from the top down.

    Args:
        pole: The pole.
        datum: What heights are counted from.

    Returns:
        Height, what, ids of openings or walls, and what is ripped, of each mark.
    """
    return [
        (
            datum.height_words(m.height),
            what_words(m, datum),
            _where(m),
            rip_words(m, pole.course_height, datum.display),
        )
        for m in reversed(pole.marks)
    ]


def _where(mark: PoleMark) -> str:
    """Openings or walls of a mark; none of a line that all have."""
    return "" if mark.what in ("level", "course") else ", ".join(mark.refs)


def walls_named(pole: StoryPole, walls: Sequence[WallTakeoff]) -> str:
    """The pole's walls with their names.

    Args:
        pole: The pole.
        walls: The job's walls.

    Returns:
        Such as ``W1 Front, W2``.
    """
    return ", ".join(wall_title(w) for w in walls if w.wall.id in pole.walls)
