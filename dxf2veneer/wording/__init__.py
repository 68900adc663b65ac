"""Words for people: the one place where messages become English and numbers get their units.

say.py               a message and its values to a sentence
sentences/           the catalog of sentences, by subject
notice_catalog.py    what every notice means and what to do
notice_lines.py      notices as lines of plain text
rules.py             rules of laying by their plain name
setting_values.py    settings' values as people read them
cautions.py          what is said with every result
measures.py          lengths and areas as people read them
table.py             columns of plain text
"""

from dxf2veneer.wording.notice_catalog import meaning, remedy
from dxf2veneer.wording.rules import rule_label, rule_name
from dxf2veneer.wording.say import error_line, say

__all__ = ["error_line", "meaning", "remedy", "rule_label", "rule_name", "say"]
