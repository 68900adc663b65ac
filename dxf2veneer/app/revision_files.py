"""The files that a comparison writes: all of them, or none."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from dxf2veneer.app.outputs import stems_of
from dxf2veneer.app.revising import Compared, Version
from dxf2veneer.app.stages import Progress, unwatched
from dxf2veneer.app.writing import write_together
from dxf2veneer.basics.messages import message
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.model import ChangeTerms, LaidWall
from dxf2veneer.revisions.laying import laid_walls

if TYPE_CHECKING:
    from dxf2veneer.config.job import Job

_Writing = tuple[Path, Callable[[Path], object]]


@dataclass(frozen=True)
class CompareFiles:
    """The files that a comparison is asked to write."""

    result: Path | None = None
    """What changed, as JSON."""
    page: Path | None = None
    """The page (HTML)."""
    folder: Path | None = None
    """Gets a copy of each new drawing with its changes."""
    orders: tuple[Path, ...] = ()
    """The change order, a workbook or a PDF by its ending."""
    terms: ChangeTerms = field(default_factory=ChangeTerms)
    """What the user says of the change order."""

    def overlays(self, new: Version) -> tuple[Path, ...]:
        """A file for each new drawing, in the same order.

        Raises:
            SettingsError: There are none, as the result of a takeoff is compared.
        """
        if self.folder is None:
            return ()
        if not new.drawings:
            raise SettingsError(message("compare-draws-no-result", file=new.name))
        return tuple(self.folder / f"{stem}-changes.dxf" for stem in stems_of(new.drawings))

    def all(self, new: Version) -> tuple[Path, ...]:
        """Every file, once it is known what is compared.

        Raises:
            SettingsError: One of them can't be made of that.
        """
        single = (self.result, self.page)
        return (*(path for path in single if path), *self.orders, *self.overlays(new))


def write_compared(
    found: Compared, job: Job, new: Version, files: CompareFiles, progress: Progress = unwatched
) -> None:
    """Write the files of a comparison, all or none.

    Args:
        found: The comparison.
        job: The job of the new takeoff.
        new: What the new takeoff was made of.
        files: The files.
        progress: Is given each file as its writing begins.

    Raises:
        WriteError: One of them can't be written; what stood there before is unchanged.
        OverlayError: A drawing can't be copied.
    """
    walls = laid_walls(found.revision)
    made = list(_writings(found, job, new, files, walls))
    if made:
        write_together([(path, _told(path, write, progress)) for path, write in made])


def _told(
    target: Path, write: Callable[[Path], object], progress: Progress
) -> Callable[[Path], object]:
    def telling(draft: Path) -> None:
        progress(message("writing-file", file=target.name))
        write(draft)

    return telling


def _writings(
    found: Compared, job: Job, new: Version, files: CompareFiles, walls: Sequence[LaidWall]
) -> Iterator[_Writing]:
    from dxf2veneer.writers.revision import write_compare, write_compare_page

    if files.folder and found.new:
        from dxf2veneer.writers.overlay.revised import write_revised

        paths = zip(found.new.drawings, new.drawings, files.overlays(new), strict=True)
        for drawing, source, path in paths:
            yield path, partial(write_revised, found.revision, walls, found.new, drawing, source)
    if files.result:
        yield files.result, partial(write_compare, found.revision)
    if files.page:
        write = partial(write_compare_page, name=job.job.name, alert=alert_of(found))
        yield files.page, partial(write, found.revision, walls)
    if files.orders:
        from dxf2veneer.order.change_order import change_order_of
        from dxf2veneer.writers.change_order import (
            write_change_order_pdf,
            write_change_order_sheet,
        )

        order = change_order_of(found.revision, walls, job, files.terms)
        for path in files.orders:
            is_pdf = path.suffix.lower() == ".pdf"
            make = write_change_order_pdf if is_pdf else write_change_order_sheet
            yield path, partial(make, order, alert=alert_of(found))


def alert_of(found: Compared) -> str:
    """What every output says on top where a takeoff that was made is not to be relied on.

    Args:
        found: The comparison.

    Returns:
        One line; empty where there is nothing to say.
    """
    from dxf2veneer.writers.words import alert_words

    sides = (("before", found.old), ("now", found.new))
    told = ((when, alert_words(takeoff)) for when, takeoff in sides if takeoff)
    return "; ".join(f"{when}: {words}" for when, words in told if words)
