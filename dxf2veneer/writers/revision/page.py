"""One page with every changed wall before and now: it opens without a network, holds no money, and
may run one script and use one style, named by their digests."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files
from pathlib import Path

from dxf2veneer.model import FIGURES, LaidWall, Recorded, Revision, WallChange
from dxf2veneer.textio.escaping import legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.revisions import (
    FIGURE_WORDS,
    apart_lines,
    delta_text,
    figure_text,
    is_shown,
    summary_line,
)
from dxf2veneer.writers.markup import Markup, page_policy, tag
from dxf2veneer.writers.revision.picture import compared_svg

_KEPT_BACK = ("hours", "money")
"""Kinds of figures that this page does not show: it may go to anyone."""
MEASURED = tuple(key for key, kind in FIGURES.items() if kind not in _KEPT_BACK)
"""Figures that may go to anyone."""
_HEAD = ("", "before", "now", "difference")
_MODES = (
    ("both", "Both, before dashed"),
    ("before", "Before"),
    ("now", "Now"),
    ("line", "Before left of a line, now right of it"),
)


def write_compare_page(
    revision: Revision, walls: Sequence[LaidWall], path: Path, *, name: str = "", alert: str = ""
) -> None:
    """Write the page into a file, whole or not at all.

    Args:
        revision: The comparison.
        walls: Its changed walls, laid on each other.
        path: The file to write.
        name: The job's name.
        alert: What stands on top where a takeoff is not to be relied on.

    Raises:
        OSError: It can't be written.
    """
    text = compare_page(revision, walls, name=name, alert=alert)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def compare_page(
    revision: Revision, walls: Sequence[LaidWall], *, name: str = "", alert: str = ""
) -> str:
    """The whole page.

    Args:
        revision: The comparison.
        walls: Its changed walls, laid on each other.
        name: The job's name.
        alert: What stands on top where a takeoff is not to be relied on.

    Returns:
        HTML; the same bytes for the same comparison.
    """
    style, script = _data("page.css"), _data("page.js")
    title = f"{legible(name) or 'Veneer takeoff'}: what changed"
    head = tag(
        "head",
        None,
        tag("meta", {"charset": "utf-8"}),
        tag(
            "meta",
            {"http-equiv": "Content-Security-Policy", "content": page_policy(style, script)},
        ),
        tag("meta", {"name": "generator", "content": BLANK_SEAL}),
        tag("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        tag("title", None, title),
        tag("style", None, Markup(style)),
    )
    body = tag(
        "body",
        {"data-show": "both"},
        tag("h1", None, title),
        *([tag("p", {"class": "alert", "role": "alert"}, legible(alert))] if alert else []),
        tag("p", None, legible(summary_line(revision))),
        *(tag("p", {"class": "quiet"}, legible(say(n, revision.new.display)))
          for n in revision.notes),
        *([_switch()] if walls else []),
        *(_section(wall, revision, str(n)) for n, wall in enumerate(walls)),
        *_end(revision),
        tag("script", None, Markup(script)) if walls else Markup(),
    )  # fmt: skip
    return f"<!DOCTYPE html>\n{tag('html', {'lang': 'en'}, head, body)}\n"


def _data(name: str) -> str:
    return files("dxf2veneer.writers.revision").joinpath(name).read_text(encoding="utf-8")


def _switch() -> Markup:
    """Which of the two is shown, and the slider."""
    modes = (
        tag(
            "label",
            None,
            tag("input", {"type": "radio", "name": "show", "value": value,
                          "checked": "" if value == "both" else None}),
            f" {words}",
        )
        for value, words in _MODES
    )  # fmt: skip
    line = {"type": "range", "id": "line", "min": "0", "max": "100", "value": "50"}
    about = {"aria-label": "Where the line between before and now stands"}
    return tag(
        "fieldset",
        {"class": "switch", "aria-label": "Show before or now"},
        *modes,
        tag("input", line | about),
    )


def _section(wall: LaidWall, revision: Revision, key: str) -> Markup:
    """A wall: picture, list of its changes, table of its figures."""
    display = revision.new.display
    changes = (
        tag("li", None,
            tag("a", {"href": f"#place-{p.number}"} if p.boxes else None,
                tag("b", None, str(p.number)), legible(say(p.told, display))))
        for p in wall.places
    )  # fmt: skip
    keys = (("now", "now"), ("was", "before"), ("round", "changed"))
    return tag(
        "section",
        {"id": f"wall-{key}"},
        tag("h2", None, legible(wall.title)),
        compared_svg(wall, display, key),
        tag("ul", {"class": "keys"},
            *(tag("li", {"class": look}, tag("i", None), words) for look, words in keys)),
        tag("ol", None, *changes),
        _table(_wall_rows(wall.change, display)),
    )  # fmt: skip


def _wall_rows(wall: WallChange, display: str) -> Iterator[tuple[str, ...]]:
    """The figures of a wall that differ."""
    sides = [side.figures if side else {} for side in (wall.old, wall.new)]
    for key in MEASURED:
        if is_shown(key, wall.delta.get(key)):
            yield (
                FIGURE_WORDS[key],
                *(figure_text(key, side.get(key), display) for side in sides),
                delta_text(key, wall.delta[key], display),
            )


def _total_rows(revision: Revision) -> Iterator[tuple[str, ...]]:
    """The figures of the whole that differ."""
    display = revision.new.display
    for key in MEASURED:
        if is_shown(key, revision.delta.get(key)):
            yield (
                FIGURE_WORDS[key],
                figure_text(key, revision.old.totals.get(key), display),
                figure_text(key, revision.new.totals.get(key), display),
                delta_text(key, revision.delta[key], display),
            )


def _table(rows: Iterator[tuple[str, ...]]) -> Markup:
    listed = list(rows)
    if not listed:
        return Markup()
    head = tag("tr", None, *(tag("th", _side(n), text) for n, text in enumerate(_HEAD)))
    lines = (
        tag("tr", None, *(tag("td", _side(n), text) for n, text in enumerate(row)))
        for row in listed
    )
    table = tag("table", None, tag("thead", None, head), tag("tbody", None, *lines))
    return tag("div", {"class": "scroll"}, table)


def _side(column: int) -> dict[str, str | float | None]:
    return {"class": "n"} if column else {}


def _end(revision: Revision) -> Iterator[Markup]:
    """What is of no wall alone: totals, files and layers, unchanged walls, sources, caution."""
    totals = _table(_total_rows(revision))
    if totals:
        yield tag("section", None, tag("h2", None, "In all"), totals)
    apart = [tag("li", None, legible(line)) for line in apart_lines(revision)]
    if apart:
        yield tag("section", None, tag("h2", None, "Besides"), tag("ul", None, *apart))
    same = [w.new.wall for w in revision.walls if w.new and not w.touched]
    if same:
        names = ", ".join(f"{w.id} {w.name}".strip() for w in same)
        yield tag("p", None, legible(f"Unchanged: {names}."))
    for words, side in (("Before", revision.old), ("Now", revision.new)):
        yield tag("p", {"class": "quiet"}, legible(f"{words}: {source_words(side)}"))
    yield tag("p", None, CAUTION)


def source_words(side: Recorded) -> str:
    """Which files a takeoff was made of.

    Args:
        side: The takeoff.

    Returns:
        Each file with the beginning of its digest (SHA-256).
    """
    return ", ".join(f"{d.file} (SHA-256 {d.sha256[:12]})" for d in side.drawings)
