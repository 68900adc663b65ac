"""The job's section about coursing advice: what may move, and how far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NamedTuple

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.basis import OWN
from dxf2veneer.config.checks import as_count, as_length, plain
from dxf2veneer.config.job_values import OPENING_KINDS, each_of
from dxf2veneer.config.settings import setting

CAP = "cap"
"""Names every cap line."""
ANY = "opening"
"""Names every opening, whatever its kind."""
FIXED = "fixed"
_MOST_IN = 48.0
"""Farther than that an opening is another opening."""


class Leave(NamedTuple):
    """How far something may be from where it is drawn."""

    what: str
    """A kind of opening, ``opening`` for all, ``cap``, or an opening by its name or id."""
    most: float
    """Inches, up or down; 0 where it is fixed."""


def as_leaves(value: Any) -> tuple[Leave, ...]:
    """What may change, and by how much.

    Args:
        value: Texts ``WHAT=LENGTH`` or ``WHAT=fixed``.

    Returns:
        Each with its limit in inches.

    Raises:
        WrongValueError: One has no such form, its length is beyond the bounds, or it stands twice.
    """
    leaves = each_of(value, _leave)
    known: set[str] = set()
    for leave in leaves:
        if plain(leave.what) in known:
            raise WrongValueError(message("wants-once", name=leave.what))
        known.add(plain(leave.what))
    return leaves


def _leave(text: str) -> Leave:
    what, _, most = text.rpartition("=")
    if not what.strip() or not most.strip():
        raise WrongValueError(message("wants-leave", most=Length(_MOST_IN)))
    if plain(most) == FIXED:
        return Leave(what.strip(), 0.0)
    read: Callable[[Any], float] = as_length(0.0, _MOST_IN)
    return Leave(what.strip(), read(most.strip()))


@dataclass(frozen=True)
class Advising:
    """What `dxf2veneer advise` may change; a takeoff takes no notice of it."""

    may_move: tuple[Leave, ...] = setting(
        (),
        "how far head and sill of an opening, or a cap, may be from where they are drawn: "
        "WHAT=LENGTH or WHAT=fixed, with an opening's id or name, window, door, garage, vent or "
        "fixture, opening for every kind, or cap as WHAT, and up to 48 in; id goes before name, "
        "name before kind; what is not named is fixed",
        as_leaves,
        '["window=2", "W1-O3=fixed", "cap=25 mm"]',
        option="may-move",
    )
    may_resize: tuple[Leave, ...] = setting(
        (),
        "how much higher or lower an opening may become, within what it may move, likewise; what "
        "is not named moves as a whole. A door's sill stays",
        as_leaves,
        '["window=4", "door=0"]',
        option="may-resize",
    )
    proposals: int = setting(
        5,
        "how many proposals are listed at most for walls whose courses run together",
        as_count(20),
        "5",
        option="proposals",
        basis=OWN,
    )

    def move_of(self, name: str, opening_id: str, kind: str) -> float:
        """How far an opening may move.

        Args:
            name: Its name; empty without one.
            opening_id: Its id, such as W1-O2.
            kind: What it is, or ``cap``.

        Returns:
            Inches, up or down.
        """
        return _limit(self.may_move, name, opening_id, kind)

    def resize_of(self, name: str, opening_id: str, kind: str) -> float:
        """How much an opening's height may change, likewise, in inches."""
        return _limit(self.may_resize, name, opening_id, kind)


KINDS = (*OPENING_KINDS, CAP, ANY)
"""Words that name more than one thing."""


def _limit(leaves: tuple[Leave, ...], name: str, opening_id: str, kind: str) -> float:
    """The limit of the most particular word that names something."""
    by_word = {plain(leave.what): leave.most for leave in leaves}
    words = [plain(opening_id), plain(name), kind, *([] if kind == CAP else [ANY])]
    return next((by_word[word] for word in words if word and word in by_word), 0.0)
