"""``stock``: every piece is cut from one real panel that has room for it, and the counts are true.

    |==== part ====|k|== part ==|k|~ rest ~|k|= part =|      k: a saw cut, the kerf wide
    0 (own end)                                       length (own end)

A rest between two parts takes two cuts unless it is sawdust; a rest at the panel's end takes one. A
panel that two walls share for the mitres of their bay belongs to both of them, where offcuts stay
on their wall. Pieces above and below a slot are one part; the panel may list them all or one of
them. A break about a panel is reported at its first part, one about the job's counts at no wall.
"""

from __future__ import annotations

import dataclasses
import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.tolerances import JUDGE_LENGTH_IN, JUDGE_SAWDUST_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.rules import RuleId
from dxf2veneer.model import CoursePlan, PieceRef, PieceUnit, RuleBreak, Side, StockCount, StockUnit
from dxf2veneer.verify.plan.cover import behind_of
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, LaidPart

_KINDS: tuple[PieceUnit, ...] = ("flat", "corner")
_SIDES: tuple[Side, Side] = ("left", "right")


@dataclass(frozen=True)
class _StockPart:
    """One part of a unit: what was laid, where, and the run it lies in (None outside the field)."""

    wall: str
    laid: LaidPart
    run: JudgedRun | None
    behind: tuple[float, float] = (0.0, 0.0)
    """What mitres take of the panel beyond its left and right end."""

    @cached_property
    def refs(self) -> list[PieceRef]:
        """The pieces it is listed by."""
        return [PieceRef(self.wall, p.course, p.number) for p in self.laid.pieces]

    @property
    def start(self) -> float:
        """Where it begins in its unit."""
        return self.laid.at

    @property
    def end(self) -> float:
        """Where it ends in its unit."""
        return self.laid.at + self.laid.length

    def broken(self, what: Message, rule: RuleId = RuleId.STOCK) -> RuleBreak:
        """A broken rule at this part."""
        return RuleBreak(rule, self.wall, self.laid.pieces[0].course, self.laid.middle, what)


def stock_breaks(
    walls: Sequence[JudgedWall], plan: CoursePlan, job: Job, product: Product
) -> Iterator[RuleBreak]:
    """Units and pieces that do not fit together, and counts that are not what is there.

    Args:
        walls: All walls of the job with what was laid.
        plan: The units with their parts, and the counts.
        job: The saw cut, and whether offcuts stay on their wall.
        product: Lengths of the panels, and what the pieces of a corner panel differ by.

    Yields:
        Breaks of ``stock``, and of the least piece (L4) for corner panels cut in equal parts.
    """
    parts = [
        _StockPart(run.wall, one, run, behind_of(run, one, job, product))
        for w in walls
        for run in w.runs
        for one in run.laid
    ]
    parts += [_StockPart(w.wall.wall.id, one, None) for w in walls for one in w.stray]
    yield from _ids(plan.units)
    listed = _listed(plan.units, parts)
    yield from _membership(plan.units, parts)
    for unit in plan.units:
        yield from _unit_breaks(unit, listed[id(unit)], job, product)
    yield from _counts(plan, parts, listed, job)


def _ids(units: Sequence[StockUnit]) -> Iterator[RuleBreak]:
    for id_, count in Counter(u.id for u in units).items():
        if count > 1:
            yield _job_break(message("unit-id-twice", count=count, unit=id_))
    for unit in units:
        if not unit.id.startswith("F" if unit.kind == "flat" else "C"):
            yield _job_break(message("unit-letter-wrong", kind=unit.kind, unit=unit.id))


def _job_break(what: Message) -> RuleBreak:
    return RuleBreak(RuleId.STOCK, "", 0, (0.0, 0.0), what)


# -------------------------------------------------------------- membership


def _listed(
    units: Sequence[StockUnit], parts: Sequence[_StockPart]
) -> Mapping[int, list[_StockPart]]:
    """The parts that each unit lists (by identity of the unit), in order of place, each once."""
    by_ref = {ref: part for part in parts for ref in part.refs}
    found: dict[int, list[_StockPart]] = {}
    for unit in units:
        own = {id(by_ref[ref]): by_ref[ref] for ref in unit.parts if ref in by_ref}
        found[id(unit)] = sorted(own.values(), key=lambda part: (part.start, part.end))
    return found


def _membership(units: Sequence[StockUnit], parts: Sequence[_StockPart]) -> Iterator[RuleBreak]:
    """Each listed part is a real piece, each piece listed once, by the unit that it names
    itself."""
    owners: dict[PieceRef, list[StockUnit]] = defaultdict(list)
    for unit in units:
        for ref in unit.parts:
            owners[ref].append(unit)
    real = Counter(ref for part in parts for ref in part.refs)
    for ref, owning in owners.items():
        if ref not in real:
            what = message("unit-lists-no-piece", unit=owning[0].id, piece=ref.number)
            yield RuleBreak(RuleId.STOCK, ref.wall, ref.course, (0.0, 0.0), what)
    for part in parts:
        trouble = _ownership(part, owners)
        if trouble:
            yield part.broken(trouble)
        if any(real[ref] > 1 for ref in part.refs):
            yield part.broken(message("piece-number-twice", pieces=part.laid.numbers))


