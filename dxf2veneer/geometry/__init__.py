"""Plane geometry with exact arcs: paths of straight and arc segments, regions bounded by them."""

from dxf2veneer.geometry.paths import Path
from dxf2veneer.geometry.region import Region, RegionPart
from dxf2veneer.geometry.segments import Point, Segment

__all__ = ["Path", "Point", "Region", "RegionPart", "Segment"]
