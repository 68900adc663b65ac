"""Sentences about sizes measured on site and courses that are laid already."""

from __future__ import annotations

from collections.abc import Mapping

from dxf2veneer.basics.messages import Value
from dxf2veneer.wording.phrases import Sentence, Words

_WHATS = {
    "width": "the width of {owner}",
    "height": "the height of {owner}",
    "edge": "the distance of {owner} from the wall's fixed edge",
    "opening-width": "the width of {owner}",
    "sill": "the sill of {owner} above the wall's lowest point",
    "head": "the head of {owner} above the wall's lowest point",
}


def size_words(values: Mapping[str, Value], words: Words) -> str:
    """A size that was measured, by what it is of.

    Args:
        values: ``what`` and ``owner``; ``at`` where it is a width at some height.
        words: The reader's words.

    Returns:
        Such as: the width of W2 at 4'-6".
    """
    at = values.get("at")
    name = _WHATS[str(values["what"])].format(owner=values["owner"])
    return name if at is None else f"{name} at a height of {words.show(at)}"


def _sheet(values: Mapping[str, Value], words: Words) -> str:
    return (
        f"{words.show(values['place'])}: by the sheet {size_words(values, words)} is drawn as "
        f"{words.show(values['sheet'])}, in the drawing it is {words.show(values['drawn'])}; the "
        "measured size holds"
    )


def _far(values: Mapping[str, Value], words: Words) -> str:
    measured, drawn, most = (words.show(values[key]) for key in ("measured", "drawn", "most"))
    return (
        f"{size_words(values, words)} is measured as {measured} and drawn as {drawn}, more than "
        f"{most} apart; mend the measure, or raise most_off under [site] if it is right"
    )


def _beyond(values: Mapping[str, Value], words: Words) -> str:
    measured, drawn, off = (words.show(values[key]) for key in ("measured", "drawn", "off"))
    more = "more" if values["is_more"] else "less"
    return (
        f"{size_words(values, words)} is measured as {measured}, {off} {more} than the {drawn} "
        f"drawn; the plan allows for {words.show(values['tolerance'])}"
    )


def _off(values: Mapping[str, Value], words: Words) -> str:
    return f"{words.show(values['off'])} {'more' if values['is_more'] else 'less'}"


SENTENCES: dict[str, Sentence] = {
    "compared-on-site": (
        "{place}: plans are compared before a wall is begun, and site measures change the plan "
        "that is; leave one of the two out"
    ),
    # what can't be right
    "site-slip": "{place}: {why}",
    "site-unknown": "{place}: there is no {name} in the drawing; {hint}",
    "site-far-off": _far,
    "site-drawn-differs": _sheet,
    "site-above-wall": "{at} is above {wall}, which is {height} high; measure lower",
    "site-no-upright": (
        "at a height of {at} {wall} has no upright {side} edge but a slope or a curve; measure "
        "its width where both sides are upright"
    ),
    "site-leans": (
        "between the heights of {low} and {high} the edge of {wall} leans by {off} beside the "
        "drawing, more than 1 in 100; mend the widths, or draw the wall as it stands"
    ),
    "site-top-not-level": (
        "the top of {wall} is not level all along, so it has no one height; leave the height empty"
    ),
    "site-curve": (
        "the moved edge of {wall} runs into a curve; leave its widths empty, or draw the wall as "
        "it stands"
    ),
    "site-outline-folds": "with these sizes the outline of {wall} folds over itself; mend them",
    "site-opening-across": (
        "{opening} lies across several walls and can't be measured in one; draw it as it stands"
    ),
    "site-no-sill": "{opening} stands on the wall's base and has no sill; leave the sill empty",
    "site-opening-gone": "with these sizes nothing is left of {opening}; mend them",
    "site-opening-curved": (
        "{opening} has curves: its place can be measured, its size can't; leave the size empty, or "
        "draw it as it stands"
    ),
    "site-opening-beyond": (
        "as measured {opening} reaches {by} beyond {wall}; mend its sizes or those of the wall"
    ),
    "site-opening-at-edge": (
        "{opening} reaches an edge of {wall} as drawn and not as measured; measure both"
    ),
    "site-openings-meet": "as measured {opening} and {other} overlap; mend their sizes",
    "site-joints-not-laid": (
        "joints of course {course} of {wall}, of which {laid} {laid:course is|courses are} laid; "
        "raise laid, or leave the joints out"
    ),
    "site-joints-twice": "course {course} of {wall} has its joints twice; leave one out",
    "site-joints-order": (
        "the joints of course {course} of {wall} do not go up from more than 0 to less than "
        "{width}; measure each from the fixed edge"
    ),
    "site-courses-beyond": (
        "{place}: more courses are laid than {wall} has, which is {courses}; mend laid"
    ),
    "before-without-site": (
        "{place}: an earlier plan is kept where sizes were measured on site; name their file too "
        "(--site), or leave this out"
    ),
    "earlier-unreadable": "{file} can't be read: {why}",
    "earlier-not-json": (
        "{file} can't be read as a result of a takeoff (JSON); name the .json that a takeoff wrote"
    ),
    "earlier-no-result": (
        "{file} is no whole result of a takeoff ({schema}); name the .json that a takeoff wrote"
    ),
    "earlier-without-plan": (
        "{file} has no course plan that could be kept; make that takeoff with one"
    ),
    "earlier-other-walls": (
        "{file} is the result of another job: {wall} is {is_new:not in it|not in this one}; name a "
        "result of this drawing"
    ),
    "earlier-elsewhere": (
        "{file} is the result of another drawing: its panels of {wall} lie from x {low} to {high}, "
        "not where the wall is; name a result of this drawing"
    ),
    "earlier-other-panel": (
        "{file} is laid with panels of {length} x {height}; take that product, or leave the file "
        "out"
    ),
    "site-before-kept": (
        "the plan of {file} is kept as far as it can be, in place of the plan as drawn; "
        "{same:the drawings are those|the drawings have changed since}"
    ),
    "site-with-each": (
        "site measures name the walls of one takeoff, and --each makes many; leave one of the two "
        "out"
    ),
    # what the judge finds
    "laid-joint-unstated": "course {course} of {wall} is laid, and no joint at x {at} was stated",
    "laid-joint-missing": "course {course} of {wall} is laid without the joint stated at x {at}",
    "still-wall-changed": (
        "{wall} stands as drawn, and course {course} is not as by the plan as drawn at x {at}"
    ),
    "changed-cut-unlisted": (
        "course {course} of {wall}, which begins at x {at}, has changed cuts that are not listed"
    ),
    "changed-cuts-miscounted": "changed and unchanged cuts do not add up to {pieces} pieces",
    # what holds
    "site-measured": (
        "{sizes} {sizes:size|sizes} of {file} replace drawn ones, {as_drawn} "
        "{as_drawn:is|are} as drawn, {courses} {courses:course is|courses are} laid already"
    ),
    "site-beyond-tolerance": _beyond,
    "site-size": size_words,
    "site-off": _off,
    "effect-site-size": "measured on site, {off} than the {drawn} drawn",
    "site-courses-laid": "courses of {wall} that are laid",
    "effect-site-laid": "they stay as they are{real:after ; with their real joints: course }",
}
