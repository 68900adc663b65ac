"""What changed from one takeoff to another, for people and for other programs.

shape.py    the JSON file: every field, its type and what it means
result.py   that file
picture.py  a wall before and now, laid on each other
page.py     the page with a switch between before and now; page.css its look, page.js the switch
"""

from dxf2veneer.writers.revision.page import write_compare_page
from dxf2veneer.writers.revision.result import compare_dict, compare_schema, write_compare

__all__ = ["compare_dict", "compare_schema", "write_compare", "write_compare_page"]
