"""What the mutants of a source text are: each one change, none where no test could see it."""

from pathlib import Path

import pytest
from mutants import mutants

from dxf2veneer.order import reckon


def changes(source):
    return [(m.before, m.after) for m in (make() for make in mutants(source))]


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("a < b", [("a < b", "a <= b")]),
        ("a == b != c", [("a == b != c", "a != b != c"), ("a == b != c", "a == b == c")]),
        ("a + b", [("a + b", "a - b")]),
        ("a and b", [("a and b", "a or b")]),
        ("a += b", [("a += b", "a -= b")]),
        ("not a", [("not a", "a")]),
        ("min(a, b)", [("min(a, b)", "pass"), ("min(a, b)", "max(a, b)")]),
        ("x = math.ceil(a)", [("math.ceil(a)", "math.floor(a)")]),
        ("x = sorted(a, key=b)", [("sorted(a, key=b)", "list(a)")]),
        ("x = 3", [("3", "4")]),
        ("x = 1e-06", [("1e-06", "9.999999999999999e-05")]),
        ("x = True", [("True", "False")]),
        ("x = 'sill'", [("'sill'", "'sill?'")]),
        ("x = [a for a in b if c]", [("for a in b if c", "for a in b")]),
        ("def f():\n    return a", [("return a", "return None")]),
        (
            "while a:\n    break",
            [("while a:\n    break", "while not a:\n    break"), ("break", "continue")],
        ),
        ("x = a if b else c", [("a if b else c", "a if not b else c")]),
    ],
)
def test_a_mutant_is_one_change(source, expected):
    assert [(before.strip(), after.strip()) for before, after in changes(source)] == expected


@pytest.mark.parametrize(
    "source",
    ['"""Words."""', "def f(a: Literal['x']) -> tuple[int, 3]:\n    pass", "x = f'{a:.2f} words'", "__all__ = ['a']", "Kind = Literal['a', 'b']",
     "@frozen(order=True)\nclass A:\n    pass", "def f():\n    return None", "import a", "x = zip(a, b, strict=True)"],
)  # fmt: skip
def test_what_no_test_can_see_is_left_alone(source):
    assert changes(source) == []


def test_the_whole_text_is_that_of_the_source_but_for_the_change():
    _, one, two = (
        make() for make in mutants("def f(a):\n    return a + 1\n")
    )  # the first returns nothing
    assert one.text == "def f(a):\n    return a - 1\n"
    assert two.text == "def f(a):\n    return a + 2\n"
    assert (one.line, two.line) == (2, 2)


def test_every_mutant_of_a_module_of_ours_can_be_read():
    made = [make() for make in mutants(Path(reckon.__file__).read_text(encoding="utf-8"))]
    assert len(made) > 10
    for mutant in made:
        compile(mutant.text, "mutant", "exec")
