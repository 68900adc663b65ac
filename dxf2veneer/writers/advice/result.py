"""Coursing advice as JSON, for other programs.

``docs/advice.schema.json`` describes every field.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any, Literal, NotRequired, TypedDict

from dxf2veneer.basics.units import square_feet
from dxf2veneer.model import CourseProposal, CoursingAdvice, GroupAdvice
from dxf2veneer.textio.escaping import for_json, legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.writers.advice.words import Names, closing_of, notes_of, proposal_message
from dxf2veneer.writers.result.message_data import message_data
from dxf2veneer.writers.result.schema import schema_of
from dxf2veneer.writers.result.shape_values import (
    Count,
    Inches,
    Limit,
    MessageJson,
    Run,
    SquareFeet,
)
from dxf2veneer.writers.words import file_name


class ShiftJson(TypedDict):
    """Openings that are alike and stand in a row, or caps at one height, which move together."""

    kind: Annotated[str, "window, door, garage, vent, fixture or cap."]
    ids: Annotated[list[str], "Openings; of caps their walls."]
    head_in: Annotated[Inches, "How far the head, or the cap, goes up; negative: down."]
    sill_in: Annotated[Inches, "How far the sill goes up; of a cap as its head."]


class BareStretchJson(TypedDict):
    """A level stretch of a wall's base."""

    wall: str
    x0_in: Inches
    x1_in: Inches
    y_in: Inches
    above_in: Annotated[Inches, "Height of the starter above it."]


class AdviceProposalJson(TypedDict):
    """A start with moves, and what it leaves."""

    start_in: Annotated[Inches, "The setting `courses.start` that gives it."]
    starter_above_base_in: Annotated[Inches, "Above the lowest base of the group."]
    moves: list[ShiftJson]
    slivers: Count
    ripped: Annotated[Count, "Pieces that strips take at least, in panel lengths."]
    strips: Annotated[Count, "Heads, sills, tops and caps that are off the course lines."]
    heads_out_of_line: Count
    changed: Annotated[Count, "Openings and caps that move or change their height."]
    bare_sqft: Annotated[SquareFeet, "Ground below the starter that no panel covers."]
    steps: Annotated[list[BareStretchJson], "The same at each step of the grade."]
    panels: Annotated[int | None, "Flat and corner panels; null where they were not planned."]


class ToldProposalJson(AdviceProposalJson):
    """A proposal that beats what stands and that no other beats."""

    number: Annotated[int, "As on the picture and in the drawing's layers.", Limit("minimum", 1)]
    told: str
    told_data: MessageJson | None


class NoteJson(TypedDict):
    """A line about a group or the whole."""

    told: str
    told_data: MessageJson | None


class GroupAdviceJson(TypedDict):
    """Walls whose courses run together."""

    walls: list[str]
    stands: AdviceProposalJson
    proposals: Annotated[list[ToldProposalJson], "The fewest slivers first."]
    unbeaten: Annotated[Count, "How many none beats, those that are not listed included."]
    starts_tried: Count
    exhaustive: Annotated[
        bool,
        "Whether every start that reads well was tried, with every move within the limits that "
        "changes anything.",
    ]
    notes: list[NoteJson]


class AdviceDrawingJson(TypedDict):
    """One file that was read."""

    file: str
    sha256: Annotated[str, Limit("pattern", "^[0-9a-f]{64}$")]


class LeaveJson(TypedDict):
    """How far something may be from where it is drawn."""

    what: str
    most_in: Run


