"""Proposals as messages, and the table of a group."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.tolerances import HEIGHT_ROUNDING_IN
from dxf2veneer.config.advice import CAP
from dxf2veneer.model import CourseProposal, CoursingAdvice, GroupAdvice, OpeningShift
from dxf2veneer.wording.measures import area_text, setting_text

_HEAD = (
    "no",
    "starter above base of {wall}",
    "--start",
    "slivers",
    "rips",
    "moved",
    "heads out",
    "bare ground",
    "panels",
)
"""Headings of the table of a group; the wall is the one whose base is the lowest."""
_BARE_SQIN = 1.0
"""Less bare ground more or less is not worth a word."""


class Names:
    """What openings and walls are called."""

    def __init__(self, advice: CoursingAdvice) -> None:
        """Names of all openings; two of one name go by their ids."""
        openings = [o for w in advice.walls for o in w.openings]
        times = Counter(o.name for o in openings)
        self._names = {o.id: o.name for o in openings if o.name and times[o.name] == 1}

    def of(self, ids: Sequence[str]) -> tuple[str, ...]:
        """The names of openings or walls by their ids."""
        return tuple(self._names.get(one, one) for one in ids)


def move_message(shift: OpeningShift, names: Names) -> Message:
    """What moves, and how far.

    Args:
        shift: Openings or caps.
        names: What they are called.

    Returns:
        Such as: raise windows A, B by 1 in.
    """
    return message(
        "advice-move",
        kind=shift.kind,
        names=names.of(shift.ids),
        head=Length(shift.head),
        sill=Length(shift.sill),
        whole=shift.kind == CAP or abs(shift.head - shift.sill) <= HEIGHT_ROUNDING_IN,
    )


def proposal_message(proposal: CourseProposal, group: GroupAdvice, names: Names) -> Message:
    """A proposal against what stands, in one sentence.

    Args:
        proposal: The proposal.
        group: Its group, for what stands.
        names: What openings are called.

    Returns:
        Such as: raise windows A, B by 1 in, start at 4 in: no sliver, 6 rips fewer.
    """
    present = group.present
    more = proposal.bare - present.bare
    return message(
        "advice-proposal",
        moves=tuple(move_message(s, names) for s in _merged(proposal.shifts)),
        height=Length(proposal.height),
        keeps_start=proposal.start == present.start,
        slivers=proposal.slivers,
        slivers_before=present.slivers,
        ripped=proposal.ripped,
        ripped_before=present.ripped,
        heads_out=proposal.heads_out,
        bare_more=Area(more) if more > _BARE_SQIN else None,
        bare_less=Area(-more) if more < -_BARE_SQIN else None,
        panels=proposal.units,
        panels_before=present.units,
    )


def _merged(shifts: Sequence[OpeningShift]) -> list[OpeningShift]:
    """Rows of one kind that go as far, as one."""
    alike: dict[tuple[str, float, float], OpeningShift] = {}
    for one in shifts:
        key = one.kind, round(one.head, 6), round(one.sill, 6)
        first = alike.get(key)
        both = replace(first, ids=first.ids + one.ids) if first else one
        alike[key] = both
    return list(alike.values())


def notes_of(group: GroupAdvice, advice: CoursingAdvice, names: Names) -> Iterator[Message]:
    """What there is to say of a group besides its proposals.

    Args:
        group: The group.
        advice: The whole, for the height of a course and the limits.
        names: What openings are called.

    Returns:
        How much was tried, how many more there are, what no single move clears, what can't move.
    """
    if not group.proposals:
        yield message("advice-none")
    if group.is_exact:
        yield message("advice-tried", starts=group.starts)
    else:
        yield message("advice-searched", starts=group.starts)
    listed = len(group.proposals)
    if listed < group.unbeaten:
        yield message("advice-unbeaten", listed=listed, unbeaten=group.unbeaten)
    for one in group.no_multiples:
        yield message(
            "advice-no-multiple",
            names=names.of(one.ids),
            height=Length(one.height),
            trimmed=one.is_trimmed,
            course=Length(advice.product.panel.height),
            over=Length(one.over),
        )
    for held in group.held:
        yield message("advice-held", names=names.of(held.ids), why=held.why)


def closing_of(advice: CoursingAdvice) -> Iterator[Message]:
    """What there is to say of the whole advice.

    Args:
        advice: The advice.

    Returns:
        That nothing may move, and then nothing become higher or lower either, where that is so;
        the caution.
    """
    limits = advice.job.advice
    if not any(leave.most for leave in limits.may_move):
        yield message("advice-fixed")
        if any(leave.most for leave in limits.may_resize):
            yield message("advice-resize-alone")
    yield message("advice-caution")


def head_of(group: GroupAdvice) -> tuple[str, ...]:
    """The headings of a group's table.

    Args:
        group: The group.

    Returns:
        A text for each column.
    """
    lowest = min(group.present.walls, key=lambda w: w.wall.box[1]).wall.id
    return tuple(text.format(wall=lowest) for text in _HEAD)


def rows_of(group: GroupAdvice, display: str) -> list[tuple[str, ...]]:
    """The rows of a group's table under ``head_of``: what stands, and each proposal.

    Args:
        group: The group.
        display: Units for the reader.

    Returns:
        Cells as texts.
    """
    numbered = [("now", group.present), *((str(n), p) for n, p in enumerate(group.proposals, 1))]
    return [
        (
            number,
            setting_text(p.height, display),
            setting_text(p.start, display),
            str(p.slivers),
            str(p.ripped),
            str(p.changed),
            str(p.heads_out),
            area_text(p.bare / 144.0, display),
            "-" if p.units is None else str(p.units),
        )
        for number, p in numbered
    ]
