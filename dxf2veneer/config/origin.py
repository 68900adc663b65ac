"""Where a value came from, as a value: the file that names it, an option, the product,
a default.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from dxf2veneer.basics.messages import Message, message

OriginKind = Literal["default", "option", "file", "product", "program", "drawing", "search", "rule"]
"""``file`` is a settings or price file and ``product`` a product file; ``program`` a call from
Python; ``search`` the search for the best start; ``rule`` a rule of measuring that has no
setting."""

_WITHOUT_FILE: dict[OriginKind, Message] = {
    "default": message("origin-default"),
    "product": message("origin-generic-product"),
    "program": message("origin-program"),
    "drawing": message("origin-drawing"),
    "search": message("origin-search"),
    "rule": message("origin-rule"),
}


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a value came from."""

    kind: OriginKind
    file: Path | None = None
    """The file that names the value; None for the generic panel, which ships with the tool."""
    line: int | None = None
    """Line of the file, from 1; in a table the row. None where it stands on no line of its own."""
    key: str = ""
    """``section.key`` of the setting, or the column of a table."""
    option: str = ""
    """The command's option, without its hyphens."""
    in_table: bool = False
    """Whether the file is a table, whose lines are rows."""

    @property
    def folder(self) -> Path:
        """The folder that relative files named there belong to: the file's, or the current one."""
        return self.file.parent if self.file is not None else Path()

    def place(self, *, folders: bool = False) -> Message:
        """The origin as a message.

        Args:
            folders: Whether the file is named with its folder. Results name it without: a folder
                differs from one machine to the next.

        Returns:
            A message such as ``job.toml, line 12`` or ``option --scrap``.
        """
        if self.kind == "option":
            return message("origin-option", option=self.option)
        if self.file is None:
            return _WITHOUT_FILE[self.kind]
        file = str(self.file) if folders else self.file.name
        if self.line is None or (self.kind == "product" and not folders):
            return message("origin-file", file=file)
        if self.in_table:
            return message("origin-row", file=file, row=self.line)
        return message("origin-line", file=file, line=self.line)


DEFAULT = Origin("default")
"""The origin of a setting that nobody gave."""
