"""dxf2veneer: from elevation drawings in DXF to a stone veneer takeoff."""
