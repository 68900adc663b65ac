"""What a command is asked to read and write, and the names of the files that come of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dxf2veneer.textio.escaping import for_file_name

TABLES = (
    "walls",
    "openings",
    "corners",
    "items",
    "labor",
    "price",
    "alternates",
    "wall-shares",
    "elevation-shares",
    "phase-shares",
    "notices",
    "assumptions",
    "cautions",
    "changed-cuts",
)
"""Tables of the estimate that become a file each."""

if TYPE_CHECKING:
    from dxf2veneer.config.job import Job
    from dxf2veneer.model import Takeoff


@dataclass(frozen=True)
class Asked:
    """What a command was asked to read and write."""

    drawings: tuple[Path, ...]
    folder: Path
    job_file: Path | None = None
    json_file: Path | None = None
    csv_folder: Path | None = None
    report_file: Path | None = None
    pdf_file: Path | None = None
    picture_folder: Path | None = None
    bid_files: tuple[Path, ...] = ()
    request_files: tuple[Path, ...] = ()
    pole_files: tuple[Path, ...] = ()
    crew_files: tuple[Path, ...] = ()
    unfolded_files: tuple[Path, ...] = ()
    sketch_files: tuple[Path, ...] = ()
    tables_folder: Path | None = None
    force: bool = False
    """Whether outputs may replace files that are not ours."""
    keep_changes: bool = False
    """Whether changes by hand in the workbook that stands there are kept in the new one."""
    settings: Mapping[str, Any] = field(default_factory=dict)
    """Options that win over the job file, by ``section.key``; None or () where one was not
    given."""


@dataclass(frozen=True)
class Outputs:
    """The files that one takeoff writes; one overlay for each drawing, in the same order."""

    overlays: tuple[Path, ...]
    workbook: Path
    cuts: Path | None = None
    """Piece lists of the course plan; without a plan there are none: see ``as_made``."""
    result: Path | None = None
    lines: Path | None = None
    report: Path | None = None
    pdf: Path | None = None
    bids: tuple[Path, ...] = ()
    """The customer's bid, a workbook or a PDF by its ending."""
    requests: tuple[Path, ...] = ()
    """The request for quotation, a workbook or CSV by its ending."""
    poles: tuple[Path, ...] = ()
    """The story poles, a PDF or a picture by its ending."""
    crew: tuple[Path, ...] = ()
    """Crew sheets, a PDF or a drawing by its ending."""
    unfolded: tuple[Path, ...] = ()
    """Walls side by side round their corners, an SVG, a PNG or a drawing by its ending."""
    sketches: tuple[Path, ...] = ()
    """The walls as they may look, an SVG or PNG by its ending."""
    tables: tuple[Path, ...] = ()
    pictures: tuple[Path, ...] = ()
    """One for each wall in order, known only once the walls are: see ``as_made``."""

    def __iter__(self) -> Iterator[Path]:
        named = (self.cuts, self.result, self.lines, self.report, self.pdf)
        asked = (path for path in named if path)
        papers = (*self.bids, *self.requests, *self.poles, *self.crew, *self.tables)
        views = (*self.unfolded, *self.sketches, *self.pictures)
        return iter((self.workbook, *self.overlays, *asked, *papers, *views))

    def moved(self, place: Callable[[Path], Path]) -> Outputs:
        """The same files elsewhere.

        Args:
            place: The new place of each.

        Returns:
            The files there.
        """
        there: dict[str, Any] = {}
        for named in fields(self):
            files = getattr(self, named.name)
            is_list = isinstance(files, tuple)
            there[named.name] = tuple(map(place, files)) if is_list else files and place(files)
        return Outputs(**there)


def outputs_of(asked: Asked) -> Outputs:
    """The output files of one takeoff over all drawings.

    Args:
        asked: The drawings, folders and files that a command names.

    Returns:
        The files, named after the drawing, or after the job file where drawings are several.
    """
    stems = stems_of(asked.drawings)
    whole = (
        stems[0]
        if len(stems) == 1 or asked.job_file is None
        else for_file_name(asked.job_file.stem)
    )
    return Outputs(
        overlays=tuple(asked.folder / f"{stem}-courses.dxf" for stem in stems),
        workbook=asked.folder / f"{whole}-takeoff.xlsx",
        cuts=asked.folder / f"{whole}-cuts.xlsx",
        result=asked.json_file,
        lines=asked.csv_folder / f"{whole}-order.csv" if asked.csv_folder else None,
        report=asked.report_file,
        pdf=asked.pdf_file,
        bids=asked.bid_files,
        requests=asked.request_files,
        poles=asked.pole_files,
        crew=asked.crew_files,
        unfolded=asked.unfolded_files,
        sketches=asked.sketch_files,
        tables=_tables(asked.tables_folder, whole),
    )


