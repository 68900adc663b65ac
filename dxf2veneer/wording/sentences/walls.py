"""Sentences about walls, openings, corners and marks."""

from collections.abc import Mapping
from typing import Any

from dxf2veneer.basics.messages import Value
from dxf2veneer.wording.phrases import Sentence, Words

_CORNER = {
    "outside": "outside corner",
    "inside": "inside corner",
    "mitre": "bay corner",
    "end": "finished end",
    "butt": "plain edge",
}
_TREATED = {
    "report": "it was left out",
    "ignore": "it was left out, as asked",
    "hole": "it was taken out as a hole, as asked",
    "separate": "it is a wall of its own, taken out of the outer one, as asked",
}


def _nested(v: Mapping[str, Value], words: Words) -> str:
    host = f"wall {v['handle']}" if v["handle"] else "another wall"
    return f"wall outline lies inside {host}; {_TREATED[str(v['treated'])]}"


def _overlap(v: Mapping[str, Value], words: Words) -> str:
    over: Any = v["over"]
    listed = ", ".join(f"{wall} by {words.show(area)}" for wall, area in over)
    return f"{v['wall']} overlaps {listed}"


def _corner(v: Mapping[str, Value]) -> str:
    return _CORNER[str(v["kind"])]


def _mark_unused(v: Mapping[str, Value], words: Words) -> str:
    return f"{_corner(v)} mark lies at no upright edge of a wall"


def _tag_clash(v: Mapping[str, Value], words: Words) -> str:
    return (
        f"tag {v['tag']} stands at {words.show(v['places'])}, which is no one {_corner(v)}; "
        "each counts by itself"
    )


def _unpaired(v: Mapping[str, Value], words: Words) -> str:
    return (
        f"{_corner(v)} {v['corner']} at the {v['side']} edge of {v['wall']} has no partner on "
        f"another wall; it counts {words.show(v['run'])} by itself"
    )


def _heights_differ(v: Mapping[str, Value], words: Words) -> str:
    heights: Any = v["heights"]
    listed = " and ".join(f"{wall} {words.show(height)}" for wall, height in heights)
    return f"the edges of {_corner(v)} {v['corner']} differ in height: {listed}"


SENTENCES: dict[str, Sentence] = {
    "no-wall": "{file} has no usable wall outline",
    "outline-open": "{what} outline is open: its ends are {gap} apart",
    "outline-crosses": "{what} outline crosses itself",
    "outline-without-area": "{what} outline encloses no area",
    "outline-doubled": "{what} outline is the same as {handle}",
    "wall-nested": _nested,
    "walls-overlap": _overlap,
    "opening-outside": "opening of {area} lies in no wall and was not counted",
    "opening-partly-outside": "{area} of the opening lie outside {walls} and were not counted",
    "opening-across": "opening lies across {walls}; it counts once, its area in each",
    "opening-inside-opening": "opening outline lies inside opening {openings} in {wall}",
    "openings-overlap": "opening outline overlaps opening {openings} in {wall}",
    "door-assumed": "opening in {wall} touches the base and was taken for a door",
    "door-extended": ("opening in {wall} ends {height} above the base and was taken down to it"),
    "corner-mark-unused": _mark_unused,
    "corner-tag-clash": _tag_clash,
    "corner-unpaired": _unpaired,
    "corner-heights-differ": _heights_differ,
    "walls-not-drawn": "by the sizes in the job file, not drawn: {walls}",
    "trim-overlaps": (
        "wall {wall}: trim stones of {openings:and} overlap by {area:small}, as {gap} is left "
        "between the openings; both are ordered in full"
    ),
    "out-of-bid": "not in the base bid, as the job file says: {walls:and}",
    "no-wall-in-bid": ("{place}: treatments leave every wall out of the base bid; leave one in it"),
    "corner-of-products": (
        "corner {corner}: {products:and} meet there, and no panel goes round it; each side has "
        "corner pieces of its own product"
    ),
    "cap-mark-unused": "cap line marks no level top of veneer in any wall",
    "level-unused": "level line is not level or crosses no wall",
    "names-several": "{wall} holds several names: {names}; the first was used",
    "name-unused": "text {text:quoted} lies in no wall",
}
