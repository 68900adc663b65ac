"""Paths to outlines: tidying.py one path closed, loops.py loose lines joined, picking.py those that the user points at."""
