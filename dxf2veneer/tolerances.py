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

# ------------------------------------------------------------ running
