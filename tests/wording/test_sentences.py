"""Every message that the package makes has its sentence, and every sentence its message.

Messages are read from the source: the code is a literal at the call of ``message``, and the names
of its values are the keywords.
"""

from __future__ import annotations

import ast
import string
from collections import defaultdict
from pathlib import Path

import pytest

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.wording import say
from dxf2veneer.wording.say import shown
from dxf2veneer.wording.sentences import SENTENCES

PACKAGE = Path(__file__).parents[2] / "dxf2veneer"


def calls() -> dict[str, list[tuple[str, frozenset[str] | None]]]:
    """Code of a message to the places that make it and the names of its values there."""
    found = defaultdict(list)
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and getattr(node.func, "id", "") == "message"):
                continue
            where = f"{path.relative_to(PACKAGE)}:{node.lineno}"
            code = node.args[0]
            assert isinstance(code, ast.Constant), f"{where}: the code is no literal"
            names = {k.arg for k in node.keywords}
            found[code.value].append((where, None if None in names else frozenset(names)))
    return found


def places(code: str) -> set[str] | None:
    """The names of values in a sentence; None for a sentence that is a function."""
    sentence = SENTENCES[code]
    if callable(sentence):
        return None
    return {name for _, name, _, _ in string.Formatter().parse(sentence) if name}


CALLS = calls()


def test_every_message_has_a_sentence_and_every_sentence_a_message():
    assert set(CALLS) - set(SENTENCES) == set()
    assert set(SENTENCES) - set(CALLS) == set()


@pytest.mark.parametrize("code", sorted(set(CALLS) & set(SENTENCES)))
def test_a_sentence_names_the_values_of_its_message(code):
    wanted = places(code)
    for where, names in CALLS[code]:
        if wanted is not None and names is not None:
            # a value may be there for programs alone, but a sentence never lacks one
            assert wanted <= names, where


@pytest.mark.parametrize(
    ("value", "spec", "imperial", "metric"),
    [
        (Length(54.5), "", "4'-6 1/2\"", "1 384 mm"),
        (Length(0.015625), "fine", '1/64"', "0.4 mm"),
        (Length(1 / 16), "exact", "0.062 in", "1.59 mm"),
        (Area(14400.0), "", "100.00 sq ft", "9.29 m²"),
        (Area(1.0), "small", "1.00 sq in", "6.45 cm²"),
        (1, "wall|walls", "wall", "wall"),
        (3, "wall|walls", "walls", "walls"),
        (True, "is|is not", "is", "is"),
        (("W1", "W2", "W3"), "and", "W1, W2 and W3", "W1, W2 and W3"),
        (("W1",), "or", "W1", "W1"),
        ((Length(12.0), Length(24.0)), " x ", "1'-0\" x 2'-0\"", "305 mm x 610 mm"),
        (None, "after; ", "", ""),
        ("no room", "after; ", "; no room", "; no room"),
        (12345, ",", "12,345", "12,345"),
    ],
)
def test_values_are_shown_in_the_readers_units(value, spec, imperial, metric):
    assert shown(value, "imperial", spec) == imperial
    assert shown(value, "metric", spec) == metric


def test_a_message_equals_another_of_the_same_code_and_values():
    assert message("a", gap=Length(2.0)) == Message("a", (("gap", Length(2.0)),))
    assert message("a", gap=Length(2.0)) != message("a", gap=Area(2.0))
    assert message("a", gap=Length(2.0)).get("lap") is None


def test_a_message_without_a_sentence_is_an_error():
    with pytest.raises(KeyError):
        say(message("no-such-sentence"))
