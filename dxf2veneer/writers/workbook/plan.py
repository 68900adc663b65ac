"""The sheet that proves the course plan: panels by wall with their lower bounds.

wall | flat | corner | ... | panels above the bound | waste | by area | difference
flat and corner panels; why no layout can use fewer; how often each rule does not hold
"""

from __future__ import annotations

from typing import Any, NamedTuple

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.config.product import Product
from dxf2veneer.model import CourseNumbers, CoursePlan, StockCount, Takeoff, WallCount
from dxf2veneer.model.parts import product_name
from dxf2veneer.textio.escaping import for_formula
from dxf2veneer.wording import rule_name, say
from dxf2veneer.wording.bounds import least_words
from dxf2veneer.wording.choices import over_line
from dxf2veneer.wording.handling import handling_rows
from dxf2veneer.wording.look import look_rows
from dxf2veneer.wording.measures import percent_text
from dxf2veneer.wording.mitres import mitre_rows
from dxf2veneer.wording.tolerance import tolerance_rows
from dxf2veneer.writers.words import BOUND_WORDS
from dxf2veneer.writers.workbook.blend import write_colors
from dxf2veneer.writers.workbook.cells import PlacedTable, place, put, sheet_of, style_total
from dxf2veneer.writers.workbook.columns import COUNT, Column, Display, Formula, Row, Strong
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import widen, write_note, write_title
from dxf2veneer.writers.workbook.rule_check import AS_LAID, BROKEN, FORCED
from dxf2veneer.writers.workbook.weighted import weighted

_PERCENT = '0.0%;"none"'
_SIGNED = "+#,##0;-#,##0;0"


class PanelTables(NamedTuple):
    """Tables of the sheet that others read."""

    walls: PlacedTable
    colors: PlacedTable | None
    """Walls with their colors, where the product has several."""


def by_area(weighted_net: str, display: Display, takeoff: Takeoff) -> str:
    """Formula text: whole panels for a net area.

    Args:
        weighted_net: Formula text of the net area in the unit shown, times its rate.
        display: Units of the sheets.
        takeoff: The takeoff, for the panel's face.

    Returns:
        Formula text of a whole number.
    """
    face = display.area(takeoff.product.coverage_area)
    return f"ROUNDUP(ROUND(({weighted_net})/{face!r},6),0)"


def faces_rates(takeoff: Takeoff) -> list[float]:
    """Each wall's rate by area, in panels of the first product: what ``by_area`` divides by.

    Args:
        takeoff: The takeoff.

    Returns:
        A rate for each wall.
    """
    first, every = takeoff.product.coverage_area, takeoff.estimate.walls
    return [w.rate * (first / takeoff.product_of(w.wall).coverage_area) for w in every]


def add_panels(
    book: Workbook,
    takeoff: Takeoff,
    plan: CoursePlan,
    display: Display,
    *,
    walls: PlacedTable,
    rules: PlacedTable,
) -> PanelTables:
    """Panels by wall beside their lower bound, the waste by layout and the count by area.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        plan: The course plan.
        display: Units of the sheets.
        walls: The table of walls.
        rules: The table of rules that do not hold.

    Returns:
        Where the tables of walls, and of walls and colors, stand.
    """
    sheet = sheet_of(book, "Panels")
    columns = _wall_columns(takeoff, display)
    note = (
        "Laid out panel by panel. A wall's lower bound is what it would need at least if laid "
        "alone; a panel counts for the wall it is first cut for, share by length parts it among "
        "the walls that its parts go to. A wall that lives on others' "
        "offcuts may stand below its bound, and has no waste. By area: net area / panel face x "
        "rate, rounded up once for the job; the rate is "
        f"{_rate_words(takeoff.estimate.scrap)}. Panels are no order yet: add breakage and picking."
    )
    write_title(sheet, "Panels", note, columns)
    numbers = {w.wall.id: n for n, w in enumerate(takeoff.walls)}
    rows = [_wall_row(numbers[c.wall], c, takeoff, display, walls) for c in plan.walls]
    placed = place(sheet, HEADER, columns, rows, empty="no walls", total=True)
    bound: Any = sheet[f"{placed.letters['bound']}{placed.last + 1}"]
    put(bound, plan.bound, COUNT)
    style_total(bound)
    total = f"SUMPRODUCT({placed.range('net')},{placed.range('rate')})"
    if takeoff.parts:
        total = weighted(placed, "net", faces_rates(takeoff)) or total
        _total_waste(sheet, placed, takeoff, display)
    ordered: Any = sheet[f"{placed.letters['by_area']}{placed.last + 1}"]
    put(ordered, Formula(by_area(total, display, takeoff)), COUNT)
    style_total(ordered)
    row = _kinds(sheet, placed.last + 3, plan, display, len(columns))
    row = _bounds(sheet, row + 2, plan, columns, display)
    row = _rules(sheet, row + 2, plan, rules, len(columns))
    row = _look(sheet, row + 2, plan, columns, takeoff.course_number, display)
    row = _handling(sheet, row + 2, takeoff, plan, columns)
    row = _mitres(sheet, row + 2, plan, columns, takeoff.course_number)
    row, colors = write_colors(sheet, row + 2, takeoff, plan, columns)
    over = over_line(plan, takeoff.order)
    if over:
        row += 2
        write_note(sheet, row, over, columns=len(columns))
    row = _tolerance(sheet, row + 2, plan, columns, takeoff.course_number, display)
    finish(sheet, takeoff, placed, last_row=row, freeze="C")
    return PanelTables(placed, colors)


