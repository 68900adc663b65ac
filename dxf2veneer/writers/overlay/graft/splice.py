"""What was drawn, as bytes between those of the drawing."""

from __future__ import annotations

import io
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path
from typing import Any

from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.layer import Layer
from ezdxf.lldxf.tagwriter import TagWriter

from dxf2veneer.drawing.entities.ours import APPID
from dxf2veneer.textio.whole_files import BLANK_SEAL
from dxf2veneer.writers.overlay.graft.anatomy import R12, Anatomy, Table, value_of
from dxf2veneer.writers.overlay.graft.earlier import Span, earlier_overlay
from dxf2veneer.writers.overlay.layers import LINETYPES

_Insertion = tuple[int, bytes]
"""What is put in front of a place."""


class Splice:
    """Puts what was drawn into a donor between the bytes of a drawing."""

    def __init__(self, anatomy: Anatomy, donor: Document, names: Collection[str]) -> None:
        """The donor holds the overlay; ``names`` are those of our layers."""
        self._anatomy = anatomy
        self._donor = donor
        self._names = names

    def write(self, path: Path) -> None:
        """Write the drawing with the overlay in it.

        Args:
            path: The file.
        """
        content = self._anatomy.content
        at = 0
        with path.open("wb") as file:
            for (start, end), new in self._changes():
                file.write(memoryview(content)[at:start])
                file.write(new)
                at = end
            file.write(memoryview(content)[at:])

    def _changes(self) -> list[tuple[Span, bytes]]:
        """Stretches of the drawing and what stands in their place, in order."""
        anatomy = self._anatomy
        seal = self._bytes(f"999\n{BLANK_SEAL}\n")
        added = [*self._tables(), (anatomy.entities[1], self._entities())]
        changes = [((at, at), new) for at, new in added]
        changes += [(span, b"") for span in earlier_overlay(anatomy)]
        if anatomy.seed:  # last of all: now every handle that we need is taken
            changes.append((anatomy.seed, str(self._donor.entitydb.handles).encode("ascii")))
        return [((0, 0), seal), *sorted(changes, key=lambda change: change[0])]

    def _entities(self) -> bytes:
        for entity in self._donor.modelspace():
            self._own(entity, self._anatomy.space)
        return self._bytes(self._text(self._donor.modelspace()))

    def _own(self, entity: DXFEntity, owner: str | None) -> None:
        if owner is None:
            entity.dxf.discard("owner")
        else:
            entity.dxf.owner = owner

    # ------------------------------------------------------------- tables

    def _tables(self) -> Iterator[_Insertion]:
        """What our tables need, in front of the place where it belongs."""
        anatomy, wanted = self._anatomy, self._wanted()
        missing: list[bytes] = []
        for name, entries in wanted.items():
            table = anatomy.tables.get(name)
            if table:
                yield table.end, self._entries(entries, table)
            elif name == "LTYPE" and "LAYER" in anatomy.tables:
                yield anatomy.tables["LAYER"].start, self._new_table(name, entries)
            else:
                missing.append(self._new_table(name, entries))
        if missing and anatomy.tables_end is not None:
            yield anatomy.tables_end, b"".join(missing)
        elif missing:
            head, end = "  0\nSECTION\n  2\nTABLES\n", "  0\nENDSEC\n"
            section = b"".join((self._bytes(head), *missing, self._bytes(end)))
            yield anatomy.body, section

    def _wanted(self) -> dict[str, list[DXFEntity]]:
        """By table, the entries that the overlay needs: those of ours that the donor has."""
        doc = self._donor
        ours: dict[str, tuple[Any, Collection[str]]] = {
            "LTYPE": (doc.linetypes, LINETYPES),
            "LAYER": (doc.layers, self._names),
            "STYLE": (doc.styles, [APPID]),
            "APPID": (doc.appids, [APPID]),
        }
        return {
            name: entries
            for name, (table, names) in ours.items()
            if (entries := [table.get(n) for n in names if n in table])
        }

    def _entries(self, entries: Iterable[DXFEntity], table: Table) -> bytes:
        """Those that the drawing lacks."""
        there = table.named(self._anatomy.page)
        lacking = [e for e in entries if e.dxf.name.casefold() not in there]
        for entry in lacking:
            self._own(entry, table.handle)
            if isinstance(entry, Layer):
                self._as_layer_0(entry)
        return self._bytes(self._text(lacking))

    def _new_table(self, name: str, entries: list[DXFEntity]) -> bytes:
        """A table that the drawing lacks."""
        handle = self._donor.entitydb.handles.next() if self._anatomy.has_handles else None
        lines = ["  0\nTABLE\n", f"  2\n{name}\n"]
        if handle:
            lines.append(f"  5\n{handle}\n")
        if self._anatomy.version > R12:
            lines.append("100\nAcDbSymbolTable\n")
        lines.append(f" 70\n{len(entries)}\n")
        table = Table(0, 0, handle, ())
        body = self._entries(entries, table)
        return self._bytes("".join(lines)) + body + self._bytes("  0\nENDTAB\n")

    def _as_layer_0(self, layer: Layer) -> None:
        """Plot style and material as those of the drawing's layer 0: they are handles."""
        table = self._anatomy.tables.get("LAYER")
        zero = table.named(self._anatomy.page).get("0") if table else None
        for code, name in ((390, "plotstyle_handle"), (347, "material_handle")):
            value = value_of(zero, code) if zero else None
            if value is None:
                layer.dxf.discard(name)
            else:
                layer.dxf.set(name, value.decode("ascii", "replace"))

    # -------------------------------------------------------------- bytes

    def _text(self, entities: Iterable[DXFEntity]) -> str:
        """Entities as the library writes them in the drawing's version."""
        anatomy, stream = self._anatomy, io.StringIO()
        version = anatomy.version
        writer = TagWriter(stream, dxfversion=version, write_handles=anatomy.has_handles)
        for entity in entities:
            entity.export_dxf(writer)
        return stream.getvalue()

    def _bytes(self, text: str) -> bytes:
        """Text in the code page of the drawing, with its line ends."""
        return text.encode(self._anatomy.page, "dxfreplace").replace(b"\n", self._anatomy.line_end)
