"""What is true of a sheet, in drawing units and in the JSON shape of a proposal."""

from __future__ import annotations

from typing import Any

from shapely.geometry import Polygon
from shapely.ops import unary_union

from corpus.arrangement import View
from corpus.entities import Placement
from corpus.placing import Facade

SLIVER = 0.01
"""Share of a wall up to which a piece that steps part from it is none."""


class Ledger:
    """Collects what is true, in drawing units."""

    def __init__(self, truth: dict[str, Any], unit_mm: float) -> None:
        self.truth, self.unit_mm = truth, unit_mm

    def add(self, view: View, place: Placement) -> None:
        number = f"V{len(self.truth['views']) + 1}"
        x0, y0, x1, y1 = view.box
        box = [x0 + place.dx, y0 + place.dy, x1 + place.dx, y1 + place.dy]
        self.truth["views"].append({
            "id": number, "kind": view.kind, "title": view.title,
            "box": [round(v / self.unit_mm, 6) for v in box], "confidence": 1.0,
        })  # fmt: skip
        if view.facade:
            self._facade(view.facade, number, place)

    def _facade(self, facade: Facade, view: str, place: Placement) -> None:
        names: list[list[tuple[str, Polygon]]] = []
        for wall in facade.building.walls:
            names.append([])
            for seen in _beside_steps(wall.polygon, facade):
                name = f"W{len(self.truth['walls']) + 1}"
                names[-1].append((name, seen))
                self.truth["walls"].append({
                    "id": name, "view": view, "outline": self._outline(seen, place),
                    "confidence": 1.0, "reason": wall.texture,
                })  # fmt: skip
        for opening in facade.openings:
            name, _ = max(
                names[opening.wall], key=lambda n: n[1].intersection(opening.polygon).area
            )
            self.truth["openings"].append({
                "id": f"O{len(self.truth['openings']) + 1}", "wall": name,
                "kind": opening.design.kind, "outline": self._outline(opening.polygon, place),
                "confidence": 1.0, "reason": opening.design.name,
            })  # fmt: skip

    def _outline(self, polygon: Polygon, place: Placement) -> list[list[float]]:
        points = [place.at((x, y)) for x, y in polygon.exterior.coords]
        return [[round(v / self.unit_mm, 6) for v in p] for p in points]


def _beside_steps(wall: Polygon, facade: Facade) -> list[Polygon]:
    """What is seen of a wall: nothing is laid behind the steps before a door."""
    seen = wall.difference(unary_union(facade.steps)) if facade.steps else wall
    parts = list(getattr(seen, "geoms", [seen]))
    return [p for p in parts if p.area >= SLIVER * wall.area]
