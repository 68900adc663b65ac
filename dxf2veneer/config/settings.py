"""Settings files: TOML sections as frozen dataclasses whose fields describe themselves.

The job file and the product file are both read by this module. A field made with ``setting`` says
what it is for and how it is checked, so that reading, the commented template, the error messages
and the reference in docs all come from one place.
"""

from __future__ import annotations

import dataclasses
import difflib
import math
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

from dxf2veneer.messages import TakeoffError
from dxf2veneer.units import parse_length
from dxf2veneer.wording.measures import feet_inches


class SettingsError(TakeoffError):
    """A settings file or option that can't be used; the message is one line for the user."""


@dataclasses.dataclass(frozen=True, slots=True)
class Described:
    """What a field says of itself: its help line, its check, its option and where its default is from."""

    help: str
    check: Callable[[Any], Any]
    like: str
    option: str | None = None
    origin: str = ""


def setting(
    default: Any,
    help: str,
    check: Callable[[Any], Any],
    like: str,
    *,
    option: str | None = None,
    origin: str = "",
) -> Any:
    """A dataclass field: default, help line, checking function, an example of a right value, and
    optionally its command-line option and the origin of its default."""
    return dataclasses.field(
        default=default, metadata={"setting": Described(help, check, like, option, origin)}
    )


def described(owner: Any) -> Iterator[tuple[str, Described, Any]]:
    """Name, description and default of each setting of a section class, in order."""
    for f in dataclasses.fields(owner):
        if "setting" in f.metadata:
            yield f.name, f.metadata["setting"], f.default


# ------------------------------------------------------------------ checks


def as_text(value: Any) -> str:
    """A string."""
    if not isinstance(value, str):
        raise ValueError("wants text in quotes")
    return value


def as_flag(value: Any) -> bool:
    """true or false."""
    if not isinstance(value, bool):
        raise ValueError("wants true or false")
    return value


def as_names(value: Any) -> tuple[str, ...]:
    """A list of names; one name may stand without the brackets."""
    listed = [value] if isinstance(value, str) else value
    if not isinstance(listed, list | tuple) or not all(
        isinstance(v, str) and v.strip() for v in listed
    ):
        raise ValueError("wants a list of names")
    return tuple(listed)


def as_number(low: float = -math.inf, high: float = math.inf) -> Callable[[Any], float]:
    """A finite number from ``low`` to ``high``, or text that writes one."""

    def check(value: Any) -> float:
        if isinstance(value, str):
            try:
                value = float(value)
            except ValueError:
                raise ValueError("wants a number") from None
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not math.isfinite(value)
        ):
            raise ValueError("wants a number")
        return _within(float(value), low, high)

    return check


def as_count(most: int) -> Callable[[Any], int]:
    """A whole number from 1 to ``most``, or text that writes one."""

    def check(value: Any) -> int:
        number = as_number(1, most)(value)
        if number != int(number):
            raise ValueError("wants a whole number")
        return int(number)

    return check


def as_length(low: float = 0.0, high: float = 12_000.0) -> Callable[[Any], float]:
    """A length in inches, or text such as 4'-6" or 200 mm, from ``low`` to ``high`` inches."""

    def check(value: Any) -> float:
        if not isinstance(value, int | float | str):
            raise ValueError("wants a length")
        inches = parse_length(value)
        if not low <= inches <= high:
            raise ValueError(f"wants a length from {feet_inches(low)} to {feet_inches(high)}")
        return inches

    return check


def as_length_or(
    word: str, low: float = 0.0, high: float = 12_000.0
) -> Callable[[Any], float | str]:
    """The word, or a length as ``as_length`` reads it."""
    length = as_length(low, high)

    def check(value: Any) -> float | str:
        if value == word:
            return word
        try:
            return length(value)
        except ValueError as error:
            raise ValueError(f"{error}, or the word {word}") from None

    return check


def as_choice(*allowed: str) -> Callable[[Any], str]:
    """One of the given words."""

    def check(value: Any) -> str:
        if value not in allowed:
            raise ValueError(f"wants one of {', '.join(allowed)}")
        return str(value)

    return check


def as_tables(
    made: Callable[..., Any], **fields: tuple[Callable[[Any], Any], Any]
) -> Callable[[Any], tuple[Any, ...]]:
    """A list of tables, each turned into ``made(**values)``. ``fields`` gives a key's check and its
    default; a key whose default is ``...`` must be there."""

    def check(value: Any) -> tuple[Any, ...]:
        if isinstance(value, dict):
            value = [value]
        if not isinstance(value, list | tuple) or not all(isinstance(v, dict) for v in value):
            raise ValueError("wants a list of tables in braces")
        return tuple(one(number, table) for number, table in enumerate(value, 1))

    def one(number: int, table: Mapping[str, Any]) -> Any:
        for key in table:
            if key not in fields:
                raise ValueError(f"table {number} has an unknown key {key}; {nearest(key, fields)}")
        values = {key: default for key, (_, default) in fields.items()}
        for key, content in table.items():
            try:
                values[key] = fields[key][0](content)
            except ValueError as error:
                raise ValueError(f"{key} of table {number} {error}") from None
        lacking = [key for key, content in values.items() if content is ...]
        if lacking:
            raise ValueError(f"table {number} has no {lacking[0]}")
        return made(**values)

    return check