def _total_waste(sheet: Worksheet, placed: PlacedTable, takeoff: Takeoff, display: Display) -> None:
    """The waste of all products' panels, each by its own face."""
    terms = []
    for part in takeoff.parts:
        name = for_formula(f"={part.name}")  # a name may begin with a sign of comparison
        for key, each in zip(("flat", "corner"), _faces(part.product, display), strict=True):
            terms.append(f"{each!r}*{placed.sum_where(key, product=name)}")
    laid = f"{placed.letters['laid']}{placed.last + 1}"
    bought: Any = sheet[f"{placed.letters['waste']}{placed.last + 1}"]
    put(bought, Formula(f"1-{laid}/({'+'.join(terms)})"), _PERCENT)
    style_total(bought)


def _faces(product: Product, display: Display) -> tuple[float, float]:
    """The face of a flat and of a corner panel, in the unit of the sheets."""
    return (
        display.area(product.coverage_area),
        display.area(product.corner.length * product.panel.height),
    )


def _wall_columns(takeoff: Takeoff, display: Display) -> list[Column]:
    """The wall table's columns; a column that ``reads`` itself has its formula in the total row
    too."""
    each = takeoff.product
    flat = display.area(each.coverage_area)
    corner = display.area(each.corner.length * each.panel.height)
    bought = f"({{flat}}*{flat!r}+{{corner}}*{corner!r})"
    counts = (
        ("flat", "Flat\npanels", COUNT, None),
        ("corner", "Corner\npanels", COUNT, None),
        ("units", "Panels\nin all", COUNT, "{flat}+{corner}"),
        ("share", "Share by\nlength", "#,##0.0", None),
        ("bound", "Lower\nbound", COUNT, None),
        ("above", "Above\nbound", _SIGNED, "{units}-{bound}"),
        ("pieces", "Pieces", "#,##0", None),
        ("cuts", "Cross-\ncuts", "#,##0", None),
    )
    ordered, by_itself = by_area("{net}*{rate}", display, takeoff), ("above", "waste", "less")
    areas = (
        ("waste", "Waste by\nlayout", _PERCENT, f"IF({{units}}=0,0,1-{{laid}}/{bought})"),
        ("by_area", "By area", COUNT, ordered),
        ("less", "Plan minus\nby area", _SIGNED, "{units}-{by_area}"),
    )

    def column(key: str, title: str, form: str, formula: str | None) -> Column:
        own = key if key in by_itself else None
        wide = 13 if key == "less" else 10
        return Column(key, title, wide, form, formula, summed=True, reads=own)

    return [
        Column("wall", "Wall", 9),
        Column("name", "Name", 22),
        *(column(*about) for about in counts),
        display.areas("net", "Net area"),
        display.areas("laid", "Laid"),
        column(*areas[0]),
        Column("rate", "Rate\nby area", 9, "0.00"),
        *(column(*about) for about in areas[1:]),
        Column("like", "Same courses\nand joints as", 13),
        *([Column("product", "Product", 24)] if takeoff.parts else []),
    ]


