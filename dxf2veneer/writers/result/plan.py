"""The course plan in plain dicts, for the result file.

Pieces, stock with its proof, starter heights.
"""

from __future__ import annotations

from collections.abc import Iterable

from dxf2veneer.geometry import Point
from dxf2veneer.model import (
    Bound,
    CoursePlan,
    Order,
    PanelEstimate,
    Piece,
    PieceRef,
    RuleBreak,
    Spread,
    StartOption,
    StartTable,
    StockCount,
    StockUnit,
    WallCount,
    WallEstimate,
)
from dxf2veneer.wording import rule_name, say
from dxf2veneer.writers.result.choices import over_dict
from dxf2veneer.writers.result.message_data import message_data
from dxf2veneer.writers.result.shape_plan import (
    BlendJson,
    BoundJson,
    ByAreaJson,
    HandlingJson,
    LookJson,
    MitresJson,
    RuleBreakJson,
    StartOptionJson,
    StartTableJson,
    StockCountJson,
    StockJson,
    ToleranceJson,
    UnitJson,
    WallCountJson,
)
from dxf2veneer.writers.result.shape_walls import PieceJson


def piece_id(ref: PieceRef) -> str:
    """The id of a piece.

    Args:
        ref: The piece.

    Returns:
        Wall, index of the course and number in the course, such as ``W1/0/3``.
    """
    return "/".join(map(str, ref))


def piece_dict(wall: str, piece: Piece) -> PieceJson:
    """One piece of a wall.

    Args:
        wall: Id of the wall.
        piece: The piece.

    Returns:
        Its fields, lengths in inches.
    """
    return {
        "id": piece_id(PieceRef(wall, piece.course, piece.number)),
        "course": piece.course,
        "number": piece.number,
        "x0_in": piece.x0,
        "x1_in": piece.x1,
        "y0_in": piece.y0,
        "y1_in": piece.y1,
        "length_in": piece.length,
        "height_in": piece.height,
        "unit": piece.unit,
        "kind": piece.kind,
        "left": piece.left,
        "right": piece.right,
        "ripped": piece.ripped,
        "glued": piece.glued,
        "angle_deg": piece.angle,
        "stock": piece.stock,
        "at_in": piece.at,
        "outline_in": _points(piece.outline),
        "holes_in": [_points(hole) for hole in piece.holes],
    }


def _points(points: Iterable[Point]) -> list[list[float]]:
    return [list(point) for point in points]


def by_area_dict(by_area: PanelEstimate) -> ByAreaJson:
    """Panels by area, for the job and wall by wall.

    Args:
        by_area: The estimate.

    Returns:
        Its fields.
    """
    low, high = by_area.spread
    return {
        "panels": by_area.panels,
        "low": low,
        "high": high,
        "scrap_pct": by_area.scrap,
        "walls": [
            {
                "wall": w.wall,
                "kind": w.kind,
                "rate": w.rate,
                "low": w.low,
                "high": w.high,
                "panels": w.panels,
            }
            for w in by_area.walls
        ],
    }


def stock_dict(
    plan: CoursePlan, by_area: PanelEstimate, display: str, order: Order | None
) -> StockJson:
    """What is bought, what no plan can do without, and what every panel is cut into.

    Args:
        plan: The course plan.
        by_area: Panels by area, of the same walls.
        display: Units of its English lines: ``imperial`` or ``metric``.
        order: The order, for money.

    Returns:
        Its fields, lengths in inches.
    """
    found: StockJson = {
        "flat": _count(plan.flat, display),
        "corner": _count(plan.corner, display),
        "units": plan.total,
        "lower_bound": plan.bound,
        "lower_bound_parted": plan.bound_parted,
        "cuts": plan.cuts,
        "alike_over": plan.alike_over,
        "look": _look(plan),
        "handling": _handling(plan),
        "mitres": _mitres(plan),
        "over": over_dict(plan, order),
        "tolerance": _tolerance(plan),
        "unit_list": [_unit(unit) for unit in plan.units],
        "walls": [_wall_count(*both) for both in zip(plan.walls, by_area.walls, strict=True)],
        "yielded": [_rule_break(place, display) for place in plan.exceptions],
        "breaks": [_rule_break(place, display) for place in plan.breaks],
    }
    if plan.spread:
        found["blend"] = _blend(plan, plan.spread)
    return found


def _blend(plan: CoursePlan, spread: Spread) -> BlendJson:
    counts = {(w.wall, c.color): c for w in plan.walls for c in w.colors}
    return {
        "pairs": spread.pairs,
        "touching": spread.touching,
        "own": spread.own,
        "chance": spread.chance,
        "largest": spread.largest,
        "walls": [
            {
                "wall": one.wall,
                "color": one.color,
                "share": one.share,
                "laid": one.laid,
                "area_sqin": one.area,
                "off_panels": one.off,
                "ahead_panels": one.ahead,
                "flat": counts[one.wall, one.color].flat,
                "corner": counts[one.wall, one.color].corner,
            }
            for one in spread.walls
        ],
    }


