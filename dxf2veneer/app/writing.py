"""All outputs of a takeoff written, or none: each is made in a folder aside, then all are put in
their places."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dxf2veneer.app.outputs import TABLES, Outputs
from dxf2veneer.app.stages import Progress, timed, unwatched
from dxf2veneer.basics.giving_up import go_on
from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.textio.staging import CommitError, StagingError, commit, finish_commit, staged
from dxf2veneer.textio.whole_files import is_ours

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff

_LOG = logging.getLogger(__name__)


class WriteError(TakeoffError):
    """An output could not be written; what stood in its place before is unchanged."""


class LateInterrupt(KeyboardInterrupt):
    """An interrupt that came when all outputs stood in their places already."""


def write_outputs(
    takeoff: Takeoff,
    sources: Sequence[Path],
    outputs: Outputs,
    *,
    documents: dict[Path, Any] | None = None,
    progress: Progress = unwatched,
) -> None:
    """Write all outputs of a takeoff, or none.

    Args:
        takeoff: The takeoff.
        sources: The drawings it was made of, in the same order.
        outputs: The files to write.
        documents: Sources that were read whole already; each is given up once it is copied.
        progress: Is given each file as its writing begins.

    Raises:
        GivenUpError: Nobody wants them any more; asked before the first is put in its place.
        WriteError: An output can't be made.
        OverlayError: A drawing can't be copied.
        LateInterrupt: An interrupt came after all were written.
    """
    placed = False
    try:
        folders = dict.fromkeys(p.resolve().parent for p in outputs)
        if any([finish_commit(folder, is_ours) for folder in folders]):
            progress(message("earlier-write-finished"))
        with timed(_LOG, "writing") as counts, staged(folders) as drafts:
            made = {}
            for target, write in _writings(takeoff, sources, outputs, documents or {}):
                progress(message("writing-file", file=target.name))
                place_of = target.resolve()
                made[place_of] = drafts[place_of.parent] / place_of.name
                _write(target, write, made[place_of])
            go_on()
            commit(made)
            placed = True
            counts["files"] = len(made)
    except KeyboardInterrupt:
        raise LateInterrupt if placed else KeyboardInterrupt from None
    except OSError as error:
        raise _write_error(error, outputs) from error


def write_together(writings: Sequence[tuple[Path, Callable[[Path], object]]]) -> None:
    """Write some files, all of them or none.

    Args:
        writings: Each file with what makes it.

    Raises:
        WriteError: One of them can't be written; what stood there before is unchanged.
    """
    try:
        with staged(dict.fromkeys(target.resolve().parent for target, _ in writings)) as drafts:
            made = {}
            for target, write in writings:
                place_of = target.resolve()
                made[place_of] = drafts[place_of.parent] / place_of.name
                _write(target, write, made[place_of])
            commit(made)
    except OSError as error:
        raise _write_error(error, [target for target, _ in writings]) from error


def _write(target: Path, write: Callable[[Path], object], draft: Path) -> None:
    """Make one file. Raises WriteError with the name of the output."""
    try:
        write(draft)
    except OSError as error:
        why = error.strerror or str(error)
        raise WriteError(message("file-not-written", file=str(target), why=why)) from error


def _write_error(error: OSError, outputs: Iterable[Path]) -> WriteError:
    """What went wrong while files were put in their places."""
    why = error.strerror or str(error)
    match error:
        case CommitError():
            return WriteError(message("file-not-replaced", file=str(error.filename), why=why))
        case StagingError():
            first = next(p for p in outputs if str(p.resolve().parent) == error.filename)
            folder = str(first.parent)
            told = message("folder-not-writable", file=str(first), folder=folder, why=why)
            return WriteError(told)
    return WriteError(message("file-not-written", file=str(next(iter(outputs))), why=why))


def _writings(
    takeoff: Takeoff, sources: Sequence[Path], outputs: Outputs, documents: dict[Path, Any]
) -> Iterator[tuple[Path, Callable[[Path], object]]]:
    """Every output with what makes it, the overlays first."""
    from dxf2veneer.writers.csv_lines import write_lines
    from dxf2veneer.writers.elevation import write_picture
    from dxf2veneer.writers.overlay import write_overlay
    from dxf2veneer.writers.report import write_pdf, write_report
    from dxf2veneer.writers.result import write_result
    from dxf2veneer.writers.words import unconfirmed_words
    from dxf2veneer.writers.workbook import write_cuts, write_workbook

    for drawing, source, overlay in zip(takeoff.drawings, sources, outputs.overlays, strict=True):
        document = documents.pop(source, None)
        yield overlay, partial(write_overlay, takeoff, drawing, source, document=document)
    yield outputs.workbook, partial(write_workbook, takeoff)
    if outputs.cuts and takeoff.plan:
        yield outputs.cuts, partial(write_cuts, takeoff, takeoff.plan)
    if outputs.result:
        yield outputs.result, partial(write_result, takeoff)
    if outputs.lines and takeoff.order:
        yield (
            outputs.lines,
            partial(
                write_lines,
                takeoff.order,
                errors=takeoff.errors,
                unconfirmed=unconfirmed_words(takeoff),
                display=takeoff.job.output.display,
            ),
        )
    if outputs.report:
        yield outputs.report, partial(write_report, takeoff)
    if outputs.pdf:
        yield outputs.pdf, partial(write_pdf, takeoff)
    yield from _trade_papers(takeoff, outputs)
    yield from _crew_papers(takeoff, outputs)
    for wall, picture in zip(takeoff.walls, outputs.pictures, strict=False):
        yield picture, partial(write_picture, takeoff, wall)


def _trade_papers(
    takeoff: Takeoff, outputs: Outputs
) -> Iterator[tuple[Path, Callable[[Path], object]]]:
    """What goes to the customer, to the supplier and to other programs."""
    from dxf2veneer.writers.words import alert_words, apart_words

    if outputs.bids and takeoff.order:
        from dxf2veneer.order.letter import letter_of
        from dxf2veneer.writers.bid import write_bid_pdf, write_bid_sheet

        letter = letter_of(takeoff, takeoff.order)
        alert = "; ".join(filter(None, (alert_words(takeoff), apart_words(takeoff))))
        for path in outputs.bids:
            write = write_bid_pdf if path.suffix.lower() == ".pdf" else write_bid_sheet
            yield path, partial(write, letter, alert=alert)
    if outputs.requests and takeoff.order:
        from dxf2veneer.writers.workbook.request import write_request

        for path in outputs.requests:
            yield path, partial(write_request, takeoff, takeoff.order)
    if outputs.tables:
        from dxf2veneer.writers.tables import tables_of, write_table, write_tables

        tables = tables_of(takeoff)
        named = {table.name: table for table in tables}
        for path, name in zip(outputs.tables[:-1], TABLES, strict=True):
            yield path, partial(write_table, named[name])
        yield outputs.tables[-1], partial(write_tables, tables)


def _crew_papers(
    takeoff: Takeoff, outputs: Outputs
) -> Iterator[tuple[Path, Callable[[Path], object]]]:
    """What goes to the crew, and pictures of all walls."""
    if outputs.poles:
        from dxf2veneer.coursing.story_poles import story_poles
        from dxf2veneer.writers.story_pole import write_poles_pdf, write_poles_svg

        poles = [
            pole
            for product, walls in takeoff.by_product()
            for pole in story_poles(walls, product.panel.height)
        ]
        for path in outputs.poles:
            draw = write_poles_pdf if path.suffix.lower() == ".pdf" else write_poles_svg
            yield path, partial(draw, takeoff, poles)
    if outputs.unfolded or outputs.sketches:
        from dxf2veneer.writers.overlay.papers import write_unfolded_drawing
        from dxf2veneer.writers.unfolded import write_sketch, write_unfolded

        for path in outputs.unfolded:
            unfold = write_unfolded_drawing if _is_dxf(path) else write_unfolded
            yield path, partial(unfold, takeoff)
        for path in outputs.sketches:
            yield path, partial(write_sketch, takeoff)
    if outputs.crew:
        from dxf2veneer.writers.crew_sheets import write_crew_sheets
        from dxf2veneer.writers.overlay.papers import write_crew_drawing

        for path in outputs.crew:
            make = write_crew_drawing if _is_dxf(path) else write_crew_sheets
            yield path, partial(make, takeoff)


def _is_dxf(path: Path) -> bool:
    return path.suffix.lower() == ".dxf"
