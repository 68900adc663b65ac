"""What the terminal shows: tables, notices and the closing summary, as plain lines of text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from shlex import quote
from typing import TYPE_CHECKING

from dxf2veneer.basics.notices import count_by_level, doubts
from dxf2veneer.basics.tolerances import NO_AREA_SQIN
from dxf2veneer.basics.units import PLAUSIBLE, square_feet, unit_by_name
from dxf2veneer.wording import rule_name, say
from dxf2veneer.wording.blend import colors_over_line, spread_line
from dxf2veneer.wording.bounds import least_words
from dxf2veneer.wording.changes import change_lines
from dxf2veneer.wording.choices import HEAD, choice_notes, over_line, plan_cells
from dxf2veneer.wording.handling import handling_line
from dxf2veneer.wording.look import look_line
from dxf2veneer.wording.measures import (
    area_text,
    feet_inches,
    length_text,
    millimeters,
)
from dxf2veneer.wording.mitres import mitre_line
from dxf2veneer.wording.rules import WHOSE_RULES
from dxf2veneer.wording.table import safe, table
from dxf2veneer.wording.tolerance import tolerance_line
from dxf2veneer.writers.basis import check_line
from dxf2veneer.writers.words import by_area_words

if TYPE_CHECKING:
    from dxf2veneer.drawing.outlines.picking import Face
    from dxf2veneer.drawing.survey import Survey, UnitSurvey
    from dxf2veneer.model import (
        CornerKind,
        CoursePlan,
        RuleState,
        StartTable,
        Takeoff,
        Totals,
        WallQuantities,
    )

_SHOWN_PER_CODE = 5
_SHOWN_GROUPS = 3
_SHOWN_ALIKE = 6
_LONGEST_NAME = 40
"""Characters of a wall's id and name in the closing table; the workbook has them whole."""
_CORNERS: dict[CornerKind, str] = {"outside": "outside", "inside": "inside", "mitre": "bay"}


def summary(takeoff: Takeoff) -> Iterator[str]:
    """The closing table and what stands under it.

    Args:
        takeoff: The takeoff; its job says in which units the lines are.

    Returns:
        Areas by wall and in total; corner, starter and trim runs; starts, panels, notices.
    """
    display = takeoff.job.output.display
    yield from _wall_table(takeoff, display)
    yield ""
    yield from _run_lines(takeoff, display)
    yield from _better_starts(takeoff.starts, display)
    yield from _panels(takeoff)
    yield from _choices(takeoff)
    if takeoff.changes:
        yield from change_lines(takeoff.changes)
    for product in takeoff.products:
        if product.file is None:
            yield safe(
                f"{product.product.name}: its sizes, packages and weights are invented; name your "
                "own with --product FILE (dxf2veneer product new FILE writes one to fill in)"
            )
    if line := check_line(takeoff):
        yield safe(f"{line} (sheet Assumptions names them)")
    yield "Notices: " + ", ".join(
        f"{count} {level}" for level, count in count_by_level(takeoff.notices).items()
    )
    for notice in doubts(takeoff.notices, len(takeoff.drawings)):
        yield safe(f"Check first: {say(notice.message, display)}")


def _wall_table(takeoff: Takeoff, display: str) -> Iterator[str]:
    """Areas, starter and courses by wall, and the sums of several walls."""

    def row(name: str, sums: Totals | WallQuantities, courses: str) -> tuple[str, ...]:
        areas = (sums.gross_area, sums.opening_area, sums.net_area)
        shown = (area_text(square_feet(value), display) for value in areas)
        return (name, *shown, length_text(sums.starter_run, display), courses)

    rows = [
        row(f"{w.wall.id} {w.wall.name}".strip(), w.quantities, str(len(w.courses.courses)))
        for w in takeoff.walls
    ]
    if len(rows) != 1:
        rows.append(row("all walls", takeoff.totals, ""))
    head = ("wall", "gross", "openings", "net", "starter", "courses")
    yield from table(head, rows, longest=_LONGEST_NAME)


def _run_lines(takeoff: Takeoff, display: str) -> Iterator[str]:
    """Runs of corners, ends, caps and rakes; trim; what was and was not taken off."""

    def area(value: float) -> str:
        return area_text(square_feet(value), display)

    def run(value: float) -> str:
        return length_text(value, display)

    t = takeoff.totals
    corners = {f"{name} corners": takeoff.corner_run(kind) for kind, name in _CORNERS.items()}
    runs = {**corners, "finished ends": takeoff.end_run, "cap": t.cap_run, "rake": t.rake_run}
    named = ", ".join(f"{name} {run(value)}" for name, value in runs.items() if value)
    yield f"Runs: {named or 'no corners, ends, caps or rakes'}"
    if t.openings:
        sides = f"heads {run(t.trim_head)}, jambs {run(t.trim_jambs)}, sills {run(t.trim_sill)}"
        noun = "opening" if t.openings == 1 else "openings"
        yield f"Around {t.openings} {noun}: {sides}"
    taken = [
        f"{name} {area(value)}"
        for name, value in (("trim", t.trim_area), ("cap", t.cap_area))
        if value
    ]
    if taken:
        yield "Taken off for " + ", ".join(taken)
    kept = t.opening_area - t.deducted_area
    if kept > NO_AREA_SQIN:
        yield f"Openings not deducted: {area(kept)}"


