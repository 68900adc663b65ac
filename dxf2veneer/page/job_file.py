"""The job file of the page: read once, saved whole after every step, never over another hand's
changes."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.config.job import Job, load_job
from dxf2veneer.config.toml_edit import Line, Value, changed
from dxf2veneer.page.cropping import line_of_window
from dxf2veneer.page.marks import Mark, Marks, line_of, line_of_mark
from dxf2veneer.textio.whole_files import write_whole

_HEAD = "# Job file of dxf2veneer: walls and openings, each with where it comes from.\n\n"
_BY_HAND = "by hand"
"""The comment behind an outline that a person pointed at."""


class JobFileError(TakeoffError):
    """The job file can't be saved."""


@dataclass(frozen=True)
class JobFile:
    """A job file as it was read or saved last."""

    path: Path
    """Where it stands, or will stand."""
    text: str
    """Its text; empty while there is no file."""
    digest: str
    """Checksum of its bytes; empty while there is no file."""
    extra: Mapping[tuple[str, str], Value]
    """Settings that the command was given, which go into the file."""

    @property
    def is_there(self) -> bool:
        """Whether the file has been written."""
        return bool(self.digest)

    def text_with(self, marks: Marks, *, confirmed: bool | None, sha256: str) -> str:
        """The file's text with some marks.

        Args:
            marks: The marks.
            confirmed: Whether a person has looked at every elevation; None where nothing was
                proposed, so that there is nothing to confirm.
            sha256: Checksum of the drawing.

        Returns:
            TOML; whatever else the file says stays.
        """
        values: dict[tuple[str, str], Value] = {
            ("proposal", "confirmed"): confirmed,
            ("proposal", "looked_at"): [Line(v) for v in sorted(marks.looked_at)] or None,
            ("proposal", "sha256"): sha256 if confirmed is not None else None,
            ("drawing", "units"): marks.unit.name,
            ("drawing", "scale"): marks.unit.scale if marks.unit.scale != 1.0 else None,
            ("drawing", "window"): [Line(line_of_window(w)) for w in marks.windows] or None,
            ("drawing", "wall_outline"): _lines(marks.walls),
            ("drawing", "opening_outline"): _lines(marks.openings),
            ("drawing", "mark_line"): [Line(line_of_mark(m), _BY_HAND) for m in marks.lines]
            or None,
            **self.extra,
        }
        return changed(self.text or _HEAD, values)

    def saved(self, text: str) -> JobFile:
        """The file saved, whole or not at all.

        Args:
            text: Its new text.

        Returns:
            The file as it now stands.

        Raises:
            JobFileError: Another hand changed it meanwhile, or it can't be written.
        """
        if _digest(_bytes(self.path)) != self.digest:
            raise JobFileError(message("page-job-changed", file=str(self.path)))
        try:
            write_whole(
                self.path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n")
            )
        except OSError as error:
            why = error.strerror or str(error)
            raise JobFileError(
                message("page-job-unwritable", file=str(self.path), why=why)
            ) from error
        return replace(self, text=text, digest=_digest(text.encode()))

    def read_again(self) -> JobFile:
        """The file as it stands on the disk now."""
        return read_job_file(self.path, self.extra)

    def job(self, options: Mapping[str, object] | None = None) -> Job:
        """Its settings.

        Args:
            options: Settings by ``section.key`` that win over it.

        Returns:
            The job, checked; every setting at its default while there is no file.

        Raises:
            SettingsError: The file can't be used.
        """
        return load_job(self.path if self.is_there else None, options)


def read_job_file(path: Path, extra: Mapping[tuple[str, str], Value]) -> JobFile:
    """A job file as it stands, or as one that is still to be written.

    Args:
        path: The file.
        extra: Settings that the command was given.

    Returns:
        The file.
    """
    content = _bytes(path)
    text = (content or b"").decode("utf-8-sig", "replace")
    return JobFile(path, text, _digest(content), extra)


def _lines(marks: Sequence[Mark]) -> list[Line] | None:
    """Outlines with their comments; None where there is none."""
    return [Line(line_of(m), m.note or _BY_HAND) for m in marks] or None


def _bytes(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None


def _digest(content: bytes | None) -> str:
    return "" if content is None else hashlib.sha256(content).hexdigest()
