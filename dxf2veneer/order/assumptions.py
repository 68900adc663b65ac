"""What was assumed: every setting and rule that changed a number,
and the cautions shown with it.
"""

from __future__ import annotations

import dataclasses
import datetime
from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.config.basis import COMMON, GIVEN, OWN, Basis, BasisKind
from dxf2veneer.config.bidding import COMMON_SCRAP
from dxf2veneer.config.job import Job
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.product import Product
from dxf2veneer.config.tasks import STANDARD, in_rate_unit
from dxf2veneer.model import (
    Assumption,
    Drawing,
    PanelEstimate,
    Part,
    SiteMeasures,
    StartTable,
    WallKind,
    WallTakeoff,
)
from dxf2veneer.order.assumed_product import of_product
from dxf2veneer.order.assumed_values import value_of

CAUTIONS: tuple[Message, ...] = (
    message("caution-no-design"),
    message("caution-structure"),
    message("caution-dust"),
    message("caution-weight"),
    message("caution-height"),
    message("caution-clearance"),
)
"""Cautions shown with every result."""

_EFFECTS: dict[str, Message] = {
    "drawing.scale": message("effect-scale"),
    "drawing.gap": message("effect-gap"),
    "drawing.include_hidden": message("effect-include-hidden"),
    "recognise.nested_walls": message("effect-nested-walls"),
    "recognise.edge_kind": message("effect-edge-kind"),
    "recognise.edge_tolerance": message("effect-edge-tolerance"),
    "recognise.tag_reach": message("effect-tag-reach"),
    "recognise.bay_angle": message("effect-bay-angle"),
    "recognise.bay_inside": message("effect-bay-inside"),
    "deduction.rule": message("effect-deduction-rule"),
    "deduction.threshold_sqft": message("effect-threshold"),
    "deduction.at_threshold": message("effect-at-threshold"),
    "trim.head": message("effect-trim-head"),
    "trim.jambs": message("effect-trim-jambs"),
    "trim.sill": message("effect-trim-sill"),
    "courses.clearance": message("effect-clearance"),
    "courses.clearance_most": message("effect-clearance-most"),
    "courses.start": message("effect-start"),
    "courses.sliver": message("effect-sliver"),
    "plan.panels": message("effect-panels"),
    "plan.kerf": message("effect-kerf"),
    "plan.aim": message("effect-aim"),
    "plan.cuts_per_panel": message("effect-cuts-per-panel"),
    "plan.offcuts": message("effect-offcuts"),
    "plan.offcut_wait": message("effect-offcut-wait"),
    "plan.alike": message("effect-alike"),
    "plan.look": message("effect-look"),
    "plan.tolerance": message("effect-tolerance"),
    "plan.end_overhang": message("effect-end-overhang"),
    "plan.outside_overhang": message("effect-outside-overhang"),
    "order.allowance": message("effect-allowance"),
    "order.breakage": message("effect-breakage"),
    "order.scrap": message("effect-scrap", common=COMMON_SCRAP),
    "order.items": message("effect-items"),
    "order.by_others": message("effect-by-others"),
    "order.framing": message("effect-framing"),
    "order.backing": message("effect-backing"),
    "order.trim_joint": message("effect-trim-joint"),
    "order.rip_trim": message("effect-rip-trim"),
    "order.additions": message("effect-additions"),
    "walls.rows": message("effect-wall-rows"),
    "walls.treatments": message("effect-treatments"),
    "delivery.payload": message("effect-payload"),
    "delivery.pallets": message("effect-truck-pallets"),
    "prices.columns": message("effect-price-columns"),
    "prices.names": message("effect-price-names"),
    "prices.suppliers": message("effect-price-suppliers"),
    "prices.as_of": message("effect-price-day"),
    "labour.wage": message("effect-wage"),
    "labour.crew": message("effect-crew"),
    "labour.day": message("effect-day"),
    "labour.flat": message("effect-flat"),
    "labour.corner": message("effect-corner"),
    "labour.cut": message("effect-cut"),
    "labour.partial": message("effect-partial"),
    "labour.opening": message("effect-opening"),
    "labour.stone": message("effect-stone"),
    "labour.rates": message("effect-rates"),
    "labour.layout": message("effect-layout"),
    "labour.barrier": message("effect-barrier"),
    "labour.strips": message("effect-strips"),
    "labour.caulk": message("effect-caulk"),
    "labour.setup": message("effect-setup"),
    "labour.cleanup": message("effect-cleanup"),
    "labour.scaffold": message("effect-scaffold"),
    "labour.tasks": message("effect-tasks"),
    "bid.lines": message("effect-bid-lines"),
    "bid.minimum": message("effect-minimum"),
    "bid.round_to": message("effect-round-to"),
    "bid.rounding": message("effect-rounding"),
}
"""The settings that change a number, and what each does."""

