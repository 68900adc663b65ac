"""Sentences about what changed from one takeoff to another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from dxf2veneer.basics.messages import Length, Value
from dxf2veneer.wording.phrases import Sentence, Words

_SHOWN_IN = 1 / 32
"""Moves that are shown as nothing are not told."""


def _named(values: Mapping[str, Value], kind: str) -> str:
    """A wall or opening by kind, id and name, by its id before too where that was another."""
    id_old, id_new = values["id_old"], values["id_new"]
    name = values["name_old"] if id_new is None else values["name_new"]
    quoted = f' "{name}"' if name else ""
    before = f" (before {id_old})" if id_old and id_new and id_old != id_new else ""
    return f"{kind} {id_new or id_old}{quoted}{before}"


def _size(values: Mapping[str, Value], which: str, words: Words) -> str:
    return words.show(values[which], " x ")


def _way(value: Value, forward: str, back: str, words: Words) -> str:
    """How far something went, such as ``up 2"``; empty where it did not."""
    inches = value.inches if isinstance(value, Length) else 0.0
    if abs(inches) <= _SHOWN_IN:
        return ""
    return f"{forward if inches > 0.0 else back} {words.show(Length(abs(inches)))}"


def _moves(values: Mapping[str, Value], words: Words) -> Iterator[str]:
    """How an opening's edges went: both sides together as one move."""
    for low, high, low_name, high_name, forward, back in (
        ("left", "right", "left side", "right side", "right", "left"),
        ("sill", "head", "sill", "head", "up", "down"),
    ):
        ways = [_way(values[name], forward, back, words) for name in (low, high)]
        if ways[0] and ways[0] == ways[1]:
            yield ways[0]
            continue
        for name, way in zip((low_name, high_name), ways, strict=True):
            if way:
                yield f"{name} {way}"


def _renaming(values: Mapping[str, Value]) -> Iterator[str]:
    """Another name or kind."""
    old, new = values["name_old"], values["name_new"]
    if old != new:
        yield (
            f'"{old}" -> "{new}"'
            if old and new
            else f'now named "{new}"'
            if new
            else (f'no longer named "{old}"')
        )
    if values.get("kind_old") != values.get("kind_new"):
        yield f"{values['kind_old']} -> {values['kind_new']}"


def _doubts(values: Mapping[str, Value], words: Words) -> str:
    why = words.show(values["why"], "; ")
    return f"; not sure: {why}" if why else ""


def _opening(values: Mapping[str, Value], words: Words) -> str:
    changes = values["changes"]
    changes = changes if isinstance(changes, tuple) else ()
    name = _named(values, str(values["kind_new"] or values["kind_old"]))
    if "added" in changes:
        return f"{name} added: {_size(values, 'size_new', words)}"
    if "removed" in changes:
        return f"{name} removed: {_size(values, 'size_old', words)}"
    parts = list(_moves(values, words))
    if "resized" in changes:
        old, new = (_size(values, which, words) for which in ("size_old", "size_new"))
        parts.insert(0, f"{old} -> {new}" if old != new else f"{new} in another shape")
    elif "moved" in changes:
        parts = [f"moved {' and '.join(parts)}"] if parts else ["moved"]
    parts += _renaming(values) if "renamed" in changes else ()
    return f"{name}: {', '.join(parts) or 'the same'}{_doubts(values, words)}"


def _wall(values: Mapping[str, Value], words: Words) -> str:
    changes = values["changes"]
    changes = changes if isinstance(changes, tuple) else ()
    name = _named(values, "wall")
    for change, which in (("added", "new"), ("removed", "old")):
        if change in changes:
            size = _size(values, f"size_{which}", words)
            return f"{name} {change}: {size}, {words.show(values[f'area_{which}'])} gross"
    parts = []
    if "resized" in changes:
        old, new = (_size(values, which, words) for which in ("size_old", "size_new"))
        parts.append(
            f"{old} -> {new}" if old != new
            else f"{new} in another shape, its outline {words.show(values['off'])} off at most"
        )  # fmt: skip
    if "moved" in changes:
        ways = (
            _way(values["right"], "right", "left", words), _way(values["up"], "up", "down", words)
        )  # fmt: skip
        parts.append(f"moved {' and '.join(filter(None, ways))} on the sheet")
    parts += _renaming(values) if "renamed" in changes else ()
    return f"{name}: {', '.join(parts) or 'the same'}{_doubts(values, words)}"


