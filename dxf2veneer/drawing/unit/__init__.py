"""The drawing's unit.

check.py      where it comes from and whether it makes sense
evidence.py   what else speaks of it; witnesses.py where that is in a document
"""
