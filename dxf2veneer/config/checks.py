"""Checks of single settings: each turns what was written into the value, or raises WrongValueError.

A check that has bounds is made by a function that takes them: ``as_length(0.0, 48.0)``.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.units import WrongValueError, parse_area, parse_length
from dxf2veneer.config.settings import nearest
from dxf2veneer.textio.plain_files import name_fault

LONGEST_IN = 12_000.0
"""Longest length that a setting takes: 1,000 ft, beyond any wall."""


def as_text(value: Any) -> str:
    """A string.

    Args:
        value: What was written.

    Returns:
        The text as it is.

    Raises:
        WrongValueError: It is something else.
    """
    if not isinstance(value, str):
        raise WrongValueError(message("wants-text"))
    return value


def as_file(value: Any) -> str:
    """A check for the name of a file: a text that a file can have as its name.

    Args:
        value: What was written.

    Returns:
        The text as it is.

    Raises:
        WrongValueError: It is something else.
    """
    text = as_text(value)
    fault = name_fault(Path(text))
    if fault:
        raise WrongValueError(message("wants-file-name", why=fault))
    return text


def as_name(value: Any) -> str:
    """A text that is not blank.

    Args:
        value: What was written.

    Returns:
        The text as it is.

    Raises:
        WrongValueError: It is blank or something else.
    """
    if not as_text(value).strip():
        raise WrongValueError(message("wants-name"))
    return str(value)


def plain(name: Any) -> str:
    """A name as it is compared with others: upper and lower case and spaces let be.

    Args:
        name: The name; None for none.

    Returns:
        It in small letters with single spaces.
    """
    return " ".join(str(name or "").casefold().split())


def refuse_twice(names: Iterable[str]) -> None:
    """Names of which each must be another.

    Args:
        names: The names.

    Raises:
        WrongValueError: Two are alike, as ``plain`` has them.
    """
    known: set[str] = set()
    for name in names:
        if plain(name) in known:
            raise WrongValueError(message("wants-once", name=name))
        known.add(plain(name))


def as_flag(value: Any) -> bool:
    """true or false.

    Args:
        value: What was written.

    Returns:
        The flag.

    Raises:
        WrongValueError: It is something else.
    """
    if not isinstance(value, bool):
        raise WrongValueError(message("wants-flag"))
    return value


def as_names(value: Any) -> tuple[str, ...]:
    """A list of names; one name may stand without the brackets.

    Args:
        value: What was written.

    Returns:
        The names.

    Raises:
        WrongValueError: It is something else, or a name is blank.
    """
    listed = [value] if isinstance(value, str) else value
    if not isinstance(listed, list | tuple) or not all(
        isinstance(v, str) and v.strip() for v in listed
    ):
        raise WrongValueError(message("wants-names"))
    return tuple(listed)


def as_number(low: float = -math.inf, high: float = math.inf) -> Callable[[Any], float]:
    """A check for a finite number, or for text that writes one.

    Args:
        low: Least value.
        high: Greatest value.

    Returns:
        The check; it raises WrongValueError.
    """

    def check(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float | str):
            raise WrongValueError(message("wants-number"))
        try:
            number = float(value)
        except (ValueError, OverflowError):
            raise WrongValueError(message("wants-number")) from None
        if not math.isfinite(number):
            raise WrongValueError(message("wants-number"))
        if low <= number <= high:
            return number
        if high == math.inf:
            raise WrongValueError(message("wants-at-least", low=low))
        raise WrongValueError(message("wants-between", low=low, high=high))

    return check


def as_count(most: int) -> Callable[[Any], int]:
    """A check for a whole number from 1, or for text that writes one.

    Args:
        most: Greatest value.

    Returns:
        The check; it raises WrongValueError.
    """
    return as_whole(most, 1)


def as_whole(most: int, least: int = 0) -> Callable[[Any], int]:
    """A check for a whole number, or for text that writes one.

    Args:
        most: Greatest value.
        least: Least value.

    Returns:
        The check; it raises WrongValueError.
    """

    def check(value: Any) -> int:
        number = as_number(least, most)(value)
        if number != int(number):
            raise WrongValueError(message("wants-whole-number"))
        return int(number)

    return check


def as_length(low: float = 0.0, high: float = LONGEST_IN) -> Callable[[Any], float]:
    """A check for a length in inches, or for text such as 4'-6" or 200 mm.

    Args:
        low: Least length in inches.
        high: Greatest length in inches.

    Returns:
        The check; it gives inches and raises WrongValueError.
    """

    def check(value: Any) -> float:
        if not isinstance(value, int | float | str):
            raise WrongValueError(message("wants-length"))
        inches = parse_length(value)
        if not low <= inches <= high:
            raise WrongValueError(
                message("wants-length-between", low=Length(low), high=Length(high))
            )
        return inches

    return check


def as_area(most: float) -> Callable[[Any], float]:
    """A check for an area in square feet, or for text such as 130 sq ft or 12 m2.

    Args:
        most: Greatest area in square feet.

    Returns:
        The check; it gives square feet and raises WrongValueError.
    """

    def check(value: Any) -> float:
        if not isinstance(value, int | float | str):
            raise WrongValueError(message("area-unreadable", text=str(value)))
        return as_number(0.0, most)(parse_area(value))

    return check


def as_length_or(
    word: str, low: float = 0.0, high: float = LONGEST_IN
) -> Callable[[Any], float | str]:
    """A check for one word, or for a length as ``as_length`` reads it.

    Args:
        word: The word.
        low: Least length in inches.
        high: Greatest length in inches.

    Returns:
        The check; it gives the word or inches and raises WrongValueError.
    """
    length = as_length(low, high)

    def check(value: Any) -> float | str:
        if value == word:
            return word
        try:
            return length(value)
        except WrongValueError as error:
            raise WrongValueError(message("wants-or-word", why=error.message, word=word)) from None

    return check


def as_choice(*allowed: str) -> Callable[[Any], str]:
    """A check for one of some words.

    Args:
        *allowed: The words.

    Returns:
        The check; it raises WrongValueError.
    """

    def check(value: Any) -> str:
        if value not in allowed:
            close = difflib.get_close_matches(str(value), allowed, n=1, cutoff=0.5)
            raise WrongValueError(
                message("wants-one-of-nearest", allowed=allowed, word=close[0])
                if close
                else message("wants-one-of", allowed=allowed)
            )
        return str(value)

    return check


def as_tables(
    made: Callable[..., Any], **fields: tuple[Callable[[Any], Any], Any]
) -> Callable[[Any], tuple[Any, ...]]:
    """A check for a list of tables.

    Args:
        made: What each table becomes: ``made(**values)``.
        **fields: A key's check and its default; a key whose default is ``...`` must be there.

    Returns:
        The check; it raises WrongValueError.
    """

    def check(value: Any) -> tuple[Any, ...]:
        listed = [value] if isinstance(value, dict) else value
        if not isinstance(listed, list | tuple) or not all(isinstance(v, dict) for v in listed):
            raise WrongValueError(message("wants-tables"))
        return tuple(
            made(**_table_values(number, table, fields)) for number, table in enumerate(listed, 1)
        )

    return check


def _table_values(
    number: int, table: Mapping[str, Any], fields: Mapping[str, tuple[Callable[[Any], Any], Any]]
) -> dict[str, Any]:
    """The checked values of the table of that number."""
    values = {key: default for key, (_, default) in fields.items()}
    for key, content in table.items():
        if key not in fields:
            hint = nearest(key, fields)
            raise WrongValueError(message("table-key-unknown", number=number, key=key, hint=hint))
        try:
            values[key] = fields[key][0](content)
        except WrongValueError as error:
            why = error.message
            raise WrongValueError(
                message("table-value-wrong", key=key, number=number, why=why)
            ) from None
    for key, content in values.items():
        if content is ...:
            raise WrongValueError(message("table-key-missing", number=number, key=key))
    return values
