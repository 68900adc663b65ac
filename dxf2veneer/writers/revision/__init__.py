"""What changed from one takeoff to another, for other programs.

shape.py   the JSON file: every field, its type and what it means
result.py  that file
"""

from dxf2veneer.writers.revision.result import compare_dict, compare_schema, write_compare

__all__ = ["compare_dict", "compare_schema", "write_compare"]
