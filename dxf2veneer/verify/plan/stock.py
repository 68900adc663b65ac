"""``stock``: every piece is cut from one real unit that has room for it, and the plan's counts are true.

    |==== part ====|k|== part ==|k|~ rest ~|k|= part =|      k: a saw cut, the kerf wide
    0 (own end)                                       length (own end)

A rest between two parts takes two cuts unless it is sawdust; a rest at the unit's end
takes one. A panel that two walls share for the mitres of their bay belongs to both of them, where
offcuts stay on their wall. Pieces above and below a slot are one part; the unit may list them all or one of them.
A break about a unit is told at its first part, one about the job's counts at no wall.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import CoursePlan, PieceRef, PieceUnit, RuleBreak, Side, StockCount, StockUnit
from dxf2veneer.tolerances import JUDGE_LENGTH_IN, JUDGE_SAWDUST_IN
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, LaidPart
from dxf2veneer.wording.measures import exact_text, length_text, setting_text

_KINDS: tuple[PieceUnit, ...] = ("flat", "corner")


@dataclass(frozen=True)
class _Part:
    """One part of a unit: what was laid, where, and the run it lies in (None outside the field)."""

    wall: str
    laid: LaidPart
    run: JudgedRun | None

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

    def broken(self, message: str, rule: str = "stock") -> RuleBreak:
        """A broken rule at this part."""
        return RuleBreak(rule, self.wall, self.laid.pieces[0].course, self.laid.middle, message)


def stock_breaks(
    walls: Sequence[JudgedWall], plan: CoursePlan, job: Job, product: Product
) -> Iterator[RuleBreak]:
    """Units and pieces that do not fit together, and counts that are not what is there."""
    parts = _parts(grounds)
    yield from _ids(plan.units)
    listed = _listed(plan.units, parts)
    yield from _membership(plan.units, parts)
    for unit in plan.units:
        yield from _unit_breaks(unit, listed[id(unit)], job, product)
    yield from _counts(plan, parts, listed, job)


def _parts(walls: Sequence[JudgedWall]) -> list[_Part]:
    found = [_Part(run.wall, one, run) for g in grounds for run in g.runs for one in run.laid]
    return found + [_Part(g.wall.wall.id, one, None) for g in grounds for one in g.stray]


def _ids(units: Sequence[StockUnit]) -> Iterator[RuleBreak]:
    for id_, count in Counter(u.id for u in units).items():
        if count > 1:
            yield _job_break(f"{count} units are called {id_}")
    for unit in units:
        if not unit.id.startswith("F" if unit.kind == "flat" else "C"):
            yield _job_break(f"{unit.kind} unit {unit.id} has the other kind's letter")


def _job_break(message: str) -> RuleBreak:
    return RuleBreak("stock", "", 0, (0.0, 0.0), message)


# -------------------------------------------------------------- membership


def _listed(units: Sequence[StockUnit], parts: Sequence[_Part]) -> Mapping[int, list[_Part]]:
    """The parts that each unit lists (by identity of the unit), in order of place, each once."""
    by_ref = {ref: part for part in parts for ref in part.refs}
    found: dict[int, list[_Part]] = {}
    for unit in units:
        own = {id(by_ref[ref]): by_ref[ref] for ref in unit.parts if ref in by_ref}
        found[id(unit)] = sorted(own.values(), key=lambda part: (part.start, part.end))
    return found


def _membership(units: Sequence[StockUnit], parts: Sequence[_Part]) -> Iterator[RuleBreak]:
    """Each listed part is a real piece, each piece listed once, by the unit that it names itself."""
    owners: dict[PieceRef, list[StockUnit]] = defaultdict(list)
    for unit in units:
        for ref in unit.parts:
            owners[ref].append(unit)
    real = Counter(ref for part in parts for ref in part.refs)
    for ref, owning in owners.items():
        if ref not in real:
            message = f"unit {owning[0].id} lists piece {ref.number}, which is not there"
            yield RuleBreak("stock", ref.wall, ref.course, (0.0, 0.0), message)
    for part in parts:
        own = [unit for ref in part.refs for unit in owners.get(ref, [])]
        what = f"piece {part.laid.numbers}"
        ids = sorted({u.id for u in own})
        if not own:
            yield part.broken(f"{what} is cut from no unit")
        elif len(ids) > 1 or any(len(owners.get(ref, [])) > 1 for ref in part.refs):
            yield part.broken(f"{what} is listed more than once, by {', '.join(ids)}")
        elif own[0].id != part.laid.stock or own[0].kind != part.laid.unit:
            yield part.broken(
                f"{what} says it is cut from {part.laid.unit} unit {part.laid.stock}, {own[0].kind} unit {own[0].id} lists it"
            )
        if any(real[ref] > 1 for ref in part.refs):
            yield part.broken(f"{what} is not the only one of its number in the course")


# ------------------------------------------------------------------- units


def _unit_breaks(
    unit: StockUnit, parts: Sequence[_Part], job: Job, product: Product
) -> Iterator[RuleBreak]:
    if not parts:
        yield _job_break(f"nothing is cut from unit {unit.id}")
        return
    show = job.output.display
    face = product.panel.length if unit.kind == "flat" else product.corner.length
    if abs(unit.length - face) > JUDGE_LENGTH_IN:
        yield parts[0].broken(
            f"{unit.kind} unit {unit.id} is {length_text(unit.length, show)} long, the product's measures {length_text(face, show)}"
        )
    for part in parts:
        yield from _part_breaks(unit, part, show)
    for before, after in pairwise(parts):
        gap = after.start - before.end
        if gap < job.plan.kerf - JUDGE_LENGTH_IN:
            leaves = f"leaves {exact_text(gap, show)} for the saw, which takes {setting_text(job.plan.kerf, show)}"
            trouble = (
                f"overlaps the part before by {exact_text(-gap, show)}"
                if gap < -JUDGE_LENGTH_IN
                else leaves
            )
            yield after.broken(f"in unit {unit.id} piece {after.laid.numbers} {trouble}")
    yield from _sums(unit, parts, job)
    if unit.kind == "corner":
        yield from _corner_unit(unit, parts, product, show)
    walls = sorted({part.wall for part in parts})
    at_bay = {
        part.wall for part in parts if "mitre" in (part.laid.end("left"), part.laid.end("right"))
    }
    if job.plan.offcuts == "wall" and len(walls) > 1 and not set(walls) <= at_bay:
        yield parts[-1].broken(
            f"unit {unit.id} is shared by {', '.join(walls)}; offcuts stay on their wall in this job"
        )


def _part_breaks(unit: StockUnit, part: _Part, show: str) -> Iterator[RuleBreak]:
    """The part lies in its unit and keeps an end only where it is the unit's own."""
    what = f"piece {part.laid.numbers}"
    if part.start < -JUDGE_LENGTH_IN or part.end > unit.length + JUDGE_LENGTH_IN:
        yield part.broken(
            f"{what} runs from {exact_text(part.start, show)} to {exact_text(part.end, show)} in unit {unit.id} of {length_text(unit.length, show)}"
        )
    kept = "factory" if unit.kind == "flat" else "finished"
    sides: tuple[tuple[Side, bool], ...] = (
        ("left", abs(part.start) <= JUDGE_LENGTH_IN),
        ("right", abs(part.end - unit.length) <= JUDGE_LENGTH_IN),
    )
    for side, at_end in sides:
        end = part.laid.end(side)
        if end in ("factory", "finished") and (end != kept or not at_end):
            why = (
                f"does not reach that end of unit {unit.id}"
                if end == kept
                else f"a {unit.kind} unit has none"
            )
            yield part.broken(f"{what} says its {side} end is {end} and {why}")


