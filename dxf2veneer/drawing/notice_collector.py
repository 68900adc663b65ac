"""Collecting what there is to report about one drawing while it is read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice, gathered
from dxf2veneer.basics.tolerances import NOTICES_GATHERED_FROM
from dxf2veneer.geometry import Point

Report = Callable[..., None]
"""Takes one notice as ``NoticeCollector.add`` does."""


class NoticeCollector:
    """Gathers the notices of one drawing; kinds and hidden content are counted, one notice each."""

    def __init__(self, drawing: int, most: int) -> None:
        """No notices yet.

        Args:
            drawing: The number that the notices carry.
            most: How many of a kind are listed one by one.
        """
        self._drawing = drawing
        self._most = most
        self._notices: list[Notice] = []
        self._ignored: Counter[tuple[str, str]] = Counter()
        self._hidden: Counter[tuple[str, Message]] = Counter()
        self._nameless: Counter[str] = Counter()
        self._clipped: Counter[tuple[str, str]] = Counter()
        self._first: dict[tuple[str, str | Message], str] = {}

    def add(
        self,
        code: str,
        message: Message,
        *,
        layer: str | None = None,
        handle: str | None = None,
        at: Point | None = None,
    ) -> None:
        """Add one notice; ``at`` is in inches."""
        self._notices.append(Notice(code, message, self._drawing, layer, handle, at))
        if len(self._notices) >= NOTICES_GATHERED_FROM:
            self._notices = gathered(self._notices, self._most)

    def ignored(self, layer: str, kind: str, handle: str) -> None:
        """Count an entity of a kind that bounds no area."""
        self._ignored[layer, kind] += 1
        self._first.setdefault((layer, kind), handle)

    def hidden(self, layer: str, why: Message, handle: str) -> None:
        """Count an entity that a person looking at the drawing does not see."""
        self._hidden[layer, why] += 1
        self._first.setdefault((layer, why), handle)

    def clipped(self, block: str, layer: str, handle: str) -> None:
        """Count a reference of which a person sees only what lies within a clip boundary."""
        self._clipped[layer, block] += 1
        self._first.setdefault((layer, f"block {block}"), handle)

    def nameless(self, kind: str, handle: str) -> None:
        """Count an entity that names no layer, so that nobody can say whether it is wanted."""
        self._nameless[kind] += 1
        self._first.setdefault(("", kind), handle)

    def notices(self) -> tuple[Notice, ...]:
        """Everything reported so far, the counted ones last."""
        counted = [
            self._counted(
                "HIDDEN_LAYER",
                message("hidden-entities", layer=layer, n=count, why=why),
                (layer, why),
            )
            for (layer, why), count in self._hidden.items()
        ]
        counted += [
            self._counted(
                "ENTITY_KIND_IGNORED",
                message("kind-ignored", layer=layer, n=count, kind=kind),
                (layer, kind),
            )
            for (layer, kind), count in self._ignored.items()
        ]
        counted += [
            self._counted(
                "BLOCK_CLIPPED",
                message("block-clipped", block=block, n=count),
                (layer, f"block {block}"),
            )
            for (layer, block), count in self._clipped.items()
        ]
        counted += [
            self._counted(
                "ENTITY_UNUSABLE", message("entities-nameless", n=count, kind=kind), ("", kind)
            )
            for kind, count in self._nameless.items()
        ]
        return tuple(gathered((*self._notices, *counted), self._most))

    def _counted(self, code: str, what: Message, key: tuple[str, str | Message]) -> Notice:
        """The notice of entities that were counted, with the handle of the first of them."""
        return Notice(code, what, self._drawing, key[0] or None, self._first[key])
