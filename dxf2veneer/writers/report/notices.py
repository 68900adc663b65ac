"""The report's tables of notices and rules, and of what the numbers rest on."""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.basics.notices import Level, count_by_level
from dxf2veneer.config.product import Product
from dxf2veneer.model import Takeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording import remedy, say
from dxf2veneer.wording.cautions import CAUTIONS
from dxf2veneer.writers.basis import CHECK_FIRST, to_check
from dxf2veneer.writers.facts import Fact, facts_of
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.report.tables import table
from dxf2veneer.writers.words import (
    Callout,
    alert_words,
    doubt_words,
    file_name,
    place_words,
    rule_words,
    tape,
)


def notices(takeoff: Takeoff, places: Sequence[Callout]) -> Markup:
    """All notices and the rules that do not hold, numbered as in the drawings.

    Args:
        takeoff: The takeoff.
        places: What is marked in the pictures.

    Returns:
        The tables, the gravest notices first; numbers are links to their marks.
    """
    walls = {p.number: p.wall for p in places}
    listed, display = facts_of(takeoff), takeoff.job.output.display
    if not listed:
        return joined((tag("p", None, "No notices."), _rules(takeoff, walls)))
    rows = [
        (
            _numbers(fact, walls),
            fact.first.level.value,
            say(fact.first.message, display),
            f"{fact.count:,}",
            "; ".join(filter(None, (place_words(fact.first, takeoff.drawings), fact.further))),
            remedy(fact.first.code),
        )
        for fact in listed
    ]
    head = ("No", "Level", "What", "Times", "Where", "What to do")
    ids = [f"note-{fact.numbers[0]}" for fact in listed]
    return joined((table("Notices", head, rows, words=6, ids=ids), _rules(takeoff, walls)))


def _numbers(fact: Fact, walls: dict[str, str]) -> Markup:
    """The numbers of a fact's notices, each of which a mark may lead to."""
    first, *others = map(str, fact.numbers)
    marked = (tag("span", {"id": f"note-{n}"}, " ", _jump(n, walls)) for n in others if n in walls)
    return joined((_jump(first, walls), *marked))


def _rules(takeoff: Takeoff, walls: dict[str, str]) -> Markup:
    """The rules of laying that do not hold; nothing where all hold."""
    broken = list(enumerate(takeoff.plan.breaks if takeoff.plan else (), 1))
    if not broken:
        return Markup()
    display = takeoff.job.output.display
    rows = [
        (
            _jump(f"R{n}", walls),
            b.wall,
            str(takeoff.course_number(b.wall, b.course)),
            rule_words(b, display),
        )
        for n, b in broken
    ]
    return table(
        "Rules of laying that do not hold",
        ("No", "Wall", "Course", "What and why"),
        rows,
        words=4,
        ids=[f"note-R{n}" for n, _ in broken],
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
    """One line where there are errors or warnings.

    Args:
        takeoff: The takeoff.

    Returns:
        The line with a link to the notices; nothing where there is nothing to look at.
    """
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


def _panel(panel: Product, takeoff: Takeoff, show: str) -> str:
    """A product's name and sizes, and its walls where the job has several."""
    flat = f"{tape(panel.panel.length, show)} × {tape(panel.panel.height, show)}"
    size = f"flat {flat}, corner {tape(panel.corner.length, show)}"
    walls = next((", ".join(p.walls) for p in takeoff.parts if p.product is panel), "")
    return f"{legible(panel.product.name)}: {size}{f'; on {walls}' if walls else ''}"


def basis(takeoff: Takeoff) -> Markup:
    """What the numbers rest on.

    Args:
        takeoff: The takeoff.

    Returns:
        Drawings, panel and cautions; the settings are in the appendix.
    """
    show = takeoff.job.output.display
    files = [(str(d.index + 1), file_name(d), d.units, d.sha256[:12]) for d in takeoff.drawings]
    check = [(str(one.kind), one.values(show)) for one in to_check(takeoff)]
    cautions = (tag("li", None, legible(say(c, show))) for c in takeoff.cautions)
    return joined(
        (
            table("Drawings", ("No", "File", "Unit", "File begins, SHA-256"), files, words=4),
            tag("h3", None, "Panel"),
            *(tag("p", None, _panel(p, takeoff, show)) for p in takeoff.products),
            table(CHECK_FIRST, ("Rests on", "Values"), check, words=2),
            tag("h3", None, "Cautions"),
            tag("ul", None, *cautions, *(tag("li", None, text) for text in CAUTIONS.values())),
        )
    )
