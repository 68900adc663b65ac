"""Words for people: the one place where messages become English and numbers get their units.

say.py        a message and its values to a sentence
sentences/    the catalogue of sentences, by subject
measures.py   lengths and areas as people read them
table.py      columns of plain text
"""

from dxf2veneer.wording.say import error_line, say

__all__ = ["error_line", "say"]
