"""Walls drawn by chance, laid by the planner and looked at by the judge, which shares no code with
it.

a front of one to three walls, side by side, some of them joined at a corner of any kind:

      .-'-.            ____________
   .-'     '-.        |  __        |
  |  _    __  |       | /  \\  ==== |     windows, round heads, doors, slots and round vents
  | |_|  |  | |       | |  |       |     stand in slots of 48 in, some across the slots' neighbours,
  |      |  | |       '-|  |--.    |     which leaves narrow piers; bases may step
  '------'--'-'               '----'
  end/butt   outside, inside or bay
"""

from __future__ import annotations

from builders import PRODUCT, drawing, job, line
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from dxf2veneer.app.laying import lay_out
from dxf2veneer.geometry import Path
from dxf2veneer.model import RuleBreak
from dxf2veneer.recognise import recognise

few = settings(
    max_examples=25,
    deadline=None,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    derandomize=True,
)
"""Without shrinking: a plan takes up to a second, and shrinking would take minutes."""
MARKS = ("outside_corner", "inside_corner", "bay")
GAP = 60.0


def eighths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths from low to high in steps of 1/8 in."""
    return st.integers(round(low * 8), round(high * 8)).map(lambda n: n / 8)


@st.composite
def openings(draw, x0: float, width: float, height: float):
    """(role, outline) of some openings of a wall: one to a slot of 48 in, each of its own kind."""
    found = []
    for slot in range(int(width // 48)):
        what = draw(st.sampled_from(["", "", "window", "arch", "door", "slot", "round"]))
        x, w = x0 + 48 * slot + draw(eighths(4, 16)), draw(eighths(10, 40))
        w = min(w, x0 + width - 4.0 - x)
        y, h = draw(eighths(3, 20)), draw(eighths(6, 30))
        if not what or w < 8 or y + h + w / 2 > height - 6:
            continue
        if what == "arch":
            found.append(
                (
                    "opening",
                    Path(((x, y, 0.0), (x + w, y, 0.0), (x + w, y + h, 1.0), (x, y + h, 0.0))),
                )
            )
        elif what == "round":
            found.append(("vent", Path.circle((x + w / 2, y + w / 2), w / 2)))
        else:
            low, high = {"window": (y, y + h), "door": (0.0, y + h), "slot": (y, y + 2.25)}[what]
            found.append(("door" if what == "door" else "window", (x, low, x + w, high)))
    return found


@st.composite
def fronts(draw):
    """A drawing of one to three walls, with marks and tags at their corners."""
    outlines, texts, x = {"wall": []}, [], 0.0
    count, height = draw(st.integers(1, 3)), draw(eighths(24, 72))
    corners = [draw(st.sampled_from(("", *MARKS))) for _ in range(count + 1)]
    for number in range(count):
        width = draw(st.one_of(eighths(8, 40), eighths(40, 200)))
        top, step = (
            draw(st.sampled_from([0.0, 0.0, 10.0, 31.5])),
            draw(st.sampled_from([0.0, 0.0, 8.0, 5.5])),
        )
        peak = x + width * draw(st.sampled_from([0.0, 0.4, 1.0]))
        foot = (
            [(x, 0), (x + width / 3, 0), (x + width / 3, step), (x + width, step)]
            if step
            else [(x, 0), (x + width, 0)]
        )
        outlines["wall"].append(
            [
                *foot,
                (x + width, height),
                *([(peak, height + top)] if top and x < peak < x + width else []),
                (x, height),
            ]
        )
        for role, outline in draw(openings(x, width, height)) if not step else ():
            outlines.setdefault(role, []).append(outline)
        for role, at, tag, beside in (
            (corners[number], x, number, 2.0),
            (corners[number + 1], x + width, number + 1, -2.0),
        ):
            if role:
                outlines.setdefault(role, []).append(line(at, 0, at, height))
                texts.append((role, f"T{tag}", (at + beside, 12.0)))
        x += width + GAP
    if draw(st.booleans()):
        outlines["level"] = [line(-10, 0, x, 0)]
    return drawing(texts=texts, **outlines)


jobs = st.builds(
    lambda kerf, offcuts, end, over, out, clearance, trim: job(
        plan__kerf=kerf,
        plan__offcuts=offcuts,
        recognise__edge_kind=end,
        plan__end_overhang=over,
        plan__outside_overhang=out,
        courses__clearance=clearance,
        trim__head=trim,
        trim__sill=trim,
    ),
    st.sampled_from([0.0, 0.125]),
    st.sampled_from(["job", "wall"]),
    st.sampled_from(["butt", "end"]),
    st.sampled_from([0.0, 1.0]),
    st.sampled_from([0.0, 1.5]),
    st.sampled_from([0.0, 2.0]),
    st.sampled_from([0.0, 4.0]),
)


def broken(front, rules) -> list[RuleBreak]:
    """What the judge finds in the front's plan that is not proved to be forced."""
    found = recognise([front], rules)
    laid = lay_out(found.walls, found.corners, rules, PRODUCT)
    assert sum(len(w.courses.pieces) for w in laid.walls) > 0
    return [b for b in laid.plan.breaks if not b.forced]


@few
@given(fronts(), jobs)
def test_a_plan_breaks_no_rule_that_could_be_kept(front, rules):
    assert broken(front, rules) == []
