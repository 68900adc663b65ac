"""The list of changed cuts in words."""

from __future__ import annotations

from collections import Counter

from dxf2veneer.model import ChangedCut, ChangeWhat, CutChanges, SiteMeasures
from dxf2veneer.wording.measures import length_text

WHAT_WORDS: dict[ChangeWhat, str] = {
    "recut": "cut to another length",
    "reshaped": "cut to another shape",
    "other panel": "cut from another panel",
    "added": "new",
    "removed": "no longer needed",
}
"""What each kind of change is called."""
CHANGE_HEAD = (
    "wall", "course", "piece", "what changes", "length before", "length now",
    "cut from before", "cut from now",
)  # fmt: skip
"""Headings of the list."""


def change_cells(cut: ChangedCut, course: int, display: str) -> tuple[str, ...]:
    """One row of the list of changed cuts.

    Args:
        cut: The changed cut.
        course: Number of its course.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text for each heading.
    """
    before, now = (
        "" if inches is None else length_text(inches, display)
        for inches in (cut.old_length, cut.length)
    )
    return (
        cut.wall, str(course), str(cut.number), WHAT_WORDS[cut.what], before, now,
        cut.old_stock, cut.stock,
    )  # fmt: skip


def measured_words(site: SiteMeasures | None) -> str:
    """What is said on top of a takeoff of walls as measured.

    Args:
        site: What was measured, if anything.

    Returns:
        A few words; empty where every wall is as drawn.
    """
    if site is None or not (site.sizes or site.laid or site.before):
        return ""
    sizes = f"{len(site.sizes)} size{'' if len(site.sizes) == 1 else 's'}"
    laid = f", {len(site.laid)} courses laid" if site.laid else ""
    kept = f"; the plan of {site.before} is kept" if site.before else ""
    return f"measured on site: {sizes} of {site.file}{laid}{kept}"


def change_lines(changes: CutChanges) -> list[str]:
    """The list of changed cuts summed up.

    Args:
        changes: What changes.

    Returns:
        One line on the cuts, one on the panels.
    """
    kinds = Counter(cut.what for cut in changes.cuts)
    named = ", ".join(f"{kinds[what]} {words}" for what, words in WHAT_WORDS.items() if kinds[what])
    number = len(changes.cuts)
    laid = f", {changes.laid} are laid" if changes.laid else ""
    cuts = (
        f"Changed cuts: {number}{f' ({named})' if named else ''}; {changes.unchanged} pieces are "
        f"cut as before{laid}"
    )
    more = changes.more
    than = (
        f"{more} more than before" if more > 0
        else f"{-more} fewer than before" if more < 0
        else "as many as before"
    )  # fmt: skip
    panels = f"Panels with these sizes: {changes.panels_now}, {than}"
    if changes.laid:
        panels += (
            f"; {changes.panels_laid} are cut for laid courses, {changes.to_cut} still to be used"
        )
    return [cuts, panels]
