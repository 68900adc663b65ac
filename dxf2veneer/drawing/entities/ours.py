"""What an overlay drew into a drawing: it is no part of the building, whoever reads it again."""

from __future__ import annotations

from typing import Any

APPID = "DXF2VENEER"
"""Name under which every entity of an overlay carries its tags (XDATA)."""
STRING_TAG, LAYER_TAG = 1000, 1003
"""Group codes of a string and of a layer's name in extended data (DXF reference, XDATA)."""


def own_tags(entity: Any) -> list[Any]:
    """The tags of an entity that an overlay drew.

    An entity is ours where it carries our tags and still lies on the layer written in them: one
    that a person copied to a layer of their own is theirs.

    Args:
        entity: The library's entity.

    Returns:
        Its tags (code, value); empty for an entity that is not ours.
    """
    if not entity.has_xdata(APPID):
        return []
    found = list(entity.get_xdata(APPID))
    layers = [tag.value for tag in found if tag.code == LAYER_TAG]
    layer = entity.dxf.get("layer", "0")
    return found if layers and layers[0].casefold() == layer.casefold() else []
