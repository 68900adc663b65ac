"""Tolerances, limits and steps that no setting changes, each with its unit in its name and a reason.

What a user may want otherwise is a setting (``config/``); what belongs to a panel line is a value
of the product file.
"""

from __future__ import annotations

# ------------------------------------------------------------ geometry and reading drawings

# ------------------------------------------------------------ recognizing and measuring

# ------------------------------------------------------------ course lines

LINE_MEETS_IN = 0.01 + 1e-9
"""A course line this near to a head, sill, top or cap meets it: a hundredth, with room for rounding."""
SAME_HEIGHT_IN = 1e-9
"""Heights no farther apart are the same height: what rounding leaves."""
INSIDE_BREAK_IN = SAME_HEIGHT_IN / 2
"""How far beside a break a start is tried: more than rounding, less than a difference."""
BESIDE_LINE_IN = 1e-5
"""How far above and below a line the veneer is looked at, so that rounding decides nothing."""
BARE_GROUND_SQIN = 72.0
"""Ground below the starter strip that is reported: from half a square foot on."""
START_STEP_IN = 1.0 / 16.0
"""Starts that read well are multiples of it; in a metric job of a millimeter."""
STARTS_SHOWN = 6
"""Rows of a table of starts: what a person compares at a glance."""
STARTS_PLANNED = 6
"""Starts of equal score that are laid out to compare their panels; each costs a whole plan."""
STARTS_AT_ONCE = 1000
"""Starts scored in one array, so that memory stays bounded."""

# ------------------------------------------------------------ the course plan

# ------------------------------------------------------------ verifying: numbers of its own

# ------------------------------------------------------------ order and files

# ------------------------------------------------------------ writers and words

# ------------------------------------------------------------ running

WORKER_GRACE_S = 1.0
"""How long a worker process may take to end before it is killed: it takes away its drafts."""
SAVE_QUIET_S = 0.15
"""How long no followed file may have changed before all are read: a save is many writes."""
SAVE_PATIENCE_S = 2.0
"""How long a followed file may be missing, locked or half written before that is reported."""
WATCH_LOOK_S = 0.5
"""How often a watch looks without being woken: some drives send no events."""
WATCH_STEP_S = 0.03
"""How often a watch looks while something is changing."""
SLOW_TAKEOFF_S = 2.0
"""A takeoff that took longer last time is announced when it begins."""
