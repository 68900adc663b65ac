"""dxf2veneer: from elevation drawings in DXF to a stone veneer takeoff."""

__version__ = "0.1.0"
