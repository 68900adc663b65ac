"""Entities of a drawing to paths in their places.

blocks.py     model space and the blocks it refers to
kinds.py      each kind of entity to a path or a label
curves.py     arcs, ellipses, splines; hatches.py areas
plane.py      from an entity's own plane to the drawing's
"""