def _rate_words(scrap: float | None) -> str:
    if scrap is not None:
        return f"1 and {percent_text(scrap)} scrap"
    return "what course plans of walls of its kind took, corner panels included"


def _wall_row(
    n: int, count: WallCount, takeoff: Takeoff, display: Display, walls: PlacedTable
) -> Row:
    entry = takeoff.walls[n]
    own: Row = {}
    if takeoff.parts:
        product = takeoff.product_of(count.wall)
        flat, corner = _faces(product, display)
        bought = f"({{flat}}*{flat!r}+{{corner}}*{corner!r})"
        own = {
            "waste": Formula(f"IF({{units}}=0,0,1-{{laid}}/{bought})"),
            "by_area": Formula(f"ROUNDUP(ROUND({{net}}*{{rate}}/{flat!r},6),0)"),
            "product": product_name(product),
        }
    return {
        "wall": count.wall,
        "name": entry.wall.name,
        "flat": count.flat,
        "corner": count.corner,
        "share": count.share,
        "bound": count.bound,
        "pieces": count.pieces,
        "cuts": count.cuts,
        "net": Formula(walls.cell("net", n)),
        "laid": display.area(entry.courses.field.area),
        "rate": takeoff.estimate.walls[n].rate,
        "like": count.like or "",
        **own,
    }


def _kinds(sheet: Worksheet, row: int, plan: CoursePlan, display: Display, width: int) -> int:
    """Flat and corner panels: units, pieces, ends, beside the bound; the last row used."""
    write_note(sheet, row, "Flat and corner panels", columns=width, bold=True)
    columns = [
        Column("kind", "Kind", 9),
        Column(
            "length",
            f"Length of pieces\n{display.size_unit}",
            22,
            "#,##0.00",
        ),
        Column("units", "Panels", 10, COUNT, summed=True),
        Column("pieces", "Pieces", 10, COUNT, summed=True),
        Column("cuts", "Cross-\ncuts", 10, COUNT, summed=True),
        Column("bound", "Lower\nbound", 10, COUNT),
        Column("above", "Above\nbound", 10, _SIGNED, "{units}-{bound}"),
        Column("left", "Left\nends", 9, COUNT),
        Column("right", "Right\nends", 9, COUNT),
    ]
    rows = [
        _kind_row(kind, count, display)
        for kind, count in (("flat", plan.flat), ("corner", plan.corner))
    ]
    last = place(sheet, row + 1, columns, rows, total=True).last + 1
    note = (
        "Left and right ends: left-hand and right-hand corner pieces; of flat panels, parts "
        "that keep one factory end."
    )
    write_note(sheet, last + 1, note, columns=width)
    return last + 1


def _kind_row(kind: str, count: StockCount, display: Display) -> Row:
    return {
        "kind": kind,
        "length": display.size(count.pieces_length),
        "units": count.units,
        "pieces": count.pieces,
        "cuts": count.cuts,
        "bound": count.lower_bound,
        "left": count.left,
        "right": count.right,
    }


def _bounds(
    sheet: Worksheet, row: int, plan: CoursePlan, above: list[Column], display: Display
) -> int:
    """Every bound with its sentence of why; the last row used."""
    write_note(sheet, row, "What no layout can do without, and why", columns=len(above), bold=True)
    columns = [
        Column("kind", "Kind", 9),
        Column("by", "Bound by", 22),
        Column("units", "At least", 10, COUNT),
        Column("why", "Why", sum(c.width for c in above[3:])),
    ]
    rows: list[Row] = [
        {
            "kind": kind,
            "by": BOUND_WORDS[bound.by],
            "units": bound.units,
            "why": say(bound.why, display.name),
        }
        for kind, count in (("flat", plan.flat), ("corner", plan.corner))
        for bound in count.bounds
    ]
    both = f"Flat and corner panels of the whole job together: {least_words(plan)}."
    rows.append(
        {
            "kind": Strong("both"),
            "by": Strong("all of it"),
            "units": plan.bound,
            "why": Strong(both),
        }
    )
    return _spread(sheet, row + 1, columns, rows, len(above))


