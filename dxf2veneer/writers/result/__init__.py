"""The takeoff as JSON: writing.py the whole, plan.py the course plan, order.py the order and the bid."""

from dxf2veneer.writers.result.writing import result_dict, write_result

__all__ = ["result_dict", "write_result"]
