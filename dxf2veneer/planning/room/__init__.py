"""Room in a plan for edges that are off on site (rule L27)."""
