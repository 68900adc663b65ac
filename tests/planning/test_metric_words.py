"""What a plan says in a metric job is said in millimetres.

     .----.    ..    .-----.      two doors of 36 with a pier of 7 (177.8 mm) between, narrower than the least
     | 40 |    ||    | 44  |      piece of 8 (203.2 mm), up to the top; on the right a window whose sill lies
     '----'    ''    '-----'      1 in (25.4 mm) over a course line: a strip, lower than the limit of 2
"""

import re

from builders import drawing, job, write_dxf

from dxf2veneer.pipeline import take_off

INCH = re.compile(r"""\d["']|\d (in|ft|sq in|sq ft)\b""")
WALL = {"wall": [(0, 0, 300, 32)], "door": [(40, 0, 76, 32), (83, 0, 119, 32)], "window": [(200, 17, 230, 28)]}


def words(tmp_path, display):
    takeoff = take_off([write_dxf(drawing(**WALL), tmp_path / "front.dxf")], job(recognise__edge_kind="end", output__display=display))
    plan = takeoff.plan
    bounds = [b.why for count in (plan.flat, plan.corner) for b in count.bounds]
    rules = [text for b in (*plan.breaks, *plan.yielded) for text in (b.message, b.why)]
    return bounds, rules, [n.message for n in takeoff.notices if n.code.startswith("RULE_")]


def test_bounds_rules_and_their_notices_have_no_inch(tmp_path):
    for told in words(tmp_path, "metric"):
        assert any(" mm" in text for text in told)
        assert [text for text in told if INCH.search(text)] == []


def test_the_same_plan_is_told_in_inches_without_millimetres(tmp_path):
    for told in words(tmp_path, "imperial"):
        assert any(INCH.search(text) for text in told)
        assert [text for text in told if " mm" in text] == []