def _ownership(part: _StockPart, owners: Mapping[PieceRef, list[StockUnit]]) -> Message | None:
    """What is wrong with the units that list a part."""
    own = [unit for ref in part.refs for unit in owners.get(ref, [])]
    if not own:
        return message("piece-of-no-unit", pieces=part.laid.numbers)
    ids = sorted({u.id for u in own})
    if len(ids) > 1 or any(len(owners.get(ref, [])) > 1 for ref in part.refs):
        return message("piece-listed-twice", pieces=part.laid.numbers, units=tuple(ids))
    if own[0].id != part.laid.stock or own[0].kind != part.laid.unit:
        return message(
            "piece-names-other-unit",
            pieces=part.laid.numbers,
            said_kind=part.laid.unit,
            said=part.laid.stock,
            kind=own[0].kind,
            unit=own[0].id,
        )
    return None


# ------------------------------------------------------------------- units


def _unit_breaks(
    unit: StockUnit, parts: Sequence[_StockPart], job: Job, product: Product
) -> Iterator[RuleBreak]:
    if not parts:
        yield _job_break(message("unit-without-parts", unit=unit.id))
        return
    face = product.panel.length if unit.kind == "flat" else product.corner.length
    if abs(unit.length - face) > JUDGE_LENGTH_IN:
        what = message(
            "unit-length-wrong",
            kind=unit.kind,
            unit=unit.id,
            length=Length(unit.length),
            face=Length(face),
        )
        yield parts[0].broken(what)
    for part in parts:
        yield from _part_breaks(unit, part)
    yield from _gaps(unit, parts, job.plan.kerf)
    yield from _sums(unit, parts, job)
    if unit.kind == "corner":
        yield from _corner_unit(unit, parts, product)
    walls = sorted({part.wall for part in parts})
    at_bay = {
        part.wall for part in parts if "mitre" in (part.laid.end("left"), part.laid.end("right"))
    }
    if job.plan.offcuts == "wall" and len(walls) > 1 and not set(walls) <= at_bay:
        yield parts[-1].broken(message("unit-shared-by-walls", unit=unit.id, walls=tuple(walls)))


def _gaps(unit: StockUnit, parts: Sequence[_StockPart], kerf: float) -> Iterator[RuleBreak]:
    """Between two parts there is room for a saw cut."""
    for before, after in pairwise(parts):
        gap = after.start - after.behind[0] - before.end - before.behind[1]
        if gap >= kerf - JUDGE_LENGTH_IN:
            continue
        if gap < -JUDGE_LENGTH_IN:
            what = message(
                "parts-overlap", unit=unit.id, pieces=after.laid.numbers, by=Length(-gap)
            )
        else:
            what = message(
                "no-room-for-saw",
                unit=unit.id,
                pieces=after.laid.numbers,
                gap=Length(gap),
                kerf=Length(kerf),
            )
        yield after.broken(what)


def _part_breaks(unit: StockUnit, part: _StockPart) -> Iterator[RuleBreak]:
    """The part lies in its unit and keeps an end only where it is the unit's own."""
    pieces = part.laid.numbers
    beyond = part.start - part.behind[0], part.end + part.behind[1]
    if beyond[0] < -JUDGE_LENGTH_IN or beyond[1] > unit.length + JUDGE_LENGTH_IN:
        what = message(
            "part-beyond-unit",
            pieces=pieces,
            start=Length(part.start),
            end=Length(part.end),
            unit=unit.id,
            length=Length(unit.length),
        )
        yield part.broken(what)
    kept = "factory" if unit.kind == "flat" else "finished"
    sides: tuple[tuple[Side, bool], ...] = (
        ("left", abs(part.start) <= JUDGE_LENGTH_IN),
        ("right", abs(part.end - unit.length) <= JUDGE_LENGTH_IN),
    )
    for side, at_end in sides:
        end = part.laid.end(side)
        if end not in ("factory", "finished"):
            continue
        if end != kept:
            what = message("end-of-other-kind", pieces=pieces, side=side, end=end, kind=unit.kind)
            yield part.broken(what)
        elif not at_end:
            what = message("end-not-reached", pieces=pieces, side=side, end=end, unit=unit.id)
            yield part.broken(what)


def _sums(unit: StockUnit, parts: Sequence[_StockPart], job: Job) -> Iterator[RuleBreak]:
    used = math.fsum(part.laid.length for part in parts)
    if abs(unit.used - used) > JUDGE_LENGTH_IN:
        what = message("unit-used-wrong", unit=unit.id, said=Length(unit.used), used=Length(used))
        yield parts[0].broken(what)
    kerfs = math.fsum(min(2.0 * job.plan.kerf, b.start - a.end) for a, b in pairwise(parts))
    if abs(unit.kerfs - kerfs) > JUDGE_LENGTH_IN:
        what = message(
            "unit-kerfs-wrong", unit=unit.id, said=Length(unit.kerfs), kerfs=Length(kerfs)
        )
        yield parts[0].broken(what)


