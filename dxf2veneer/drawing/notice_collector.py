"""Collecting what there is to tell about one drawing while it is read."""

from __future__ import annotations

from collections import Counter

from dxf2veneer.geometry import Point
from dxf2veneer.notices import Notice, gathered

_MANY = 20_000
"""Notices after which those of a kind are brought together, so that they never fill the memory."""


class NoticeCollector:
    """Gathers the notices of one drawing; kinds and hidden content are counted and told once."""

    def __init__(self, drawing: int, most: int, show: str = "imperial") -> None:
        """``drawing`` is the number that the notices carry, ``most`` how many of a kind are listed one by one,
        ``show`` the units in which they tell lengths: the job's output.display."""
        self.show = show
        self._drawing = drawing
        self._most = most
        self._notices: list[Notice] = []
        self._ignored: Counter[tuple[str, str]] = Counter()
        self._hidden: Counter[tuple[str, str]] = Counter()
        self._nameless: Counter[str] = Counter()
        self._clipped: Counter[tuple[str, str]] = Counter()
        self._first: dict[tuple[str, str], str] = {}

    def add(
        self,
        code: str,
        message: str,
        *,
        layer: str | None = None,
        handle: str | None = None,
        at: Point | None = None,
    ) -> None:
        """Add one notice; ``at`` is in inches."""
        self._notices.append(Notice(code, message, self._drawing, layer, handle, at))
        if len(self._notices) >= _MANY:
            self._notices = gathered(self._notices, self._most)

    def ignored(self, layer: str, kind: str, handle: str) -> None:
        """Count an entity of a kind that bounds no area."""
        self._ignored[layer, kind] += 1
        self._first.setdefault((layer, kind), handle)

    def hidden(self, layer: str, reason: str, handle: str) -> None:
        """Count an entity that a person looking at the drawing does not see."""
        self._hidden[layer, reason] += 1
        self._first.setdefault((layer, reason), handle)

    def clipped(self, block: str, layer: str, handle: str) -> None:
        """Count a reference of which a person sees only what lies within a clip boundary."""
        self._clipped[layer, f"block {block}"] += 1
        self._first.setdefault((layer, f"block {block}"), handle)

    def nameless(self, kind: str, handle: str) -> None:
        """Count an entity that names no layer, so that nobody can say whether it is wanted."""
        self._nameless[kind] += 1
        self._first.setdefault(("", kind), handle)

    def notices(self) -> tuple[Notice, ...]:
        """Everything told so far, the counted ones last."""
        counted = [
            Notice(
                "HIDDEN_LAYER",
                f"layer {layer}: {_entities(count)} left out, because {reason}",
                self._drawing,
                layer,
                self._first[layer, reason],
            )
            for (layer, reason), count in self._hidden.items()
        ]
        counted += [
            Notice(
                "ENTITY_KIND_IGNORED",
                f"layer {layer}: {_entities(count)} of kind {kind} left out",
                self._drawing,
                layer,
                self._first[layer, kind],
            )
            for (layer, kind), count in self._ignored.items()
        ]
        counted += [
            Notice(
                "BLOCK_CLIPPED",
                f"{block}: {count} clipped reference{'s' if count > 1 else ''} read whole, beyond the clip boundary too",
                self._drawing,
                layer,
                self._first[layer, block],
            )
            for (layer, block), count in self._clipped.items()
        ]
        counted += [
            Notice(
                "ENTITY_UNUSABLE",
                f"{_entities(count)} of kind {kind} left out, naming no layer",
                self._drawing,
                handle=self._first["", kind],
            )
            for kind, count in self._nameless.items()
        ]
        return tuple(gathered((*self._notices, *counted), self._most))


def _entities(count: int) -> str:
    return f"{count} entit{'y' if count == 1 else 'ies'}"
