"""The takeoff as JSON.

writing.py       the whole; walls.py walls and openings, plan.py the course plan, order.py the order
shape.py         every field, its type and meaning; schema.py the JSON Schema made from it
message_data.py  messages as codes and values
"""

from dxf2veneer.writers.result.writing import result_dict, write_result

__all__ = ["result_dict", "write_result"]
