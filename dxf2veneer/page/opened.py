"""A drawing as the page has read it."""

from __future__ import annotations

import dataclasses
import hashlib
from dataclasses import dataclass
from pathlib import Path

import shapely

from dxf2veneer.app.proposing import Seen, read, seen_of
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Job
from dxf2veneer.page.lines import packed
from dxf2veneer.page.marks import Mark, Marks, Points, Unit, proposed
from dxf2veneer.page.pointing import Ground
from dxf2veneer.propose import Proposal, ProposedView
from dxf2veneer.propose.scene import Box, Scene

_HAIR = 1 / 500
"""A corner this near to a line, as a share of its view's size, lies on it. Our own default."""


_NOTHING = Proposal(unit=None, unit_sure=False, unit_evidence=(), views=(), walls=(), openings=())
"""What a drawing proposes before anybody looks for anything in it."""


@dataclass(frozen=True)
class Opened:
    """A drawing as it was read last."""

    path: Path
    """Its file."""
    sha256: str
    """Checksum of its bytes."""
    scene: Scene
    """Everything visible in it."""
    inches: float | None
    """Inches in a drawing unit, as the proposal takes it; None where nothing settles it."""
    proposal: Proposal
    """What it proposes; nothing before it has been looked at."""
    ground: Ground
    """What lies under the pointer."""
    lines: bytes
    """Its lines, packed."""

    def in_unit(self, unit: Unit) -> Opened:
        """The same drawing looked at in another unit; itself where the unit is the same or not
        known."""
        if unit.inches is None or unit.inches == self.inches:
            return self
        from dxf2veneer.propose.proposing import look_at

        proposal = look_at(self.scene, inches=unit.inches).proposal
        ground = self.ground.offering(_outlines(proposal), _boxes(proposal), unit.inches)
        return dataclasses.replace(self, inches=unit.inches, proposal=proposal, ground=ground)

    def view_of(self, mark: Mark) -> ProposedView | None:
        """The view in which a mark lies: the smallest whose box holds its middle."""
        at = mark.polygon.representative_point()
        holding = [v for v in self.proposal.views if shapely.box(*v.box).covers(at)]
        return min(holding, key=lambda v: shapely.box(*v.box).area, default=None)

    def views_with_walls(self, marks: Marks) -> frozenset[str]:
        """Ids of the views in which walls lie; walls in none of them count as view ``""``."""
        found = (self.view_of(wall) for wall in marks.walls)
        return frozenset(view.id if view else "" for view in found)

    def is_confirmed(self, marks: Marks) -> bool:
        """Whether a person has looked at every view in which a wall lies."""
        views = self.views_with_walls(marks)
        return bool(views) and views <= marks.looked_at

    def unfit(self, marks: Marks, other: Opened) -> frozenset[int]:
        """Ids of marks whose corners lay on lines here and no longer do in another state."""
        return frozenset(
            m.id
            for m in marks.marks
            if self.ground.lies_on_lines(m.outline, self._reach(m))
            and not other.ground.lies_on_lines(m.outline, self._reach(m))
        )

    def _reach(self, mark: Mark) -> float:
        view = self.view_of(mark)
        x0, y0, x1, y1 = view.box if view else mark.polygon.bounds
        return _HAIR * max(x1 - x0, y1 - y0)


def read_drawing(path: Path, job: Job) -> Opened:
    """Read a drawing for the page, without looking for anything in it yet.

    Args:
        path: The drawing.
        job: Its section ``drawing`` and its limits count.

    Returns:
        The drawing without a proposal.

    Raises:
        DrawingError: It can't be read.
    """
    return _unseen(path, read(path, job))


def looked_at(opened: Opened, job: Job) -> Opened:
    """A drawing that has been read, with what it proposes.

    Args:
        opened: The drawing as it was read.
        job: How it was read.

    Returns:
        The drawing with its proposal.

    Raises:
        DrawingError: It has no such view as the job names.
    """
    return _with_proposal(opened, seen_of(opened.path, opened.scene, job), job)


def opened_of(seen: Seen, job: Job) -> Opened:
    """A drawing that has been looked at, for the page.

    Args:
        seen: The drawing and its proposal.
        job: How it was read.

    Returns:
        The drawing with what lies under the pointer.
    """
    return _with_proposal(_unseen(seen.path, seen.scene), seen, job)


def _unseen(path: Path, scene: Scene) -> Opened:
    return Opened(
        path=path,
        sha256=hashlib.sha256(path.read_bytes()).hexdigest(),
        scene=scene,
        inches=None,
        proposal=_NOTHING,
        ground=Ground(scene, ()),
        lines=packed(scene),
    )


def _with_proposal(opened: Opened, seen: Seen, job: Job) -> Opened:
    name = job.drawing.units or seen.proposal.unit
    inches = unit_by_name(name).inches * job.drawing.scale if name else None
    likeliest = max(seen.unit.chances, key=lambda n: seen.unit.chances[n])
    ground = opened.ground.offering(
        _outlines(seen.proposal),
        _boxes(seen.proposal),
        inches or unit_by_name(likeliest).inches,
    )
    return dataclasses.replace(opened, inches=inches, proposal=seen.proposal, ground=ground)


def _boxes(proposal: Proposal) -> list[Box]:
    return [v.box for v in proposal.views]


def _outlines(proposal: Proposal) -> list[Points]:
    return [m.outline for m in proposed(proposal, Unit(None)).marks]
