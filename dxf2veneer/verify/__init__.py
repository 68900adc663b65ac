"""A finished takeoff looked at again by other means: the plan by the rules of laying, the totals a
second way, and how the joints look."""
