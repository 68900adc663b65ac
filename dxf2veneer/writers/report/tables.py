"""The report's tables of areas, runs and panels, of notices, and of what the numbers rest on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from dxf2veneer.model import CornerKind, CoursePlan, StockCount, Takeoff
from dxf2veneer.notices import Level, count_by_level
from dxf2veneer.textio.escaping import legible
from dxf2veneer.units import square_feet
from dxf2veneer.wording import say
from dxf2veneer.wording.measures import area_text, length_text
from dxf2veneer.wording.setting_values import setting_value_text
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.words import (
    Place,
    alert_words,
    doubt_words,
    file_name,
    place_words,
    rule_words,
    tape,
)

Cell = str
_CORNERS: dict[CornerKind, str] = {
    "outside": "Outside corners",
    "inside": "Inside corners",
    "mitre": "Bay corners",
}


_LONG = 20
"""Letters of a word from which on it may be broken."""


def _class_of(words: object) -> str | None:
    """``long`` for a text that may be broken within a word, as it would widen its column beyond a phone's page."""
    return (
        "long"
        if any(len(word) > _LONG for word in str(words).split()) and not isinstance(words, Markup)
        else None
    )


def table(
    title: str,
    head: Sequence[str],
    rows: Iterable[Sequence[Cell]],
    *,
    words: int = 1,
    last: Sequence[Cell] = (),
    tail: int = 0,
    ids: Sequence[str] = (),
) -> Markup:
    """A table; the first ``words`` and the last ``tail`` columns hold words, the others numbers. ``ids`` name the rows."""
    numbers = range(words, len(head) - tail)

    def cells(kind: str, row: Sequence[Cell]) -> Markup:
        return joined(
            tag(
                kind,
                {"class": "n" if n in numbers else _class_of(c)},
                legible(c) if not isinstance(c, Markup) else c,
            )
            for n, c in enumerate(row)
        )

    listed = list(rows)
    names: Sequence[str | None] = ids or [None] * len(listed)
    body = tag(
        "tbody",
        None,
        *(tag("tr", {"id": id}, cells("td", row)) for row, id in zip(listed, names, strict=True)),
    )
    foot = tag("tfoot", None, tag("tr", None, cells("td", last))) if last else Markup()
    return tag(
        "div",
        {"class": "scroll"},
        tag(
            "table",
            None,
            tag("caption", None, title),
            tag("thead", None, tag("tr", None, cells("th", head))),
            body,
            foot,
        ),
    )


def tiles(takeoff: Takeoff) -> Markup:
    """What a person looks for first, in large."""
    return tag(
        "div",
        {"class": "tiles"},
        *(
            tag(
                "div",
                {"class": "tile"},
                tag("span", None, a),
                tag("b", None, b),
                tag("span", None, c),
            )
            for a, b, c in tiles_of(takeoff)
        ),
    )


def tiles_of(takeoff: Takeoff) -> list[tuple[str, str, str]]:
    """What a person looks for first: net area, corners, trim; panels beside the least that any plan needs."""
    show, t, plan = takeoff.job.output.display, takeoff.totals, takeoff.plan
    boxes = [
        (
            "Net area",
            area_text(square_feet(t.net_area), show),
            f"of {area_text(square_feet(t.gross_area), show)} gross",
        ),
        (
            "Outside corners",
            length_text(takeoff.corner_run("outside"), show),
            f"inside {length_text(takeoff.corner_run('inside'), show)}",
        ),
        ("Starter", length_text(t.starter_run, show), f"cap {length_text(t.cap_run, show)}"),
    ]
    if plan is None:
        boxes.append(
            (
                "Flat panels, by area",
                str(takeoff.panels_by_area),
                "an estimate: nothing was laid out",
            )
        )
    else:
        boxes += [
            ("Flat panels", str(plan.flat.units), "laid out panel by panel"),
            (
                "Corner panels",
                str(plan.corner.units),
                f"{plan.total} panels in all; any plan needs {plan.bound} or more",
            ),
            (
                "Waste by layout",
                f"{takeoff.waste:.1%}",
                f"by area with {takeoff.job.order.scrap:g} %: {takeoff.panels_by_area} panels",
            ),
        ]
    if takeoff.order is not None:
        total = takeoff.order.bid.total
        unpriced = sum(key != "labour" for key in takeoff.order.bid.missing)
        missing = f"no price for {unpriced} items" if unpriced else "no wage"
        boxes.append(
            (
                "Bid",
                missing if total is None else f"{total:,.2f} {takeoff.order.currency}",
                "from the order below",
            )
        )
    return boxes


