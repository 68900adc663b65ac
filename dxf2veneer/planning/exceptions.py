"""Exceptions: where no layout can keep a rule of laying, and why.

Each is a proof: a run shorter than two least pieces has no room for two ends' pieces, corner cuts
in the same inch can't vary, no layout of a run and of those below it keeps their joints apart, none
of a bay has more corners out of one panel each, course lines and outline leave a strip lower than
the least. A rule that is broken without such a proof is broken by the plan. Whether a rule does not
hold at all is for the judge to say.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import COLUMN_IN, EXACT_IN, SAME_HEIGHT_IN
from dxf2veneer.config.rules import RuleId
from dxf2veneer.model import Course, RuleBreak, WallTakeoff
from dxf2veneer.planning.bay_proof import bays_of, fewest_parted, parted_test
from dxf2veneer.planning.bays import chains_of
from dxf2veneer.planning.cutting_stock.panels import CutPanel
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.lookahead import longest_alone
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes
from dxf2veneer.planning.stagger_proof import is_always_near
from dxf2veneer.planning.strips import levels_of, lowest_strip

_ROUNDED = 4
"""Decimals of a length in a reason, so that runs alike but for rounding have one reason."""


def exceptions_of(
    laid: Sequence[LaidRun],
    units: Sequence[CutPanel],
    walls: Sequence[WallTakeoff],
    sizes: LayingSizes,
) -> Iterator[RuleBreak]:
    """Every place where no layout of the job keeps a rule.

    Args:
        laid: The runs as laid.
        units: The panels that their parts are cut from.
        walls: The walls with their pieces.
        sizes: Lengths and limits in inches.

    Yields:
        The rule, the place and the reason.
    """
    courses = {w.wall.id: w.courses.courses for w in walls}
    below: dict[tuple[str, int], list[LaidRun]] = {}
    for one in laid:
        below.setdefault((one.run.wall, one.run.course), []).append(one)
    for one in laid:
        yield from _short(one, courses, sizes)
        yield from _one_piece(one, courses, sizes)
        yield from _column(one, courses, sizes)
        yield from _close(one, below, courses, sizes)
    yield from _parted(laid, units, courses, sizes)
    for wall in walls:
        yield from _strips(wall, sizes)


def _short(
    one: LaidRun, courses: Mapping[str, Sequence[Course]], sizes: LayingSizes
) -> Iterator[RuleBreak]:
    """Runs too short for the least piece, or for a corner cut that varies."""
    run = one.run
    at = _middle(run, courses)
    if run.length < sizes.least - EXACT_IN:
        yield RuleBreak(
            RuleId.LEAST_PIECE,
            run.wall,
            run.course,
            at,
            message("piece-shorter-than-least"),
            message(
                "run-shorter-than-least-piece",
                length=_length(run.length),
                least=_length(sizes.least),
            ),
        )
    slack = min(sizes.longest_corner, run.length - sizes.least) - sizes.least
    is_divided = run.length > longest_alone(run, sizes) + EXACT_IN  # a piece alone varies from it
    if "corner" in (run.left, run.right) and is_divided and slack < sizes.vary - EXACT_IN:
        why = message(
            "corner-cut-has-no-slack",
            length=_length(run.length),
            least=_length(sizes.least),
            slack=_length(slack),
        )
        for x in (run.x0, run.x1):
            yield RuleBreak(
                RuleId.LEAST_PIECE,
                run.wall,
                run.course,
                (x, at[1]),
                message("corner-cuts-do-not-vary"),
                why,
            )


def _one_piece(
    one: LaidRun, courses: Mapping[str, Sequence[Course]], sizes: LayingSizes
) -> Iterator[RuleBreak]:
    """Runs between two ends that each ask for a piece, too near to each other for two."""
    run = one.run
    if run.length >= 2.0 * sizes.least - EXACT_IN:
        return
    at = _middle(run, courses)
    if {run.left, run.right} == {"corner", "mitre"}:
        why = message("corner-piece-fills-bay-run", length=_length(run.length))
        for x in (run.x0, run.x1):
            yield RuleBreak(
                RuleId.BAY_MITRE,
                run.wall,
                run.course,
                (x, at[1]),
                message("no-mitre-at-bay-corner"),
                why,
            )
    if run.left == run.right == "corner":
        why = message(
            "finished-ends-too-near", length=_length(run.length), least=_length(sizes.least)
        )
        for rule in (
            RuleId.FINISHED_END,
            RuleId.OUTSIDE_TURN,
            RuleId.INSIDE_TURN,
            RuleId.WALL_END,
        ):
            yield RuleBreak(
                rule, run.wall, run.course, at, message("one-end-without-corner-piece"), why
            )


def _column(
    one: LaidRun, courses: Mapping[str, Sequence[Course]], sizes: LayingSizes
) -> Iterator[RuleBreak]:
    """Faces of narrow columns that no corner piece is long enough for."""
    run = one.run
    if run.face <= sizes.column + COLUMN_IN and run.length > sizes.longest_corner + EXACT_IN:
        yield RuleBreak(
            RuleId.NARROW_COLUMN,
            run.wall,
            run.course,
            _middle(run, courses),
            message("flat-piece-in-column"),
            message(
                "column-wider-than-corner-piece",
                length=_length(run.length),
                longest=_length(max(0.0, sizes.longest_corner)),
            ),
        )


def _close(
    one: LaidRun,
    below: Mapping[tuple[str, int], Sequence[LaidRun]],
    courses: Mapping[str, Sequence[Course]],
    sizes: LayingSizes,
) -> Iterator[RuleBreak]:
    """Joints that no layout of the run keeps away from those below, however that course is laid."""
    run, others = one.run, below.get((one.run.wall, one.run.course - 1), ())
    under = [x for other in others for x in other.joints if run.x0 < x < run.x1]
    near = [x for x in one.joints if any(abs(x - u) < sizes.stagger - EXACT_IN for u in under)]
    if not near or not is_always_near(run, [other.run for other in others], sizes):
        return
    why = message("joints-always-near", length=_length(run.length), stagger=_length(sizes.stagger))
    for x in near:
        yield RuleBreak(
            RuleId.STAGGER,
            run.wall,
            run.course,
            (x, _middle(run, courses)[1]),
            message("joints-nearer-than-stagger"),
            why,
        )


def _parted(
    laid: Sequence[LaidRun],
    units: Sequence[CutPanel],
    courses: Mapping[str, Sequence[Course]],
    sizes: LayingSizes,
) -> Iterator[RuleBreak]:
    """Bay corners with their sides from two panels, as many as any layout of the bay has."""
    is_parted = parted_test(laid, units)
    for rows in bays_of(chains_of([one.run for one in laid], sizes)):
        chains = [chain for row in rows for chain in row]
        parted = [b for c in chains for a, b in itertools.pairwise(c) if is_parted(a, b)]
        fewest = fewest_parted(rows, sizes) if parted else 0
        for run in parted[:fewest]:
            yield RuleBreak(
                RuleId.BAY_MITRE,
                run.wall,
                run.course,
                (run.x0, _middle(run, courses)[1]),
                message("bay-corner-from-two-panels"),
                message("bay-always-parted", fewest=fewest),
            )


def _strips(wall: WallTakeoff, sizes: LayingSizes) -> Iterator[RuleBreak]:
    """Pieces with a strip lower than the least one: course lines and wall leave no more."""
    levels = levels_of(wall)
    for piece in wall.courses.pieces:
        low = lowest_strip(piece, levels) if piece.outline or piece.holes else piece.height
        if low < sizes.strip - SAME_HEIGHT_IN:
            yield RuleBreak(
                RuleId.LEAST_STRIP,
                wall.wall.id,
                piece.course,
                ((piece.x0 + piece.x1) / 2.0, (piece.y0 + piece.y1) / 2.0),
                message("strip-lower-than-least"),
                message("strip-left-by-courses", height=_length(low)),
            )


def _middle(run: Run, courses: Mapping[str, Sequence[Course]]) -> tuple[float, float]:
    course = courses[run.wall][run.course]
    return (run.x0 + run.x1) / 2.0, (course.y0 + course.y1) / 2.0


def _length(inches: float) -> Length:
    return Length(round(inches, _ROUNDED))
