"""Settings: sections as frozen dataclasses whose fields describe themselves.

The job file and the product file are both read by this module. A field made with ``setting`` says
what it is for and how it is checked, so that reading, the commented template, the error messages
and the reference in docs all come from one place.
"""

from __future__ import annotations

import dataclasses
import difflib
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.units import WrongItemError, WrongValueError
from dxf2veneer.config.basis import Basis
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.toml_file import SettingsFile


@dataclasses.dataclass(frozen=True, slots=True)
class Described:
    """What a field says of itself."""

    help: str
    """What the setting is for: one line of help."""
    check: Callable[[Any], Any]
    """Turns what was written into the value; raises WrongValueError."""
    like: str
    """An example of a right value, as TOML writes it."""
    option: str | None = None
    """The command's option, without its hyphens."""
    basis: Basis | None = None
    """What the default rests on; None where there is none that a number could come from."""


def setting(
    default: Any,
    help: str,
    check: Callable[[Any], Any],
    like: str,
    *,
    option: str | None = None,
    basis: Basis | None = None,
) -> Any:
    """A dataclass field that describes itself.

    Args:
        default: Value where nobody gives one.
        help: One line that says what the setting is for.
        check: Turns what was written into the value; raises WrongValueError.
        like: An example of a right value, as TOML writes it.
        option: Name of the command's option, without its hyphens.
        basis: What the default rests on.

    Returns:
        The field, for the body of a dataclass.
    """
    about = Described(help, check, like, option, basis)
    return dataclasses.field(default=default, metadata={"setting": about})


def described(owner: Any) -> Iterator[tuple[str, Described, Any]]:
    """The settings of a section.

    Args:
        owner: The section's dataclass.

    Yields:
        Name, description and default of each setting, in order.
    """
    for f in dataclasses.fields(owner):
        if "setting" in f.metadata:
            yield f.name, f.metadata["setting"], f.default


# ----------------------------------------------------------------- reading


def fill(file: SettingsFile, sections: Mapping[str, type]) -> dict[tuple[str, str], Any]:
    """The checked values of a file.

    Args:
        file: The file as read.
        sections: The dataclass of each section.

    Returns:
        Values by (section, key).

    Raises:
        SettingsError: For the first section or key that there is none of, with the nearest right
            one, or the first value that is wrong, with what a right one looks like.
    """
    checked: dict[tuple[str, str], Any] = {}
    for section, body in file.values.items():
        if section not in sections:
            raise SettingsError(
                message(
                    "section-unknown",
                    place=file.place(section),
                    section=section,
                    hint=nearest(section, sections),
                )
            )
        known = {name: about for name, about, _ in described(sections[section])}
        for key, value in body.items():
            name, place = f"{section}.{key}", file.place(section, key)
            if key not in known:
                hint = _elsewhere(key, sections) or nearest(key, known)
                raise SettingsError(
                    message("setting-unknown", place=place, setting=name, hint=hint)
                )
            try:
                checked[section, key] = check(name, known[key], value, place)
            except WrongItemError as error:
                place = file.place_of_item(section, key, error.item)
                raise _wrong(name, known[key], error.item, error.message, place) from None
    return checked


def check(name: str, about: Described, value: Any, place: Message | None = None) -> Any:
    """One value after its field's check.

    Args:
        name: The setting or option as the user wrote it.
        about: What the field says of itself.
        value: What was written.
        place: File and line; None for an option.

    Returns:
        The value.

    Raises:
        SettingsError: With place, what is wrong and what would be right.
        WrongItemError: One text of a list is wrong, where a place is given: it has its own.
    """
    try:
        return about.check(value)
    except WrongItemError as error:
        if place is not None:
            raise
        raise _wrong(name, about, error.item, error.message, place) from None
    except WrongValueError as error:
        raise _wrong(name, about, value, error.message, place) from None


def _wrong(
    name: str, about: Described, value: Any, why: Message, place: Message | None
) -> SettingsError:
    """The error of a value: what is wrong with it, where, and what would be right."""
    written, like = toml(value), about.like
    if place is None:
        return SettingsError(
            message("option-wrong", option=name, written=written, why=why, like=like)
        )
    return SettingsError(
        message("setting-wrong", place=place, setting=name, written=written, why=why, like=like)
    )


def nearest(word: str, known: Iterable[str]) -> Message:
    """A hint for an unknown word.

    Args:
        word: What was written.
        known: The words that there are.

    Returns:
        The known word that is most like it, or all of them where none is.
    """
    words = tuple(known)
    close = difflib.get_close_matches(word, words, n=1, cutoff=0.5)
    return (
        message("hint-did-you-mean", word=close[0]) if close else message("hint-all", words=words)
    )


def _elsewhere(key: str, sections: Mapping[str, type]) -> Message | None:
    """A hint where the key belongs to another section."""
    homes = [s for s, owner in sections.items() if key in {name for name, _, _ in described(owner)}]
    return message("hint-belongs-under", section=homes[0]) if homes else None


# ---------------------------------------------------------------- template


def template(title: str, sections: Mapping[str, type]) -> str:
    """A commented settings file.

    Args:
        title: Lines at its head.
        sections: The dataclass of each section.

    Returns:
        TOML text in which every setting stands at its default, commented out.
    """
    out = [f"# {line}".rstrip() for line in title.splitlines()]
    for section, owner in sections.items():
        doc = (owner.__doc__ or "").strip().splitlines()[0]
        out += ["", f"# {doc}", f"[{section}]"]
        for name, about, default in described(owner):
            note = f" [{about.basis}]" if about.basis else ""
            option = f" (--{about.option})" if about.option else ""
            out += [
                f"# {about.help}{option}{note}",
                f"# {name} = {about.like if default in (None, ()) else toml(default)}",
            ]
    return "\n".join(out) + "\n"


def toml(value: Any) -> str:
    """A value as TOML writes it on one line.

    Args:
        value: Text, number, flag, list, table or named tuple.

    Returns:
        The text.
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        value = {k: v for k, v in zip(value._fields, value, strict=True) if v not in (None, ())}
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, tuple | list):
        return "[" + ", ".join(toml(v) for v in value) + "]"
    return f"{value:g}" if isinstance(value, float) else str(value)
