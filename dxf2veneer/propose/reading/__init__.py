"""A drawing's file to a scene.

reading.py     the stages in order: the document, what is hidden, model space, layouts
curves.py      one entity as straight segments
writing.py     texts and dimensions as a person reads them
hatching.py    hatches: their boundaries and the distances of their lines
plain.py       entities read in columns from the file's bytes, put among the others
ink.py         all that a space draws, in columns
placing.py     blocks, flattened once and placed as often as references ask
sheets.py      layouts, their viewports and texts
"""

from dxf2veneer.propose.reading.reading import read_scene, scene_of

__all__ = ["read_scene", "scene_of"]
