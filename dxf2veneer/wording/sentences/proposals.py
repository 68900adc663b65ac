"""Sentences about proposals: why it is a view, a wall, an opening; what speaks for a unit."""

from __future__ import annotations

from collections.abc import Mapping
from shlex import quote
from typing import Any

from dxf2veneer.basics.messages import Value
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.wording.measures import unit_options
from dxf2veneer.wording.phrases import Sentence, Words


def _bounded(v: Mapping[str, Value], words: Words) -> str:
    bounds = " and ".join(
        word for word, there in (("ground", v["ground"]), ("eaves", v["covered"])) if there
    )
    number = v["openings"]
    held = f"{number} opening{'' if number == 1 else 's'} in it" if number else "no opening in it"
    return f"closed by {bounds or 'lines on all sides'}; {held}"


def _cladding(v: Mapping[str, Value], words: Words) -> str:
    drawn = words.show(v["cladding"]) or "no cladding recognized"
    return f"{_bounded(v, words)}; parted where the cladding changes, here {drawn}"


def _claddings(v: Mapping[str, Value], words: Words) -> str:
    areas: Any = v["areas"]
    listed = ", ".join(
        f"{' and '.join(drawn)}{' (none recognized)' * (drawn == ('plain',))} {words.show(area)}"
        for drawn, area in areas
    )
    return (
        f"net area by what is drawn on the walls: {listed}; propose --cladding "
        f"{quote(str(v['example']))} takes a part of it"
    )


_VIEWS = {
    "elevation": "an elevation",
    "plan": "a plan",
    "section": "a section",
    "detail": "a detail",
    "sheet": "a sheet frame",
    "other": "something else",
}


def _drawn(v: Mapping[str, Value], words: Words) -> str:
    return f"drawn like {_VIEWS[str(v['kind'])]}; next likeliest {_VIEWS[str(v['next'])]}"


def _absurd(v: Mapping[str, Value], words: Words) -> str:
    better: Any = v["better"]
    sense = f"; with {unit_options(better)} it would make sense" if better else ""
    size = words.show(v["size"])
    return (
        f"the drawing is read in {unit_by_name(str(v['unit'])).title}, which makes its {v['what']} "
        f"{size}: no building has that{sense}"
    )


SENTENCES: dict[str, Sentence] = {
    "proposal-unconfirmed": "walls and openings are proposed, not confirmed by a person",
    "proposal-of-another": (
        "the outlines were proposed for another drawing or an earlier state of this one"
    ),
    "claddings-drawn": _claddings,
    "drawing-traced": (
        "the drawing looks traced: its lines waver by up to {waver} and were made straight before "
        "walls were looked for"
    ),
    "hatched-outside": ("{view}: {area} hatched {pattern} like the walls lie in none of them"),
    "sides-unmarked": (
        "no corner and no finished end is marked on the {sides} {sides:side|sides} of {walls} "
        "{walls:wall|walls}: no corner panel is counted"
    ),
    # a second look
    "looking-whole": "looking at {file} as a whole",
    "second-look-large": (
        "the drawing is larger than {megabytes:g} MB: only the layers named were looked at"
    ),
    "second-look-lines": (
        "the drawing holds {n:,} lines and chords of curves, and at most {most:,} are looked at "
        "together: only the layers named were looked at"
    ),
    "lines-tangled": (
        "the lines of a view cross each other more than {most:,} times, as no building's do: "
        "nothing is looked for among them; freeze or delete the layer of the tangle"
    ),
    "second-look-failed": (
        "the whole drawing could not be looked at ({kind}): only the layers named were"
    ),
    "opening-unclaimed": (
        "a {kind} of {width} x {height} seems to lie in {wall} and is not taken off; "
        "--opening-at {point} takes it"
    ),
    "wall-like-opening": "{wall} has the outline of what looks like an opening in a wall",
    "opening-without-head": (
        "jambs and sill on layer {layer}, {width} x {height}, are not closed at the head, and no "
        'opening is taken off; opening_outline = ["window={outline}"] under [drawing] in the job '
        "file takes it"
    ),
    "wall-outline-open": (
        "lines on layer {layer} reach round all outlines on it, {width} x {height}, and close none"
    ),
    "walls-of-other-view": (
        "taken from view {view}, which is no elevation but a {kind}{title:after, by its title }: "
        "{walls}"
    ),
    "elevation-not-taken": (
        "view {view}{title:after, } looks like an elevation, and no wall of it was taken"
    ),
    "size-area": "{area:,.4g} sq ft",
    "units-absurd-other": _absurd,
    "no-such-cladding": (
        "no wall is drawn with {asked}{there:after; what is drawn on its walls is }"
    ),
    "no-such-view": "there is no view {view:quoted}; {views:after its views are }",
    # why
    "proposed-wall-bounded": _bounded,
    "proposed-wall-cladding": _cladding,
    "proposed-outlined": (
        "a closed outline on layer {layer}, where outlines of {of_walls:walls|openings} lie"
    ),
    "proposed-view-outlined": "walls are drawn in it as outlines on a layer of their own",
    "proposed-opening-framed": "{frames} {frames:frame|frames one inside the other}",
    "proposed-opening-gap": "{lines} lines of the cladding end at its jambs, none crosses it",
    "proposed-opening-braced": "a leaf braced from corner to corner",
    "proposed-opening-free": "a free-standing outline of an opening's size",
    "proposed-corner-heights": "the sides of two elevations have the same height",
    "proposed-corner-alone": "no side of another elevation has this height alone",
    "proposed-view-titled": "its title says so",
    "proposed-view-table": "a table or legend",
    "proposed-view-drawn": _drawn,
    "proposed-view-footprint": "it has the outline of a plan on this sheet",
    "proposed-view-height": "no building is {height} high",
    "proposed-view-frame": "a sheet frame",
    # what speaks for a unit
    "unit-by-header": "the header names {unit}",
    "unit-by-header-notation": "the header shows lengths in feet and inches",
    "unit-by-dimensions": "{count} {count:dimension reads|dimensions read} as their lengths",
    "unit-by-levels": "{count} {count:set|sets} of level marks such as {text:quoted}",
    "unit-by-text": "the text {text:quoted}",
    "unit-by-viewport": "the scale of a viewport on layout {layout:quoted}",
    "unit-by-frame": "a sheet frame of {width:g} x {height:g}",
    "unit-by-round-lengths": "{count} lengths are round numbers",
    "unit-by-size": "{what} of {size:g} units ({count} seen)",
}
