"""What no layout can do without, in words."""

from __future__ import annotations

from dxf2veneer.model import CoursePlan


def least_words(plan: CoursePlan) -> str:
    """What is proved of the fewest panels.

    Args:
        plan: A course plan.

    Returns:
        A phrase. Where the proof counts on both sides of most bay corners coming from one panel
        (rule L13), it says so.
    """
    if not plan.bound_parted:
        return f"no layout can use fewer than {plan.bound}"
    return (
        f"no layout that parts no more bay corners than this one ({plan.bound_parted}) can use "
        f"fewer than {plan.bound}"
    )