def _within(value: float, low: float, high: float) -> float:
    if value < low or value > high:
        bounds = f"at least {low:g}" if high == math.inf else f"from {low:g} to {high:g}"
        raise ValueError(f"wants a value {bounds}")
    return value


# ------------------------------------------------------------------ reading


@dataclasses.dataclass(frozen=True, slots=True)
class Source:
    """A settings file as read: its values by section and its text for finding lines."""

    name: str
    values: Mapping[str, Mapping[str, Any]]
    lines: tuple[str, ...]

    def line_of(self, section: str, key: str | None = None) -> int:
        """The line (from 1) where a section or a key of it stands; 0 where it can't be found."""
        inside = False
        for count, line in enumerate(self.lines, 1):
            header = re.match(r"\s*\[\[?\s*([^\]]+?)\s*\]", line)
            if header:
                inside = header[1].strip("\"'") == section
                if inside and key is None:
                    return count
            elif key is not None:
                dotted = rf"{re.escape(section)}\s*\.\s*"
                if re.match(
                    rf"\s*(?:{'' if inside else dotted})[\"']?{re.escape(key)}[\"']?\s*[.=]", line
                ):
                    return count
        return 0

    def where(self, section: str, key: str | None = None) -> str:
        """The place of a section or key for a message: ``job.toml, line 12``."""
        line = self.line_of(section, key)
        return f"{self.name}, line {line}" if line else self.name


def read(path: Path) -> Source:
    """Read a TOML file of sections. Raises SettingsError in one line where it can't be read."""
    try:
        content = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise SettingsError(f"{path}: there is no such file") from None
    except (OSError, ValueError) as error:  # a name with a null byte in it is a ValueError
        raise SettingsError(
            f"{path}: can't be read as UTF-8 text ({type(error).__name__})"
        ) from None
    try:
        values = tomllib.loads(content)
    except tomllib.TOMLDecodeError as error:
        raise SettingsError(f"{path}: not valid TOML: {error}") from None
    except (ValueError, RecursionError):
        raise SettingsError(
            f"{path}: a number in it has thousands of digits, or brackets nest thousands deep; write it anew with: dxf2veneer job new"
        ) from None
    source = Source(str(path), values, tuple(content.splitlines()))
    for section, body in values.items():
        if not isinstance(body, dict):
            where = next(
                (n for n, line in enumerate(source.lines, 1) if line.strip().startswith(section)), 0
            )
            raise SettingsError(f"{path}, line {where}: {section} stands outside every [section]")
    return source


def fill(source: Source, sections: Mapping[str, type]) -> dict[tuple[str, str], Any]:
    """Checked values of a source by (section, key). Raises SettingsError for the first wrong line,
    naming the nearest right section or key, or what a right value looks like."""
    checked: dict[tuple[str, str], Any] = {}
    for section, body in source.values.items():
        if section not in sections:
            raise SettingsError(
                f"{source.where(section)}: there is no section [{section}]; {nearest(section, sections)}"
            )
        known = {name: about for name, about, _ in described(sections[section])}
        for key, value in body.items():
            if key not in known:
                raise SettingsError(
                    f"{source.where(section, key)}: {section}.{key} is not a setting; {nearest(key, known, elsewhere(key, sections))}"
                )
            try:
                checked[section, key] = check(f"{section}.{key}", known[key], value)
            except SettingsError as error:
                raise SettingsError(f"{source.where(section, key)}: {error}") from None
    return checked


def check(name: str, about: Described, value: Any) -> Any:
    """The value after its field's check; SettingsError says of the setting what is wrong and what is right."""
    try:
        return about.check(value)
    except ValueError as error:
        raise SettingsError(f"{name} = {toml(value)}: {error}; for example {about.like}") from None


def nearest(word: str, known: Mapping[str, Any], hint: str = "") -> str:
    """What was probably meant by an unknown word."""
    close = difflib.get_close_matches(word, list(known), n=1, cutoff=0.5)
    return hint or (f"did you mean {close[0]}?" if close else f"there are: {', '.join(known)}")


def elsewhere(key: str, sections: Mapping[str, type]) -> str:
    """A hint where the key belongs to another section."""
    homes = [s for s, owner in sections.items() if key in {name for name, _, _ in described(owner)}]
    return f"it belongs under [{homes[0]}]" if homes else ""


# ---------------------------------------------------------------- template


def template(title: str, sections: Mapping[str, type]) -> str:
    """A commented settings file in which every setting stands at its default, commented out."""
    out = [f"# {line}".rstrip() for line in title.splitlines()]
    for section, owner in sections.items():
        doc = (owner.__doc__ or "").strip().splitlines()[0]
        out += ["", f"# {doc}", f"[{section}]"]
        for name, about, default in described(owner):
            note = f" {about.origin}" if about.origin else ""
            option = f" (--{about.option})" if about.option else ""
            out += [
                f"# {about.help}{option}{note}",
                f"# {name} = {about.like if default in (None, ()) else toml(default)}",
            ]
    return "\n".join(out) + "\n"


def toml(value: Any) -> str:
    """A value as TOML writes it."""
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
