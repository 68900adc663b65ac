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
    ``old`` (POLYLINE), ``once`` (each stretch of common lines drawn once, through junctions).
    ``arcs``: ``arc``, ``spline``, ``ellipse`` or ``chords``. ``blocks``: ``none``, ``openings``,
    ``nested`` (leaf within window), ``view`` (the whole elevation besides).
    ``gap``, ``overshoot``: millimeters that loose ends miss or pass; ``sloppy``: share of such ends.
    ``doubled``, ``split``: share of lines drawn twice, or in two pieces.
    ``base``: walls have a base line of their own. ``texts``: ``text`` or ``mtext``.
    ``dims``: ``entity``, ``exploded`` or ``none``. ``hatches``: ``hatch``, ``lines`` or ``none``.
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


STYLES = (
    Style("plain lines", dims="entity", doubled=0.03),
    Style("tidy polylines", "closed", "closed", base=True, texts="mtext", dims="entity"),
    Style("window blocks", "lines", "closed", blocks="openings", dims="entity", base=True),
    Style("sloppy hand", gap=2.0, overshoot=25.0, sloppy=0.3, doubled=0.08, split=0.1),
    Style("old board", "old", "old", arcs="chords", hatches="lines", dims="exploded"),
    Style("exploded export", split=0.3, doubled=0.15, arcs="spline", base=True, dims="none",
          hatches="lines"),
    Style("nested library", "unflagged", "lines", blocks="nested", texts="mtext", dims="entity"),
    Style("view blocks", "closed", "closed", blocks="view", base=True),
    Style("unflagged", "unflagged", "unflagged", arcs="ellipse", gap=0.5, sloppy=0.15, dims="entity"),
)  # fmt: skip
