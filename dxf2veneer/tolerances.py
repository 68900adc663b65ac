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

# ------------------------------------------------------------ writers and words

SAME_PLACE_IN = 1e-6
"""Places of pieces nearer than this are drawn as one: far below what a drawing shows, far above
the error of its arithmetic."""

SPECK_IN = 1 / 32
"""Lengths that differ less than this are one length to a tape, which shows 1/16 in."""

BOX_FILL = 0.99
"""A cut-out that fills this share of its box is cut as the box, as far as a saw goes."""

LEAST_CHANGE_SQFT = 0.005
"""Areas are shown with two decimals; what is less than half the last one is no change."""

LEAST_CHANGE_IN = 1 / 32
"""Runs are shown to 1/16 in; what is less than half of it is no change."""

NO_AREA_SQIN = 1e-6
"""An area that is as good as none: the error of sums of areas."""

NOTICE_REACH_IN = 24.0
"""How far outside a wall's box a notice's place may lie and still be shown with the wall."""

ARC_SAGITTA_IN = 0.005
"""How far chords may leave an arc where an old format knows no arcs: less than a line is wide."""

# ------------------------------------------------------------ running