def outputs_of_each(asked: Asked) -> tuple[Outputs, ...]:
    """The output files of every drawing as a job of its own.

    Args:
        asked: The drawings and folders; ``json_file``, ``report_file``, ``pdf_file``,
            ``crew_files``, ``bid_files``, ``request_files``, ``pole_files``, ``unfolded_files`` and
            ``sketch_files`` name folders.

    Returns:
        The files of each drawing, in the order of the drawings.
    """
    return tuple(
        Outputs(
            overlays=(asked.folder / f"{stem}-courses.dxf",),
            workbook=asked.folder / f"{stem}-takeoff.xlsx",
            cuts=asked.folder / f"{stem}-cuts.xlsx",
            result=asked.json_file / f"{stem}.json" if asked.json_file else None,
            lines=asked.csv_folder / f"{stem}-order.csv" if asked.csv_folder else None,
            report=asked.report_file / f"{stem}.html" if asked.report_file else None,
            pdf=asked.pdf_file / f"{stem}.pdf" if asked.pdf_file else None,
            bids=tuple(folder / f"{stem}-bid.pdf" for folder in asked.bid_files),
            requests=tuple(folder / f"{stem}-request.xlsx" for folder in asked.request_files),
            poles=tuple(folder / f"{stem}-story-pole.pdf" for folder in asked.pole_files),
            crew=tuple(folder / f"{stem}-crew.pdf" for folder in asked.crew_files),
            unfolded=tuple(folder / f"{stem}-unfolded.svg" for folder in asked.unfolded_files),
            sketches=tuple(folder / f"{stem}-sketch.svg" for folder in asked.sketch_files),
            tables=_tables(asked.tables_folder, stem),
        )
        for stem in stems_of(asked.drawings)
    )


def folders_of(asked: Asked, outputs: Iterable[Path]) -> tuple[Path, ...]:
    """The folders in which a takeoff writes.

    Args:
        asked: Names the folder for pictures.
        outputs: The files, but for pictures.

    Returns:
        Each folder once.
    """
    pictures = (asked.picture_folder,) if asked.picture_folder else ()
    return tuple(dict.fromkeys((*(path.parent for path in outputs), *pictures)))


def _tables(folder: Path | None, stem: str) -> tuple[Path, ...]:
    """A file for each table of the estimate, and one for all."""
    if folder is None:
        return ()
    return (*(folder / f"{stem}-{name}.csv" for name in TABLES), folder / f"{stem}-tables.json")


def stems_of(drawings: Sequence[Path]) -> list[str]:
    """What the outputs of each drawing are named after.

    Args:
        drawings: The drawings.

    Returns:
        A name for each; drawings of one name get numbers, in the order in which they stand.
    """
    stems: list[str] = []
    taken: set[str] = set()
    for drawing in drawings:
        name = for_file_name(drawing.stem)
        stem, count = name, 2
        while stem.lower() in taken:
            stem, count = f"{name}-{count}", count + 1
        taken.add(stem.lower())
        stems.append(stem)
    return stems


def as_made(outputs: Outputs, takeoff: Takeoff, folder: Path | None) -> Outputs:
    """The outputs once the takeoff is made: piece lists only where there is a plan, and a picture
    of every wall in the folder, where one was asked for.

    Args:
        outputs: The other outputs.
        takeoff: The takeoff.
        folder: The folder for pictures, or None.

    Returns:
        The outputs, pictures in the order of the walls.
    """
    if takeoff.plan is None:
        outputs = replace(outputs, cuts=None)
    if folder is None:
        return outputs
    from dxf2veneer.writers.elevation import picture_name

    return replace(outputs, pictures=tuple(folder / picture_name(wall) for wall in takeoff.walls))


def other_inputs(asked: Asked, job: Job) -> tuple[Path, ...]:
    """The files besides the drawings that a takeoff reads.

    Args:
        asked: Names the job file.
        job: Names the product file, the price file, the site measures, an earlier result and the
            product files of walls and alternates.

    Returns:
        Each file once.
    """
    named = (
        asked.job_file,
        job.product_path,
        job.prices_path,
        job.site_path,
        job.before_path,
        *job.other_products,
    )
    return tuple(dict.fromkeys(p for p in named if p))