_OF_PARTS = (
    "trim.head",
    "trim.jambs",
    "trim.sill",
    "order.breakage",
    "order.scrap",
    "order.backing",
)
"""Settings that a product's walls may have of their own."""

_EXPERIENCE = Basis(BasisKind.OWN, "counted on course plans of invented houses")
_RULES: tuple[tuple[str, Message, Message, Message, Basis], ...] = (
    (
        "rule.outlines",
        message("rule-outlines"),
        message("rule-outlines-value"),
        message("rule-outlines-effect"),
        OWN,
    ),
    (
        "rule.corners",
        message("rule-corners"),
        message("rule-corners-value"),
        message("rule-corners-effect"),
        COMMON,
    ),
    (
        "rule.trim",
        message("rule-trim"),
        message("rule-trim-value"),
        message("rule-trim-effect"),
        COMMON,
    ),
    (
        "rule.starter",
        message("rule-starter"),
        message("rule-starter-value"),
        message("rule-starter-effect"),
        COMMON,
    ),
    (
        "rule.quantities",
        message("rule-quantities"),
        message("rule-quantities-value"),
        message("rule-quantities-effect"),
        OWN,
    ),
)
"""Rules of measuring that no setting changes: key, name, what holds, what that does, what it rests
on."""


_KINDS: dict[WallKind, Message] = {
    "plain": message("wall-kind-plain"),
    "corners": message("wall-kind-corners"),
    "openings": message("wall-kind-openings"),
    "column": message("wall-kind-column"),
    "bay": message("wall-kind-bay"),
}


def assumptions(
    job: Job,
    product: Product,
    drawings: Iterable[Drawing],
    starts: Iterable[StartTable],
    by_area: PanelEstimate,
    site: SiteMeasures | None = None,
    priced_on: datetime.date | None = None,
    parts: Sequence[Part] = (),
    walls: Sequence[WallTakeoff] = (),
    goods: Collection[str] | None = None,
) -> tuple[Assumption, ...]:
    """Everything that the numbers rest on.

    Args:
        job: The job.
        product: The panel line.
        drawings: The drawings as read, for their units.
        starts: The starts that were searched through.
        by_area: Panels by area.
        site: What was measured on site, if anything.
        priced_on: The day on which prices had to hold; None where none has a last day.
        parts: The walls of each product, where the job has several.
        walls: The walls as laid out, whose courses have numbers.
        goods: Sections of the goods that are ordered; None for all of them.

    Returns:
        Sizes measured on site, the unit of each drawing, the settings, the starts that were chosen,
        what panels by area rest on, the product's values and the rules of measuring.
    """
    return (
        *(_on_site(site, walls) if site else ()),
        *(_unit(d, job) for d in drawings),
        *_settings(job, priced_on),
        *(_chosen(table, job) for table in starts if job.courses.start == "best"),
        *_rates(by_area),
        *(_of_parts(parts, job, goods) if parts else of_product(product, goods)),
        *_colors(job, product),
        *(Assumption(*rule[:3], Origin("rule"), *rule[3:]) for rule in _RULES),
    )


def _on_site(site: SiteMeasures, walls: Sequence[WallTakeoff]) -> Iterator[Assumption]:
    """Each drawn size that a measured one replaces, and the courses that are laid."""
    for size in site.sizes:
        owner = size.opening or size.wall
        at = None if size.at is None else Length(size.at)
        name = message("site-size", what=size.what, owner=owner, at=at)
        off = message("site-off", off=Length(abs(size.off)), is_more=size.off > 0.0)
        effect = message("effect-site-size", drawn=Length(size.drawn), off=off)
        key = f"site.{owner}.{size.what}"
        yield Assumption(key, name, Length(size.measured), size.origin, effect, GIVEN)
    coursed = {w.wall.id: w.courses for w in walls}
    for wall, courses in groupby(site.laid, key=lambda one: one.wall):
        laid = list(courses)
        real = tuple(coursed[wall].number(c.course) for c in laid if c.joints is not None)
        yield Assumption(
            f"site.{wall}.laid",
            message("site-courses-laid", wall=wall),
            len(laid),
            laid[0].origin,
            message("effect-site-laid", real=real),
            GIVEN,
        )


