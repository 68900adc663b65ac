"""An empty drawing that the overlay is drawn into, made to fit the one that it is put into."""

from __future__ import annotations

from collections.abc import Collection

from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new
from ezdxf.tools.handle import HandleGenerator

from dxf2veneer.writers.overlay.graft.anatomy import R12, R2000, Anatomy, Tag, value_of


def donor_of(anatomy: Anatomy, names: Collection[str]) -> Document:
    """An empty drawing whose handles are free in the other, with those of our layers that are
    there already as they look there.

    Args:
        anatomy: The drawing that the overlay is put into.
        names: Names of our layers.

    Returns:
        The empty drawing; R12 for one before R2000, which has no lineweights and no hatches that
        the library would write.
    """
    doc = new(anatomy.version if anatomy.version >= R2000 else R12)
    doc.header["$LTSCALE"] = anatomy.linetype_scale
    table = anatomy.tables.get("LAYER")
    there = table.named(anatomy.page) if table else {}
    for name in names:
        if name.casefold() in there:
            _add_layer(doc, name, there[name.casefold()], anatomy.page)
    doc.entitydb.handles = HandleGenerator(f"{anatomy.next_handle:X}")
    return doc


def _add_layer(doc: Document, name: str, entry: tuple[Tag, ...], page: str) -> None:
    """A layer with the look that a table's entry gives it."""
    layer = doc.layers.add(name)
    color, weight, linetype = (value_of(entry, code) for code in (62, 370, 6))
    if linetype:
        layer.dxf.linetype = linetype.decode(page, "replace")
    if color is not None and 0 < abs(_whole(color)) < 256:
        layer.color = abs(_whole(color))
    if weight is not None and doc.dxfversion > R12:
        layer.dxf.lineweight = _whole(weight)


def _whole(value: bytes) -> int:
    try:
        return int(value)
    except ValueError:
        return 0
