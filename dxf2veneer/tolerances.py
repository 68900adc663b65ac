"""Tolerances, limits and steps that no setting changes, each with its unit in its name and a reason.

What a user may want otherwise is a setting (``config/``); what belongs to a panel line is a value
of the product file.
"""

from __future__ import annotations

# ------------------------------------------------------------ geometry and reading drawings

# ------------------------------------------------------------ recognizing and measuring

# ------------------------------------------------------------ course lines

# ------------------------------------------------------------ the course plan

# ------------------------------------------------------------ verifying: numbers of its own

# ------------------------------------------------------------ order and files

QUOTIENT_PLACES = 6
"""Decimal places of a quotient before it is rounded up, and of a quantity that money multiplies: a
hair of floating point must not open another package, a thousandth of a piece may."""

ROUNDING_IN = 1e-6
"""Inches by which floating point may be off in lengths that are compared or divided."""

ROUNDING_SHARE = 1e-9
"""How much a quotient of two lengths may exceed a whole number by floating point alone."""

STRIP_JOIN_IN = 0.01
"""Inches between two stretches of starter strip at one height that count as one run: no one leaves
a gap that small."""

LEVEL_HEAD_SHARE = 1.001
"""A head this many times as long as its opening is wide is an arch or a slope, and jambs this many
times as long together as the opening is high are two: what is less is drawing noise."""

FIXTURE_SIZES_PER_INCH = 16
"""Fixture blocks of one size to a sixteenth of an inch are one line of the order."""

HIGHEST_PRICE = 10**9
"""Highest price, package size or weight that is read: anything above is a slip of the keys."""

CHANGE_LIVE_S = 5.0
"""Seconds after which a change of outputs that is ready, but not finished, counts as broken off:
putting files in place takes milliseconds."""

MAKING_S = 86_400.0
"""Seconds after which files still being made count as left behind: no run takes a day."""

# ------------------------------------------------------------ writers and words

# ------------------------------------------------------------ running