def _sums(unit: StockUnit, parts: Sequence[_Part], job: Job) -> Iterator[RuleBreak]:
    show, used = job.output.display, math.fsum(part.laid.length for part in parts)
    if abs(unit.used - used) > JUDGE_LENGTH_IN:
        yield parts[0].broken(
            f"unit {unit.id} says {exact_text(unit.used, show)} are used; its parts measure {exact_text(used, show)}"
        )
    kerfs = math.fsum(min(2.0 * job.plan.kerf, b.start - a.end) for a, b in pairwise(parts))
    if abs(unit.kerfs - kerfs) > JUDGE_LENGTH_IN:
        yield parts[0].broken(
            f"unit {unit.id} says its saw cuts take {exact_text(unit.kerfs, show)}; between its parts they take {exact_text(kerfs, show)}"
        )


def _cuts_between(before: _Part, after: _Part, kerf: float) -> int:
    """One cut where the next part begins a kerf on, two where a rest lies between."""
    return 1 if after.start - before.end <= kerf + JUDGE_SAWDUST_IN else 2


def _corner_unit(
    unit: StockUnit, parts: Sequence[_Part], product: Product, show: str
) -> Iterator[RuleBreak]:
    """One left-hand and one right-hand piece at most, of unequal length unless one spans its whole run (L4)."""
    for side in _SIDES:
        hands = [part for part in parts if part.laid.end(side) == "finished"]
        if len(hands) > 1:
            yield hands[1].broken(f"corner unit {unit.id} gives {len(hands)} {side}-hand pieces")
    if len(parts) > 2:
        yield parts[2].broken(f"corner unit {unit.id} is cut into {len(parts)} pieces")
    if len(parts) == 2 and not any(part.run and len(part.run.laid) == 1 for part in parts):
        first, second = (part.laid.length for part in parts)
        if abs(first - second) < product.corner.unequal - JUDGE_LENGTH_IN:
            message = f"the two pieces of corner unit {unit.id} are {length_text(first, show)} and {length_text(second, show)} long; they differ by {length_text(product.corner.unequal, show)} at least"
            yield parts[1].broken(message, "L4")


