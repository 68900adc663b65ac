"""How offices draw: which entities carry outlines, how ends meet, what stands in blocks.

Each style is a drafting habit of its own; a rule that only knows one of them fails on the others.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Style:
    """One office.

    ``outline`` and ``frames``: entity of closed paths of walls and of openings: ``lines``,
    ``closed`` (LWPOLYLINE), ``unflagged`` (LWPOLYLINE that returns to its start without the flag),
    ``old`` (POLYLINE).
    ``arcs``: ``arc``, ``spline``, ``ellipse`` or ``chords``. ``blocks``: ``none``, ``openings``,
    ``nested`` (leaf within window), ``view`` (the whole elevation besides).
    ``gap``, ``overshoot``: millimeters that loose ends miss or pass; ``sloppy``: their share.
    ``doubled``, ``split``: share of lines drawn twice, or in two pieces.
    ``base``: walls have a base line of their own. ``texts``: ``text`` or ``mtext``.
    ``dims``: ``entity``, ``exploded`` or ``none``. ``hatches``: ``hatch``, ``lines`` or ``none``.
    ``filled``: walls are hatched areas without outlines. ``bare``: openings are gaps in boards.
    ``open_base``: doors have no line at their foot.
    ``scaled``: blocks are drawn in millimeters and scaled where they stand, some mirrored.
    ``attributes``: values of marks and title blocks are attributes of their blocks.
    ``leaders``: notes point with leader entities, and titles carry their own font.
    ``depth``: lines lie at heights (z) up to so many millimeters. ``weight``: how common it is.
    """

    name: str
    outline: str = "lines"
    frames: str = "lines"
    arcs: str = "arc"
    blocks: str = "none"
    gap: float = 0.0
    overshoot: float = 0.0
    sloppy: float = 0.0
    doubled: float = 0.0
    split: float = 0.0
    base: bool = False
    texts: str = "text"
    dims: str = "exploded"
    hatches: str = "hatch"
    bare: bool = False
    filled: bool = False
    open_base: bool = False
    scaled: bool = False
    attributes: bool = False
    depth: float = 0.0
    leaders: bool = False
    weight: int = 2


STYLES = (
    Style("plain lines", dims="entity", doubled=0.03, open_base=True, weight=4),
    Style("tidy polylines", "closed", "closed", base=True, texts="mtext", dims="entity",
          attributes=True, leaders=True),
    Style("window blocks", "lines", "closed", blocks="openings", dims="entity", base=True,
          weight=3),
    Style("sloppy hand", gap=2.0, overshoot=25.0, sloppy=0.3, doubled=0.08, split=0.1, weight=3),
    Style("old board", "old", "old", arcs="chords", hatches="lines", open_base=True, weight=1),
    Style("exploded export", split=0.3, doubled=0.15, arcs="spline", base=True, dims="none",
          hatches="lines", depth=500.0, weight=3),
    Style("nested library", "lines", "lines", blocks="nested", texts="mtext", dims="entity",
          scaled=True, attributes=True, weight=3),
    Style("view blocks", "closed", "lines", blocks="view", base=True),
    Style("unflagged", "unflagged", "unflagged", arcs="ellipse", gap=0.5, sloppy=0.15,
          dims="entity"),
    Style("boards only", arcs="spline", dims="entity", bare=True, gap=0.3, sloppy=0.1, weight=3),
    Style("presentation", "closed", "closed", filled=True, base=True, blocks="openings", weight=2),
    Style("mixed hands", "lines", "unflagged", blocks="openings", scaled=True, gap=1.0,
          overshoot=10.0, sloppy=0.15, doubled=0.05, texts="mtext", attributes=True,
          leaders=True, weight=3),
)  # fmt: skip