def areas(takeoff: Takeoff) -> Markup:
    """Areas of every wall and in total."""
    show = takeoff.job.output.display

    def area(value: float) -> str:
        return area_text(square_feet(value), show)

    rows = [
        (
            tag("a", {"href": f"#{w.wall.id}"}, w.wall.id),
            w.wall.name,
            area(q.gross_area),
            area(q.opening_area),
            area(q.deducted_area),
            area(q.trim_area),
            area(q.cap_area),
            area(q.net_area),
            str(len(w.courses.courses)),
        )
        for w in takeoff.walls
        for q in (w.quantities,)
    ]
    t = takeoff.totals
    last = (
        "",
        "all walls",
        area(t.gross_area),
        area(t.opening_area),
        area(t.deducted_area),
        area(t.trim_area),
        area(t.cap_area),
        area(t.net_area),
        "",
    )
    return table(
        "Areas",
        ("Wall", "Name", "Gross", "Openings", "Deducted", "Trim", "Cap", "Net", "Courses"),
        rows,
        words=2,
        last=last,
    )


def runs(takeoff: Takeoff) -> Markup:
    """Runs of corners, ends, starter, base, cap, rake and trim in total."""
    show, t = takeoff.job.output.display, takeoff.totals
    listed = [*((name, takeoff.corner_run(kind)) for kind, name in _CORNERS.items()), ("Finished ends", takeoff.end_run), ("Starter", t.starter_run), ("Base", t.base_run), ("Cap", t.cap_run), ("Rake", t.rake_run), ("Trim at heads", t.trim_head), ("Trim at jambs", t.trim_jambs), ("Trim at sills", t.trim_sill)]  # fmt: skip
    return table(
        "Runs",
        ("Run", "Length"),
        [(name, length_text(value, show)) for name, value in listed if value],
    )


def openings(takeoff: Takeoff) -> Markup:
    """Every opening with its size, area and whether it was deducted."""
    show = takeoff.job.output.display
    rows = [
        (
            o.opening.id,
            o.opening.name or o.opening.kind,
            length_text(o.width, show),
            length_text(o.height, show),
            area_text(square_feet(o.area), show),
            "yes" if o.deducted else "no",
            length_text(o.trim_head + o.trim_jambs + o.trim_sill, show),
        )
        for w in takeoff.walls
        for o in w.quantities.openings
    ]
    return (
        table(
            "Openings",
            ("Opening", "Name", "Width", "Height", "Area", "Deducted", "Trim stone"),
            rows,
            words=2,
        )
        if rows
        else Markup()
    )


def panels(takeoff: Takeoff, plan: CoursePlan) -> Markup:
    """Panels by wall, and for the whole job beside what no plan can do without."""
    rows = [
        (
            c.wall,
            str(c.flat),
            str(c.corner),
            str(c.pieces),
            str(c.cuts),
            str(c.bound),
            f"{c.waste:.1%}" if c.waste >= 0 else "none",
            str(c.by_area),
        )
        for c in plan.walls
    ]
    last = (
        "all walls",
        str(plan.flat.units),
        str(plan.corner.units),
        str(plan.flat.pieces + plan.corner.pieces),
        str(plan.cuts),
        str(plan.bound),
        f"{takeoff.waste:.1%}",
        str(takeoff.panels_by_area),
    )
    walls = table(
        "Panels",
        (
            "Wall",
            "Flat",
            "Corner",
            "Pieces",
            "Crosscuts",
            "Least if laid alone",
            "Waste",
            f"By area + {takeoff.job.order.scrap:g} %",
        ),
        rows,
        last=last,
    )
    note = tag(
        "p",
        {"class": "quiet"},
        "A unit counts for the wall it is first cut for; a wall that lives on others' offcuts may stand below its least, and has no waste. "
        f"By area is net area over a panel's face and {takeoff.job.order.scrap:g} %, rounded up for each wall. The last row is of the whole job: the least that any plan of it needs, and by area rounded up once.",
    )
    show = takeoff.job.output.display
    why = [
        (kind, b.by, str(b.units), say(b.why, show))
        for kind, count in (("flat", plan.flat), ("corner", plan.corner))
        for b in count.bounds
    ]
    bounds = table(
        "The least that any plan needs", ("Panels", "By", "At least", "Why"), why, words=2, tail=1
    )
    return joined(
        (
            walls,
            note,
            table(
                "Units and pieces",
                ("Panels", "Units", "Pieces", "Length of pieces", "Crosscuts"),
                [_stock("flat", plan.flat, show), _stock("corner", plan.corner, show)],
            ),
            bounds,
        )
    )


