"""What the terminal shows of a proposal: views, unit, walls and openings, and what to do next."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from dxf2veneer.app.cladding_sums import cladding_sums, told_sums
from dxf2veneer.app.proposing import absurdities
from dxf2veneer.basics.tolerances import PROPOSAL_STANDS, VIEW_STANDS
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.propose.proposal import outline_size
from dxf2veneer.propose.telling import told, told_evidence, told_outside, told_traced
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import UNCONFIRMED
from dxf2veneer.wording.measures import size_text
from dxf2veneer.wording.notice_catalog import remedy
from dxf2veneer.wording.table import safe, table

if TYPE_CHECKING:
    from dxf2veneer.app.proposing import Seen
    from dxf2veneer.config.job import Job
    from dxf2veneer.propose import Proposal, ProposedOpening, ProposedWall

Row = tuple[str, str, str, str, str, str, str]
_SHOWN_EVIDENCE = 4
_SHOWN_ROWS = 60


def proposal_lines(seen: Seen, job: Job) -> Iterator[str]:
    """What a drawing proposes.

    Args:
        seen: The drawing and its proposal.
        job: How it was read; its unit counts, and in which units lengths are shown.

    Returns:
        Views, unit, walls and openings, each with confidence and reason.
    """
    proposal = seen.proposal
    yield from view_lines(proposal)
    yield ""
    yield from unit_lines(seen)
    if job.drawing.units:
        yield f"Unit as you say: {unit_by_name(job.drawing.units).title}"
    if not proposal.walls:
        yield ""
        yield from _nothing(seen)
        return
    name = job.drawing.units or proposal.unit
    inches = unit_by_name(name).inches * job.drawing.scale if name else None
    yield ""
    yield f"Walls and openings, {UNCONFIRMED}:"
    display = job.output.display
    rows: list[Row] = []
    for wall in proposal.walls:
        why = say(told(wall.reason))
        size = size_text(*outline_size(wall.outline), inches, display)
        drawn = ", ".join([*wall.cladding, *([f'note in it "{wall.note}"'] if wall.note else [])])
        rows.append((wall.id, wall.view, "wall", size, drawn, f"{wall.confidence:.0%}", why))
        rows += _opening_rows(wall, proposal, inches, display)
    head = ("no", "view", "what", "width x height", "drawn as", "sure", "why")
    yield from table(head, rows[:_SHOWN_ROWS], left=7)
    if len(rows) > _SHOWN_ROWS:
        yield f"… and {len(rows) - _SHOWN_ROWS} more, all in the job file"
    if inches is not None:
        if proposal.waver:
            line = say(told_traced(proposal.waver, inches), display)
            yield safe(f"warning: {line}. {remedy('DRAWING_TRACED')}")
        sums = told_sums(proposal, cladding_sums(proposal, inches), seen=True)
        if sums:
            line = say(sums, display)
            yield safe(f"{line[0].upper()}{line[1:]}")
        for found in proposal.outside:
            x, y = found.at
            yield safe(
                f"warning: {say(told_outside(found, inches), display)}, at {x:.8g},{y:.8g}. "
                f"{remedy('HATCHED_OUTSIDE')}"
            )


def _opening_rows(
    wall: ProposedWall, proposal: Proposal, inches: float | None, display: str
) -> Iterator[Row]:
    """The openings of a wall, those that are alike in one row."""
    alike: dict[tuple[str, str, str, str], list[ProposedOpening]] = {}
    for opening in proposal.openings_of(wall.id):
        size = size_text(*outline_size(opening.outline), inches, display)
        why = say(told(opening.reason))
        key = opening.kind, size, f"{opening.confidence:.0%}", why
        alike.setdefault(key, []).append(opening)
    for (kind, size, sure, why), some in alike.items():
        first, *others = some
        name = f"  {first.id} …" if others else f"  {first.id}"
        what = f"{len(some)} {kind}s" if others else kind
        yield name, wall.view, what, size, "", sure, why


def view_lines(proposal: Proposal) -> Iterator[str]:
    """The views of a drawing.

    Args:
        proposal: Its proposal.

    Returns:
        A table: number, kind, title, how sure, why.
    """
    if not proposal.views:
        yield "No view was found: nothing is drawn that could be one"
        return
    rows = [
        (v.id, v.kind, v.title, f"{v.confidence:.0%}", say(told(v.reason))) for v in proposal.views
    ]
    yield from table(("view", "kind", "title", "sure", "why"), rows, left=5)


def unit_lines(seen: Seen) -> Iterator[str]:
    """What speaks for a drawing's unit, and sizes that no building has in it.

    Args:
        seen: The drawing and its proposal.

    Returns:
        What it comes to, the strongest evidence, and warnings.
    """
    unit = seen.unit
    if unit.unit:
        chance = unit.chances.get(unit.unit, 0.0)
        yield f"Unit: {unit_by_name(unit.unit).title} ({min(chance, 0.999):.1%} sure)"
    else:
        named = f" The header names {unit_by_name(unit.header).title}." if unit.header else ""
        yield (
            f"Unit: what is drawn does not settle it.{named} "
            "Check a length that you know, and add --units"
        )
    for item in [e for e in unit.evidence if not e.is_strange][:_SHOWN_EVIDENCE]:
        fits = " or ".join(unit_by_name(n).title for n in item.best)
        place = f" (handle {item.handle})" if item.handle else ""
        yield safe(f"  {say(told_evidence(item.what, item.value))}{place}: {fits}")
    for found in absurdities(seen):
        yield safe(f"  warning: {say(found)}")


def _nothing(seen: Seen) -> Iterator[str]:
    """Why there is no wall, and what to look at."""
    kinds = {v.kind for v in seen.proposal.views}
    yield "No wall is proposed" + (
        "" if "elevation" in kinds else ": none of the views looks like an elevation"
    )
    yield from hidden_lines(seen)


def hidden_lines(seen: Seen) -> Iterator[str]:
    """What was left out because nobody sees it.

    Args:
        seen: The drawing.

    Returns:
        A line that names hidden layers; none where there is none.
    """
    hidden = seen.scene.hidden_layers
    if hidden:
        more = f" and {len(hidden) - 5} more" if len(hidden) > 5 else ""
        yield safe(
            f"Layers that are off or frozen were left out ({', '.join(hidden[:5])}{more}): "
            "add --include-hidden to read them"
        )


def next_lines(seen: Seen, drawing: Path, picture: Path, job_file: Path) -> Iterator[str]:
    """What to do next.

    Args:
        seen: The drawing and its proposal.
        drawing: The drawing as the user named it.
        picture: The picture that was written.
        job_file: The job file that was written.

    Returns:
        The two steps: look, take off.
    """
    yield "Look at the picture:"
    yield f"  {quote(safe(str(picture)))}"
    if not seen.proposal.walls:
        yield "Then draw the walls by pointing, or name their layers yourself:"
        yield f"  dxf2veneer confirm {quote(safe(str(drawing)))}"
        yield f"  dxf2veneer layers {quote(safe(str(drawing)))}"
        return
    doubted = [w.id for w in seen.proposal.walls if w.confidence < PROPOSAL_STANDS]
    doubted += [o.id for o in seen.proposal.openings if o.confidence < PROPOSAL_STANDS]
    if doubted:
        more = f" and {len(doubted) - 12} more" if len(doubted) > 12 else ""
        yield f"  with an eye on {', '.join(doubted[:12])}{more}: these are less sure than the rest"
    bare = seen.proposal.empty_elevations(VIEW_STANDS)
    if bare:
        names = "; ".join(f"{v.id} {v.title}".strip() for v in bare)
        yield safe(f"No wall was found in {names}")
        yield "Mark what is clad there by pointing:"
        yield f"  dxf2veneer confirm {quote(safe(str(drawing)))} --job {quote(safe(str(job_file)))}"
    if seen.proposal.unit is None and seen.units is None:
        yield f"Fill in the unit in {quote(safe(str(job_file)))}, unless the header's is right"
    yield f"Take lines out of {quote(safe(str(job_file)))} that are wrong, then:"
    yield (
        f"  dxf2veneer takeoff {quote(safe(str(drawing)))} "
        f"--job {quote(safe(str(job_file)))} -o out"
    )
