"""Values that many fields of the result have in common.

A field is a Python type; beside it, in ``Annotated``, stand what it means and what JSON Schema says
of it besides. ``schema.py`` makes the schema from that.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, NamedTuple, TypedDict


class Limit(NamedTuple):
    """A word of JSON Schema that narrows a type, such as ``minimum``, and its value."""

    word: str
    value: str | float


Inches = float
"""A coordinate or length in inches."""

Run = Annotated[float, Limit("minimum", 0)]
"""A length in inches that is never negative."""

SquareFeet = float
"""An area in square feet; 1 sq ft is 144 sq in."""

Count = Annotated[int, Limit("minimum", 0)]
"""A number of things."""

Handles = Annotated[list[str], "Handles of the drawing's entities that it comes from."]

Point = Annotated[list[float], Limit("minItems", 2), Limit("maxItems", 2)]
"""x and y in inches."""

Vertex = Annotated[list[float], Limit("minItems", 3), Limit("maxItems", 3)]
"""x and y in inches, and the bulge of the side that begins there: the tangent of a quarter of its
arc's angle, above 0 where that runs counter-clockwise, 0 for a straight side (DXF reference,
LWPOLYLINE, group code 42)."""


class OutlineJson(TypedDict):
    """One connected part of an outline, and what is cut out of its inside."""

    outer: list[Vertex]
    holes: list[list[Vertex]]


Points = list[Point]
"""Corners of a closed boundary in order."""

PieceId = Annotated[
    str,
    "A piece: wall, index of the course, number in the course, such as W1/0/3.",
    Limit("pattern", "^.+/[0-9]+/[0-9]+$"),
]

PieceEndName = Annotated[
    Literal["factory", "cut", "finished", "mitre"],
    "factory: the panel's own end with its tab; cut: sawn; finished: the good end of a corner "
    "piece; mitre: sawn at an angle off the face.",
]

ValuesJson = Annotated[
    dict[str, Any],
    "Values by name: lengths in inches under names that end in _in, areas in square feet under "
    "names that end in _sqft, other messages as objects of their own, lists as arrays.",
]


class MessageJson(TypedDict):
    """What an English line says, for programs."""

    code: Annotated[str, "Code of the sentence.", Limit("pattern", "^[a-z0-9-]+$")]
    values: ValuesJson