def _unit(drawing: Drawing, job: Job) -> Assumption:
    """The unit that a drawing was read in."""
    origins = {
        "header": Origin("drawing"),
        "option": Origin("option", key="drawing.units", option="units"),
        "job": job.origin_of("drawing.units"),
    }
    name = message("unit-of", file=Path(drawing.file).name)
    origin = origins[drawing.units_from]
    return Assumption("drawing.units", name, drawing.units, origin, message("effect-units"), GIVEN)


def _settings(job: Job, priced_on: datetime.date | None) -> Iterator[Assumption]:
    settled: dict[str, float | str] = {"courses.clearance_most": job.courses.highest}
    if priced_on is not None:
        settled["prices.as_of"] = priced_on.isoformat()
    settled["labour.rates"] = "metric" if job.metric_rates else "imperial"
    values = job.items() | settled
    for key, effect in _EFFECTS.items():
        name, value = message("key", key=key), value_of(key, values[key], job.metric_rates)
        unit, _ = in_rate_unit(STANDARD.get(key.removeprefix("labour."), ""), job.metric_rates)
        if unit not in ("", "each"):
            effect = message("effect-for-each", unit=unit, effect=effect)
        yield Assumption(key, name, value, job.origin_of(key), effect, job.basis_of(key))


def _rates(by_area: PanelEstimate) -> Iterator[Assumption]:
    """What panels by area rest on, for each kind of wall; nothing beside a scrap of the job's
    own."""
    if by_area.scrap is not None:
        return
    for kind, name in _KINDS.items():
        walls = [w for w in by_area.walls if w.kind == kind]
        if walls:
            one = walls[0]
            effect = message("panels-by-area-effect", walls=len(walls), low=one.low, high=one.high)
            value = message("panels-by-area-value", usual=one.rate)
            title = message("panels-by-area", kind=name)
            key, origin = f"rule.panels_by_area.{kind}", Origin("rule")
            yield Assumption(key, title, value, origin, effect, _EXPERIENCE)


def _of_parts(
    parts: Iterable[Part], job: Job, goods: Collection[str] | None
) -> Iterator[Assumption]:
    """The values of each of several products, and what the job says of its walls alone."""
    for part in parts:
        for one in of_product(part.product, goods):
            name = message("assumption-of-product", name=one.name, product=part.name)
            yield dataclasses.replace(one, name=name)
        own, usual = part.job.items(), job.items()
        for key in _OF_PARTS:
            if own[key] != usual[key]:
                named = message("key", key=key)
                name = message("assumption-of-product", name=named, product=part.name)
                origin, effect = job.origin_of("walls.treatments"), _EFFECTS[key]
                yield Assumption(key, name, value_of(key, own[key]), origin, effect, GIVEN)


def _colors(job: Job, product: Product) -> Iterator[Assumption]:
    """The shares of colors, where the product has several; a wall's own where the job gives any."""
    if not product.blend.colors:
        return
    shares = tuple(
        message("share-of-color", color=c.name, share=c.share) for c in product.blend.colors
    )
    name, effect = message("key", key="blend.colors"), message("effect-colors")
    basis = product.basis_of("blend.colors")
    yield Assumption("blend.colors", name, shares, product.origin, effect, basis)
    if job.plan.blend:
        own = tuple(
            message("share-of-color-on", wall=b.wall, color=b.color, share=b.share)
            for b in job.plan.blend
        )
        name, effect = message("key", key="plan.blend"), message("effect-blend")
        yield Assumption("plan.blend", name, own, job.origin_of("plan.blend"), effect, GIVEN)


def _chosen(table: StartTable, job: Job) -> Assumption:
    """The start that the search chose for a group of walls, and from what range."""
    best = table.present
    effect = message(
        "start-chosen",
        height=Length(best.height),
        low=Length(job.courses.clearance),
        high=Length(job.courses.highest),
        slivers=best.slivers,
        strips=best.strips,
    )
    name = message("start-of", walls=tuple(table.walls))
    return Assumption("courses.start", name, Length(best.start), Origin("search"), effect, GIVEN)
