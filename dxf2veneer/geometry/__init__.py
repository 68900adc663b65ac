"""Plane geometry with exact arcs: paths of straight and arc segments, and regions bounded by them."""

from dxf2veneer.geometry.curves import Path, Point, Segment
from dxf2veneer.geometry.region import Part, Region

__all__ = ["Part", "Path", "Point", "Region", "Segment"]
