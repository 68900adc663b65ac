"""How many entities references place, counted block by block: a million cost no more than ten."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Any

from ezdxf.document import Drawing as Document

from dxf2veneer.drawing.entities.blocks import columns_rows, is_alive, own_layer
from dxf2veneer.drawing.entities.kinds import kind_of

Counts = Counter[tuple[str, str]]
"""Numbers of entities by the layer they show on and their kind."""


class Counting:
    """Counts what the references of a document place."""

    def __init__(self, document: Document) -> None:
        """Nothing is counted yet; each block is, once, when it is asked for."""
        self._blocks = document.blocks
        self._known: dict[tuple[str, str], Counts] = {}

    def of(self, insert: Any, layer: str) -> Counts:
        """What a reference that shows on that layer places, attributes aside; itself if nothing."""
        columns, rows = columns_rows(insert)
        placed = Counter(
            {
                key: columns * rows * count
                for key, count in self._content(insert.dxf.get("name", ""), layer).items()
            }
        )
        return placed or Counter({(layer, "INSERT"): 1})

    def _content(self, name: str, layer: str) -> Counts:
        key = name.lower(), layer
        if key not in self._known:
            self._known[key] = Counter()  # a block met again inside itself places nothing
            counts: Counts = Counter()
            entities: Iterable[Any] = self._blocks.get(name, ())
            for entity in filter(is_alive, entities):
                own = own_layer(entity)
                shown = layer if own in ("0", "") else own
                if entity.dxftype() == "INSERT":
                    counts.update(
                        (own_layer(a), kind_of(a)) for a in filter(is_alive, entity.attribs)
                    )
                    counts.update(self.of(entity, shown))
                else:
                    counts[shown, kind_of(entity)] += 1
            self._known[key] = counts
        return self._known[key]
