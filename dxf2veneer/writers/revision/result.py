"""A comparison as JSON, for other programs. ``docs/compare.schema.json`` describes every field."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any, cast

from dxf2veneer.basics.messages import Message
from dxf2veneer.model import (
    FIGURES,
    OPENING_FIGURES,
    Figures,
    LineChange,
    MoneyChange,
    OpeningChange,
    OpeningQuantities,
    PartChange,
    Recorded,
    RecordedLine,
    Revision,
    WallChange,
)
from dxf2veneer.textio.escaping import for_json, legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.writers.result.message_data import message_data
from dxf2veneer.writers.result.schema import schema_of
from dxf2veneer.writers.revision.shape import (
    CompareJson,
    FiguresJson,
    LineChangeJson,
    LineSideJson,
    MoneyChangeJson,
    OpeningChangeJson,
    OpeningDeltaJson,
    PartChangeJson,
    SideJson,
    ToldJson,
    WallChangeJson,
)


def compare_schema() -> dict[str, Any]:
    """The JSON Schema of a file of a comparison.

    Returns:
        A schema of the draft 2020-12.
    """
    return schema_of(CompareJson, "Two takeoffs compared by dxf2veneer")


def write_compare(revision: Revision, path: Path) -> None:
    """Write a comparison as UTF-8 JSON, whole or not at all.

    Args:
        revision: The comparison.
        path: The file to write.

    Raises:
        OSError: Nothing can be written there.
    """
    sealed = {"schema": "", "made_by": BLANK_SEAL} | compare_dict(revision)
    text = for_json(json.dumps(sealed, indent=2, ensure_ascii=False, allow_nan=False)) + "\n"
    write_whole(path, lambda draft: draft.write_text(legible(text), "utf-8", newline="\n"))


def compare_dict(revision: Revision) -> CompareJson:
    """A comparison in plain dicts, lists, strings and numbers.

    Args:
        revision: The comparison.

    Returns:
        What ``write_compare`` writes but for the seal.
    """
    display = revision.new.display
    return {
        "schema": "dxf2veneer-compare-1",
        "old": _side(revision.old),
        "new": _side(revision.new),
        "tolerance_in": revision.tolerance,
        "changed": revision.is_changed,
        "walls": [_wall(wall, display) for wall in revision.walls],
        "openings": [_opening(opening, display) for opening in revision.openings],
        "parts": [_part(part, display) for part in revision.parts],
        "totals": {
            "old": _figures(revision.old.totals),
            "new": _figures(revision.new.totals),
            "delta": _figures(revision.delta),
            "add": _figures(revision.add),
            "deduct": _figures(revision.deduct),
        },
        "money": {
            "currency": revision.new.currency,
            "materials": _money(revision.money("materials")),
            "labour": _money(revision.money("labour")),
            "price": _money(revision.money("price")),
        },
        "lines": [_line(line) for line in revision.lines],
        "hand_changes": [
            {
                "sheet": change.sheet,
                "row": change.row,
                "heading": change.heading,
                "computed": change.computed,
                "by_hand": change.by_hand,
                "kept": change.fits,
            }
            for change in revision.new.hand_changes
        ],
        "notes": [_told(note, display) for note in revision.notes],
    }


def _side(side: Recorded) -> SideJson:
    return {
        "source": side.source,
        "drawings": [{"file": d.file, "sha256": d.sha256, "units": d.units} for d in side.drawings],
    }


def _told(told: Message, display: str) -> ToldJson:
    return {"told": say(told, display), "told_data": message_data(told)}


def _figures(figures: Figures) -> FiguresJson:
    return cast(FiguresJson, {key: _plain(figures.get(key)) for key in FIGURES})


def _plain(value: float | Decimal | None) -> float | int | None:
    return float(value) if isinstance(value, Decimal) else value


def _wall(wall: WallChange, display: str) -> WallChangeJson:
    return {
        "id_old": wall.id_old,
        "id_new": wall.id_new,
        "change": wall.change,
        "changes": list(wall.changes),
        "touched": wall.touched,
        "shift_in": list(wall.shift),
        "moved_in": list(wall.moved),
        "outline_off_in": wall.outline_off,
        "delta": _figures(wall.delta),
        **_told(wall.told, display),
    }


def _opening(opening: OpeningChange, display: str) -> OpeningChangeJson:
    edges = opening.edges
    return {
        "id_old": opening.id_old,
        "id_new": opening.id_new,
        "wall_old": opening.wall_old,
        "wall_new": opening.wall_new,
        "change": opening.change,
        "changes": list(opening.changes),
        "size_old_in": _size(opening.old),
        "size_new_in": _size(opening.new),
        "edges": edges
        and {
            "left_in": edges.left,
            "right_in": edges.right,
            "sill_in": edges.sill,
            "head_in": edges.head,
        },
        "delta": cast(
            OpeningDeltaJson, {key: _plain(opening.delta[key]) for key in OPENING_FIGURES}
        ),
        **_told(opening.told, display),
    }


def _size(measured: OpeningQuantities | None) -> list[float] | None:
    return None if measured is None else [measured.width, measured.height]


def _part(part: PartChange, display: str) -> PartChangeJson:
    return {
        "what": part.what,
        "id_old": part.id_old,
        "id_new": part.id_new,
        "wall_old": part.wall_old,
        "wall_new": part.wall_new,
        "change": part.change,
        "delta_in": part.delta,
        **_told(part.told, display),
    }


def _money(money: MoneyChange) -> MoneyChangeJson:
    found = {name: _plain(value) for name, value in money._asdict().items()}
    return cast(MoneyChangeJson, found)


def _line(change: LineChange) -> LineChangeJson:
    line = change.line
    return {
        "kind": line.kind,
        "key": line.key,
        "title": line.title,
        "unit": line.unit,
        "old": _line_side(change.old),
        "new": _line_side(change.new),
    }


def _line_side(line: RecordedLine | None) -> LineSideJson | None:
    if line is None:
        return None
    return {
        "quantity": line.quantity,
        "hours": line.hours,
        "weight_lb": line.weight_lb,
        "cost": None if line.cost is None else float(line.cost),
    }
