"""How well a proposal meets the truth: pure functions on both in the JSON shape of a proposal."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from shapely import make_valid
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

MAIN_KINDS = ("elevation", "plan", "section", "detail")
"""Kinds of views that count; frames, legends and scraps are told apart from them."""
VIEW_IOU, WALL_IOU, OPENING_IOU = 0.6, 0.95, 0.9
NET_TOLERANCE = 0.01

Pair = tuple[int, int, float]


@dataclass
class Score:
    """Counts of one sheet or of many: ``hits`` of ``true`` and of ``proposed`` things."""

    true: dict[str, int] = field(default_factory=dict)
    proposed: dict[str, int] = field(default_factory=dict)
    hits: dict[str, int] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def count(self, what: str, true: int, proposed: int, hits: int) -> None:
        for table, value in ((self.true, true), (self.proposed, proposed), (self.hits, hits)):
            table[what] = table.get(what, 0) + value

    def add(self, other: Score) -> None:
        for what in other.true:
            self.count(what, other.true[what], other.proposed[what], other.hits[what])

    def recall(self, what: str) -> float | None:
        return self.hits[what] / self.true[what] if self.true.get(what) else None

    def precision(self, what: str) -> float | None:
        return self.hits[what] / self.proposed[what] if self.proposed.get(what) else None


def iou(a: BaseGeometry, b: BaseGeometry) -> float:
    """Area of the intersection over area of the union; 0 for shapes without area."""
    if not a.intersects(b):
        return 0.0
    union = a.union(b).area
    return float(a.intersection(b).area / union) if union else 0.0


def shape_of(outline: Sequence[Sequence[float]]) -> BaseGeometry:
    """The area of an outline; a crossed one is mended, one with under three points is empty."""
    if len({tuple(p) for p in outline}) < 3:
        return Polygon()
    polygon = Polygon(outline)
    return polygon if polygon.is_valid else make_valid(polygon)


def greedy(
    true: Sequence[BaseGeometry],
    proposed: Sequence[BaseGeometry],
    least: float,
    may: Callable[[int, int], bool] = lambda i, j: True,
) -> list[Pair]:
    """Pairs (true, proposed, IoU) of at least ``least``, best first, each shape in one at most."""
    pairs = [
        (i, j, value)
        for i, a in enumerate(true)
        for j, b in enumerate(proposed)
        if may(i, j) and (value := iou(a, b)) >= least
    ]
    pairs.sort(key=lambda p: (-p[2], p[0], p[1]))
    taken: list[Pair] = []
    for i, j, value in pairs:
        if all(i != a and j != b for a, b, _ in taken):
            taken.append((i, j, value))
    return taken


def score(truth: dict[str, Any], proposal: dict[str, Any]) -> Score:
    """Everything the benchmark counts about one sheet."""
    result = Score()
    _views(truth, proposal, result)
    _walls(truth, proposal, result)
    _openings(truth, proposal, result)
    _unit(truth, proposal, result)
    _net_areas(truth, proposal, result)
    return result


def _view_boxes(data: dict[str, Any], kinds: Sequence[str]) -> list[dict[str, Any]]:
    return [v for v in data["views"] if v["kind"] in kinds]


def _views(truth: dict[str, Any], proposal: dict[str, Any], result: Score) -> None:
    for what, kinds in (
        ("views", MAIN_KINDS),
        ("elevations", ("elevation",)),
        ("frames", ("sheet",)),
    ):
        true, found = _view_boxes(truth, kinds), _view_boxes(proposal, kinds)
        pairs = greedy(
            [box(*v["box"]) for v in true],
            [box(*v["box"]) for v in found],
            VIEW_IOU,
            lambda i, j, a=true, b=found: a[i]["kind"] == b[j]["kind"],  # type: ignore[misc]
        )
        result.count(what, len(true), len(found), len(pairs))
        if what == "views":
            missed = {i for i, _, _ in pairs}
            extra = {j for _, j, _ in pairs}
            result.faults += [
                f"view missed: {v['id']} {v['kind']} {v['title']!r}"
                for i, v in enumerate(true)
                if i not in missed
            ]
            result.faults += [
                f"view not there: {v['id']} {v['kind']}"
                for j, v in enumerate(found)
                if j not in extra
            ]


def _best(shape: BaseGeometry, others: Sequence[BaseGeometry]) -> float:
    return max((iou(shape, o) for o in others), default=0.0)


def _matched(
    what: str, least: float, truth: dict[str, Any], proposal: dict[str, Any], result: Score
) -> list[Pair]:
    true = [shape_of(w["outline"]) for w in truth[what]]
    found = [shape_of(w["outline"]) for w in proposal[what]]
    pairs = greedy(true, found, least)
    result.count(what, len(true), len(found), len(pairs))
    hit, used = {i for i, _, _ in pairs}, {j for _, j, _ in pairs}
    name = what.removesuffix("s")
    for i, shape in enumerate(true):
        if i not in hit:
            best = _best(shape, found)
            result.faults.append(
                f"{name} missed: {truth[what][i]['id']}, best IoU {best:.2f}, {_place(shape)}"
            )
    for j, shape in enumerate(found):
        if j not in used:
            best = _best(shape, true)
            reason = proposal[what][j].get("reason", "")
            result.faults.append(
                f"{name} not there: {proposal[what][j]['id']}, best IoU {best:.2f}, "
                f"{_place(shape)}, {reason}"
            )
    return pairs


def _place(shape: BaseGeometry) -> str:
    return "empty" if shape.is_empty else "at " + ", ".join(f"{v:.6g}" for v in shape.bounds)


def _walls(truth: dict[str, Any], proposal: dict[str, Any], result: Score) -> None:
    _matched("walls", WALL_IOU, truth, proposal, result)


def _openings(truth: dict[str, Any], proposal: dict[str, Any], result: Score) -> None:
    pairs = _matched("openings", OPENING_IOU, truth, proposal, result)
    right = 0
    for i, j, _ in pairs:
        kinds = truth["openings"][i]["kind"], proposal["openings"][j]["kind"]
        right += kinds[0] == kinds[1]
        if kinds[0] != kinds[1]:
            result.faults.append(
                f"kind: {truth['openings'][i]['id']} is a {kinds[0]}, proposed as {kinds[1]}"
            )
    result.count("opening kinds", len(pairs), len(pairs), right)


def _unit(truth: dict[str, Any], proposal: dict[str, Any], result: Score) -> None:
    unit = proposal["unit"]
    result.count("unit right", 1, 1, unit == truth["unit"])
    result.count("unit wrong", 1, 1, unit is not None and unit != truth["unit"])
    result.count("unit silent", 1, 1, unit is None)
    if unit != truth["unit"]:
        result.faults.append(f"unit is {truth['unit']}, proposed {unit}")


def net_area(data: dict[str, Any], inside: BaseGeometry) -> float:
    """Area of the walls that lie in a box less the openings in them, in square drawing units."""
    walls = {w["id"]: shape_of(w["outline"]) for w in data["walls"]}
    walls = {
        k: w
        for k, w in walls.items()
        if not w.is_empty and inside.contains(w.representative_point())
    }
    holes = [shape_of(o["outline"]) for o in data["openings"] if o["wall"] in walls]
    return float(unary_union(list(walls.values())).difference(unary_union(holes)).area)


def _net_areas(truth: dict[str, Any], proposal: dict[str, Any], result: Score) -> None:
    for view in _view_boxes(truth, ("elevation",)):
        inside = box(*view["box"])
        true, found = net_area(truth, inside), net_area(proposal, inside)
        near = abs(found - true) <= NET_TOLERANCE * true
        result.count("net area", 1, 1, near)
        if not near:
            result.faults.append(f"net area of {view['id']} is {found / true:.3f} of the true one")
