"""One line for one fact, however many places show it."""

from __future__ import annotations

from builders import as_written

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Level, Notice, facts
from dxf2veneer.wording.notice_lines import notice_lines


def unclaimed(x, code="as-written"):
    said = as_written(f"a circle at {x}") if code == "as-written" else message(code)
    return Notice("OPENING_UNCLAIMED", said, 0, "A-ELEV", f"{x:X}", (float(x), 5.0))


def test_notices_of_one_code_and_cause_are_one_fact_in_the_order_of_their_firsts():
    other = Notice("SLIVER", as_written("a strip"))
    listed = [unclaimed(16), other, unclaimed(17), unclaimed(18, "bid-labor")]
    assert facts(listed) == [(listed[0], listed[2]), (other,), (listed[3],)]
    assert facts([]) == []


def test_nineteen_warnings_of_one_cause_are_one_line_with_count_and_places():
    (line,) = notice_lines([unclaimed(16 + n) for n in range(19)], (), least=Level.WARNING)
    assert line.startswith("warning: OPENING_UNCLAIMED: a circle at 16 (layer A-ELEV, handle 10).")
    assert "And 18 more of this kind (handle 11, handle 12, handle 13, …)" in line


def test_one_notice_alone_says_nothing_of_more():
    (line,) = notice_lines([unclaimed(16)], (), least=Level.WARNING)
    assert "more of this kind" not in line