def _better_starts(tables: Sequence[StartTable], display: str) -> Iterator[str]:
    """One line where walls have a better start than the present one."""
    better = []
    for best, present, walls in (
        (t.best, t.present, ", ".join(t.walls)) for t in tables if t.improves
    ):
        counts = (
            ("slivers", best.slivers, present.slivers),
            ("pieces to rip", best.ripped, present.ripped),
            ("strips", best.strips, present.strips),
        )
        what, less, more = next(c for c in counts if c[1] < c[2])
        start = length_text(best.start, display)
        better.append(f"{walls} {start} ({less} {what} instead of {more})")
    if better:
        beyond = len(better) - _SHOWN_GROUPS
        more_groups = f"; and {beyond} more groups" if beyond > 0 else ""
        yield (
            f"Better starts: {'; '.join(better[:_SHOWN_GROUPS])}{more_groups}. "
            "--start best takes them; the course check shows others"
        )


def _panels(takeoff: Takeoff) -> Iterator[str]:
    """Panels by the course plan beside their lower bound, or by area."""
    plan, by_area = takeoff.plan, takeoff.estimate
    if plan is None:
        yield (
            f"Panels: about {by_area.panels:,} by area, flat and corner "
            f"({by_area_words(by_area)}): an estimate, nothing was laid out"
        )
        return
    yield (
        f"Panels: {plan.flat.units} flat and {plan.corner.units} corner, {plan.total} in all; "
        f"{least_words(plan)}. Waste by layout {takeoff.waste:.1%}; "
        f"by area {by_area.panels:,} ({by_area_words(by_area)})"
    )
    for part in takeoff.parts:
        if part.plan is not None:
            yield safe(
                f"{part.name} on {', '.join(part.walls)}: {part.plan.flat.units} flat and "
                f"{part.plan.corner.units} corner; {least_words(part.plan)}"
            )
    yield from _alike(plan)
    if plan.look and plan.look.joints:
        yield look_line(plan, plan.look, takeoff.course_number)
    if plan.handling and plan.handling.offcuts:
        yield handling_line(plan, plan.handling, takeoff.job.plan.offcut_wait)
    if plan.mitres and plan.mitres.pairs:
        yield mitre_line(plan.mitres)
    if plan.spread:
        yield safe(spread_line(plan, plan.spread))
    if takeoff.order and takeoff.order.colors_over:
        yield safe(colors_over_line(takeoff.order))
    over = over_line(plan, takeoff.order)
    if over:
        yield safe(over)
    if plan.tolerance and plan.tolerance.runs:
        yield tolerance_line(plan, plan.tolerance, takeoff.job.output.display)
    pieces = f"Pieces: {plan.flat.pieces + plan.corner.pieces}, {plan.cuts} crosscuts"
    if not plan.breaks:
        yield f"{pieces}; every rule of laying is kept ({WHOSE_RULES})"
        return
    states: tuple[RuleState, ...] = ("broken", "forced", "as laid")
    found = {s: [b.rule for b in plan.breaks if b.state == s] for s in states}
    told = [f"{_places(own)} {s}" for s, own in found.items() if own or s != "as laid"]
    yield f"{pieces}; rules of laying {', '.join(told)}: see sheet Rule check"


def _choices(takeoff: Takeoff) -> Iterator[str]:
    """The plans to choose from, where they were asked for."""
    choices = takeoff.choices
    if choices is None:
        return
    yield ""
    yield from table(HEAD, map(plan_cells, choices.listed))
    currency = takeoff.order.currency if takeoff.order else ""
    yield from map(safe, choice_notes(choices, currency))
    yield ""


def _alike(plan: CoursePlan) -> Iterator[str]:
    """How many walls repeat another's layout, and what that costs."""
    alike = [count for count in plan.walls if count.like]
    if not alike:
        return
    named = ", ".join(f"{count.wall} like {count.like}" for count in alike[:_SHOWN_ALIKE])
    more = f" and {len(alike) - _SHOWN_ALIKE} more" if len(alike) > _SHOWN_ALIKE else ""
    over = plan.alike_over
    price = (
        f"; that costs {over} panel{'' if over == 1 else 's'} more than each wall for itself "
        "(--no-alike)"
        if over
        else ""
    )
    yield safe(f"Laid alike, so that one picture serves: {named}{more}{price}")


