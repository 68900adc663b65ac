"""Plane geometry with exact arcs: paths of straight and arc segments, and regions bounded by them."""

from dxf2veneer.geometry.paths import Path
from dxf2veneer.geometry.region import Part, Region
from dxf2veneer.geometry.segments import Point, Segment

__all__ = ["Part", "Path", "Point", "Region", "Segment"]
