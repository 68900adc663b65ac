"""Elevation sheets by another hand than ``corpus``, each with its truth, made from a seed.

``make_sheet(seed)`` gives a document of ezdxf and what is true of it, in the JSON shape of a
proposal and as ``corpus`` says what a wall, an opening and a view is. It was written by somebody
who had read no rule that finds them, so it shows what rules are worth that were tuned on
``corpus``. What is true with a confidence of 0.5 (faces of dormers, garden walls) may be clad or
not.

**The split.** Rules may be tuned on ``SEEN``. Nobody looks at the sheets of ``KEPT_ASIDE`` one by
one, or tunes by reading this code; only the sums that the benchmark prints are read.
"""

from strangers.sheet import make_sheet

SEEN = range(40)
KEPT_ASIDE = range(40, 100)

__all__ = ["KEPT_ASIDE", "SEEN", "make_sheet"]
