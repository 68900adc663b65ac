"""What was assumed: every setting and rule that changed a number, and the cautions shown with it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Assumption, Drawing, StartTable
from dxf2veneer.wording.measures import area_text, length_text, setting_text

CAUTIONS: tuple[str, ...] = (
    "This is a takeoff from a drawing, not a design. Local codes, the panel maker's printed instructions and a "
    "licensed professional decide on flashing, water management, fastening and structural capacity.",
    "Where the structure is in doubt, ask the owner, the builder or a registered design professional before starting.",
    "Cutting stone makes respirable silica dust: cut wet or with extraction, and wear a respirator where the rules "
    "ask for one (29 CFR 1926.1153, Table 1).",
    "Panels are heavy: the NIOSH lifting equation starts from 51 lb (23 kg) under ideal conditions.",
    "Work at height: fall protection at 6 ft (1.8 m) in construction (29 CFR 1926.501), on scaffolds above 10 ft "
    "(3.1 m; 29 CFR 1926.451).",
    "Reference clearances below adhered veneer: 4 in (102 mm) above earth, 2 in (51 mm) above paving, "
    "1/2 in (13 mm) above a walking surface on the same foundation (IRC R703.12.1, read in a secondary copy); check what applies to this job.",
)

_EFFECTS = {
    "drawing.scale": "multiplies every length of the drawing",
    "drawing.gap": "ends of an outline this near are joined",
    "drawing.include_hidden": "whether layers that are off or frozen are measured",
    "recognise.nested_walls": "what a wall outline inside another wall counts as",
    "recognise.edge_kind": "how side edges without a mark are finished",
    "recognise.edge_tolerance": "how near a mark must be to its edge, and an opening to the base",
    "recognise.tag_reach": "how near a corner's tag must be to its mark",
    "recognise.bay_angle": "degrees between the walls at bay corners; each mitre is cut at half of it",
    "deduction.threshold_sqft": "openings over this area come off the area",
    "deduction.at_threshold": "whether an opening of exactly the threshold comes off",
    "trim.head": "width of the band over heads that comes off the panels' area",
    "trim.jambs": "width of the bands beside jambs that comes off the panels' area",
    "trim.sill": "width of the band under sills that comes off the panels' area",
    "courses.clearance": "height of the starter line above the wall's base",
    "courses.clearance_most": "greatest height of the starter line that the search for the best start may choose",
    "courses.start": "shift of all course lines, or best",
    "courses.sliver": "a strip lower than this is called a sliver",
    "plan.panels": "whether panels are laid one by one; if not, they are estimated by area",
    "plan.kerf": "width of a saw cut between two parts of a panel, strip or stone",
    "plan.cuts_per_panel": "a run is cut into more pieces only where so many cuts save a panel",
    "plan.offcuts": "where an offcut may be used again",
    "plan.end_overhang": "how far corner pieces run past a finished end",
    "plan.outside_overhang": "how far corner pieces run past an outside corner",
    "order.allowance": "whether items count piece by piece or by area and run",
    "order.breakage": "per cent added to what was counted piece by piece",
    "order.scrap": "per cent added to what was counted by area or run",
    "order.items": "items with an allowance or a way of counting of their own",
    "order.by_others": "items that are neither priced nor weighed",
    "order.framing": "distance of the studs that pieces are fastened to",
    "order.backing": "what glued pieces are stuck to",
    "order.trim_joint": "how trim stones meet; mitred jambs are longer",
    "order.rip_trim": "whether a stone is ripped into two for narrow bands",
    "labour.wage": "cost of an hour",
    "labour.crew": "people at work, for the days",
    "labour.day": "hours of a day, for the days",
    "labour.flat": "hours for a flat piece",
    "labour.corner": "hours for a corner piece",
    "labour.cut": "hours for a crosscut",
    "labour.partial": "hours more for a ripped or glued piece",
    "labour.opening": "hours more at an opening",
    "labour.stone": "hours for a cap or trim stone",
    "bid.percentages": "per cent added to the bid, one after the other",
}
_LENGTHS = (
    "drawing.gap", "recognise.edge_tolerance", "recognise.tag_reach", "trim.", "courses.", "plan.kerf", "plan.end_overhang",
    "plan.outside_overhang", "order.framing",
)  # fmt: skip

_RULES = (
    (
        "wall outlines",
        "as drawn",
        "the outline is taken to be the edge of the veneer; clearance below it is no deduction",
    ),
    (
        "corner runs",
        "each corner once",
        "paired by tag or shared line; an unpaired one counts by itself and is told",
    ),
    (
        "trim runs",
        "along the opening",
        "lengths along the opening's own boundary, without what corners of the band add",
    ),
    (
        "starter strip",
        "level length",
        "interrupted at openings that touch the base and under their jamb stones",
    ),
    (
        "quantities",
        "net, no allowance",
        "nothing is added for breakage, cutting or rounding up to packages",
    ),
)


def _named(source: str) -> str:
    """A file and line without the folder, which differs from one machine to the next."""
    return Path(source).name


def assumptions(
    job: Job, product: Product, drawings: Iterable[Drawing], starts: Iterable[StartTable] = ()
) -> tuple[Assumption, ...]:
    """The units of each drawing, the settings, the starts that were chosen, the product's values and
    the rules of measuring."""
    listed = [
        Assumption(
            f"unit of {Path(d.file).name}",
            d.units,
            {
                "header": "the drawing",
                "option": "option --units",
                "job": _named(job.source_of("drawing.units")),
            }[d.units_from],
            "the unit that the drawing is read in",
        )
        for d in drawings
    ]
    settings = job.items() | {"courses.clearance_most": job.courses.highest}
    show = job.output.display
    listed += [
        Assumption(k, _value(k, settings[k], show), _named(job.source_of(k)), effect)
        for k, effect in _EFFECTS.items()
    ]
    listed += [_chosen(table, job) for table in starts if job.courses.start == "best"]
    listed.append(
        Assumption("product", product.product.name, _named(product.file), product.product.origin)
    )
    sizes = {
        "panel.length": product.panel.length,
        "panel.height": product.panel.height,
        "cap.height": product.cap.height,
    }
    origins = dict(product.origins)
    listed += [
        Assumption(k, setting_text(v, show), _named(product.file), origins.get(k, ""))
        for k, v in sizes.items()
    ]
    listed += [Assumption(key, value, "rule of this tool", effect) for key, value, effect in _RULES]
    return tuple(listed)


def _chosen(table: StartTable, job: Job) -> Assumption:
    """The start that the search chose for a group of walls, and from what range."""
    best, show = table.best, job.output.display
    height, low, high = (
        length_text(v, show) for v in (best.height, job.courses.clearance, job.courses.highest)
    )
    effect = f"starter {height} above the lowest base, chosen between {low} and {high}: {best.slivers} slivers, {best.strips} strips off the course lines"
    return Assumption(
        f"start of {', '.join(table.walls)}",
        setting_text(best.start, show),
        "search for the best start",
        effect,
    )


def _value(key: str, value: object, show: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        if key == "deduction.threshold_sqft":
            return area_text(value, show)
        return setting_text(value, show) if key.startswith(_LENGTHS) else f"{value:g}"
    if isinstance(value, tuple):
        return (
            ", ".join(
                " ".join(_value("", part, show) for part in v if part is not None)
                if isinstance(v, tuple)
                else str(v)
                for v in value
            )
            or "none"
        )
    return "none" if value is None else str(value)
