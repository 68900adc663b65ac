"""Sentences about coursing advice: what moves, what it leaves, how much was tried."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dxf2veneer.basics.messages import Length, Value
from dxf2veneer.wording.phrases import Sentence, Words

_NAMED = 6
"""Openings that one move names."""


def _direction(by: Any, up: str, down: str) -> str:
    return up if by.inches > 0.0 else down


def _named(values: Mapping[str, Value], words: Words) -> str:
    """Such as ``windows A, B`` or ``the cap of W1``."""
    names, kind = values["names"], str(values["kind"])
    assert isinstance(names, tuple)
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    listed = f"{words.show(names[:_NAMED])}{more}"
    if kind == "cap":
        return f"the cap of {listed}"
    if kind == "garage":
        kind = "garage door"
    return f"{kind}{'' if len(names) == 1 else 's'} {listed}"


def _move(values: Mapping[str, Value], words: Words) -> str:
    head, sill = values["head"], values["sill"]
    assert isinstance(head, Length) and isinstance(sill, Length)
    named = _named(values, words)

    def far(by: Length) -> str:
        return words.show(Length(abs(by.inches)), "fine")

    if values["whole"]:
        return f"{_direction(head, 'raise', 'lower')} {named} by {far(head)}"
    edges = [(edge, by) for edge, by in (("head", head), ("sill", sill)) if by.inches]
    (first, by), *others = edges
    told = f"{_direction(by, 'raise', 'lower')} the {first} of {named} by {far(by)}"
    for edge, by in others:
        told += f" and {_direction(by, 'raise', 'lower')} the {edge} by {far(by)}"
    return told


def _fewer(now: int, before: int, one: str, more: str, words: Words) -> str:
    """How many there are against before; empty where it is the same."""
    if now == before:
        return ""
    off = abs(now - before)
    return f"{off} {one if off == 1 else more} {'fewer' if now < before else 'more'}"


def _proposal(values: Mapping[str, Value], words: Words) -> str:
    v: Any = values
    moves = [words.show(move) for move in v["moves"]]
    start = words.show(v["height"], "fine")
    kept = v["keeps_start"]
    moves.append(f"keep the start at {start}" if kept else f"start at {start}")
    now, before = v["slivers"], v["slivers_before"]
    slivers = "no sliver" if not now else f"{now} sliver{'' if now == 1 else 's'}"
    left = [slivers if now == before else f"{slivers} instead of {before}"]
    left += [
        _fewer(v["ripped"], v["ripped_before"], "rip", "rips", words),
        f"{v['heads_out']} {'head' if v['heads_out'] == 1 else 'heads'} out of line"
        if v["heads_out"]
        else "",
        f"{words.show(v['bare_more'])} more bare ground" if v["bare_more"] else "",
        f"{words.show(v['bare_less'])} less bare ground" if v["bare_less"] else "",
    ]
    if v["panels"] is not None and v["panels_before"] is not None:
        left.append(_fewer(v["panels"], v["panels_before"], "panel", "panels", words))
    return f"{', '.join(moves)}: {', '.join(filter(None, left))}"


def _no_multiple(values: Mapping[str, Value], words: Words) -> str:
    v: Any = values
    names = v["names"]
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    trimmed = " with trim" if v["trimmed"] else ""
    return (
        f"{words.show(names[:_NAMED])}{more} {'is' if len(names) == 1 else 'are'} "
        f"{words.show(v['height'], 'fine')} high{trimmed}, which is no "
        f"multiple of the course of {words.show(v['course'], 'fine')} "
        f"({words.show(v['over'], 'fine')} over): no single move clears both head and sill"
    )


_HELD = {
    "across": "lies across several walls",
    "curve": "is bounded by curves, so its height stays",
    "no-room": "has no room over and under it",
    "stepped-top": "has its cap along a top that is not level",
}


def _held(values: Mapping[str, Value], words: Words) -> str:
    v: Any = values
    return f"may change and can't: {words.show(v['names'])} ({_HELD[str(v['why'])]})"


SENTENCES: dict[str, Sentence] = {
    "searching-starts": "searching starts and moves",
    "advice-unknown": ("{place} names {name!r}, which is no kind and no opening; {hint}"),
    "advice-move": _move,
    "advice-proposal": _proposal,
    "advice-none": "nothing within these limits beats what stands",
    "advice-fixed": (
        "openings and caps stay where they are drawn; --may-move window=2 lets windows move up to "
        "2 in"
    ),
    "advice-resize-alone": (
        "--may-resize alone changes nothing: an opening becomes higher or lower within what "
        "--may-move lets it move; give both"
    ),
    "advice-tried": (
        "tried all of {starts:,} {starts:start|starts} that read well, each with every move within "
        "the limits that changes anything: nothing was left out"
    ),
    "advice-searched": (
        "searched, not all: {starts:,} {starts:start|starts} with the likeliest moves, so that "
        "something better may have been passed over"
    ),
    "advice-unbeaten": (
        "{listed} of {unbeaten} that no other beats are listed; --proposals lists more"
    ),
    "advice-no-multiple": _no_multiple,
    "advice-held": _held,
    "advice-caution": (
        "a moved or resized opening changes lintel, framing and flashing: the architect and a "
        "licensed professional decide; the clearance above the ground stays with the local code"
    ),
}