def _cuts_between(before: _StockPart, after: _StockPart, kerf: float) -> int:
    """One cut where the next part begins a kerf on, two where a rest lies between."""
    return 1 if after.start - before.end <= kerf + JUDGE_SAWDUST_IN else 2


def _corner_unit(
    unit: StockUnit, parts: Sequence[_StockPart], product: Product
) -> Iterator[RuleBreak]:
    """One piece of each hand at most, of unequal length unless one spans its whole run (L4)."""
    for side in _SIDES:
        hands = [part for part in parts if part.laid.end(side) == "finished"]
        if len(hands) > 1:
            what = message("unit-hands", unit=unit.id, count=len(hands), side=side)
            yield hands[1].broken(what)
    if len(parts) > 2:
        yield parts[2].broken(message("corner-unit-parts", unit=unit.id, count=len(parts)))
    if len(parts) == 2 and not any(part.run and len(part.run.laid) == 1 for part in parts):
        first, second = (part.laid.length for part in parts)
        if abs(first - second) < product.corner.unequal - JUDGE_LENGTH_IN:
            what = message(
                "corner-unit-equal-parts",
                unit=unit.id,
                first=Length(first),
                second=Length(second),
                unequal=Length(product.corner.unequal),
            )
            other = parts[0].wall, parts[0].laid.pieces[0].course
            equal = parts[1].broken(what, RuleId.LEAST_PIECE)
            yield dataclasses.replace(equal, beside=(other,))


# ------------------------------------------------------------------ counts


def _counts(
    plan: CoursePlan, parts: Sequence[_StockPart], listed: Mapping[int, list[_StockPart]], job: Job
) -> Iterator[RuleBreak]:
    """The job's and the walls' counts against what is there."""
    for kind, count in zip(_KINDS, (plan.flat, plan.corner), strict=True):
        units = [u for u in plan.units if u.kind == kind]
        own = [part for part in parts if part.laid.unit == kind]
        cuts = sum(_cuts(u, listed[id(u)], job.plan.kerf) for u in units)
        yield from _compare(kind, count, _count(units, own, cuts))
        if count.units < count.lower_bound:
            what = message(
                "units-below-bound", kind=kind, units=count.units, bound=count.lower_bound
            )
            yield _job_break(what)
    pieces = Counter(part.wall for part in parts)
    for wall in plan.walls:
        if wall.pieces != pieces[wall.wall]:
            what = message("wall-pieces-miscounted", counted=wall.pieces, there=pieces[wall.wall])
            yield RuleBreak(RuleId.STOCK, wall.wall, 0, (0.0, 0.0), what)
    for kind, total, counted in (
        ("flat", plan.flat.units, sum(w.flat for w in plan.walls)),
        ("corner", plan.corner.units, sum(w.corner for w in plan.walls)),
    ):
        if total != counted:
            what = message("walls-do-not-add-up", kind=kind, walls=counted, job=total)
            yield _job_break(what)


def _count(units: Sequence[StockUnit], parts: Sequence[_StockPart], cuts: int) -> dict[str, float]:
    kept = "factory" if parts and parts[0].laid.unit == "flat" else "finished"
    hands = [side for part in parts for side in _kept_sides(part.laid, kept)]
    return {
        "units": len(units),
        "pieces": len(parts),
        "pieces_length": math.fsum(part.laid.length for part in parts),
        "cuts": cuts,
        "left": hands.count("left"),
        "right": hands.count("right"),
    }


def _kept_sides(laid: LaidPart, kept: str) -> list[Side]:
    """The one end a part keeps; none for a whole panel, which keeps both."""
    sides = [side for side in _SIDES if laid.end(side) == kept]
    return sides if len(sides) == 1 else []


def _compare(
    kind: PieceUnit, count: StockCount, counted: Mapping[str, float]
) -> Iterator[RuleBreak]:
    for field, value in counted.items():
        said = getattr(count, field)
        slack = JUDGE_LENGTH_IN * max(1.0, counted["pieces"]) if field == "pieces_length" else 0.0
        if abs(said - value) > slack:
            what = message("count-wrong", kind=kind, field=field, said=said, there=value)
            yield _job_break(what)


def _cuts(unit: StockUnit, parts: Sequence[_StockPart], kerf: float) -> int:
    """Crosscuts that get the parts out of the unit."""
    if not parts:
        return 0
    ends = (parts[0].start > JUDGE_LENGTH_IN) + (unit.length - parts[-1].end > JUDGE_LENGTH_IN)
    return ends + sum(_cuts_between(a, b, kerf) for a, b in pairwise(parts))