_SIDES: tuple[Side, Side] = ("left", "right")


# ------------------------------------------------------------------ counts


def _counts(
    plan: CoursePlan, parts: Sequence[_Part], listed: Mapping[int, list[_Part]], job: Job
) -> Iterator[RuleBreak]:
    """The job's and the walls' counts against what is there."""
    for kind, count in zip(_KINDS, (plan.flat, plan.corner), strict=True):
        units = [u for u in plan.units if u.kind == kind]
        own = [part for part in parts if part.laid.unit == kind]
        cuts = sum(_cuts(u, listed[id(u)], job.plan.kerf) for u in units)
        yield from _compare(f"{kind} units", count, _count(units, own, cuts))
        yield from _bounds(kind, count)
    pieces = Counter(part.wall for part in parts)
    for wall in plan.walls:
        if wall.pieces != pieces[wall.wall]:
            yield RuleBreak(
                "stock",
                wall.wall,
                0,
                (0.0, 0.0),
                f"the plan counts {wall.pieces} pieces for the wall, there are {pieces[wall.wall]}",
            )
    for what, total, counted in (
        ("flat", plan.flat.units, sum(w.flat for w in plan.walls)),
        ("corner", plan.corner.units, sum(w.corner for w in plan.walls)),
    ):
        if total != counted:
            yield _job_break(f"the walls' {what} units add up to {counted}, the job's are {total}")


def _bounds(kind: PieceUnit, count: StockCount) -> Iterator[RuleBreak]:
    """No plan does with fewer units than what no plan can do without."""
    if count.units < count.lower_bound:
        yield _job_break(
            f"{count.units} {kind} units are fewer than the bound of {count.lower_bound}"
        )


def _count(units: Sequence[StockUnit], parts: Sequence[_Part], cuts: int) -> dict[str, float]:
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


def _compare(what: str, count: StockCount, counted: Mapping[str, float]) -> Iterator[RuleBreak]:
    for key, value in counted.items():
        told = getattr(count, key)
        slack = JUDGE_LENGTH_IN * max(1.0, counted["pieces"]) if key == "pieces_length" else 0.0
        if abs(told - value) > slack:
            yield _job_break(f"of {what} the plan counts {key} = {told:g}, there are {value:g}")


def _cuts(unit: StockUnit, parts: Sequence[_Part], kerf: float) -> int:
    """Crosscuts that get the parts out of the unit."""
    if not parts:
        return 0
    ends = (parts[0].start > JUDGE_LENGTH_IN) + (unit.length - parts[-1].end > JUDGE_LENGTH_IN)
    return ends + sum(_cuts_between(a, b, kerf) for a, b in pairwise(parts))
