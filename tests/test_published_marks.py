"""Checks against published numbers can fail: each number counts, and none is missing."""

import pytest
from published import Published, changed, check, checks, differing

MARK = Published("a wall", {"sq ft": 1000, "a sq ft": "6.16"}, "a book", "p. 1", "read in a copy")
FOUND = {"sq ft": 1000.0, "a sq ft": 6.1604}


def test_what_was_found_agrees():
    check(MARK, FOUND)


@pytest.mark.parametrize(
    "found",
    [
        {**FOUND, "sq ft": 1000.00001},
        {**FOUND, "a sq ft": 6.1651},
        {**FOUND, "a sq ft": float("nan")},
        {"sq ft": 1000.0},
        {**FOUND, "more": 1.0},
    ],
)
def test_a_number_that_differs_or_is_missing_is_told(found):
    with pytest.raises(AssertionError, match="a book"):
        check(MARK, found)


def test_a_mark_without_numbers_is_no_check():
    with pytest.raises(AssertionError):
        check(MARK._replace(values={}), {})


@pytest.mark.parametrize("value", [0, 0.1, 1125, 512.5, "690", "6.16", "5,882", "89.254148"])
def test_every_changed_number_is_told(value):
    exact = float(str(value).replace(",", ""))
    assert differing({"n": exact}, {"n": value}) == []
    assert len(list(changed(value))) == 2
    for other in changed(value):
        assert differing({"n": exact}, {"n": other}) == ["n"]


def test_every_check_names_its_source_and_what_it_tests():
    listed = list(checks())
    assert len(listed) >= 40
    assert all(c.published.what and c.published.source and c.published.known for c in listed)
    from_drawings = [c for c in listed if c.stage == "drawing to takeoff"]
    assert len(from_drawings) > len(listed) / 2
