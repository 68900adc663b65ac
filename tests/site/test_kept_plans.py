"""A plan of walls as measured keeps what it can of the plan as drawn.

Pieces are compared here by their lengths alone, course by course, as a person with both cut lists
would: this shares nothing with how the plan is kept.
"""

from collections import Counter
from functools import cache

import pytest
from builders import JOB, drawing, line, write_dxf
from houses import house

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.geometry.boundary import level_stretches


def lengths(takeoff):
    """By wall and course how many pieces of each length and kind."""
    found = {}
    for w in takeoff.walls:
        for p in w.courses.pieces:
            found.setdefault((w.wall.id, p.course), Counter())[round(p.length, 3), p.unit] += 1
    return found


def changed(one, other):
    """How many pieces of the second plan are not among those of the first, course by course."""
    before, now = lengths(one), lengths(other)
    return sum((now[key] - before.get(key, Counter())).total() for key in now)


def joints(takeoff, wall, course):
    pieces = next(w for w in takeoff.walls if w.wall.id == wall).courses.pieces
    own = sorted((p for p in pieces if p.course == course), key=lambda p: p.x0)
    ends = {round(p.x1, 6) for p in own}
    return [p.x0 for p in own if round(p.x0, 6) in ends]


def on_site(path, job, text):
    sheet = path.parent / "site.toml"
    sheet.write_text(text, encoding="utf-8")
    return take_off(path, with_settings(job, site__file=str(sheet)))


@cache
def drawn(seed, folder):
    path, job = house(seed, folder)
    job = with_settings(job, plan__tolerance=0.5, plan__look="quiet", plan__offcuts="near")
    return path, job, take_off(path, job)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("houses")


def widths(takeoff, more):
    """A sheet on which every wall is so much wider 2 ft up."""
    text = ""
    for w in takeoff.walls:
        _, y0, _, y1 = w.wall.box
        at = min(24.0, (y1 - y0) / 2)
        spans = level_stretches(w.wall.region, y0 + at)
        width = spans[-1][1] - spans[0][0] + more
        text += f"[{w.wall.id}]\nwidths = [{{ at = {at}, measured = {width} }}]\n"
    return text


@pytest.mark.parametrize("more", [0.5, -0.5, 0.25])
def test_every_wall_of_a_house_off_changes_one_piece_a_course_at_most(more, folder):
    """A run that is not as long as drawn changes one piece at least; the free edge bounds one run
    of each course. The same house planned anew keeps about two thirds of its pieces."""
    path, job, before = drawn(1, folder)
    after = on_site(path, job, widths(before, more))
    courses = sum(len({p.course for p in w.courses.pieces}) for w in after.walls)
    assert changed(before, after) <= courses
    assert not after.errors
    assert len([b for b in after.plan.breaks if not b.forced]) <= len(
        [b for b in before.plan.breaks if not b.forced]
    )


def test_walls_that_were_not_measured_keep_every_piece_and_panel(folder):
    path, job, before = drawn(1, folder)
    width = _width(before, "W2")
    after = on_site(path, job, f"[W2]\nwidths = [{{ at = 20, measured = {width} }}]")
    for old, new in zip(before.walls, after.walls, strict=True):
        if new.wall.id != "W2":
            assert [(p.course, p.x0, p.x1) for p in new.courses.pieces] == [
                (p.course, p.x0, p.x1) for p in old.courses.pieces
            ]
    assert changed(before, after) > 0


def _width(takeoff, wall):
    own = next(w.wall for w in takeoff.walls if w.wall.id == wall)
    spans = level_stretches(own.region, own.box[1] + 20)
    return spans[-1][1] - spans[0][0] + 0.5


def test_the_same_sheet_twice_gives_the_same_plan(folder):
    path, job, before = drawn(1, folder)
    one, two = (on_site(path, job, widths(before, 0.5)) for _ in range(2))
    assert one.walls == two.walls
    assert one.plan == two.plan


# ------------------------------------------------------------ courses that are laid


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    """A wall of 240 x 64, eight courses, corners on both sides."""
    path = tmp_path_factory.mktemp("plain") / "plain.dxf"
    write_dxf(
        drawing(wall=[(0, 0, 240, 64)], outside_corner=[line(0, 0, 0, 64), line(240, 0, 240, 64)]),
        path,
    )
    return path, JOB, take_off(path, JOB)


