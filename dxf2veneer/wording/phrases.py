"""How a sentence is written, and values in the reader's units.

Sentences are format strings; what may stand behind the colon of a place:

    {gap}  {gap:fine}  {gap:exact}   a length to 1/16 in, to 1/64 in, to a thousandth (or in mm)
    {area}  {area:small}             an area in square feet, in square inches (or metric)
    {walls}  {walls:and}  {walls:or}   a list with commas, with "and" or "or" before the last
    {n:,}  {x:.4f}                   a number, as Python formats it
    {n:plain}                        a number with two decimals at most, none where it is whole
    {n:wall|walls}                   the first word for one (or true), the second for any other
    {why:after; }                    nothing where the value is empty, else the text behind "after"
                                     and the value
    {name:quoted}                    a text in quotes

A sentence that needs more is a function of the values and the display.
"""

from __future__ import annotations

import string
from collections.abc import Callable, Mapping
from typing import Any

from dxf2veneer.basics.messages import Area, Length, Message, Value
from dxf2veneer.wording.measures import (
    area_text,
    exact_text,
    length_text,
    setting_text,
    small_area_text,
)


class Words(string.Formatter):
    """Makes phrases of values for one reader."""

    def __init__(self, display: str, sentences: Mapping[str, Sentence]) -> None:
        """Words for a reader of ``display`` units, with the sentences of messages by their code."""
        self.display = display
        self._sentences = sentences

    def say(self, said: Message) -> str:
        """The line of a message. Raises KeyError where there is no sentence or value for it."""
        sentence, values = self._sentences[said.code], dict(said.values)
        if callable(sentence):
            return sentence(values, self)
        return self.vformat(sentence, (), values)

    def show(self, value: Value, spec: str = "") -> str:
        """One value as a sentence shows it; ``spec`` as the module describes."""
        return self.format_field(value, spec)

    def format_field(self, value: Any, format_spec: str) -> str:
        """One value as a place of a sentence asks for it."""
        if format_spec.startswith("after"):
            text = "" if value in (None, "", ()) else self.format_field(value, "")
            return text and format_spec.removeprefix("after") + text
        if "|" in format_spec:
            one, _, other = format_spec.partition("|")
            return one if value == 1 else other
        return self._measure(value, format_spec)

    def _measure(self, value: Any, spec: str) -> str:
        match value:
            case Length(inches):
                show = {"": length_text, "fine": setting_text, "exact": exact_text}[spec]
                return show(inches, self.display)
            case Area(square_inches):
                if spec == "small":
                    return small_area_text(square_inches, self.display)
                return area_text(square_inches / 144.0, self.display)
            case Message():
                return self.say(value)
            case tuple():
                return _listed([self.format_field(v, "") for v in value], spec)
            case int() | float() if spec == "plain":
                return f"{value:,.2f}".rstrip("0").rstrip(".")
            case str() if spec == "quoted":
                return repr(value)
        return format(value, spec)


def _listed(words: list[str], spec: str) -> str:
    """A list in words: ``a, b``, or ``a, b and c``; any other ``spec`` stands between all."""
    if spec in ("and", "or") and len(words) > 1:
        return f"{', '.join(words[:-1])} {spec} {words[-1]}"
    return (spec if spec not in ("", "and", "or") else ", ").join(words)


Sentence = str | Callable[[Mapping[str, Value], "Words"], str]
"""A format string, or a function of a message's values and the reader's words."""