def _look(
    sheet: Worksheet,
    row: int,
    plan: CoursePlan,
    above: list[Column],
    numbers: CourseNumbers,
    display: Display,
) -> int:
    """How the joints look; the last row used."""
    if plan.look is None or not plan.look.joints:
        return row - 2
    write_note(sheet, row, "Look of the joints", columns=len(above), bold=True)
    for what, found in look_rows(plan, plan.look, numbers, display.name):
        row += 1
        write_note(sheet, row, f"{what}: {found}", columns=len(above))
    return row


def _handling(
    sheet: Worksheet, row: int, takeoff: Takeoff, plan: CoursePlan, above: list[Column]
) -> int:
    """Where offcuts go; the last row used."""
    if plan.handling is None or not plan.handling.offcuts:
        return row - 2
    write_note(sheet, row, "Where offcuts go", columns=len(above), bold=True)
    for what, found in handling_rows(plan, plan.handling, takeoff.job.plan.offcut_wait):
        row += 1
        write_note(sheet, row, f"{what}: {found}", columns=len(above))
    return row


def _mitres(
    sheet: Worksheet,
    row: int,
    plan: CoursePlan,
    above: list[Column],
    numbers: CourseNumbers,
) -> int:
    """How the two sides of bay corners lie in their panels; the last row used."""
    if plan.mitres is None or not plan.mitres.pairs:
        return row - 2
    write_note(sheet, row, "Mitered pairs", columns=len(above), bold=True)
    for what, found, where in mitre_rows(plan.mitres, numbers):
        row += 1
        told = f"{what}: {found}{'. ' if where else ''}{where}"
        write_note(sheet, row, told, columns=len(above))
    return row


def _tolerance(
    sheet: Worksheet,
    row: int,
    plan: CoursePlan,
    above: list[Column],
    numbers: CourseNumbers,
    display: Display,
) -> int:
    """What becomes of the plan when edges are off on site; the last row used."""
    if plan.tolerance is None or not plan.tolerance.runs:
        return row - 2
    write_note(sheet, row, "Edges that are off on site", columns=len(above), bold=True)
    for what, found, where in tolerance_rows(plan, plan.tolerance, numbers, display.name):
        row += 1
        told = f"{what}: {found}. {where[:1].upper()}{where[1:]}" if where else f"{what}: {found}"
        write_note(sheet, row, told, columns=len(above))
    return row


def _spread(sheet: Worksheet, row: int, columns: list[Column], rows: list[Row], width: int) -> int:
    """A table whose last column reaches over the rest of the sheet's columns; the last row used."""
    last = columns[-1]
    narrow = sheet.column_dimensions[chr(ord("A") + len(columns) - 1)].width
    placed = place(sheet, row, columns, rows)
    sheet.column_dimensions[placed.letters[last.key]].width = narrow
    widen(sheet, range(row, placed.last + 1), len(columns), width)
    return placed.last


def _rules(sheet: Worksheet, row: int, plan: CoursePlan, rules: PlacedTable, width: int) -> int:
    """How often each rule does not hold, counted on the sheet of the rules; the last row used."""
    title = "Rules of laying that do not hold somewhere: the places stand on the sheet Rule check"
    write_note(sheet, row, title, columns=width, bold=True)
    found = sorted({b.rule for b in plan.breaks})
    if not found:
        none = "None: an independent check went over the whole plan and found no place."
        write_note(sheet, row + 1, none, columns=width)
        return row + 1
    tests = f"{rules.range('rule')},{{rule}},{rules.range('state')}"
    forced = f'COUNTIFS({tests},"{FORCED}")'
    as_laid = f'COUNTIFS({tests},"{AS_LAID}")'
    broken = f'COUNTIFS({tests},"{BROKEN}")'
    columns = [
        Column("rule", "Code", 9),
        Column("name", "Rule", 22),
        Column("places", "Places", 10, COUNT, "{forced}+{laid}+{broken}", summed=True),
        Column("forced", "Forced", 10, COUNT, forced, summed=True),
        Column("laid", "As laid", 10, COUNT, as_laid, summed=True),
        Column("broken", "Broken", 10, COUNT, broken, summed=True),
    ]
    rows: list[Row] = [{"rule": r, "name": rule_name(r)} for r in found]
    return place(sheet, row + 1, columns, rows, total=True).last + 1