def _places(rules: Sequence[str]) -> str:
    """How many places, and which rules."""
    names = ", ".join(dict.fromkeys(map(rule_name, rules)))
    count = f"{len(rules)} place{'' if len(rules) == 1 else 's'}"
    return f"at {count} ({names})" if rules else "nowhere"


def survey_lines(survey: Survey) -> Iterator[str]:
    """The answer of ``dxf2veneer layers``.

    Args:
        survey: What was found in a drawing.

    Returns:
        The file, its size in the units that fit, its layers.
    """
    unit = (
        unit_by_name(survey.units).title if survey.units else "none: add --units when you take off"
    )
    yield safe(f"{survey.file}: DXF {survey.dxf_version}, unit in the file: {unit}")
    yield from _size_lines(survey)
    yield ""
    rows = [
        (
            e.name,
            e.state,
            ", ".join(f"{n} {kind}" for kind, n in e.counts) or "-",
            str(e.closed_outlines or "-"),
            f"{e.closed_area:g}" if e.closed_outlines else "-",
            f"{e.width:g} x {e.height:g}" if e.width or e.height else "-",
            f"{e.guess}: {say(e.why)}" if e.guess and e.why else "",
        )
        for e in survey.layers
    ]
    lines = list(
        table(
            ("layer", "state", "entities", "closed", "area", "size", "could be"),
            [(*r[:6], "") for r in rows],
            left=3,
        )
    )
    yield from (
        f"{line.ljust(len(lines[1]))}  {safe(guess)}".rstrip()
        for line, guess in zip(lines, ["", "", *(r[6] for r in rows)], strict=True)
    )


def _size_lines(survey: Survey) -> Iterator[str]:
    """The size measured, in drawing units and in the units that it could be in."""
    if not (survey.width or survey.height):
        yield "No outline or line was found to measure on the layers that are shown"
        return
    yield f"Measured on {say(survey.measured)}: {survey.width:g} x {survey.height:g} drawing units"
    extents = [_extent(entry) for entry in survey.in_units]
    for entry, extent in zip(survey.in_units, extents, strict=True):
        yield f"  if in {unit_by_name(entry.unit).title:<12} {extent}"


def _extent(entry: UnitSurvey) -> str:
    """The extent in feet and inches; of a metric unit in millimeters too."""
    inches = f"{feet_inches(entry.width_in)} x {feet_inches(entry.height_in)}"
    if entry.unit in ("in", "ft"):
        return inches
    return f"{inches}, {millimeters(entry.width_in)} x {millimeters(entry.height_in)}"


def face_lines(faces: Sequence[Face], *, most: int = 40) -> Iterator[str]:
    """A table of the largest faces.

    Args:
        faces: The faces, the largest first; lengths in drawing units.
        most: How many are shown.

    Returns:
        A point inside to give to --opening-at, size and area of each.
    """
    if not faces:
        yield "No face is closed by lines on these layers; a larger --gap may close some."
        return
    rows = [
        (f"{f.at[0]:.8g},{f.at[1]:.8g}", f"{f.width:.6g} x {f.height:.6g}", f"{f.area:.6g}")
        for f in faces[:most]
    ]
    yield from table(("point inside", "size", "area"), rows)
    if len(faces) > most:
        yield f"… and {len(faces) - most} smaller faces"
    yield (
        "In drawing units. Give a point to --opening-at, or list it in the job file under "
        "[drawing] opening_at."
    )


def suggestion(
    survey: Survey, layers: Mapping[str, Sequence[str]], begun: Sequence[str], unit: str | None
) -> str:
    """A takeoff command for the layers as guessed, ready to copy.

    Args:
        survey: What was found in a drawing.
        layers: The layers by the setting that names them.
        begun: The drawing as the shell takes it, and the options by which it is read.
        unit: The unit that the evidence settles; None where it does not.

    Returns:
        The command and what to check.
    """
    words = [
        f"--{setting}-layer {quote(safe(name))}" for setting in layers for name in layers[setting]
    ]
    unknown = survey.units is None and "--units" not in begun
    if unknown:
        words.append(f"--units {unit or 'UNIT'}")
    marks = [
        quote(safe(e.name)) for e in survey.layers if e.state == "on" and e.guess == "corner marks"
    ]
    more = "".join(
        f"\n  and, as {m} seems to mark corners: --outside-corner-layer {m}, "
        f"--inside-corner-layer {m} or --bay-layer {m}"
        for m in marks
    )
    check = (
        f"\n  with one of {', '.join(PLAUSIBLE)} for UNIT: check a length that you know"
        if unknown and not unit
        else ""
    )
    return f"dxf2veneer takeoff {' '.join([*begun, *words])} -o out{check}{more}"
