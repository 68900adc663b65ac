"""Sentences about work besides laying and the lines of the bid."""

from collections.abc import Mapping
from typing import Any

from dxf2veneer.wording.measures import ITEM_UNITS
from dxf2veneer.wording.phrases import Sentence, Words

_PER = {"pallets": "pallet", "pounds": "lb", "hundredweight": "100 lb", "kilograms": "kg"}
_PER |= {"hours": "hour of work", "days": "begun day of the crew", "job": "job"}
_AREAS = {"barrier_area": "walls with a barrier"}
_ONE = {"walls": "wall", "openings": "opening", "cuts": "cut", "pieces": "piece"}
_ONE |= {"flat_pieces": "flat piece", "corner_pieces": "corner piece"}
_ONE |= {"partial_pieces": "partial piece"}


def _per(key: str, unit: str) -> str:
    """One of what a rate goes by."""
    known = _PER | _ONE
    of = _AREAS.get(key) or key.replace("_", " ")
    return known.get(key) or f"{ITEM_UNITS[unit]} of {of}"


def _taken_of(values: Mapping[str, Any], words: Words) -> str:
    """What a line is taken of: kinds of cost, or all above it."""
    return words.show(values["of"]) if values["of"] else "the total so far"


def _limits(values: Mapping[str, Any], words: Words) -> str:
    """The least that a line comes to, and where it counts alone."""
    least, below = values.get("least"), values["below"]
    text = "" if least is None else f", at least {least:,.2f}"
    only = f", only while {_taken_of(values, words)} is below"
    return text if below is None else f"{text}{only} {below:,.2f}"


def _by_amount(values: Mapping[str, Any], words: Words) -> str:
    return "lump sum" + _limits(values, words)


def _by_rate(values: Mapping[str, Any], words: Words) -> str:
    return words.show(values["each"]) + _limits(values, words)


def _for_each(values: Mapping[str, Any], words: Words) -> str:
    return f"{values['value']:,.10g} for each {_per(values['per'], values['unit'])}"


def _by_percent(values: Mapping[str, Any], words: Words) -> str:
    return f"{values['value']:g} % of {_taken_of(values, words)}" + _limits(values, words)


def _task_as_written(values: Mapping[str, Any], words: Words) -> str:
    unit = ITEM_UNITS.get(values["unit"], values["unit"])
    measure = str(values["measure"]).replace("_", " ")
    sized = f"{measure} in {unit}" if unit in ("m²", "m", "sq ft", "ft") else measure
    given = sized if values["measure"] else f"{values['quantity']:,.10g} {unit}"
    hours = "" if values["hours"] is None else f", {values['hours']:,.10g} h each"
    rate = "" if values["rate"] is None else f", {values['rate']:,.10g} each"
    return f"{values['name']}: {given}{hours}{rate}"


def _effect_for_each(values: Mapping[str, Any], words: Words) -> str:
    return f"for each {ITEM_UNITS[values['unit']]}: {words.show(values['effect'])}"


SENTENCES: dict[str, Sentence] = {
    "labor-layout": "Lay out courses",
    "labor-barrier": "Hang the barrier",
    "labor-strips": "Set starter strips",
    "labor-caulk": "Caulk joints",
    "labor-setup": "Set up on site",
    "labor-cleanup": "Clean up",
    "labor-scaffold": "Put up and take down scaffold",
    "left-barrier": "Installing the water-resistive barrier",
    "left-strips": "Installing starter strips",
    "left-caulk": "Caulking joints",
    "left-cleanup": "Clean-up",
    "left-scaffold": "Putting up and taking down scaffold",
    "labor-by-measure": lambda values, words: str(values["measure"]).replace("_", " "),
    "labor-by-hand": "quantity as given",
    "bid-materials": "Materials",
    "bid-labor": "Labor",
    "bid-minimum": "Up to the least price",
    "bid-rounding": "Rounding",
    "bid-by-items": "the order's items, each in whole packages",
    "bid-by-hours": "hours x wage, and work paid by its quantity",
    "bid-by-amount": _by_amount,
    "bid-by-rate": _by_rate,
    "rate-for-each": _for_each,
    "bid-by-percent": _by_percent,
    "bid-by-margin": "margin: {value:g} % of the price, not of the cost",
    "bid-by-minimum": "no less than {least:,.2f}",
    "bid-by-rounding": "{up:up to the next|to the nearest} multiple of {step:g}",
    "effect-layout": "hours to lay out courses, by net area; without them it is left out",
    "effect-barrier": "hours to hang the barrier; without them it is left out",
    "effect-strips": "hours to set starter strip; without them it is left out",
    "effect-caulk": "hours to caulk; without them it is left out",
    "effect-rates": "areas and runs that rates of work and of the bid go by",
    "effect-for-each": _effect_for_each,
    "effect-setup": "hours to set up on site; without them it is left out",
    "effect-cleanup": "hours to clean up, by net area; without them it is left out",
    "effect-scaffold": "hours of scaffold, by gross area; without them it is left out",
    "effect-tasks": "other work, by its quantity",
    "effect-bid-lines": "lines of the bid after materials and labor, one after the other",
    "effect-minimum": "the least that the job is done for",
    "effect-round-to": "the price is a multiple of it",
    "effect-rounding": "whether the price is rounded to the nearest or up",
    "task-as-written": _task_as_written,
    "charge-as-written": "{name}: {working}",
    "work-unrated": ("no hours are given for: {work}; the price leaves this work out"),
}
