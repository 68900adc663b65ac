"""What is true of a sheet, in drawing units."""

from __future__ import annotations

from typing import Any

from shapely.geometry import Polygon

from .geom import ring
from .office import Office
from .scene import Scene


class Truth:
    """Gathers views, walls and openings."""

    def __init__(self, office: Office) -> None:
        """Start empty."""
        self.office = office
        self.views: list[dict[str, Any]] = []
        self.walls: list[dict[str, Any]] = []
        self.openings: list[dict[str, Any]] = []

    def view(
        self,
        kind: str,
        title: str,
        bounds: tuple[float, float, float, float],
        scene: Scene | None,
        dx: float,
        dy: float,
    ) -> None:
        """Tell a placed view and what it shows."""
        k = self.office.factor
        x0, y0, x1, y1 = bounds
        name = f"V{len(self.views) + 1}"
        box = [round(v * k, 4) for v in (x0 + dx, y0 + dy, x1 + dx, y1 + dy)]
        self.views.append({"id": name, "kind": kind, "title": title, "box": box, "confidence": 1.0})
        if scene is None:
            return
        ids = []
        for w in scene.walls:
            ids.append(f"W{len(self.walls) + 1}")
            self.walls.append(
                {
                    "id": ids[-1],
                    "view": name,
                    "outline": self._pts(w.outline, dx, dy),
                    "confidence": w.confidence,
                    "reason": w.reason,
                }
            )
        for o in scene.openings:
            self.openings.append(
                {
                    "id": f"O{len(self.openings) + 1}",
                    "wall": ids[o.wall],
                    "kind": o.kind,
                    "outline": self._pts(o.outline, dx, dy),
                    "confidence": o.confidence,
                    "reason": o.reason,
                }
            )

    def _pts(self, poly: Polygon, dx: float, dy: float) -> list[list[float]]:
        k = self.office.factor
        return [[round((x + dx) * k, 4), round((y + dy) * k, 4)] for x, y in ring(poly)]

    def told(self) -> dict[str, Any]:
        """The truth as written to the file."""
        return {
            "unit": self.office.unit,
            "views": self.views,
            "walls": self.walls,
            "openings": self.openings,
        }