class AdviceJson(TypedDict):
    """Coursing advice. Lengths in inches, areas in square feet; x and y are the drawing's own
    coordinates in inches. Fields may be added in later versions, and the fields here stay: a
    reader should pass over fields it does not know."""

    schema: Literal["dxf2veneer-advice-1"]
    made_by: NotRequired[
        Annotated[
            str,
            "Seal of the file: the digest by which the tool knows that it wrote the file and "
            "nobody changed it since.",
            Limit("pattern", "^dxf2veneer-[0-9a-f]{64}$"),
        ]
    ]
    drawings: list[AdviceDrawingJson]
    course_in: Annotated[Run, "Height of a course."]
    sliver_in: Annotated[Run, "A strip lower than this is a sliver."]
    may_move: list[LeaveJson]
    may_resize: list[LeaveJson]
    groups: list[GroupAdviceJson]
    notes: list[NoteJson]


def advice_schema() -> dict[str, Any]:
    """The JSON Schema of a file of advice.

    Returns:
        A schema of the draft 2020-12.
    """
    return schema_of(AdviceJson, "Coursing advice by dxf2veneer")


def advice_dict(advice: CoursingAdvice) -> AdviceJson:
    """The advice in plain dicts, lists, strings and numbers.

    Args:
        advice: The advice.

    Returns:
        What ``write_advice`` writes but for the seal: lengths in inches, areas in square feet.
    """
    settings, names = advice.job.advice, Names(advice)
    display = advice.job.output.display
    return {
        "schema": "dxf2veneer-advice-1",
        "drawings": [{"file": file_name(d), "sha256": d.sha256} for d in advice.drawings],
        "course_in": advice.product.panel.height,
        "sliver_in": advice.job.courses.sliver,
        "may_move": [{"what": legible(v.what), "most_in": v.most} for v in settings.may_move],
        "may_resize": [{"what": legible(v.what), "most_in": v.most} for v in settings.may_resize],
        "groups": [_group(g, advice, names) for g in advice.groups],
        "notes": [
            {"told": say(n, display), "told_data": message_data(n)} for n in closing_of(advice)
        ],
    }


def write_advice(advice: CoursingAdvice, path: Path) -> None:
    """Write the advice as UTF-8 JSON, whole or not at all.

    Args:
        advice: The advice.
        path: The file to write.

    Raises:
        OSError: Nothing can be written there.
    """
    sealed = {"schema": "", "made_by": BLANK_SEAL} | advice_dict(advice)
    text = for_json(json.dumps(sealed, indent=2, ensure_ascii=False, allow_nan=False)) + "\n"
    write_whole(path, lambda draft: draft.write_text(legible(text), "utf-8", newline="\n"))


def _group(group: GroupAdvice, advice: CoursingAdvice, names: Names) -> GroupAdviceJson:
    display = advice.job.output.display
    told: list[ToldProposalJson] = []
    for number, proposal in enumerate(group.proposals, 1):
        line = proposal_message(proposal, group, names)
        told.append(
            {
                "number": number,
                "told": say(line, display),
                "told_data": message_data(line),
                **_proposal(proposal),
            }
        )
    return {
        "walls": list(group.walls),
        "stands": _proposal(group.present),
        "proposals": told,
        "unbeaten": group.unbeaten,
        "starts_tried": group.starts,
        "exhaustive": group.is_exact,
        "notes": [
            {"told": say(n, display), "told_data": message_data(n)}
            for n in notes_of(group, advice, names)
        ],
    }


def _proposal(proposal: CourseProposal) -> AdviceProposalJson:
    return {
        "start_in": proposal.start,
        "starter_above_base_in": proposal.height,
        "moves": [
            {"kind": s.kind, "ids": list(s.ids), "head_in": s.head, "sill_in": s.sill}
            for s in proposal.shifts
        ],
        "slivers": proposal.slivers,
        "ripped": proposal.ripped,
        "strips": proposal.strips,
        "heads_out_of_line": proposal.heads_out,
        "changed": proposal.changed,
        "bare_sqft": square_feet(proposal.bare),
        "steps": [
            {"wall": s.wall, "x0_in": s.x0, "x1_in": s.x1, "y_in": s.y, "above_in": s.height}
            for s in proposal.steps
        ],
        "panels": proposal.units,
    }
