"""Site measures and what they change, in plain dicts, for the result file."""

from __future__ import annotations

from dxf2veneer.model import CutChanges, SiteMeasures
from dxf2veneer.writers.result.shape_site import ChangesJson, SiteJson


def site_dict(site: SiteMeasures, changes: CutChanges | None) -> SiteJson:
    """What was measured on site, and the list of changed cuts.

    Args:
        site: What was measured.
        changes: What that changes; None where there is no plan.

    Returns:
        Their fields.
    """
    return {
        "file": site.file,
        "before": site.before or None,
        "sizes": [
            {
                "wall": s.wall,
                "opening": s.opening,
                "what": s.what,
                "at_in": s.at,
                "drawn_in": s.drawn,
                "measured_in": s.measured,
            }
            for s in site.sizes
        ],
        "as_drawn": site.as_drawn,
        "laid": [
            {
                "wall": one.wall,
                "course": one.course,
                "joints_in": None if one.joints is None else list(one.joints),
            }
            for one in site.laid
        ],
        "changes": None if changes is None else _changes(changes),
    }


def _changes(changes: CutChanges) -> ChangesJson:
    return {
        "cuts": [
            {
                "wall": c.wall,
                "course": c.course,
                "number": c.number,
                "what": c.what,
                "old_length_in": c.old_length,
                "length_in": c.length,
                "old_stock": c.old_stock,
                "stock": c.stock,
            }
            for c in changes.cuts
        ],
        "unchanged": changes.unchanged,
        "laid": changes.laid,
        "panels_before": changes.panels_before,
        "panels_now": changes.panels_now,
        "panels_laid": changes.panels_laid,
    }