def _stock(kind: str, count: StockCount, show: str) -> tuple[str, ...]:
    return (
        kind,
        str(count.units),
        str(count.pieces),
        length_text(count.pieces_length, show),
        str(count.cuts),
    )


def notices(takeoff: Takeoff, places: Sequence[Place]) -> Markup:
    """All notices and the rules that do not hold, numbered as in the drawings, the gravest first."""
    walls = {p.number: p.wall for p in places}
    order = list(Level)
    numbered = sorted(enumerate(takeoff.notices, 1), key=lambda item: -order.index(item[1].level))
    rows = [
        (
            _jump(str(n), walls),
            note.level.value,
            say(note.message, takeoff.job.output.display),
            place_words(note, takeoff.drawings),
            note.remedy,
        )
        for n, note in numbered
    ]
    told = (
        table(
            "Notices",
            ("No", "Level", "What", "Where", "What to do"),
            rows,
            words=5,
            ids=[f"told-{n}" for n, _ in numbered],
        )
        if rows
        else tag("p", None, "No notices.")
    )
    broken = list(enumerate(takeoff.plan.broken if takeoff.plan else (), 1))
    if not broken:
        return told
    lines = [(_jump(f"R{n}", walls), b.wall, str(b.course + 1), rule_words(b, takeoff.job.output.display)) for n, b in broken]
    return joined(
        (
            told,
            table(
                "Rules of laying that do not hold",
                ("No", "Wall", "Course", "What and why"),
                lines,
                words=4,
                ids=[f"told-R{n}" for n, _ in broken],
            ),
        )
    )


def _jump(number: str, walls: dict[str, str]) -> Markup:
    """The number, a link to its mark where it has one."""
    if number not in walls:
        return tag("span", None, number)
    return tag(
        "a",
        {"href": f"#at-{number}", "title": f"show it on {walls[number]}"},
        f"{number} ▸ {walls[number]}",
    )


def alerts(takeoff: Takeoff) -> Markup:
    """One line where there are errors or warnings."""
    number = count_by_level(takeoff.notices)[Level.WARNING]
    words = (
        alert_words(takeoff)
        or doubt_words(takeoff)
        or (f"{number} warning{'s' if number > 1 else ''} to look at" if number else "")
    )
    return (
        tag(
            "p", {"class": "alert"}, f"{words}: ", tag("a", {"href": "#notices"}, "see the notices")
        )
        if words
        else Markup()
    )


def basis(takeoff: Takeoff) -> Markup:
    """Drawings, settings and cautions."""
    files = [(str(d.index + 1), file_name(d), d.units, d.sha256[:12]) for d in takeoff.drawings]
    panel, show = takeoff.product, takeoff.job.output.display
    settings = [
        (
            say(a.name, show),
            setting_value_text(a.value, show),
            say(a.origin.place()),
            say(a.effect, show),
        )
        for a in takeoff.assumptions
    ]
    size = f"{legible(panel.product.name)}: flat {tape(panel.panel.length, show)} × {tape(panel.panel.height, show)}, corner {tape(panel.corner.length, show)}"
    return joined(
        (
            table("Drawings", ("No", "File", "Unit", "File begins, SHA-256"), files, words=4),
            tag("h3", None, "Panel"),
            tag("p", None, size),
            table(
                "Settings and rules behind the numbers",
                ("Setting", "Value", "From", "What it does"),
                settings,
                words=4,
            ),
            tag("h3", None, "Cautions"),
            tag("ul", None, *(tag("li", None, legible(say(c, show))) for c in takeoff.cautions)),
        )
    )