def test_what_is_laid_stays_and_joints_above_keep_their_distance(plain):
    """The second course was laid with its first joint 9 in farther right: 8 in apart from those
    above and below (L3) all the same, or told."""
    path, job, before = plain
    planned = joints(before, "W1", 1)
    moved = [planned[0], *(x + 3.0 for x in planned[1:])]
    text = f"[W1]\nlaid = 2\njoints = [{{ course = 2, at = {moved} }}]"
    after = on_site(path, job, text)
    assert joints(after, "W1", 1) == pytest.approx(moved)
    assert joints(after, "W1", 0) == joints(before, "W1", 0)
    apart = [abs(a - b) for a in joints(after, "W1", 2) for b in moved]
    assert min(apart) >= 8.0 - 1e-6
    unchanged = [c for c in range(3, 8) if joints(after, "W1", c) == joints(before, "W1", c)]
    assert len(unchanged) >= 4


def test_joints_as_planned_change_nothing(plain):
    path, job, before = plain
    stated = [round(16 * x) / 16 for x in joints(before, "W1", 0)]
    after = on_site(path, job, f"[W1]\nlaid = 1\njoints = [{{ course = 1, at = {stated} }}]")
    assert after.walls == before.walls
    assert after.plan.units == before.plan.units


def test_undone_by_leaving_the_sheet_out(plain):
    path, job, before = plain
    on_site(path, job, "[W1]\nwidths = [{ at = 0, measured = 241 }]")
    assert take_off(path, job).walls == before.walls


def test_a_wall_measured_lower_and_wider_in_metric(plain):
    path, job, _ = plain
    text = '[W1]\nheight = "1600 mm"\nwidths = [{ at = "1 m", measured = "6109 mm" }]'
    after = on_site(path, with_settings(job, output__display="metric"), text)
    assert after.totals.gross_area == pytest.approx(1600 * 6109 / 25.4**2)
    assert not after.errors


# ------------------------------------------------------------ bays


@cache
def bay(folder):
    """A wall of 100, faces of 36, 64 and 36 round a bay, a wall of 100; six courses.

    100 \\ 36 / 64 \\ 36 / 100      from above; B0 to B3 are its corners
    """
    x, walls, marks, texts = 0.0, [], [], []
    for n, width in enumerate([100, 36, 64, 36, 100]):
        walls.append((x, 0, x + width, 48))
        for k, at, beside in ((n - 1, x, -3.0), (n, x + width, 2.0)):
            if 0 <= k < 4:
                marks.append(line(at, 0, at, 48))
                texts.append(("bay", f"B{k}", (at + beside, 20.0)))
        x += width + 60
    path = folder / "bay.dxf"
    write_dxf(drawing(texts=texts, wall=walls, bay=marks), path)
    job = with_settings(JOB, layers__bay=("BAY",))
    return path, job, take_off(path, job)


@pytest.mark.parametrize("more", [0.5, 1.0, -0.5])
def test_both_sides_of_a_bay_corner_still_come_from_one_panel(more, folder):
    """A face of 64 is a first piece of 8 to 20, a whole panel and the rest of 28, and those beside
    it begin with 8 or more: 20 + 8 and the saw cut leave 7 7/8 of a panel at each corner, so half
    an inch on every face need not part one (L13)."""
    path, job, before = bay(folder)
    after = on_site(path, job, widths(before, more))
    assert not after.errors
    assert not [b for b in after.plan.breaks if not b.forced]
    parted = [sum(b.rule == "L13" for b in t.plan.breaks) for t in (before, after)]
    assert parted[1] <= parted[0]
    stocks = {}
    for w in after.walls:
        for p in w.courses.pieces:
            for side, end in (("left", p.left), ("right", p.right)):
                if end == "mitre":
                    stocks.setdefault((w.wall.id, side, p.course), p.stock)
    pairs = [
        (stocks[f"W{n}", "right", course], stocks[f"W{n + 1}", "left", course])
        for n in range(1, 5)
        for course in range(6)
    ]
    assert sum(a != b for a, b in pairs) == parted[1]


def test_no_corner_is_parted_whose_two_pieces_fit_into_one_panel(folder):
    """Every face of a house with a bay half an inch wider: of each corner with two or more
    pieces in both its runs, either one panel gives both sides or they are too long for it (L13)."""
    path, job, before = drawn(13, folder)
    after = on_site(path, job, widths(before, 0.5))
    sides = {}
    for w in after.walls:
        corners = {e.side: e.corner for e in w.wall.edges if e.kind == "mitre"}
        for p in w.courses.pieces:
            alone = p.left == p.right == "mitre"
            for side, end in (("left", p.left), ("right", p.right)):
                if end == "mitre" and not alone:
                    sides.setdefault((corners.get(side), round(p.y0)), {})[side] = p
    pairs = [(s["left"], s["right"]) for s in sides.values() if len(s) == 2]
    parted = [(a, b) for a, b in pairs if a.stock != b.stock]
    assert len(pairs) > 20
    room = after.product.panel.length - job.plan.kerf
    assert all(a.length + b.length > room for a, b in parted)
