"""Offcuts in the order in which a crew works: which parts share a panel, and joints to suit."""
