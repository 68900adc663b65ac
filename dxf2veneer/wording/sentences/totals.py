"""Sentences about cross-checks of a finished takeoff."""

from __future__ import annotations

from collections.abc import Mapping

from dxf2veneer.basics.messages import Value
from dxf2veneer.wording.phrases import Sentence, Words

_RUNS = {
    "starter_run": "starter run",
    "cap_run": "cap run",
    "head": "head",
    "jambs": "jambs",
    "sill": "sill",
    "gross_area": "gross area",
    "net_area": "net area",
    "corner_run": "run",
}
"""What the sources of an order line measure."""


def _run(values: Mapping[str, Value], _: Words) -> str:
    return f"{values['item']}: {_RUNS[str(values['run'])]} of its count by {values['mode']}"


def _total(values: Mapping[str, Value], _: Words) -> str:
    return f"total {str(values['field']).replace('_', ' ')}"


def _amounts(values: Mapping[str, Value], words: Words) -> str:
    what, by = words.show(values["what"]), words.show(values["by"])
    one, two = ("not known" if values[n] is None else str(values[n]) for n in ("one", "two"))
    return f"{what} is {one}, but {two} {by}"


def _weight(values: Mapping[str, Value], words: Words) -> str:
    weight, each = (
        "not known" if values[n] is None else f"{values[n]} lb" for n in ("weight", "each")
    )
    return f"{words.show(values['what'])} is {weight}, that of a package {each}"


_FORMS: dict[str, Sentence] = {
    "numbers-differ": "{what} is {one:.10g}, but {two:.10g} {by}",
    "number-out-of-bounds": (
        "{what} is {value:.10g}, which is not between {low:.10g} and {high:.10g}, {by}"
    ),
    "amounts-differ": _amounts,
}

_AREAS: dict[str, Sentence] = {
    "gross-area-of-wall": "gross area of {wall}",
    "trim-area-of-wall": "trim area of {wall}",
    "cap-area-of-wall": "cap area of {wall}",
    "area-of-opening": "area of opening {opening} of {wall}",
    "opening-area-of-wall": "opening area of {wall}",
    "deducted-area-of-wall": "deducted area of {wall}",
    "net-area-of-wall": "net area of {wall}",
    "by-flattened-outline": "by its flattened outline",
    "by-its-openings": "by its openings",
    "as-net-area-and-what-came-off": "as net area and what came off",
    "by-what-is-left-for-panels": "by what is left for panels",
    "opening-deducted": (
        "{opening} of {area_sqin:.10g} sq in is deducted with a threshold of {threshold_sqin:.10g}"
    ),
    "opening-not-deducted": (
        "{opening} of {area_sqin:.10g} sq in is not deducted with a threshold of "
        "{threshold_sqin:.10g}"
    ),
}

_WALL_RUNS: dict[str, Sentence] = {
    "starter-run-of-wall": "starter run of {wall}",
    "by-width-less-doors-and-base": "its width less doors and its base",
    "cap-run-of-wall": "cap run of {wall}",
    "by-ground-and-lines": "the ground that caps cover and their lines",
    "by-run-and-height": "nothing and their run and height",
    "by-starter-stretches": "by the stretches where it runs",
    "edge-of-no-corner": (
        "the {edge} {side} edge of {wall} at x = {x_in:.10g} in belongs to no corner"
    ),
    "run-of-corner": "run of corner {corner}",
    "by-its-edges": "by its edges",
    "corner-joins-other-edges": "corner {corner} does not join the edges that name it",
    "edges-name-no-corner": "edges of {walls} name corner {corner}, which is not there",
    "total-of-field": _total,
    "as-column-sum": "as the sum of its column",
}

_PIECES: dict[str, Sentence] = {
    "area-of-pieces": "area of the pieces of {wall} in sq in",
    "by-field-and-overhangs": "the field's and what may run past its edges",
    "unit-overfull": (
        "the parts of panel {unit} and the saw cuts between them take {taken:exact} of "
        "{length:exact}"
    ),
    "number-of-units": "number of {kind} panels",
    "by-list-of-units": "by the list of panels",
    "number-of-units-of-color": "number of {kind} panels of color {color}",
    "number-of-units-of-wall": "number of {kind} panels first cut for {wall}",
    "shares-of-order": "shares of the colors of {item}",
    "by-the-whole": "by the whole",
    "by-colors": "by its colors",
    "color-unknown": "panel {unit} has the color {color:quoted}, which the product has not",
    "by-shares-of-walls": "by the walls' shares",
    "number-of-corner-pieces": "number of {hand}-hand corner pieces",
    "by-heights-of-corners": "by the heights of corners and ends",
    "number-of-corner-panels": "number of corner panels",
    "by-pieces-of-hand": "one for each {hand}-hand piece",
}

_ORDER: dict[str, Sentence] = {
    "run-of-order-line": _run,
    "by-the-quantities": "by the quantities",
    "order-line-missing": (
        "{item} is missing from the order, though the quantities have {total:.10g} of it"
    ),
    "item-of-order": "{item} of the order",
    "by-course-plan": "in the course plan",
    "fixture-blocks-of-order": "fixture blocks of the order",
    "by-fixture-outlines": "by the fixture outlines",
    "of-alternate": "alternate {name:quoted}: {what}",
    "needed-of-item": "{item} by {mode}: needed",
    "as-measured-and-allowance": "as measured and its allowance",
    "delivered-of-item": "{item}: packages of all deliveries",
    "cost-of-deliveries": "{item}: cost of all deliveries",
    "by-the-order": "by the order",
    "by-its-pallets": "on pallets",
    "parts-of-item": "{item} by {mode}: measured",
    "as-sum-of-products": "as the sum of its products",
    "walls-of-products": "products have the walls {walls:and}, not those of the job, each once",
    "panel-of-products": "panel {panel} is cut for walls of two products",
    "as-sum-of-parts": "as the sum of its parts",
    "packages-of-item": "{item} by {mode}: what the packages hold",
    "by-need-and-one-package": "what is needed and less than a package more",
    "cost-of-item": "{item} by {mode}: cost",
    "by-packages-and-price": "by packages and price",
    "weight-of-item": "{item} by {mode}: weight",
    "weight-and-package": _weight,
    "by-its-packages": "by its packages",
}

_BID: dict[str, Sentence] = {
    "materials-of-bid": "materials of the bid",
    "as-sum-of-order-lines": "as the sum of the order's lines",
    "labor-of-bid": "labor of the bid",
    "as-sum-of-labor-lines": "as the sum of the labor lines",
    "priced-materials": "priced materials",
    "as-sum-of-priced-lines": "as the sum of the priced lines",
    "line-of-bid": "{name}",
    "as-job-says": "as the job says",
    "as-percent-of-price": "as {percent} percent of the price of {price}",
    "as-least-price": "as the least price",
    "as-multiple-of": "as a multiple of {step}",
    "price-of-bid": "price",
    "quantity-of-work": "quantity of {item}",
    "running-total-at-line": "running total at {name}",
    "by-lines-above": "by the lines above",
    "hours-of-labor": "hours of {item}",
    "by-quantity-and-hours-each": "by quantity and hours each",
    "cost-of-labor": "cost of {item}",
    "by-hours-and-wage": "by hours and wage",
    "working-days": "working days",
    "hours-by-labor-lines": "hours by the labor lines",
}

SENTENCES: dict[str, Sentence] = {
    **_FORMS,
    **_AREAS,
    **_WALL_RUNS,
    **_PIECES,
    **_ORDER,
    **_BID,
}