def _corner(values: Mapping[str, Value], words: Words) -> str:
    change = values["change"]
    which = "old" if change == "removed" else "new"
    tag = values[f"tag_{which}"]
    id_old, id_new = values["id_old"], values["id_new"]
    before = f" (before {id_old})" if id_old and id_new and id_old != id_new else ""
    name = f"{values[f'kind_{which}']} corner {values[f'id_{which}']}"
    name += f' "{tag}"{before}' if tag else before
    old, new = words.show(values["old"]), words.show(values["new"])
    if change == "added":
        return f"{name} added: {new} high"
    if change == "removed":
        return f"{name} removed: {old} high"
    parts = []
    if values["kind_old"] != values["kind_new"]:
        parts.append(f"{values['kind_old']} -> {values['kind_new']}")
    if values["tag_old"] != values["tag_new"]:
        parts.append(f'tag "{values["tag_old"] or ""}" -> "{values["tag_new"] or ""}"')
    if old != new:
        parts.append(f"{old} -> {new} high")
    return f"{name}: {', '.join(parts) or 'the same'}"


def _stretch(values: Mapping[str, Value], words: Words) -> str:
    what = "cap" if values["what"] == "cap" else f"finished {values['name']} end"
    name = f"{what} of wall {values['wall']}"
    old, new = words.show(values["old"]), words.show(values["new"])
    match values["change"]:
        case "added":
            return f"{name} added: {new}"
        case "removed":
            return f"{name} removed: {old}"
        case "resized":
            return f"{name}: {old} -> {new}"
        case "moved":
            ways = (
                _way(values["right"], "right", "left", words),
                _way(values["up"], "up", "down", words),
            )
            return f"{name}: moved {' and '.join(filter(None, ways))}"
    return f"{name}: the same"


def _level(values: Mapping[str, Value], words: Words) -> str:
    name = f"level line of wall {values['wall']}"
    if values["change"] == "moved":
        return f"{name}: moved {_way(values['up'], 'up', 'down', words)}"
    return f"{name}: the same" if values["change"] == "same" else f"{name} {values['change']}"


def _file(values: Mapping[str, Value], words: Words) -> str:
    return _of_name(values, "drawing")


def _layer(values: Mapping[str, Value], words: Words) -> str:
    return _of_name(values, "layer")


def _of_name(values: Mapping[str, Value], what: str) -> str:
    old, new = values["old"], values["new"]
    if values["change"] == "renamed":
        return f"{what} {old} -> {new}"
    return f"{what} {new or old} {values['change']}"


SENTENCES: dict[str, Sentence] = {
    "revision-wall": _wall,
    "revision-opening": _opening,
    "revision-corner": _corner,
    "revision-stretch": _stretch,
    "revision-level": _level,
    "revision-file": _file,
    "revision-layer": _layer,
    "revision-layer-found": (
        "the new drawing has no layer {pattern}, which the job names under layers.{role}; what lay "
        "on it lies on {layer} now, and is taken from there"
    ),
    "revision-layer-lost": (
        "the new drawing has no layer {pattern}, which the job names under layers.{role}, and no "
        "other carries what lay on it; give the new layers by --new-job"
    ),
    "revision-unit": "unit of {file}: {old} -> {new}",
    "revision-other-scale": (
        "everything in the new drawing is {times:.6g} times as large as before; look whether its "
        "unit is right (--units)"
    ),
    "wall-could-be-old": "{wall} is about as much like {other} before",
    "wall-could-be-new": "{wall} before is about as much like {other} now",
    "opening-could-be-old": "{opening} could as well be {other} before",
    "opening-could-be-new": "{opening} before could as well be {other} now",
    "result-without-outlines": (
        "{file}: this result was written by an earlier version, which did not record outlines; "
        "take the drawing off again, or compare the drawings themselves"
    ),
    "compare-nothing-there": (
        "{folder}: there is no drawing (.dxf) and no result of a takeoff (.json) in this folder"
    ),
    "amount-unreadable": "{option} {text}: wants an amount such as 12500 or -350.50",
    "earlier-change-unreadable": ("--earlier-change {text}: wants NUMBER=AMOUNT, such as 1=350.00"),
    "earlier-change-alone": (
        "--earlier-change needs --contract-price: the price of the takeoff of OLD may hold earlier "
        "changes already"
    ),
    "compare-draws-no-result": (
        "{file} is the result of a takeoff: changes are drawn on a copy of the drawing itself, so "
        "name the drawing in its place or leave -o out"
    ),
    "compare-files-of-each": (
        "with --each only --json is written; compare two drawings for --report, -o or "
        "--change-order"
    ),
    "keep-changes-of-each": (
        "changes by hand are of one workbook; leave --keep-changes out with --each"
    ),
    "keep-plan-of-results": (
        "--keep-plan lays the new walls with the pieces of the old plan, so it needs two drawings; "
        "name them in place of results"
    ),
    "compare-no-folder": (
        "{file}: --each compares the drawings of one folder with those of another; name two "
        "folders, or leave --each out"
    ),
    "compare-file-missing": "{file}: no such file or folder",
    "compare-mixed": (
        "{folder}: results of several takeoffs (.json); compare them one by one, or with --each"
    ),
}