def _handling(plan: CoursePlan) -> HandlingJson | None:
    found = plan.handling
    if found is None:
        return None
    return {
        "offcuts": found.offcuts,
        "far": found.far,
        "late": found.late,
        "longest": found.longest,
        "waiting": found.waiting,
        "lengths": found.lengths,
        "panels_over": plan.near_panels,
        "cuts_over": plan.near_cuts,
    }


def _mitres(plan: CoursePlan) -> MitresJson | None:
    found = plan.mitres
    if found is None:
        return None
    return {
        "kept": found.count("kept"),
        "forced": found.count("forced"),
        "broken": found.count("broken"),
        "pairs": [
            {
                "corner": pair.corner,
                "left": piece_id(pair.left),
                "right": piece_id(pair.right),
                "state": pair.state,
            }
            for pair in found.pairs
        ],
    }


def _tolerance(plan: CoursePlan) -> ToleranceJson | None:
    found = plan.tolerance
    if found is None:
        return None
    return {
        "off_in": found.off,
        "runs": found.runs,
        "held": found.held,
        "panels_over": plan.room_panels,
        "cuts_over": plan.room_cuts,
        "places": [
            {
                "kind": place.kind,
                "wall": place.wall,
                "course": place.course,
                "at_in": list(place.at),
                "by_in": place.by,
            }
            for place in found.places
        ],
    }


def _look(plan: CoursePlan) -> LookJson | None:
    look = plan.look
    if look is None:
        return None
    return {
        "joints": look.joints,
        "over": look.over,
        "in_line": look.in_line,
        "ladder": look.ladder,
        "stair": look.stair,
        "repeats": look.repeats,
        "turns": look.turns,
        "equal_turns": look.equal_turns,
        "jambs": look.jambs,
        "shorts": look.shorts,
        "score": look.score,
        "panels_over": plan.look_panels,
        "cuts_over": plan.look_cuts,
        "flaws": [
            {
                "kind": flaw.kind,
                "wall": flaw.wall,
                "course": flaw.course,
                "at_in": list(flaw.at),
                "courses": flaw.courses,
            }
            for flaw in look.flaws
        ],
        "mends": [
            {
                "wall": mend.wall,
                "course": mend.course,
                "x0_in": mend.x0,
                "x1_in": mend.x1,
                "panels": mend.panels,
            }
            for mend in plan.mends
        ],
    }


def _count(count: StockCount, display: str) -> StockCountJson:
    return {
        "pieces": count.pieces,
        "pieces_length_in": count.pieces_length,
        "left": count.left,
        "right": count.right,
        "units": count.units,
        "lower_bound": count.lower_bound,
        "cuts": count.cuts,
        "bounds": [_bound(bound, display) for bound in count.bounds],
    }


def _bound(bound: Bound, display: str) -> BoundJson:
    return {
        "by": bound.by,
        "units": bound.units,
        "why": say(bound.why, display),
        "why_data": message_data(bound.why),
    }


def _unit(unit: StockUnit) -> UnitJson:
    found: UnitJson = {
        "id": unit.id,
        "unit": unit.kind,
        "length_in": unit.length,
        "used_in": unit.used,
        "kerfs_in": unit.kerfs,
        "waste_in": unit.waste,
        "parts": [piece_id(ref) for ref in unit.parts],
    }
    if unit.color:
        found["color"] = unit.color
    return found


def _wall_count(count: WallCount, by_area: WallEstimate) -> WallCountJson:
    return {
        "wall": count.wall,
        "flat": count.flat,
        "corner": count.corner,
        "share": count.share,
        "pieces": count.pieces,
        "cuts": count.cuts,
        "lower_bound": count.bound,
        "waste": count.waste,
        "by_area": by_area.panels,
        "like": count.like,
    }


def _rule_break(place: RuleBreak, display: str) -> RuleBreakJson:
    return {
        "rule": place.rule,
        "rule_name": rule_name(place.rule),
        "wall": place.wall,
        "course": place.course,
        "at_in": list(place.at),
        "message": say(place.message, display),
        "message_data": message_data(place.message),
        "why": say(place.why, display) if place.why else "",
        "why_data": message_data(place.why),
        "forced": place.forced,
        "as_laid": place.state == "as laid",
    }


def start_dict(table: StartTable) -> StartTableJson:
    """The heights of the starter that one group of walls can choose from.

    Args:
        table: The group and its heights.

    Returns:
        Its fields, lengths in inches.
    """
    return {
        "walls": list(table.walls),
        "options": [_start_option(option) for option in table.options],
    }


def _start_option(option: StartOption) -> StartOptionJson:
    return {
        "start_in": option.start,
        "height_in": option.height,
        "slivers": option.slivers,
        "strips": option.strips,
        "ripped": option.ripped,
        "units": option.units,
        "present": option.is_present,
        "best": option.is_best,
        "in_range": option.fits,
    }
