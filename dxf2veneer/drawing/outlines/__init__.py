"""Paths to outlines.

tidying.py    one path tidied and closed
loops.py      loose lines joined to outlines
noding.py     cuts them where they meet; ends.py mends those that fall short
picking.py    windows, and the faces that the user points at
"""
