"""Sentences about the course plan, its bounds, its judge."""

from __future__ import annotations

from collections.abc import Mapping

from dxf2veneer.basics.messages import Value
from dxf2veneer.config.rules import rule_name
from dxf2veneer.wording.phrases import Sentence, Words


def _counted(number: Value, noun: str) -> str:
    """``1 flat panel``, ``12 flat panels``."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"


def _bound_by_length(values: Mapping[str, Value], words: Words) -> str:
    length, covered = (words.show(values[name]) for name in ("length", "covered"))
    text = f"at least {_counted(values['panels'], 'flat panel')} for {length} of courses"
    if values["covered"] is not None:
        text += f" less {covered} that corner pieces cover at most"
    if values["parts"]:
        text += f", with the saw cuts of {_counted(values['parts'], 'piece')} or more"
    return text


def _broken(values: Mapping[str, Value], words: Words) -> str:
    """What does not hold: the rule's name and id, broken, forced or as laid, the place, what was
    found there, and why."""
    rule, places = str(values["rule"]), values["places"]
    name = rule_name(rule)
    named = name if rule == name else f"{name} ({rule})"
    course = f"course {values['course']}"
    where = course if places == 1 else f"{places} places, the first in {course}"
    at = f" on {values['wall']}, {where}" if values["wall"] else ""
    found = words.show(values["found"])
    why = "" if values["why"] is None else f"; {words.show(values['why'])}"
    return f"{named} {values['state']}{at}: {found}{why}"


_PIECES = "{pieces:and}"
_BOUNDS: dict[str, Sentence] = {
    "bound-sum-of-walls": (
        "the sum of the bounds of {walls} walls, because offcuts stay on their wall"
    ),
    "bound-of-products": (
        "the sum of {bounds:and}: what each product can't do without, as no "
        "offcut passes to another"
    ),
    "bound-by-length": _bound_by_length,
    "bound-by-ends": (
        "at least {panels:,} {panels:flat panel|flat panels}: each has only two factory ends for "
        "the joints, and a piece longer than {alone} leaves too little for another"
    ),
    "bound-with-corner-panels": ("{corners:,} {corners:corner panel|corner panels} and {flat}"),
    "corner-bound-by-hands": (
        "{left:,} left-hand and {right:,} right-hand {right:corner piece|corner pieces}, and a "
        "corner panel gives one of each hand"
    ),
    "corner-bound-by-pairing": (
        "{left:,} left-hand and {right:,} right-hand {right:corner piece|corner pieces}, of which "
        "no more than {pairs:,} {pairs:pair|pairs} can share a panel, cut as short as they may be"
    ),
}
"""Why no plan can do with fewer panels."""


def _always_parted(values: Mapping[str, Value], _: Words) -> str:
    corners = _counted(values["fewest"], "corner")
    return f"every layout of this bay, all courses taken together, has {corners} from two panels"


_EXCEPTIONS: dict[str, Sentence] = {
    "piece-shorter-than-least": "a piece shorter than the least",
    "run-shorter-than-least-piece": (
        "the run is {length} long, shorter than the least piece of {least}"
    ),
    "corner-cuts-do-not-vary": "corner cuts that do not vary",
    "corner-cut-has-no-slack": (
        "a run {length} long takes a piece of {least} beside the corner piece, which leaves its "
        "cut {slack} to vary"
    ),
    "no-mitre-at-bay-corner": "no mitre at a bay corner",
    "corner-piece-fills-bay-run": (
        "a corner piece fills the {length} between a corner and a bay, too short for a mitred "
        "piece beside it"
    ),
    "bay-corner-from-two-panels": "the two sides of a bay corner from two panels",
    "bay-always-parted": _always_parted,
    "one-end-without-corner-piece": "one end without a corner piece, turn by turn",
    "finished-ends-too-near": (
        "both ends of a run {length} long are finished, which takes two pieces of {least}"
    ),
    "joints-nearer-than-stagger": "joints nearer than the stagger",
    "joints-always-near": (
        "the run is {length} long, and no layout of it and of the course below keeps their joints "
        "{stagger} apart"
    ),
    "flat-piece-in-column": "a flat piece in a column's face",
    "column-wider-than-corner-piece": (
        "the run is {length} long, and a corner panel of this product gives no piece longer than "
        "{longest}"
    ),
    "strip-lower-than-least": "a strip lower than the least",
    "strip-left-by-courses": (
        "course lines and wall leave {height} there; another starter height or a moved head may "
        "clear it"
    ),
}
"""Where the wall leaves a rule no way to hold, and why."""

_COVER: dict[str, Sentence] = {
    "piece-off-field": f"piece {_PIECES} ({{length}} long) lies outside the field of its course",
    "piece-beyond-field": f"piece {_PIECES} covers {{size}} outside the field of its course",
    "pieces-overlap": f"pieces {_PIECES} overlap by {{size}}",
    "field-uncovered": "no piece covers {size} of the field",
    "box-and-area": "{width} by {height} ({area:small})",
}

_DECLARED: dict[str, Sentence] = {
    "piece-number-wrong": (
        "piece {piece} is number {number} of its course or not right of the one before"
    ),
    "piece-box-wrong": (
        "piece {piece} says {length} by {height}, its outline is {drawn_length} by {drawn_height}"
    ),
    "piece-not-marked-ripped": (
        "piece {piece} is lower than its course along a level stretch, and is not marked ripped"
    ),
    "piece-marked-ripped": (
        "piece {piece} is not lower than its course along a level stretch, and is marked ripped"
    ),
    "piece-marked-glued": (
        "piece {piece} keeps {kept} of the flange of its {length}, and is marked glued"
    ),
    "piece-not-marked-glued": (
        "piece {piece} keeps {kept} of the flange of its {length}, and is not marked glued"
    ),
    "piece-kind-wrong": "piece {piece} is {kinds:or}, and says {said}",
    "rake-angle-wrong": (
        "piece {piece} is cut at {least:.1f} to {most:.1f} degrees, and says {said:.1f}"
    ),
    "strip-too-low": "piece {piece} has a strip {height} high and {length} long",
}

_LENGTHS: dict[str, Sentence] = {
    "piece-too-short": (
        f"piece {_PIECES} is {{length}} long, the least is {{least}}; its run measures {{run}}"
    ),
    "corner-piece-leaves-none": (
        f"corner piece {_PIECES} is {{length}} long; from {{longest}} on its panel gives no second "
        "piece"
    ),
    "joint-near-below": (
        "the joint stands {apart} from one of the course below, the least is {least}"
    ),
    "corner-cut-not-varied": (
        f"corner piece {_PIECES} is {{length}} long, the one before it at this edge {{before}}; "
        "they differ by {vary} at least"
    ),
    "flat-in-column": (
        f"a column's face of {{length}} is laid in corner pieces alone; piece {_PIECES} is flat"
    ),
}

_EDGES = {"outside": "outside corner", "inside": "inside corner"}


def _at_edge(sentence: str) -> Sentence:
    """A sentence whose ``edge`` is a kind of side edge."""

    def worded(values: Mapping[str, Value], words: Words) -> str:
        texts = {
            name: words.show(value, "and")
            for name, value in values.items()
            if isinstance(value, tuple)
        }
        edge = str(values["edge"])
        texts["edge"] = _EDGES.get(edge, f"{edge} edge")
        plain = {name: words.show(value) for name, value in values.items() if name not in texts}
        return sentence.format(**plain, **texts)

    return worded


_ENDS: dict[str, Sentence] = {
    "flat-piece-finished": f"piece {_PIECES} is cut from a flat panel and has a finished end",
    "corner-panel-not-cut": (
        f"piece {_PIECES} keeps both ends of a corner panel, which is cut in two"
    ),
    "corner-piece-ends": (
        f"corner piece {_PIECES} has ends {{left}} and {{right}}, not one finished and one cut"
    ),
    "no-corner-piece-at-edge": _at_edge(
        "the {edge} takes a {hand}-hand corner piece in this course; there is {unit} piece "
        "{pieces} with a {end} end"
    ),
    "overhang-too-far": _at_edge(
        "corner piece {pieces} runs {off} farther past the {edge} than the job's overhang"
    ),
    "overhang-too-short": _at_edge(
        "corner piece {pieces} runs {off} less far past the {edge} than the job's overhang"
    ),
    "corner-piece-out-of-turn": _at_edge(
        "in this course the other wall carries the corner piece of the {edge}; piece {pieces} is "
        "finished there"
    ),
    "finished-where-plain": f"piece {_PIECES} has its finished end where the run ends plain",
    "bay-without-mitre": f"the bay takes a mitred end; piece {_PIECES} has a {{end}} end",
    "mitre-without-bay": _at_edge("there is no bay at the {edge}; piece {pieces} has a {end} end"),
    "finished-inside-run": (
        f"piece {_PIECES} has its finished {{side}} end inside the run, not at an edge"
    ),
    "mitre-inside-run": (
        f"piece {_PIECES} has its mitred {{side}} end inside the run, not at a bay"
    ),
    "cut-inside-run": (
        f"piece {_PIECES} has its cut {{side}} end inside the run, where panels meet factory end "
        "to factory end"
    ),
    "both-walls-carry-corner": (
        "at {edge} corner {corner} both walls would carry the corner piece of this course; they "
        "take turns"
    ),
    "neither-wall-carries-corner": (
        "at {edge} corner {corner} neither wall would carry the corner piece of this course; they "
        "take turns"
    ),
    "mitre-angle-wrong": (
        f"piece {_PIECES} is mitred at {{angle:g}} degrees; half the angle of the walls is "
        "{half:g}"
    ),
    "bay-from-two-panels": (
        "the two sides of bay corner {corner} come from {right} and {left}, not from one panel"
    ),
}

_FIELDS = {
    "units": "panels",
    "pieces": "pieces",
    "pieces_length": "inches of pieces",
    "cuts": "cuts",
    "left": "left-hand parts",
    "right": "right-hand parts",
}
"""What the counts of a kind of panel count."""


def _count_wrong(values: Mapping[str, Value], _: Words) -> str:
    what = _FIELDS[str(values["field"])]
    said, there = values["said"], values["there"]
    return f"of {values['kind']} panels the plan counts {said:g} {what}, there are {there:g}"


_STOCK: dict[str, Sentence] = {
    "unit-id-twice": "{count} panels are called {unit}",
    "unit-letter-wrong": "{kind} panel {unit} has the other kind's letter",
    "unit-lists-no-piece": "panel {unit} lists piece {piece}, which is not there",
    "piece-of-no-unit": f"piece {_PIECES} is cut from no panel",
    "piece-listed-twice": f"piece {_PIECES} is listed more than once, by {{units}}",
    "piece-names-other-unit": (
        f"piece {_PIECES} says it is cut from {{said_kind}} panel {{said}}, "
        "{kind} panel {unit} lists it"
    ),
    "piece-number-twice": f"piece {_PIECES} is not the only one of its number in the course",
    "unit-without-parts": "nothing is cut from panel {unit}",
    "unit-length-wrong": ("{kind} panel {unit} is {length} long, the product's measures {face}"),
    "unit-shared-by-walls": (
        "panel {unit} is shared by {walls}; offcuts stay on their wall in this job"
    ),
    "parts-overlap": f"in panel {{unit}} piece {_PIECES} overlaps the part before by {{by:exact}}",
    "no-room-for-saw": (
        f"in panel {{unit}} piece {_PIECES} leaves {{gap:exact}} for the saw, which takes "
        "{kerf:fine}"
    ),
    "part-beyond-unit": (
        f"piece {_PIECES} runs from {{start:exact}} to {{end:exact}} in panel {{unit}} "
        "of {length}"
    ),
    "end-not-reached": (
        f"piece {_PIECES} says its {{side}} end is {{end}} and does not reach that end of panel "
        "{unit}"
    ),
    "end-of-other-kind": (
        f"piece {_PIECES} says its {{side}} end is {{end}} and a {{kind}} panel has none"
    ),
    "unit-used-wrong": ("panel {unit} says {said:exact} are used; its parts measure {used:exact}"),
    "unit-kerfs-wrong": (
        "panel {unit} says its saw cuts take {said:exact}; between its parts they take "
        "{kerfs:exact}"
    ),
    "unit-hands": "corner panel {unit} gives {count} {side}-hand pieces",
    "corner-unit-parts": "corner panel {unit} is cut into {count} pieces",
    "corner-unit-equal-parts": (
        "the two pieces of corner panel {unit} are {first} and {second} long; they differ by "
        "{unequal} at least"
    ),
    "units-below-bound": "{units} {kind} panels are fewer than the bound of {bound}",
    "wall-pieces-miscounted": ("the plan counts {counted} pieces for the wall, there are {there}"),
    "walls-do-not-add-up": "the walls' {kind} panels add up to {walls}, the job's are {job}",
    "count-wrong": _count_wrong,
}

SENTENCES: dict[str, Sentence] = {
    "rule-broken": _broken,
    "blend-uneven": (
        "{wall} has {laid:.1f} % {color} instead of {wanted:.1f} %: {panels:.1f} panels off"
    ),
    **_BOUNDS,
    **_EXCEPTIONS,
    **_COVER,
    **_DECLARED,
    **_LENGTHS,
    **_ENDS,
    **_STOCK,
}
